"""Parts put into a design's text and taken out of it, with all that names them elsewhere in the file."""

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from itertools import count
from typing import Any

from gudgeon.design.edits import Value, edit
from gudgeon.design.items import with_item, with_table, without_item, without_table
from gudgeon.errors import BadDesign, BadQuantity, Fault
from gudgeon.units import OFFSET, read

_FIRST: Mapping[str, Mapping[str, Value]] = {
    "joint": {"gap": "2 mm", "front_bevel": "10 deg", "rear_bevel": "12 deg"},
    "fitting": {"kind": "screw eye", "weight": "0.8 g", "material": "stainless steel", "wire": "1.6 mm",
                "shank": "14 mm"},
    "hook": {"size": "2"},
    "pocket": {"bore": "8 mm"},
}  # fmt: skip
"""What a first part of its kind is; a usual one, to be changed."""
_ALIKE = {
    "joint": ("gap", "face", "front_bevel", "rear_bevel", "pivot"),
    "fitting": ("kind", "weight", "material", "wire", "shank", "shank_is"),
    "hook": ("size", "weight", "shank", "gape", "ring", "material"),
    "pocket": ("bore", "face", "material", "wall", "plug"),
}
"""What a further one takes from the nearest of its kind."""


def put_in(text: str, kind: str, at: str) -> str:
    """The text with one more part, like the nearest of its kind.

    at     : distance from the nose, as it is to be written
    raises : BadDesign
    """
    if kind not in _FIRST:
        raise BadDesign("this stroke was not kept", [Fault(kind, "is not put in from here; write it into the file")])
    data = tomllib.loads(text)
    there = _listed(data, kind)
    station = _metres(at)
    own = [one for one in there if not (kind == "fitting" and one.get("kind") != "screw eye")]
    like = min(own, key=lambda one: abs(_metres(one.get("at")) - station), default=None)
    pairs = dict(_FIRST[kind]) if like is None else {key: like[key] for key in _ALIKE[kind] if key in like}
    if kind == "joint":
        return _with_joint(text, data, {"at": at, **pairs}, station)
    names = {one.get("name") for other in ("fitting", "hook", "pocket") for one in _listed(data, other)}
    word = "eye" if kind == "fitting" else kind
    name = next(name for number in count(len(there) + 1) if (name := f"{word} {number}") not in names)
    return with_table(text, f"{kind}.{len(there) + 1}", {"name": name, "at": at, **pairs})


def take_out(text: str, kind: str, number: int) -> str:
    """The text without one part, and without what names it elsewhere.

    raises : BadDesign when there is none
    """
    data = tomllib.loads(text)
    there = _listed(data, kind)
    if number > len(there):
        raise BadDesign("this stroke was not kept", [Fault(kind, f"there are {len(there)} in the file")])
    name = f"hinge {number}" if kind == "hinge" else there[number - 1].get("name")
    text = without_table(text, f"{kind}.{number}")
    if kind == "joint":
        return _without_joint(text, number)
    if kind == "hinge":
        text = _unfitted(text, name)
        for later in range(number + 1, len(there) + 1):
            text = _renamed(text, f"hinge {later}", f"hinge {later - 1}")
        return text
    return _unhung(_unfitted(text, name), name)


def _listed(data: Mapping[str, Any], kind: str) -> list[dict[str, Any]]:
    found = data.get(kind)
    return [one for one in found if isinstance(one, dict)] if isinstance(found, list) else []


def _metres(words: object) -> float:
    """A written distance [m]; far away where it cannot be read."""
    try:
        return read(words, OFFSET) if isinstance(words, str) else 1e3
    except BadQuantity:
        return 1e3


def _with_joint(text: str, data: Mapping[str, Any], pairs: Mapping[str, Value], station: float) -> str:
    """One more cut in its place from the nose: pieces and hinges behind it are counted on."""
    joints, names = _listed(data, "joint"), data.get("segments")
    number = 1 + sum(_metres(one.get("at")) < station for one in joints)
    text = with_table(text, f"joint.{number}", pairs)
    if isinstance(names, list):
        name = next(name for more in count(len(names) + 1) if (name := f"piece {more}") not in names)
        text = with_item(text, f"segments.{number + 1}", name)
    return _hinges_counted(text, from_joint=number, by=1)


def _without_joint(text: str, number: int) -> str:
    """The pieces on its two sides become one, and its hinges go with it."""
    names = tomllib.loads(text).get("segments")
    if isinstance(names, list) and len(names) > number:
        text = without_item(text, f"segments.{number + 1}")
    hinges = _listed(tomllib.loads(text), "hinge")
    for place in reversed([place for place, hinge in enumerate(hinges, start=1) if hinge.get("joint") == number]):
        text = take_out(text, "hinge", place)
    return _hinges_counted(text, from_joint=number + 1, by=-1)


def _hinges_counted(text: str, *, from_joint: int, by: int) -> str:
    hinges = _listed(tomllib.loads(text), "hinge")
    moved = {f"hinge.{place}.joint": hinge["joint"] + by for place, hinge in enumerate(hinges, start=1)
             if isinstance(hinge.get("joint"), int) and hinge["joint"] >= from_joint}  # fmt: skip
    return edit(text, moved)


def _fitted_lists(data: Mapping[str, Any]) -> Iterator[tuple[str, Sequence[Any]]]:
    """Every list of what is fitted: in the tub test, and in what was measured."""
    tub = data.get("tub")
    holders = [("tub", tub)] if isinstance(tub, dict) else []
    holders += [(f"measured.{place}", one) for place, one in enumerate(_listed(data, "measured"), start=1)]
    for place, holder in holders:
        if isinstance(holder.get("fitted"), list):
            yield f"{place}.fitted", holder["fitted"]


def _unfitted(text: str, name: object) -> str:
    for place, names in _fitted_lists(tomllib.loads(text)):
        for number in reversed(range(1, len(names) + 1)):
            if names[number - 1] == name:
                text = without_item(text, f"{place}.{number}")
    return text


def _renamed(text: str, name: str, to: str) -> str:
    changes: dict[str, Value | None] = {f"{place}.{number}": to
                                        for place, names in _fitted_lists(tomllib.loads(text))
                                        for number, one in enumerate(names, start=1) if one == name}  # fmt: skip
    return edit(text, changes)


def _unhung(text: str, name: object) -> str:
    """Without its stand-in at the tub, and without the keys of others that name it."""
    data = tomllib.loads(text)
    stand_ins = _listed(data.get("tub", {}), "stand_in")
    for place in reversed(range(1, len(stand_ins) + 1)):
        if stand_ins[place - 1].get("hook") == name:
            text = without_table(text, f"tub.stand_in.{place}")
    keys = (("hook", "on"), ("hinge", "locked_by"))
    gone: dict[str, Value | None] = {f"{kind}.{place}.{key}": None for kind, key in keys
                                     for place, one in enumerate(_listed(data, kind), start=1)
                                     if one.get(key) == name}  # fmt: skip
    return edit(text, gone)
