"""What is entered into the shop's log from the page: through the log's own door, with the questions of the terminal.

What is entered is questioned with the log held, so that nothing another window enters comes between the two. What
is told as entered is on the disk.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.log_views import entry_lines
from gudgeon.answers.odd_entries import oddities
from gudgeon.errors import BadShop, Fault
from gudgeon.report.log_rows import entered_words
from gudgeon.report.rows import Shop
from gudgeon.shop.log import Log
from gudgeon.shop.records import Lure, OfLure, Record
from gudgeon.shop.spoken_records import changes_in_words, enter, record_in_words
from gudgeon.web.calls import Json, findings_told
from gudgeon.web.log_told import pattern_of

Asked = Mapping[str, object]
_LONGEST = 5000  # characters of one answer; what the log itself allows is less
_MOST_FIELDS = 20


def begun(folder: Path) -> Json:
    """The log of a shop folder, begun where there is none."""
    with Log.start(folder) as log:
        return {"words": f"The log is begun in {log.folder.name}."}


def lures_begun(folder: Path, text: str | None, asked: Asked) -> Json:
    """Lures of what is drawn, and before them its text as the next version of its pattern where it is not in the log.

    text  : of what is drawn; None for a version that the log has
    asked : count, board, run (a new one where it is left out), number (of the first), remark; pattern and version of
            what the log has
    """
    count, board, remark = _whole(asked, "count"), words_asked(asked, "board"), words_asked(asked, "remark")
    run, number = (_whole(asked, key) if asked.get(key) is not None else None for key in ("run", "number"))
    with Log.open(folder) as log, log.together():
        if text is None:
            name, version = words_asked(asked, "pattern"), _whole(asked, "version")
        else:
            pattern = pattern_of(log, text) or log.add_pattern(text)
            name, version = pattern.name, pattern.version
        lures = log.add_lures(name, count, version=version, board=board or None, run=run, number=number, remark=remark)
    first, last = lures[0].number, lures[-1].number
    which = f"Lure {first} is begun" if first == last else f"Lures {first} to {last} are begun"
    return {"words": f"{which}: {name}, version {version}, run {lures[0].run}.", "lure": first, "run": lures[0].run}


def entered(folder: Path, asked: Asked, shop: Shop) -> Json:
    """One entry about a lure; or, where its weight looks like a slip and its maker is not sure, what is odd about it.

    asked : lure, kind, fields, remark, sure
    """
    lure, sure, remark = _whole(asked, "lure"), asked.get("sure") is True, words_asked(asked, "remark")
    record = record_in_words(words_asked(asked, "kind"), fields_asked(asked))
    with Log.open(folder) as log:
        with log.together():
            odd = oddities(log, lure, record)
            if odd and not sure:
                return _questioned(odd, shop)
            number = enter(log, lure, record, remark=remark)
        return entry_told(log, number, odd, shop)


def corrected(folder: Path, asked: Asked, shop: Shop) -> Json:
    """An entry in the place of a wrong one, or one that strikes it out; or what is odd about the new weight.

    asked : entry, fields, why, sure, void
    """
    number, sure, why = _whole(asked, "entry"), asked.get("sure") is True, words_asked(asked, "why")
    odd: Sequence[Finding] = ()
    with Log.open(folder) as log:
        with log.together():
            old = log.entry(number)
            if asked.get("void") is True:
                made = log.strike(number, why)
            else:
                changes = _changes(log, old.what, fields_asked(asked))
                if old.lure is not None and isinstance(old.what, OfLure) and changes:
                    odd = oddities(log, old.lure, replace(old.what, **changes), old.root)
                if odd and not sure:
                    return _questioned(odd, shop)
                made = log.correct(number, changes, why)
        return entry_told(log, made, odd, shop)


def _changes(log: Log, old: Record | None, fields: Mapping[str, str]) -> dict[str, Any]:
    """Field -> what it is to be; the board of a lure by its name. Raises BadShop with every fault."""
    if old is None or not fields:
        return {}
    if not isinstance(old, Lure):
        return changes_in_words(old, fields)
    if not fields.keys() <= {"board", "run"}:
        raise BadShop("nothing was entered", [Fault("the lure", "its board and its run can be another; strike it out "
                                                                "for the rest, and begin it anew")])  # fmt: skip
    found = changes_in_words(old, {name: words for name, words in fields.items() if name == "run"})
    return found | ({"board": log.board_root(fields["board"])} if "board" in fields else {})


def _questioned(odd: Sequence[Finding], shop: Shop) -> Json:
    return {"questioned": findings_told(worst_first(odd), shop)}


def entry_told(log: Log, number: int, odd: Sequence[Finding], shop: Shop) -> Json:
    """What was just entered, and what is odd about it."""
    line = entry_lines([log.entry(number)])[0]
    return {"entry": number, "words": entered_words(line, shop), "findings": findings_told(worst_first(odd), shop)}


def _whole(asked: Asked, key: str) -> int:
    value = asked.get(key)
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value < 2**53:
        raise _no_entry(key, "is no whole number")
    return value


def words_asked(asked: Asked, key: str) -> str:
    """Words that were asked with; raises BadShop when they are none."""
    value = asked.get(key, "")
    if not isinstance(value, str) or len(value) > _LONGEST:
        raise _no_entry(key, f"is not words, or more than {_LONGEST} characters of them")
    return value


def fields_asked(asked: Asked) -> dict[str, str]:
    """Field -> what was written; raises BadShop when it is not that."""
    found = asked.get("fields", {})
    if not isinstance(found, dict) or len(found) > _MOST_FIELDS:
        raise _no_entry("fields", "are not read")
    return {str(name): words_asked(found, name) for name in found}


def _no_entry(place: str, words: str) -> BadShop:
    return BadShop("nothing was entered", [Fault(place, words)])
