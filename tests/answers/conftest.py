"""Bodies whose volumes are known on paper, drawn as a maker would write them."""

import math
from collections.abc import Callable

import pytest

from gudgeon.design.model import Design

Maker = Callable[..., Design]

_FRESH = {"kind": "fresh", "temperature": "20 C"}


def _written(outline: dict[str, object], length: float, tables: dict[str, object]) -> Design:
    body: dict[str, object] = {"name": "plain", "length": f"{length:.9g} mm", "outline": outline,
                               "wood": {"density": "0.4 g/cm3"}, "water": _FRESH, "aim": {"does": "hangs"}}  # fmt: skip
    drawn = tables.pop("drawn", "finished")
    return Design.model_validate({**body, **tables, "outline": {**outline, "drawn": drawn}})


def _cylinder(length: float = 120.0, half_width: float = 10.0, half_depth: float = 20.0, **tables: object) -> Design:
    back = [f"0 mm: {half_depth:.12g} mm", f"{length:.9g} mm: {half_depth:.12g} mm"]
    side = [f"0 mm: {half_width:.12g} mm", f"{length:.9g} mm: {half_width:.12g} mm"]
    return _written({"back": back, "side": side}, length, tables)


def _ellipsoid(length: float = 120.0, half_width: float = 10.0, half_depth: float = 20.0, **tables: object) -> Design:
    angles = [math.pi * share / 24.0 for share in range(25)]
    stations = [0.5 * length * (1.0 - math.cos(angle)) for angle in angles]
    sizes = [0.0, *(math.sin(angle) for angle in angles[1:-1]), 0.0]
    back = [f"{x:.9f} mm: {half_depth * size:.12f} mm" for x, size in zip(stations, sizes, strict=True)]
    side = [f"{x:.9f} mm: {half_width * size:.12f} mm" for x, size in zip(stations, sizes, strict=True)]
    return _written({"back": back, "side": side}, length, tables)


@pytest.fixture(scope="session")
def cylinder() -> Maker:
    """A design of one elliptical section from end to end: length, half width, half depth in mm, then its tables.

    Its volume is pi length half_width half_depth; 75.398 cm3, blank 30.159 g, where nothing is said.
    """
    return _cylinder


@pytest.fixture(scope="session")
def ellipsoid() -> Maker:
    """The same closing to a round at both ends: volume 2 pi / 3 length half_width half_depth."""
    return _ellipsoid
