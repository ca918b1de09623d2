"""What is typed on the page, as the file writes it."""

import re
from collections.abc import Mapping
from typing import Any

from gudgeon.design.edits import Value
from gudgeon.design.keys import Key, key_at
from gudgeon.errors import BadDesign, Fault
from gudgeon.units import number

BARE = re.compile(r"[-+]?(\d+([ -]\d+/\d+)?|\d+/\d+|\d*\.\d+|\d+\.)")
_UNIT = re.compile(r"[-+]?[\d\s./-]+(?P<unit>[^\d\s±+].*?)?\s*(?:(?:±|\+/?-).*)?")

_LENGTHS = ("mm", "in")


def written_value(data: Mapping[str, Any], where: str, words: str, inch: bool) -> Value | None:
    """A value as the file writes it; None, to take the key out, for no words.

    data   : what the file holds
    where  : "hook.2.weight"
    words  : as typed; a bare number takes the unit that stood there, a length without one the shop's
    inch   : whether the shop's are inches
    raises : BadDesign when the key is none, or takes another sort of value
    """
    key = key_at(where)
    if key is None:
        raise _refusal(where, "is not a key gudgeon knows")
    if not words:
        if key.needed:
            raise _refusal(where, "must be given")
        return None
    if key.takes == "list":
        return [part.strip() for part in words.split(",") if part.strip()]
    if key.takes == "yes or no":
        if words not in ("yes", "no"):
            raise _refusal(where, f"'{words}': say yes or no")
        return words == "yes"
    if key.takes in ("whole number", "number"):
        return _number(key, where, words)
    if key.takes == "quantity" and BARE.fullmatch(words):
        return f"{words} {_unit_there(data, where, key, inch=inch)}"
    return words


def _number(key: Key, where: str, words: str) -> int | float:
    value = number(words)
    if key.takes == "whole number" and value != int(value):
        raise _refusal(where, f"'{words}' is no whole number")
    return int(value) if key.takes == "whole number" else value


def _unit_there(data: Mapping[str, Any], where: str, key: Key, *, inch: bool) -> str:
    """The unit of the value that stands there, for a number typed without one."""
    here: Any = data
    for step in where.split("."):
        if isinstance(here, Mapping):
            here = here.get(step)
        elif isinstance(here, list) and step.isdecimal() and int(step) <= len(here):
            here = here[int(step) - 1]
        else:
            here = None
    found = _UNIT.fullmatch(here.strip()) if isinstance(here, str) else None
    if found is not None and found["unit"]:
        return found["unit"].strip()
    if key.units == _LENGTHS:
        return "in" if inch else "mm"
    raise _refusal(where, f"this needs a unit: {' or '.join(key.units)}")


def _refusal(where: str, words: str) -> BadDesign:
    return BadDesign("this was not written", [Fault(where, words)])
