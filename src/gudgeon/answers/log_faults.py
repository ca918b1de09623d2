"""A lure of the log that cannot be built as it was measured: which entries are to blame, and how to put them right."""

import re
from collections.abc import Iterator
from contextlib import contextmanager

from gudgeon.errors import BadDesign, BadShop, Fault
from gudgeon.shop.entries import LureRecord
from gudgeon.shop.records import Ballast

_POCKET = re.compile(r"pocket \d+ '(.*)'(\.\w+)?$", re.DOTALL)


@contextmanager
def told_by_entry(record: LureRecord, does: str = "cannot be built") -> Iterator[None]:
    """What is asked inside of a lure as it was measured is refused, when it is, with the entries to be corrected.

    does   : what the lure does
    raises : BadShop in place of BadDesign
    """
    try:
        yield
    except BadDesign as refusal:
        faults = [_blamed(fault, record) for fault in refusal.faults]
        raise BadShop(f"lure {record.lure.number}, as the log has it, {does}", faults) from None


def _blamed(fault: Fault, record: LureRecord) -> Fault:
    """A fault of a hole with the entries that say what is in it."""
    found = _POCKET.match(fault.place)
    entries = [entry.number for entry, piece in record.of(Ballast) if found and piece.hole == found[1]]
    if not found or not entries:
        return fault
    which = f"entr{'y' if len(entries) == 1 else 'ies'} {', '.join(map(str, entries))}"
    words = f"{fault.words}. Entered wrongly? gudgeon log correct {' or '.join(map(str, entries))}, --set or --void"
    return Fault(f"hole '{found[1]}', {which}", words)
