"""What lures are made of, for the page: boards and stock, told and entered through the log's own door."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from gudgeon.answers.boarding import board
from gudgeon.answers.log_views import entry_lines
from gudgeon.errors import BadShop, Fault, Refusal
from gudgeon.report.log_rows import entries_listed
from gudgeon.report.rows import Shop
from gudgeon.shop.log import Log
from gudgeon.shop.records import STOCK, Board
from gudgeon.shop.spoken_records import MADE, made_in_words
from gudgeon.units import LENGTH, MASS, Reading, read, read_reading
from gudgeon.web.calls import Json
from gudgeon.web.log_entering import Asked, entry_told, fields_asked, words_asked
from gudgeon.web.log_told import fields_told

_MOST = 400  # boards, and as much stock
_SIDES = ("offcut_length", "offcut_width", "offcut_thickness")


def made_told(log: Log, shop: Shop) -> Json:
    """Boards and stock that stand, the newest first, each with what a correction may change."""
    found: dict[str, list[Json]] = {}
    for kind in MADE:
        entries = log.standing(kind, _MOST)
        lines = entry_lines(entries)
        rows = entries_listed(lines, shop, "").lines
        found[kind] = [{"number": entry.number, "words": row.shown, "open": True,
                        "fields": fields_told(entry, line, shop)}
                       for entry, line, row in zip(entries, lines, rows, strict=True)]  # fmt: skip
    return {"boards": found["board"], "stock": found["stock"], "sorts": list(STOCK)}


def made_entered(folder: Path, asked: Asked, shop: Shop) -> Json:
    """A board, or stock.

    asked : kind, fields, remark; of a board, an offcut's weight and sides may stand in the place of its density
    """
    kind, fields, remark = words_asked(asked, "kind"), fields_asked(asked), words_asked(asked, "remark")
    cut = {name: fields.pop(name, "").strip() for name in ("offcut", *_SIDES)} if kind == "board" else {}
    record = made_in_words(kind, fields)
    if isinstance(record, Board):
        record = record if not any(cut.values()) else replace(record, density=_by_offcut(cut, record.density))
    with Log.open(folder) as log:
        number = (log.add_board(record, remark=remark) if isinstance(record, Board)
                  else log.add_stock(record, remark=remark))  # fmt: skip
        return entry_told(log, number, (), shop)


def _by_offcut(cut: Mapping[str, str], density: Reading | None) -> Reading:
    """The density that a square-cut offcut tells; raises BadShop, Refusal."""
    faults = [Fault(name.replace("_", " "), "left empty; weight and all three sides tell the density")
              for name, words in cut.items() if not words]  # fmt: skip
    if density is not None:
        faults.append(Fault("density", "give the offcut's weight and sides, or the density"))
    weight, sides = Reading(0.0), []
    for name, words in cut.items():
        try:
            if words and name == "offcut":
                weight = read_reading(words, MASS)
            elif words:
                sides.append(read(words, LENGTH))
        except Refusal as refusal:
            faults.append(Fault(name.replace("_", " "), refusal.heading))
    if faults:
        raise BadShop("nothing was entered", faults)
    found = board(weight, (sides[0], sides[1], sides[2])).density
    return Reading(found.value, found.spread)
