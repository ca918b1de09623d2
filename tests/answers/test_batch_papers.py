"""A batch on one pattern: one shape, each blank's own wood; the same ballast as the sum from a scale and a jug."""

from functools import cache
from pathlib import Path

import pytest

from gudgeon.answers.batch_papers import BatchPapers, batch_papers
from gudgeon.answers.finding import Gravity
from gudgeon.design.batch_list import WeighedBlank
from gudgeon.design.file import load
from gudgeon.errors import BadDesign, NoAnswer
from gudgeon.physics.lure import SHAPED
from gudgeon.physics.mass import MASS, VOLUME
from gudgeon.units import Reading

EXAMPLES = Path(__file__).parents[2] / "examples"
BLANKS = {"lanternmere": 0.0526, "diver": 0.0092, "glider": 0.051, "glider-weighed": 0.0532}  # kg
SHARES = (0.84, 0.93, 0.97, 1.0, 1.01, 1.04, 1.06, 1.15)


def listed(mean: float, shares: tuple[float, ...] = SHARES) -> list[WeighedBlank]:
    return [WeighedBlank(10 + place, Reading(mean * share)) for place, share in enumerate(shares)]


@cache
def made(name: str) -> BatchPapers:
    return batch_papers(load(EXAMPLES / f"{name}.toml"), listed(BLANKS[name]))


@pytest.mark.parametrize("name", BLANKS)
def test_each_lure_s_ballast_is_that_of_the_sum_from_scale_and_jug(name):
    # two ways to one number: the drawn lure filled hole by hole, and the sum of weights that `gudgeon batch` makes
    found = made(name)
    assert found.batch is not None
    for lure, summed in zip(found.lures, found.batch.blanks, strict=True):
        assert (lure.number, lure.aside) == (summed.number, summed.aside)
        plugs = (len(found.pattern.holes) - len(lure.papers.holes)) * 2e-4  # a hole fewer is a plug fewer
        assert lure.lead == pytest.approx(summed.lead.value, abs=5e-6 + plugs)


@pytest.mark.parametrize("name", BLANKS)
def test_all_blanks_have_one_shape_and_their_own_weight(name):
    volumes = []
    for lure, listing in zip(made(name).lures, listed(BLANKS[name]), strict=True):
        assert lure.blank == listing.weight.value
        state, _ = lure.papers.check.lure.state(lure.papers.check.lure.chosen(step=SHAPED))
        assert state[MASS] == pytest.approx(listing.weight.value, rel=2e-4)
        volumes.append(float(state[VOLUME]))
    assert max(volumes) - min(volumes) < 2e-5 * max(volumes)


@pytest.mark.parametrize("name", ["lanternmere", "glider"])
def test_a_gram_more_of_blank_is_as_much_less_ballast_as_its_wood_that_stays(name):
    # ballast L = (D + E - parts - rho (V - gone)) / (1 - rho / rho_lead), rho = blank / V: its derivative
    found = made(name)
    lure, metal = found.pattern.check.lure, found.pattern.holes[0].pocket.ballast_density
    items = zip(lure.ledger.items, lure.ledger.item_masses(lure.knowledge)[0], strict=True)
    volume = sum(segment.bare for segment in lure.segments)
    wood = found.blank / volume
    slots = sum(float(mass) for item, mass in items if item.kind == "slot")
    plugs = sum(hole.bored.removed - hole.mass / metal for hole in found.pattern.holes)
    stays = 1.0 - (plugs - slots / wood) / volume
    lead = sum(hole.mass for hole in found.pattern.holes)
    expected = (stays - lead / (metal * volume)) / (1.0 - wood / metal)
    assert found.per_gram == pytest.approx(expected, rel=3e-3)


def test_far_blanks_are_set_aside_and_told_by_their_own_numbers():
    found = made("lanternmere")
    assert [lure.number for lure in found.lures if lure.aside] == [10, 17]
    told = [finding.words for finding in found.findings if finding.gravity >= Gravity.WATCH]
    assert any("set aside number 10, 17" in words for words in told)


def test_every_lure_has_the_pattern_s_holes_in_the_pattern_s_order():
    order = [hole.name for hole in made("lanternmere").pattern.holes]
    for lure in made("lanternmere").lures:
        assert [hole.name for hole in lure.papers.holes] == order


def test_a_blank_too_light_for_its_holes_is_told():
    design = load(EXAMPLES / "glider.toml")
    small = tuple(pocket.model_copy(update={"bore": 0.0072}) for pocket in design.pockets)
    found = batch_papers(design.model_copy(update={"pockets": small}), listed(0.051, (0.7, 1.0)))
    assert any(
        "number 10 is too light" in finding.words and finding.gravity is Gravity.WRONG for finding in found.findings
    )
    lure = found.lures[0].papers.check
    assert lure.ballast is not None
    assert lure.ballast.excess_left < -2e-4


def test_what_belongs_to_one_finished_lure_is_left_aside():
    finished = made("glider-weighed")
    assert all(hole.pocket.drilled is None and hole.add == hole.mass for hole in finished.pattern.holes)
    assert finished.pattern.check.design.coefficients.fall_drag is not None  # its timed drop told the drag


def test_lures_not_weighed_yet_are_all_the_pattern():
    found = batch_papers(load(EXAMPLES / "glider.toml"), 3)
    assert [lure.number for lure in found.lures] == [1, 2, 3]
    assert all(lure.papers is found.pattern and lure.blank is None for lure in found.lures)
    assert found.batch is None
    assert 0.9 < found.per_gram < 1.05


def test_weights_that_are_no_blank_s_of_this_drawing_are_refused_all_at_once():
    ounces = [*listed(0.0526, (1.0, 1.02)), WeighedBlank(40, Reading(0.4)), WeighedBlank(41, Reading(0.001))]
    with pytest.raises(BadDesign) as refusal:
        batch_papers(load(EXAMPLES / "lanternmere.toml"), ounces)
    assert [fault.place for fault in refusal.value.faults] == ["blank 40", "blank 41"]


def test_a_design_without_a_free_pocket_has_no_batch():
    design = load(EXAMPLES / "glider.toml")
    shut = tuple(pocket.model_copy(update={"free": False}) for pocket in design.pockets)
    with pytest.raises(NoAnswer, match="free"):
        batch_papers(design.model_copy(update={"pockets": shut}), 3)
