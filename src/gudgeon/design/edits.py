"""Single values of a design's text changed, all else left as its maker wrote it: comments, order, spaces, line ends."""

import copy
import json
import tomllib
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

from gudgeon.design.file import read_toml, toml_of
from gudgeon.design.lines import Mark, Path, Written, marks, place_of
from gudgeon.errors import BadDesign, Fault

Value = str | int | float | bool | Sequence[str]


def edit(text: str, changes: Mapping[str, Value | None], name: str = "the design") -> str:
    """The text with the changes made, and nothing else touched.

    text    : TOML
    changes : place -> new value, None to take a key out. A place is keys and places with dots between, counted
              from 1: "wood.density", "hook.2.weight", "outline.back.3". A key that is not there is added to its
              table; a table that is not there, or the next one of a list, is begun.
    name    : what to call the design in a refusal
    raises  : BadDesign when the text cannot be read, or a place cannot be changed
    """
    text = text.removeprefix("\ufeff")
    for place, value in changes.items():
        text = _changed(text, _path(place, name), value, name)
    return text


def _refusal(name: str, place: str, words: str) -> BadDesign:
    return BadDesign(f"{name} cannot be changed", [Fault(place, words)])


def _path(place: str, name: str) -> Path:
    steps = [int(step) - 1 if step.isdecimal() else step for step in place.split(".")]
    if steps[0] == "" or isinstance(steps[0], int) or any(step in ("", -1) for step in steps):
        raise _refusal(name, place, 'is no place; write table, number and key with dots between: "hook.2.weight"')
    return tuple(steps)


def _literal(value: Value) -> str:
    """A value as TOML writes it."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int | float):
        return repr(value)
    if not isinstance(value, str):
        return "[" + ", ".join(_literal(item) for item in value) + "]"
    if '"' in value and "'" not in value and value.isprintable():
        return f"'{value}'"
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def _changed(text: str, path: Path, value: Value | None, name: str) -> str:
    """The text with one place changed; checked by reading it again."""
    data, stands = read_toml(text, name), marks(text)
    wanted = copy.deepcopy(data)
    place = place_of(path, data)
    try:
        _put(wanted, path, value)
        new = _without(text, path, stands) if value is None else _with(text, path, value, stands)
        if toml_of(new) != wanted:
            raise LookupError("cannot be changed by itself as it is written there; change it by hand")
    except (LookupError, TypeError, tomllib.TOMLDecodeError) as error:
        words = error.args[0] if isinstance(error, LookupError) and not isinstance(error, KeyError | IndexError) else (
            "cannot be changed: there is no such place in the file")  # fmt: skip
        raise _refusal(name, place, words) from None
    return new


def _put(data: Any, path: Path, value: Value | None) -> None:
    """The change, made to what the file holds."""
    here = data
    for step, following in pairwise(path):
        if isinstance(here, dict):
            here = here.setdefault(step, [] if isinstance(following, int) else {})
        else:
            if step == len(here):
                here.append({})
            here = here[step]
    last = path[-1]
    if value is None:
        del here[last]
    elif isinstance(here, list) and last == len(here):
        here.append(value)
    else:
        here[last] = value if isinstance(value, str | int | float) else list(value)


def _with(text: str, path: Path, value: Value, stands: Mapping[Path, Mark]) -> str:
    mark = stands.get(path)
    if mark is None:
        return _added(text, path, value, stands)
    if mark.written is not Written.VALUE:
        raise LookupError("is a table; change its keys one by one")
    items = [key for key in stands if len(key) == len(path) + 1 and key[:-1] == path and isinstance(key[-1], int)]
    if items and not isinstance(value, str | int | float) and len(value) == len(items):
        for key, item in zip(reversed(items), reversed(value), strict=True):  # from the back, so that places hold
            text = _replaced(text, stands[key], _literal(item))
        return text
    return _replaced(text, mark, _literal(value))


def _replaced(text: str, mark: Mark, literal: str) -> str:
    return text[: mark.start] + literal + text[mark.end :]


def _line_end(text: str, position: int) -> int:
    """Where the line round a position ends, ahead of its line break."""
    end = text.find("\n", position)
    if end < 0:
        return len(text)
    return end - 1 if text[end - 1] == "\r" else end


def _added(text: str, path: Path, value: Value, stands: Mapping[Path, Mark]) -> str:
    """The text with a key or item that was not there."""
    parent, key = path[:-1], path[-1]
    line_break = "\r\n" if "\r\n" in text else "\n"
    pair = f"{_key(key)} = {_literal(value)}"
    holder = stands.get(parent)
    if holder is not None and holder.written is Written.VALUE:
        return _grown(text, parent, pair if isinstance(key, str) else _literal(value), stands)
    if isinstance(key, int):
        raise LookupError("is a table of a list; name the keys to give it, one by one")
    if not parent or (holder is not None and holder.written is Written.HEADER):
        after = _table_end(parent, stands)
        if after is None:
            return f"{pair}{line_break}{text}"
        end = _line_end(text, after)
        return text[:end] + line_break + pair + text[end:]
    header = _header(parent)
    siblings = [mark.end for place, mark in stands.items() if place[: len(parent) - 1] == parent[:-1]]
    end = _line_end(text, max(siblings)) if isinstance(parent[-1], int) and siblings else len(text.rstrip())
    return text[:end] + 2 * line_break + header + line_break + pair + (text[end:] or line_break)


def _key(key: str | int) -> str:
    plain = str(key)
    return plain if plain.isascii() and plain.replace("_", "").replace("-", "").isalnum() else _literal(plain)


def _header(path: Path) -> str:
    name = ".".join(_key(step) for step in path if isinstance(step, str))
    return f"[[{name}]]" if isinstance(path[-1], int) else f"[{name}]"


def _table_end(table: Path, stands: Mapping[Path, Mark]) -> int | None:
    """Where the last value that stands under a table's own header ends; None for a top that has none."""
    deeper = [path for path, mark in stands.items() if mark.written is Written.HEADER and len(path) > len(table)]
    own = [mark.end for path, mark in stands.items()
           if path[: len(table)] == table and mark.written is Written.VALUE
           and not any(path[: len(header)] == header for header in deeper)]  # fmt: skip
    if own:
        return max(own)
    return stands[table].end if table else None


def _grown(text: str, holder: Path, piece: str, stands: Mapping[Path, Mark]) -> str:
    """A list or inline table with one more piece at its end."""
    mark = stands[holder]
    inside = [found for path, found in stands.items() if len(path) > len(holder) and path[: len(holder)] == holder]
    if not inside:
        return text[: mark.end - 1] + piece + text[mark.end - 1 :]
    last = max(inside, key=lambda found: found.end)
    rest = text[last.end : mark.end - 1]
    if "\n" not in rest:
        return text[: last.end] + f", {piece}" + text[last.end :]
    comma = "" if rest.lstrip().startswith(",") else ","
    start = text.rfind("\n", 0, last.start) + 1
    indent = text[start : last.start] if not text[start : last.start].strip() else "  "
    end = _line_end(text, last.end)
    line_break = "\r\n" if "\r\n" in text else "\n"
    return text[: last.end] + comma + text[last.end : end] + f"{line_break}{indent}{piece}," + text[end:]


def _without(text: str, path: Path, stands: Mapping[Path, Mark]) -> str:
    """The text without one key, whose whole line goes."""
    mark = stands[path]
    if mark.written is not Written.VALUE or isinstance(path[-1], int):
        raise LookupError("cannot be taken out by itself; only a key can")
    end = _line_end(text, mark.end)
    after = text.find("\n", end) + 1 or len(text)
    lines = text.split("\n")
    start = sum(len(line) + 1 for line in lines[: mark.line - 1])
    return text[:start] + text[after:]
