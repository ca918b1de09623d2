"""Items of a list and tables of a list put into a design's text or taken out of it; all else stays as it was written.

Where a design's keys are changed one by one is design/edits.py. A place is keys and numbers with dots between, counted
from 1: "outline.back.3", "hook.2".
"""

import tomllib
from collections.abc import Mapping, Sequence

from gudgeon.design.edits import Value, edit
from gudgeon.design.lines import Path, Written, marks
from gudgeon.errors import BadDesign, Fault


def with_item(text: str, place: str, item: str) -> str:
    """The text with one more item in a list, at a place; the items from there on move back by one.

    raises : BadDesign when the list is not there
    """
    mark = marks(text).get(path_of(place))
    if mark is None:
        return edit(text, {place: item})  # one beyond the last
    before = text[_line_start(text, mark.start) : mark.start]
    between = f",{_line_break(text)}{before}" if not before.strip() else ", "
    return _read_again(f'{text[: mark.start]}"{item}"{between}{text[mark.start :]}', place)


def without_item(text: str, place: str) -> str:
    """The text without one item of a list; one that has a line of its own takes the line and its comment along.

    raises : BadDesign when there is no such item
    """
    path = path_of(place)
    mark = marks(text).get(path)
    if mark is None or mark.written is not Written.VALUE or not isinstance(path[-1], int):
        raise _refusal(place, "there is no such item in the file")
    start, end = _line_start(text, mark.start), _line_end(text, mark.end)
    rest = text[mark.end : end].strip().removeprefix(",").lstrip()
    if not text[start : mark.start].strip() and (not rest or rest.startswith("#")):
        return _read_again(text[:start] + text[text.find("\n", end) + 1 or len(text) :], place)
    behind = text[mark.end :].lstrip()
    if behind.startswith(","):
        return _read_again(text[: mark.start] + behind[1:].lstrip(" \t"), place)
    return _read_again(text[: mark.start].rstrip().removesuffix(",") + text[mark.end :], place)


def with_list(text: str, place: str, items: Sequence[str]) -> str:
    """The text with a key that was not there, a list with a line for each item.

    raises : BadDesign when it is there already, or its table is not
    """
    if path_of(place) in marks(text):
        raise _refusal(place, "it is there already")
    begun = edit(text, {place: [items[0]]})
    mark, line_break = marks(begun)[path_of(place)], _line_break(text)
    lines = "".join(f'  "{item}",{line_break}' for item in items)
    return _read_again(f"{begun[: mark.start]}[{line_break}{lines}]{begun[mark.end :]}", place)


def with_table(text: str, place: str, pairs: Mapping[str, Value]) -> str:
    """The text with one more table in a list of them, ahead of the one that has its place now, or behind the last.

    place  : "joint.2"
    raises : BadDesign
    """
    stands, (kind, number) = marks(text), place.split(".")
    mark = stands.get(path_of(place))
    if mark is None:
        return edit(text, {f"{place}.{key}": value for key, value in pairs.items()})
    if mark.written is not Written.HEADER:
        raise _refusal(place, f"number {number} is not written as [[{kind}]]; change it by hand")
    alone = edit("x = 0", {f"{kind}.1.{key}": value for key, value in pairs.items()})
    line_break, start = _line_break(text), _line_start(text, mark.start)
    table = alone[alone.index("[[") :].strip().replace("\n", line_break)
    return _read_again(f"{text[:start]}{table}{2 * line_break}{text[start:]}", place)


def without_table(text: str, place: str) -> str:
    """The text without one table of a list, from its header to its last key.

    raises : BadDesign when there is none, or it is not written under a header of its own
    """
    path, stands = path_of(place), marks(text)
    mark = stands.get(path)
    if mark is None or mark.written is not Written.HEADER:
        raise _refusal(place, "there is no table of its own in the file; take it out by hand")
    own = [found for where, found in stands.items() if where[: len(path)] == path]
    others = [found for found in stands.values() if found not in own and found.written is not Written.IMPLIED]
    start, stop = _line_start(text, mark.start), _line_end(text, max(found.end for found in own))
    if any(start <= found.start < stop for found in others):
        raise _refusal(place, "other tables stand between its lines; take it out by hand")
    after = text[text.find("\n", stop) + 1 or len(text) :]
    blank, _, rest = after.partition("\n")
    return _read_again(text[:start] + (after if blank.strip() else rest), place)


def path_of(place: str) -> Path:
    """A place as keys and numbers, the numbers counted from 0."""
    return tuple(int(step) - 1 if step.isdecimal() else step for step in place.split("."))


def _read_again(text: str, place: str) -> str:
    """The text, once it was seen to be TOML still."""
    try:
        tomllib.loads(text)
    except (tomllib.TOMLDecodeError, ValueError):
        raise _refusal(place, "cannot be changed by itself as it is written there; change it by hand") from None
    return text


def _refusal(place: str, words: str) -> BadDesign:
    return BadDesign("the design cannot be changed", [Fault(place, words)])


def _line_break(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"


def _line_start(text: str, position: int) -> int:
    return text.rfind("\n", 0, position) + 1


def _line_end(text: str, position: int) -> int:
    """Where the line round a position ends, ahead of its line break."""
    end = text.find("\n", position)
    return len(text) if end < 0 else end - (text[end - 1] == "\r")
