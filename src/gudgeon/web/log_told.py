"""What the shop's log tells the page, as JSON: lists, a lure with what is next to be weighed, whose a stamp is."""

import tomllib
from collections.abc import Sequence

from gudgeon.answers.as_weighed import as_weighed
from gudgeon.answers.log_views import EntryLine, LureCard, LureList, entry_lines, found_by_stamp, lure_card
from gudgeon.answers.next_weighing import next_weighing
from gudgeon.design.file import stamp
from gudgeon.errors import Refusal
from gudgeon.report.laying import plain
from gudgeon.report.log_rows import (
    card_headline,
    card_sections,
    entries_listed,
    found_listed,
    lures_listed,
    weighed_section,
)
from gudgeon.report.log_sentences import next_words
from gudgeon.report.rows import Section, Shop
from gudgeon.shop.columns import fields_of
from gudgeon.shop.entries import Entry, LureLine
from gudgeon.shop.entry_checks import parts_named
from gudgeon.shop.log import Log
from gudgeon.shop.records import KINDS, STAGES, STATES, STOCK, WHOLE, Board, Pattern
from gudgeon.shop.spoken_records import SPOKEN
from gudgeon.web.calls import Json, place_told

MOST_SHOWN = 50  # lures in one list
MOST_ENTRIES = 300  # of one lure's history
MOST_OFFERED = 400  # lures to choose one from
_CORRECTED: dict[str, tuple[str, ...]] = dict.fromkeys(SPOKEN, ()) | {
    "photo": ("shows",), "lure": ("run", "board"), "stock": (),
    "board": ("wood", "density", "moisture", "length", "width", "thickness", "mass")}  # fmt: skip
"""Kind of entry -> fields of it that a correction may change; () for all."""
_SHOWN = ("jpg", "png", "webp", "gif", "tif")  # kinds of picture that can be shown


def newest_entry(log: Log) -> int:
    """The number of the last entry; 0 when there is none."""
    last = log.history(limit=1)
    return last[0].number if last else 0


def lures_told(log: Log, shop: Shop, before: int | None) -> Json:
    """Lures with how far each has come and its last entry, the highest number first.

    before : only numbers below this one; None from the newest on
    """
    found = log.lures(limit=MOST_SHOWN, before=before)
    count = log.lure_count()
    listed = lures_listed(LureList(tuple(found), count, False), shop)
    headline = f"{count} lure{'' if count == 1 else 's'} in the log."
    lures = [{"number": line.number, "words": row.shown, "last": _last(log, line.number, shop)}
             for line, row in zip(found, listed.lines, strict=True)]  # fmt: skip
    return {"headline": headline, "lures": lures, "more": len(found) == MOST_SHOWN}


def _last(log: Log, lure: int, shop: Shop) -> str:
    return str(_lines(entry_lines(log.history(lure, limit=1)), shop)[0])


def _lines(lines: tuple[EntryLine, ...], shop: Shop) -> list[str]:
    return [row.shown for row in entries_listed(lines, shop, "").lines]


def pattern_of(log: Log, text: str) -> Pattern | None:
    """The pattern's version whose design is exactly this text; None when the log has none."""
    found = [one.what for one in log.stamped(stamp(text)) if isinstance(one.what, Pattern) and one.what.design == text]
    return found[-1] if found else None


def pattern_told(log: Log, text: str, file: str) -> Json:
    """The pattern of what is drawn, with its lures to choose from, and the boards one may come out of."""
    same = pattern_of(log, text)
    name = same.name if same else _called(text, file)
    versions = [pattern.version for pattern in log.patterns(name)]
    lines = log.lures(pattern=name, limit=MOST_OFFERED)
    runs = sorted({line.run for line in lines if same and line.version == same.version}, reverse=True)
    if same:
        words = f"{name}, version {same.version} in the log."
    elif versions:
        words = f"The log has version {versions[-1]} of {name}; what is drawn here is another."
    else:
        words = f"{name} is not in the log yet."
    return {"words": words, "pattern": name, "known": same is not None, "lures": _offered(lines), "runs": runs,
            "boards": boards_named(log)}  # fmt: skip


def boards_named(log: Log) -> list[str]:
    """The boards that a lure may come out of, the newest first."""
    return [one.what.name for one in log.standing("board", MOST_OFFERED) if isinstance(one.what, Board)]


def _offered(lines: Sequence[LureLine]) -> list[Json]:
    """Lures to choose one from; their version and run are told where those are not all the same."""
    versions, runs = len({line.version for line in lines}) > 1, len({(line.version, line.run) for line in lines}) > 1
    return [{"number": line.number, "words": "".join([line.stage or "begun", f", version {line.version}" * versions,
                                                      f", run {line.run}" * runs])} for line in lines]  # fmt: skip


def _called(text: str, file: str) -> str:
    """What the design is called, also while it cannot be put together."""
    try:
        name = tomllib.loads(text).get("name")
    except (tomllib.TOMLDecodeError, ValueError, RecursionError):
        name = None
    return name if isinstance(name, str) and name else file.removesuffix(".toml")


def lure_told(log: Log, number: int, shop: Shop) -> Json:
    """A lure: its card, what to weigh next, what may be named in an entry, and its history."""
    record, design, card = log.lure(number), log.design_of(number), lure_card(log, number)
    history, boards = log.history(number, MOST_ENTRIES), boards_named(log)
    lines = entry_lines(history)
    after = next_weighing(design, record)
    holes = dict.fromkeys([*(pocket.name for pocket in design.pockets), *(one.hole for _, one in card.ballast)])
    return {
        "number": number, "pattern": card.pattern, "version": card.version, "run": card.run,
        "stamp": card.stamp,
        "headline": card_headline(card), "next": next_words(after, shop),
        "stage": after.stage if after else STAGES[-1], "piece": after.piece if after else WHOLE,
        "stages": list(STAGES), "pieces": [WHOLE, *design.segment_names] if len(design.segment_names) > 1 else [],
        "holes": list(holes), "parts": list(parts_named(design)),
        **_sections(card_sections(card, shop)),
        "entries": [{"number": line.number, "words": words, "open": entry.stands and entry.kind != "pattern",
                     "fields": fields_told(entry, line, shop, design.segment_names, card if entry.kind == "lure"
                                           else None, boards if entry.kind == "lure" else ())}
                    for entry, line, words in zip(history, lines, _lines(lines, shop), strict=True)],
        "photos": _photos(card), "newest": newest_entry(log),
    }  # fmt: skip


def _photos(card: LureCard) -> list[Json]:
    """The pictures that stand of a lure, the newest first; whether each can be shown."""
    return [{"number": entry.number, "name": photo.name, "shows": photo.shows, "done": entry.done[:10],
             "there": file is not None, "shown": file is not None and photo.suffix in _SHOWN}
            for entry, photo, file in reversed(card.photos)]  # fmt: skip


def _sections(sections: tuple[Section, ...]) -> Json:
    return {"sections": place_told("", sections)["sections"]}


def sums_told(log: Log, number: int, shop: Shop) -> Json:
    """What is in a lure and what is still missing, by what was measured; why not, where that cannot be put together."""
    record = log.lure(number)
    try:
        found = as_weighed(log.design_of(number), record.pattern.stamp, record)
    except Refusal as refusal:
        trouble = " ".join([f"{refusal.heading}.", *(f"{fault}." for fault in refusal.faults)])
        return {"trouble": trouble, "sections": []}
    return {"trouble": "", **_sections((weighed_section(found, shop),))}


def fields_told(entry: Entry, line: EntryLine, shop: Shop, pieces: Sequence[str] = (),
                lure: LureCard | None = None, boards: Sequence[str] = ()) -> list[Json]:  # fmt: skip
    """The fields of an entry that a correction may change, with what stands there; none where it cannot be one.

    lure, boards : of an entry that begins a lure
    """
    if not entry.stands or entry.kind not in _CORRECTED:
        return []
    said = {one.name: one.value if isinstance(one.value, str) else plain(one.value, one.measure, shop)
            for one in line.said}  # fmt: skip
    if lure is not None:
        said["board"] = lure.board.partition(", ")[0]
    choices = {"stage": STAGES, "state": STATES, "piece": (WHOLE, *pieces), "board": boards}
    if entry.kind == "stock":
        choices["what"] = STOCK
    found = []
    for field in fields_of(KINDS[entry.kind]):
        if _CORRECTED[entry.kind] and field.name not in _CORRECTED[entry.kind]:
            continue
        label = field.name.replace("_", " ")
        now = said.get(label, WHOLE if field.name == "piece" else "")
        found.append({"name": field.name, "label": label, "now": now, "choices": list(choices.get(field.name, ()))})
    return found


def found_told(log: Log, asked: str, shop: Shop) -> Json:
    """Whose design a stamp, or the first figures of one, is."""
    found = found_by_stamp(log, asked)
    listed = found_listed(found, asked, shop)
    return {"headline": listed.headline, "found": [
        {"stamp": one.stamp, "words": row.shown, "lures": list(one.lures)}
        for one, row in zip(found, listed.lines, strict=True)]}  # fmt: skip

