"""Whether a record holds together by itself: words that are words, quantities that can be, known stages."""

import math
import unicodedata
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from difflib import get_close_matches
from typing import TYPE_CHECKING, Any

from gudgeon.errors import BadShop, Fault
from gudgeon.shop.columns import Field, fields_of
from gudgeon.shop.kept import told_in, words_of
from gudgeon.shop.records import (
    KIND_OF,
    STAGES,
    STATES,
    STOCK,
    WHOLE,
    Answer,
    Ballast,
    Board,
    Fitting,
    Jug,
    Lure,
    Record,
    Stock,
    TimedDrop,
    Weighing,
)
from gudgeon.units import Kind, Reading

if TYPE_CHECKING:  # reading a design takes time that most entries need not
    from gudgeon.design.model import Design

LONGEST_WORDS = 4000  # characters of a remark
LONGEST_NAME = 120
LARGEST_DESIGN = 1_000_000  # bytes, as for a design file
_NAMES = ("name", "piece", "hole", "part", "material", "wood", "lot")
_LARGE = ("design", "told")
_CHOICES = {"stage": STAGES, "state": STATES}
_MUST_SAY = ("name", "piece", "hole", "part", "wood", "words", "what", "why", "question", "headline")


def checked(record: Record, remark: str = "") -> None:
    """Nothing, when a record may be entered.

    raises : BadShop with every fault
    """
    faults = [*_faults(record), *words_faults("the remark", remark, LONGEST_WORDS)]
    if faults:
        raise BadShop(f"the {KIND_OF[type(record)].replace('_', ' ')} was not entered", faults)


def moment(text: str) -> str:
    """A date, or a date and time, in ISO 8601 as it is kept; a time without its offset is taken as local.

    raises : BadShop
    """
    try:
        if len(text) == 10:
            return date.fromisoformat(text).isoformat()
        found = datetime.fromisoformat(text)
        found = found if found.tzinfo else found.astimezone()
        return found.isoformat(timespec="seconds")
    except (ValueError, OverflowError, OSError):
        fault = Fault("the time", f"'{text[:40]}' is no date; write 2026-05-03 or 2026-05-03T14:30")
        raise BadShop("nothing was entered", [fault]) from None


def not_to_come(text: str, now: str) -> None:
    """Nothing, unless a moment is still to come, by more than clocks of two places differ; raises BadShop.

    text, now : ISO 8601, as `moment` has them
    """
    if date.fromisoformat(text[:10]) > date.fromisoformat(now[:10]) + timedelta(days=1):
        raise BadShop("nothing was entered", [Fault("the time", f"{text[:10]} is still to come; a slip in the year?")])


def words_faults(place: str, text: str, longest: int) -> Iterator[Fault]:
    """What is wrong with words: too long, or with characters that steer a terminal."""
    if len(text) > longest:
        yield Fault(place, f"{len(text)} characters; keep it under {longest}")
    if any(unicodedata.category(letter) in ("Cc", "Cs") and letter not in "\n\t" for letter in text):
        yield Fault(place, "has a character that does not print; write plain words")


def parts_named(design: "Design") -> tuple[str, ...]:
    """What may be fitted to a lure of this design, by name."""
    plates = [name for name, plate in (("lip", design.lip), ("fin", design.fin)) if plate is not None]
    hinges = [f"hinge {number}" for number, _ in enumerate(design.hinges, start=1)]
    fitted = [part.name for part in design.fittings] + [hook.name for hook in design.hooks]
    return (*fitted, *plates, *hinges)


def named_as_drawn(record: Record, design: "Design") -> None:
    """Nothing, when a record names only pieces and parts that its pattern has; raises BadShop with every fault."""
    faults = []
    piece = getattr(record, "piece", WHOLE)
    if piece != WHOLE and piece not in design.segment_names:
        faults.append(Fault("the piece", _unknown(piece, (WHOLE, *design.segment_names))))
    known = parts_named(design)
    named = [(name, "what is fitted") for name in getattr(record, "fitted", None) or ()]
    named += [(one.hook, "the stand-in") for one in getattr(record, "stand_ins", ())]
    named += [(record.part, "the part")] if isinstance(record, Fitting) else []
    faults += [Fault(place, _unknown(name, known)) for name, place in named if name not in known]
    if faults:
        raise BadShop("nothing was entered", faults)


def _unknown(name: str, known: tuple[str, ...]) -> str:
    close = get_close_matches(name, known, n=3, cutoff=0.6) or known
    return f"the pattern has no '{name}'; it has {', '.join(close)}"


def _faults(record: Record) -> Iterator[Fault]:
    for field in fields_of(type(record)):
        yield from _field_faults(field, getattr(record, field.name))
    yield from _own_faults(record)


def _field_faults(field: Field, value: Any) -> Iterator[Fault]:
    place = field.name.replace("_", " ")
    if value is None:
        return
    if field.form == "words":
        yield from _said(field, place, value)
    elif field.form == "whole" and not 0 <= value < 2**53:
        yield Fault(place, f"{value} cannot be; give a whole number from 0 up")
    elif field.form == "names":
        for name in value:
            yield from words_faults(place, name, LONGEST_NAME)
    elif field.form == "stand_ins":
        for stand_in in value:
            yield from words_faults(place, stand_in.hook, LONGEST_NAME)
            yield from _number_faults(place, stand_in.mass)
    elif field.kind is not None:
        readings = value if field.form == "quantities" else (value,)
        for reading in readings:
            yield from _quantity_faults(place, reading, field.kind)


def _said(field: Field, place: str, text: str) -> Iterator[Fault]:
    if field.name not in _LARGE:
        yield from words_faults(place, text, LONGEST_NAME if field.name in _NAMES else LONGEST_WORDS)
    elif len(text.encode("utf-8", "surrogatepass")) > LARGEST_DESIGN:
        yield Fault(place, "is larger than 1 MB")
    if field.name in _MUST_SAY and not text.strip():
        yield Fault(place, "is left empty; say it in words")
    choices = _CHOICES.get(field.name)
    if choices and text not in choices:
        yield Fault(place, f"'{text}': say one of {', '.join(choices)}")


def _quantity_faults(place: str, value: Reading | float, kind: Kind) -> Iterator[Fault]:
    amount, spread = (value.value, value.spread) if isinstance(value, Reading) else (value, None)
    if not math.isfinite(amount) or (spread is not None and not (math.isfinite(spread) and spread >= 0.0)):
        yield Fault(place, "is not a number")
        return
    low, high = kind.least, kind.most
    too_low = low is not None and (amount < low or (kind.above and amount <= low))
    if too_low or (high is not None and amount > high):
        side = "low" if too_low else "high"
        yield Fault(place, f"cannot be {kind.name} as {side} as that; a slip in the unit or the decimal point?")


def _number_faults(place: str, mass: float) -> Iterator[Fault]:
    if not (math.isfinite(mass) and mass >= 0.0):
        yield Fault(place, "is not a weight")


def _own_faults(record: Record) -> Iterator[Fault]:
    """What only this kind of record must keep."""
    if isinstance(record, Weighing) and record.mass.value <= 0.0:
        yield Fault("mass", "more than 0 g; what weighs nothing need not be entered")
    if isinstance(record, Jug) and record.displaced.value <= 0.0:
        yield Fault("displaced", "more than 0 g of water")
    if isinstance(record, Ballast) and not record.material.strip():
        yield Fault("material", "say what the ballast is: lead")
    if isinstance(record, TimedDrop) and not record.times:
        yield Fault("times", "give one time or more: 12.4 s")
    if isinstance(record, Answer):
        for words in words_of(told_in(record.told)):
            yield from words_faults("what was told", words, LONGEST_WORDS)
    if isinstance(record, Stock):
        yield from _stock_faults(record)
    if isinstance(record, Board) and record.density is not None and record.density.value > 1500.0:
        yield Fault("density", "no wood is so dense; check the unit and the decimal point")
    if isinstance(record, Lure) and (record.number < 1 or record.run < 1):
        yield Fault("number", "lures and runs are counted from 1")


def _stock_faults(record: Stock) -> Iterator[Fault]:
    if record.what not in STOCK:
        yield Fault("what", f"'{record.what}': say one of {', '.join(STOCK)}")
    if record.what in ("shot", "hook") and record.each is None:
        yield Fault("each", "give the weight of one, hooks with their ring: 4.3 g")
    if record.what == "resin" and not record.lot:
        yield Fault("lot", "give the lot as it stands on the tin, so that a soft coat can be traced")
