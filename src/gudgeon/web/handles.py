"""What the hand can take hold of: the points of the curves, and every part with its place in the file."""

from collections.abc import Iterator, Mapping
from typing import Any

from gudgeon.design.model import Design

Place = tuple[float, float, float]


def curves(design: Design) -> dict[str, list[tuple[float, float]] | None]:
    """The drawn curves, each point as station and size there [m]; None for one that is left out."""
    outline = design.outline
    drawn = {"back": outline.back, "belly": outline.belly, "side": outline.side}
    return {name: None if points is None else [(point.station, point.out) for point in points]
            for name, points in drawn.items()}  # fmt: skip


def handles(design: Design, places: Mapping[str, Place]) -> list[dict[str, Any]]:
    """Every part that can be moved: its table and place in the file, its name, where it is [m], what of it can move.

    places : (3,) [m] of every fitting, hook and bore by its name
    """
    return list(_handles(design, places))


def _handles(design: Design, places: Mapping[str, Place]) -> Iterator[dict[str, Any]]:
    for number, joint in enumerate(design.joints, start=1):
        yield {"table": "joint", "place": number, "name": f"joint {number}", "at": (joint.at, 0.0, 0.0),
               "moves": ["at"]}  # fmt: skip
    for number, fitting in enumerate(design.fittings, start=1):
        yield _part("fitting", number, fitting.name, places[fitting.name], fitting.offset)
    for number, hook in enumerate(design.hooks, start=1):
        hung = {"shank": hook.shank, "gape": hook.gape} if hook.shank and hook.gape else {}
        yield {**_part("hook", number, hook.name, places[hook.name], hook.offset), **hung}
    for number, pocket in enumerate(design.pockets, start=1):
        moves = ["at"] if pocket.face in ("belly", "back") else ["at", "height"]
        yield {"table": "pocket", "place": number, "name": pocket.name, "at": places[pocket.name], "moves": moves,
               "bore": pocket.bore, "face": pocket.face}  # fmt: skip
    for table, plate in (("lip", design.lip), ("fin", design.fin)):
        if plate is not None:
            yield {"table": table, "place": 1, "name": table, "at": (plate.at, 0.0, plate.height),
                   "moves": ["at", "height"]}  # fmt: skip


def _part(table: str, number: int, name: str, at: Place, offset: float) -> dict[str, Any]:
    """A fitting or hook; one beside the middle line can be moved out and in too."""
    moves = ["at", "height", "offset"] if offset else ["at", "height"]
    return {"table": table, "place": number, "name": name, "at": at, "moves": moves}
