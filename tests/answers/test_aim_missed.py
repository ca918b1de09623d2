"""One amount of ballast everywhere, and a line that says why an aim is missed."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from gudgeon.answers.check import check
from gudgeon.answers.checked import Check
from gudgeon.answers.troubles import troubles
from gudgeon.design.model import Design
from gudgeon.physics.spread import around
from gudgeon.report.check_rows import headline
from gudgeon.report.rows import Shop

Maker = Callable[..., Design]


def leaded(cylinder: Maker, more: float) -> Check:
    """A cylinder that hangs on what its first two holes hold and `more` grams; the third is not bored."""
    holes = [{"name": f"at {x}", "at": f"{x} mm", "bore": "12 mm"} for x in (40, 80, 60)]
    whole = check(cylinder(pocket=holes[:2])).ballast
    assert whole is not None
    half = 500.0 * whole.put
    now = [{**hole, "holds": f"{held:.6f} g"} for hole, held in zip(holes, (half, half - more, 0.0), strict=True)]
    return check(cylinder(pocket=now, aim={"does": "hangs"}))


@pytest.mark.parametrize("more", [0.08, 0.2, 1.0])
def test_what_is_added_is_what_is_needed_less_what_is_in(cylinder: Maker, more: float) -> None:
    answer = leaded(cylinder, more)
    ballast = answer.ballast
    assert ballast is not None
    held = 1e3 * sum(answer.drawn.held.values())
    assert 1e3 * ballast.needed.value - held == pytest.approx(more, abs=0.03)
    assert sum(load.mass for load in ballast.pockets) == ballast.needed.value == ballast.put
    assert {load.name for load in ballast.pockets} == {"at 40", "at 80"}  # no new hole for so little
    said = float(headline(answer, Shop.METRIC).split()[1])  # to the place that its spread lets stand
    assert said == pytest.approx(1e3 * ballast.needed.value - held, abs=0.05)


def words_of(answer: Check, excess: float = 0.0, tilt: float = 0.0) -> str:
    """What is found once the ballast leaves so much [kg], and so much [rad], beyond the aim."""
    assert answer.ballast is not None
    assert answer.rate.attitude is not None
    pitch = replace(answer.rate.attitude, value=tilt, low=tilt - 1e-3, high=tilt + 1e-3)
    rate = replace(answer.rate, attitude=pitch, excess=replace(answer.rate.excess, value=1e-3))
    moved = replace(answer, ballast=replace(answer.ballast, excess_left=excess), rate=rate)
    return " ".join(finding.words for finding in troubles(moved))


def test_what_is_left_beyond_its_spread_is_told_with_its_cause(cylinder: Maker) -> None:
    answer = leaded(cylinder, 1.0)
    spread = answer.rate.excess.spread
    assert spread > 1e-4
    assert "than the aim asks" not in words_of(answer, 0.9 * spread)
    assert "heavier in water than the aim asks: with the holes where they are" in words_of(answer, 1.1 * spread)
    wide = replace(answer, rate=replace(answer.rate, excess=around(1e-3, 1e-4)))
    assert "lighter in water than the aim asks: with the holes" in words_of(wide, -2e-4)
    assert "more nose-up than the aim asks: no free hole far enough forward" in words_of(answer, tilt=0.05)
    assert "nose-up than the aim" not in words_of(answer, tilt=0.005)
