"""Sums that makers do with a scale, and Archimedes' that stand behind them."""

import pytest

from gudgeon.answers.bench_lure import BenchLure, BenchPart, BenchWater, lake, stuff
from gudgeon.answers.boring import mass_in_bore
from gudgeon.answers.classing import class_of
from gudgeon.answers.coats import CoatAsked, coat_weights
from gudgeon.answers.dropping import class_limits
from gudgeon.answers.sums import BenchAim, PlanArea, lead, weighed_up
from gudgeon.physics.immersion import ballast_inside, ballast_outside, worth_inside, worth_outside
from gudgeon.units import FOOT, Reading

PRACTICE = "common practice, no source"
ARCHIMEDES = "Archimedes' principle"
GRAM = 1e-3
TANK = lake(Reading(293.15))
SEA = BenchWater(Reading(293.15), Reading(35.0))
STEEL, LEAD, ALUMINIUM = stuff("steel"), stuff("lead"), stuff("aluminium")


def bare() -> BenchLure:
    """A body of 37.82 g in wood of 0.67 g/cm3, weighed before any hole was drilled."""
    return BenchLure(Reading(37.82 * GRAM), None, Reading(670.0), False, (), TANK, TANK)


def fitted(water: BenchWater = TANK) -> BenchLure:
    """With buried fittings and plate, and hooks."""
    parts = (
        BenchPart("fittings", Reading(4.09 * GRAM), STEEL, buried=True),
        BenchPart("plate", Reading(0.89 * GRAM), ALUMINIUM, buried=True),
        BenchPart("hooks", Reading(3.69 * GRAM), STEEL),
    )
    return BenchLure(Reading(37.82 * GRAM), None, Reading(670.0), False, parts, water, TANK)


@pytest.mark.source(PRACTICE, where="a bare body of 37.82 g in wood of 0.67 g/cm3")
def test_the_bare_body_displaces() -> None:
    assert weighed_up(bare()).volume.value * 1e6 == pytest.approx(56.4, abs=0.05)


@pytest.mark.source(PRACTICE, where="body, fittings 4.09 g, plate 0.89 g, hooks about 3.7 g")
def test_the_parts_add_up_and_about_ten_grams_hang_it() -> None:
    answer = lead(fitted(), BenchAim(more=0.25), LEAD, shot=4.29 * GRAM)
    assert answer.on_scale.value / GRAM == pytest.approx(46.49, abs=0.005)
    assert answer.plain.value / GRAM == pytest.approx(10.0, abs=0.3)
    assert answer.plain_more is not None
    assert answer.plain_more.value / GRAM == pytest.approx(12.5, abs=0.3)
    assert answer.shots is not None
    assert answer.shots.count == 3
    assert answer.shots.mass / GRAM == pytest.approx(12.86, abs=0.02)


@pytest.mark.source(PRACTICE, where="the sum as it was told, 66.49 g")
def test_a_total_that_cannot_be_is_told_plainly() -> None:
    said = [finding.words for finding in lead(bare(), BenchAim(), LEAD, told_total=66.49 * GRAM).warnings]
    assert said[0].endswith(
        "already 10 g heavier than the water it displaces; ballast makes it sink faster"
    )  # fmt: skip


@pytest.mark.source(PRACTICE, where="the sum as it was told, 66.49 g, beside its parts")
def test_a_total_that_its_parts_do_not_make_is_told_with_the_one_they_make() -> None:
    said = [finding.words for finding in lead(fitted(), BenchAim(), LEAD, told_total=66.49 * GRAM).warnings]
    assert "the parts add to 46.49 g" in said[0]
    assert "one digit differs (6 for 4)" in said[0]
    assert "already 10 g heavier than the water it displaces" in said[1]


@pytest.mark.source(PRACTICE, where="ballasted with three shot of 4.29 g in bores, fresh and sea water at 20 C")
def test_set_to_sink_in_the_lake_it_floats_in_the_sea() -> None:
    """Holes for shot and fittings take wood away and hooks displace: what the sum on paper leaves out."""
    answer = lead(fitted(), BenchAim(more=0.25), LEAD, shot=4.29 * GRAM)
    assert answer.excess.value / GRAM == pytest.approx(1.2, abs=0.3)
    assert answer.other.excess.value / GRAM == pytest.approx(-0.3, abs=0.3)
    assert answer.other.excess.value < 0.0
    assert any("In the sea" in finding.words and "floats" in finding.words for finding in answer.warnings)
    in_sea = weighed_up(fitted(SEA).with_part(BenchPart("ballast", Reading(12.87 * GRAM, 0.0), LEAD, buried=True)))
    assert in_sea.excess.value == pytest.approx(answer.other.excess.value, abs=1e-9)


@pytest.mark.source(ARCHIMEDES, where="1 g of lead and 1 g of tungsten in water of 998.2 kg/m3")
def test_weight_in_water() -> None:
    assert worth_outside(998.2, 11340.0) == pytest.approx(0.9120, rel=1e-3)
    assert worth_outside(998.2, 19250.0) == pytest.approx(0.9481, rel=1e-3)


@pytest.mark.source(ARCHIMEDES, where="a body of 20.0 cm3 and 12.0 g made neutral at 998.2 kg/m3")
def test_neutral_by_lead_in_a_cavity_or_glued_outside() -> None:
    inside = ballast_inside(0.012, 20e-6 * 998.2, 0.0, 11340.0, excess=0.0, reserve=0.0)
    outside = ballast_outside(0.012, 20e-6 * 998.2, 998.2, 11340.0, excess=0.0, reserve=0.0)
    assert inside / GRAM == pytest.approx(7.964, rel=1e-3)
    assert outside / GRAM == pytest.approx(8.733, rel=1e-3)


@pytest.mark.source(PRACTICE, where="lead in wood is worth 0.94 to 0.965 of its mass; computed")
@pytest.mark.parametrize("density", [400.0, 450.0, 500.0, 550.0, 600.0, 650.0])
def test_lead_that_replaces_wood(density: float) -> None:
    assert 0.94 <= worth_inside(density, 11340.0) <= 0.966


RATIOS = ((280, 2.3), (330, 1.85), (370, 1.55), (410, 1.3), (450, 1.1), (500, 0.9), (550, 0.7), (600, 0.55),
          (650, 0.45))  # fmt: skip


@pytest.mark.source(PRACTICE, where="lead to blank for neutral, hardware and coats 8 % of displacement; computed")
@pytest.mark.parametrize(("density", "ratio"), RATIOS)
def test_lead_to_blank(density: float, ratio: float) -> None:
    """The printed table counts hardware and coats as 8 % of displacement without their own room."""
    blank, displaced = density * 1e-4, 998.2e-4
    found = ballast_inside(blank + 0.08 * displaced, displaced, density, 11340.0, excess=0.0, reserve=0.0) / blank
    assert found == pytest.approx(ratio, abs=0.06)


BORES = (("3/16 in", 0.20), ("1/4 in", 0.36), ("5/16 in", 0.56), ("3/8 in", 0.81), ("7/16 in", 1.10), ("1/2 in", 1.44),
         ("5/8 in", 2.25))  # fmt: skip


@pytest.mark.source(PRACTICE, where="grams of lead to a millimetre of full bore; computed")
@pytest.mark.parametrize(("bit", "grams"), BORES)
def test_what_a_bore_holds(bit: str, grams: float) -> None:
    assert mass_in_bore(bit, LEAD)[1] == pytest.approx(grams, abs=0.006)


COATS = (("primer", 30e-6, 0.9, 0.27), ("paint", 40e-6, 1.1, 0.28), ("epoxy", 0.2e-3, 4.5, 0.48),
         ("epoxy", 0.4e-3, 9.0, 0.96))  # fmt: skip


@pytest.mark.source(PRACTICE, where="coats on 200 cm2, weight and net sink; computed, densities not given")
@pytest.mark.parametrize(("material", "thickness", "mass", "sinks"), COATS)
def test_a_coat_displaces_most_of_its_weight(material: str, thickness: float, mass: float, sinks: float) -> None:
    """The film's density is the table's own here, so the net sink is held to the coats' ordinary range of it."""
    coat = CoatAsked(material, stuff(material), thickness=Reading(thickness))
    answer = coat_weights(Reading(0.02), [coat], TANK, sealer=Reading(3e-3))
    assert answer.coats[0].mass.value / GRAM == pytest.approx(mass, rel=0.07)
    assert answer.coats[0].sinks.value / GRAM == pytest.approx(sinks, rel=0.35)
    assert answer.sealer is not None
    assert answer.sealer.value / GRAM == pytest.approx(3.0)
    assert answer.sinks.value == pytest.approx(answer.coats[0].sinks.value + 3e-3)


# seconds per foot, down positive; class on either side of it
LIMITS = ((-1.0, "floater"), (-3.0, "slow floater"), (15.0, "suspender"), (5.0, "very slow sinker"),
          (3.0, "slow sinker"), (1.5, "medium sinker"))  # fmt: skip


@pytest.mark.source(PRACTICE, where="class limits in seconds per foot; no standard")
@pytest.mark.parametrize(("seconds", "slower"), LIMITS)
def test_class_words(seconds: float, slower: str) -> None:
    assert class_of(FOOT / seconds * 0.99).word == slower
    assert class_of(FOOT / seconds * 1.01).word != slower


EXCESSES = ((30e-4, {"fast floater": (-15.0, None), "floater": (-1.6, -15.0), "slow floater": (-0.2, -1.6),
                     "suspender": (0.0, 0.06), "very slow sinker": (0.06, 0.6), "slow sinker": (0.6, 1.6),
                     "medium sinker": (1.6, 6.0), "fast sinker": (6.0, None)}),
            (10e-4, {"fast floater": (-5.0, None), "floater": (-0.5, -5.0), "slow floater": (-0.08, -0.5),
                     "suspender": (0.0, 0.02), "very slow sinker": (0.02, 0.2), "slow sinker": (0.2, 0.55),
                     "medium sinker": (0.55, 2.1), "fast sinker": (2.1, None)}))  # fmt: skip


@pytest.mark.source(PRACTICE, where="excess weight of the classes on 30 and 10 cm2, drag coefficient 1.0; computed")
@pytest.mark.parametrize(("area", "table"), EXCESSES)
def test_excess_by_class(area: float, table: dict[str, tuple[float, float | None]]) -> None:
    found = {limits.kind.word: limits for limits in class_limits(PlanArea(Reading(area)), TANK)}
    for word, (slow, fast) in table.items():
        assert (found[word].slow or 0.0) / GRAM == pytest.approx(slow, rel=0.12, abs=0.01), word
        end = found[word].fast
        assert (end is None) == (fast is None)
        if end is not None and fast is not None:
            assert end / GRAM == pytest.approx(fast, rel=0.12, abs=0.01), word
