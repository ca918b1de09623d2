"""A whole check, its answers agreeing with one another."""

import re
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from gudgeon.answers.check import Check, check
from gudgeon.answers.floating import lying
from gudgeon.design.file import load, parse
from gudgeon.design.model import Design
from gudgeon.physics.lure import WATER
from gudgeon.physics.mass import MASS, VOLUME
from gudgeon.physics.spread import Estimate, smooth

Maker = Callable[..., Design]
EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def checked(request: pytest.FixtureRequest) -> Check:
    return check(load(request.param))


def test_there_are_examples() -> None:
    assert len(EXAMPLES) >= 3


def test_the_pieces_make_up_the_whole(checked: Check) -> None:
    for part in ("mass", "displaced", "excess"):
        pieces = sum(getattr(piece.rate, part).value for piece in checked.pieces)
        assert pieces == pytest.approx(getattr(checked.rate, part).value, abs=1e-9)
    assert sum(piece.blank.value for piece in checked.pieces) == pytest.approx(checked.blank.value, rel=1e-9)


def test_weight_is_mass_less_water(checked: Check) -> None:
    for rate in (checked.now, checked.rate, checked.tub.rate, *(water.rate for water in checked.elsewhere)):
        assert rate.excess.value == pytest.approx(rate.mass.value - rate.displaced.value, abs=1e-12)
        assert rate.velocity.value * rate.excess.value >= 0.0
        assert rate.excess.low <= rate.excess.value <= rate.excess.high
        assert rate.velocity.low <= rate.velocity.value <= rate.velocity.high


def test_the_ballast_told_is_the_ballast_in(checked: Check) -> None:
    assert checked.ballast is not None
    before, after = (sum(lure.held.values()) for lure in (checked.drawn, checked.lure))
    assert checked.ballast.put == pytest.approx(after, rel=1e-9)
    assert sum(one.add for one in checked.ballast.pockets) == pytest.approx(after - before, abs=1e-9)
    wanted = checked.ballast.target.excess + checked.ballast.excess_left
    assert checked.rate.excess.value == pytest.approx(wanted, abs=1e-9)
    for one in checked.ballast.pockets:
        assert one.bored.depth <= one.pocket.room + 1e-9 or one.pocket.drilled is not None


def test_the_spread_of_the_weight_in_water_is_of_its_sources_together(checked: Check) -> None:
    state, effects = checked.lure.state()
    row = effects[:, MASS] - state[WATER] * effects[:, VOLUME] - effects[:, WATER] * state[VOLUME]
    assert checked.rate.excess.spread == pytest.approx(checked.lure.knowledge.half_width(row), rel=1e-6)
    covariance = checked.lure.knowledge.covariance
    assert np.linalg.eigvalsh(covariance).min() > -1e-9
    assert covariance.diagonal().max() <= 1.0 + 1e-9  # measuring never makes a source less sure


def test_the_bare_wood_is_smaller_by_the_coats(checked: Check) -> None:
    build = checked.lure.build
    assert checked.finished_size.depth - checked.bare_size.depth == pytest.approx(2.0 * build, rel=1e-9)
    assert checked.finished_size.width - checked.bare_size.width == pytest.approx(2.0 * build, rel=1e-9)
    assert checked.finished_size.length > checked.bare_size.length


def test_casting_weight_counts_snap_and_leader(checked: Check) -> None:
    extra = checked.design.aim.terminal_tackle
    assert checked.casting.weight.value == pytest.approx(checked.rate.mass.value + extra, rel=1e-12)
    assert checked.casting.weight.spread == pytest.approx(checked.rate.mass.spread, rel=1e-12)


def test_wood_density_is_blank_over_volume(checked: Check) -> None:
    state, effects = checked.drawn.state(checked.drawn.chosen(step=0))
    volume = smooth(lambda s: s[..., VOLUME], state, effects, checked.drawn.knowledge)
    assert checked.wood_density.value == pytest.approx(checked.blank.value / volume.value, rel=1e-9)


def test_asked_twice_it_says_the_same() -> None:
    design = load(EXAMPLES[0])
    one, two = check(design), check(design)
    assert one.rate == two.rate
    assert [finding.words for finding in one.findings] == [finding.words for finding in two.findings]
    assert one.lying.pitch == two.lying.pitch


def test_the_class_of_a_lure_in_doubt_is_the_share_of_its_samples(cylinder: Maker) -> None:
    """Set to hang, half of what it may be floats and half sinks: the range straddles nought evenly."""
    answer = check(cylinder(pocket=[{"name": name, "at": at, "bore": "12 mm"} for name, at in
                                    (("front", "35 mm"), ("rear", "85 mm"))]))  # fmt: skip
    velocity = answer.rate.velocity
    assert velocity.low < 0.0 < velocity.high
    assert -velocity.low == pytest.approx(velocity.high, rel=0.15)
    assert answer.rate.words == "floats to sinks"
    # the ends of the range are those of the weight in water, through the square root
    edge = np.sqrt(2.0 * 9.80665 * 0.98 * answer.rate.excess.spread / (998.2 * 0.0024))
    assert velocity.high == pytest.approx(edge, rel=0.15)


def test_kept_pockets_and_shot(cylinder: Maker) -> None:
    stock = {"shot": [{"weight": "4.3 g", "count": 20, "hammered": True}]}
    pockets = [{"name": name, "at": at, "bore": "12 mm"} for name, at in (("front", "35 mm"), ("rear", "85 mm"))]
    answer = check(cylinder(pocket=pockets, stock=stock, aim={"does": "hangs", "whole_shot": True}))
    assert answer.shot is not None
    assert answer.ballast is not None
    assert answer.shot.in_shot
    assert not answer.ballast.in_shot
    assert answer.rate.excess.value == pytest.approx(0.0, abs=1e-7)  # told of the solid ballast
    assert isinstance(answer.shot.needed, Estimate)
    quiet = check(cylinder(pocket=pockets, stock=stock))
    assert quiet.shot is None


def test_bores_for_whole_shot_go_through_the_checks_of_the_solid_ones() -> None:
    """Poured lead ends well below the lip's slot; the pile of loose shot in the same bore runs into it."""
    text = (EXAMPLES[0].parent / "diver.toml").read_text(encoding="utf-8")
    drawer = "\n[[stock.shot]]\nmaterial = \"lead\"\ndiameter = \"4 mm\"\ncount = 40\n"
    asked = text.partition("[[stock.shot]]")[0].replace("[aim]\n", "[aim]\nwhole_shot = true\n") + drawer
    answer = check(parse(asked))
    assert answer.ballast is not None
    assert answer.shot is not None
    assert all(clearance.is_enough for clearance in answer.clearances)
    for solid, shot in zip(answer.ballast.pockets, answer.shot.pockets, strict=True):
        assert shot.bored.depth > solid.bored.depth
        assert shot.bored.depth <= shot.pocket.room + 1e-9
        told = {one.to: one.distance for one in answer.shot_clearances if one.pocket == shot.name}
        assert told["the skin beyond its end"] == pytest.approx(shot.pocket.room + 0.003 - shot.bored.depth)
    spoken = [finding.words for finding in answer.findings if finding.words.startswith("Drilled for the whole shot")]
    assert len(spoken) == sum(not one.is_enough for one in answer.shot_clearances) > 0
    assert "meets the lip's slot" in spoken[0]


def test_a_drawer_without_shot_that_fits_is_a_finding_and_no_refusal() -> None:
    text = (Path(__file__).parents[2] / "examples/diver.toml").read_text(encoding="utf-8")
    asked = text.replace("[aim]\n", "[aim]\nwhole_shot = true\n")
    drawer = "\n[[stock.shot]]\ndiameter = \"30 mm\"\n"
    answer = check(parse(asked.partition("[[stock.shot]]")[0] + drawer))
    assert answer.shot is None
    assert any("no shot in stock fits" in finding.words.lower() for finding in answer.findings)


@pytest.mark.parametrize("beyond", [-1e-7, -1e-16, 0.0, 1e-16, 1e-7])
def test_a_lure_that_hangs_to_the_last_figure_lies_somewhere(beyond: float) -> None:
    text = (Path(__file__).parents[2] / "examples/glider.toml").read_text(encoding="utf-8")
    hanging = re.sub(r'(?m)^rate = .*$', "", text.replace('does = "sinks"', 'does = "hangs"'))
    lure = check(parse(hanging)).lure
    state, _ = lure.state()
    first = next(name for name, mass in lure.held.items() if mass > 0.0)
    excess = float(state[MASS] - state[WATER] * state[VOLUME])
    told = lying(lure.filled({first: lure.held[first] - excess + beyond * float(state[MASS])}))
    assert told.pitch is not None
    assert told.afloat is None  # under water, as near as no matter; afloat its waterplane would be a point
    for number in (told.pitch.value, told.pitch.spread, *told.righting):
        assert np.isfinite(number)
