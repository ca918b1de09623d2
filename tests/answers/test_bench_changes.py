"""Changes to a lure, and the work at the bench."""

import math

import pytest

from gudgeon.answers.batching import batch
from gudgeon.answers.bench_lure import BenchLure, BenchPart, BenchWater, Stuff, lake, stuff
from gudgeon.answers.boarding import Cutting, blanks_from, board
from gudgeon.answers.boring import BALLAST_BITS_INCH, BALLAST_BITS_METRIC, ball_bores, ball_mass, bores
from gudgeon.answers.changing import Balance, hook_change, taped_inside, wood_swap
from gudgeon.answers.coats import CoatAsked, coat_weights
from gudgeon.answers.dropping import class_limits, timed_drop
from gudgeon.answers.mixing import resin_mix
from gudgeon.answers.resizing import Old, resized
from gudgeon.answers.sitting import Cigar, sits
from gudgeon.answers.sums import BenchAim, PlanArea, as_it_sinks, lead, weighed_up
from gudgeon.answers.trimming import Hanging, Spot, trims
from gudgeon.answers.waters import known_wood, other_water
from gudgeon.errors import OutsideSource, Refusal
from gudgeon.physics.spread import Estimate
from gudgeon.report.change_rows import classes_laid, drop_laid, taped_laid
from gudgeon.report.rows import Shop
from gudgeon.report.sentences import said
from gudgeon.report.shop_rows import bore_laid, coats_laid
from gudgeon.units import FOOT, Reading

GRAM = 1e-3
TANK = lake(Reading(293.15))
SEA = BenchWater(Reading(293.15), Reading(35.0))
LEAD, STEEL = stuff("lead"), stuff("steel")
PLAN = PlanArea(Reading(30e-4))


def blank(grams: float, *parts: BenchPart) -> BenchLure:
    return BenchLure(Reading(grams * GRAM), Reading(0.128), None, False, parts, TANK, TANK)


def test_a_swapped_wood_weighs_the_same_in_the_end() -> None:
    answer = wood_swap(blank(60.2), Reading(0.0555), LEAD, new_blank=Reading(0.066))
    before = weighed_up(blank(60.2, BenchPart("ballast", Reading(0.0555), LEAD, buried=True)))
    after = weighed_up(blank(66.0, BenchPart("ballast", Reading(answer.lead.value), LEAD, buried=True)))
    assert after.total.value == pytest.approx(before.total.value)
    assert answer.change.value == pytest.approx(answer.lead.value - 0.0555)
    by_density = wood_swap(blank(60.2), Reading(0.0555), LEAD, new_density=Reading(answer.new_wood.value))
    assert by_density.lead.value == pytest.approx(answer.lead.value)
    assert by_density.lead.spread > answer.lead.spread


@pytest.mark.parametrize("grams", [54.4, 61.2, 66.0, 80.0])
def test_lead_out_for_a_gram_of_blank_is_the_change_over_the_grams(grams: float) -> None:
    answer = wood_swap(blank(60.2), Reading(0.0555), LEAD, new_blank=Reading(grams * GRAM))
    assert -answer.change.value == pytest.approx(answer.per_gram * (grams - 60.2) * GRAM, rel=1e-9)


def test_a_ball_drops_into_wider_bits_only_and_hard_metal_fills_none() -> None:
    tungsten = ball_bores(Reading(0.005), stuff("tungsten"), None, BALLAST_BITS_METRIC)
    assert tungsten.whole == ("6 mm", "8 mm", "10 mm", "12 mm", "13 mm", "16 mm")
    assert (tungsten.bores, tungsten.ball) == ((), 0.005)
    lead_ball = ball_bores(Reading(0.005), LEAD, None, BALLAST_BITS_INCH)
    assert lead_ball.whole[0] == "1/4 in"  # 3/16 in is 4.76 mm
    for bore in lead_ball.bores:  # two thirds of a cylinder as wide and tall as the ball
        assert bore.depth.value == pytest.approx(2.0 / 3.0 * 0.005**3 / bore.diameter**2, rel=1e-9)
    with pytest.raises(Refusal, match="does not go in"):
        ball_bores(Reading(0.005), LEAD, ["3/16 in"], BALLAST_BITS_INCH)
    with pytest.raises(Refusal, match="does not go in"):
        ball_bores(Reading(0.020), LEAD, None, BALLAST_BITS_METRIC)


def test_a_swap_says_when_the_wood_alone_is_too_heavy_and_when_a_table_is_no_board() -> None:
    heavy = wood_swap(blank(60.2), Reading(0.005), LEAD, new_blank=Reading(0.080))
    assert "the new wood alone is" in heavy.warnings[0].words
    guessed = wood_swap(blank(60.2), Reading(0.0555), LEAD, new_density=Reading(400.0, 80.0), by_table=True)
    assert any("weigh the shaped blank" in finding.words for finding in guessed.warnings)
    with pytest.raises(Refusal, match="--new-blank"):
        wood_swap(blank(60.2), Reading(0.0555), LEAD)


def test_a_taped_weight_inside_does_the_same() -> None:
    wood = known_wood(Reading(460.0))
    answer = taped_inside(Reading(0.012), LEAD, LEAD, wood, TANK, bore=("3/8 in", 0.81))
    assert answer.inside.value * (1.0 - 460.0 / LEAD.density) == pytest.approx(answer.worth.value)
    assert 0.94 < answer.share.value < 0.97
    assert answer.depth is not None
    assert answer.depth.value == pytest.approx(answer.inside.value / 0.81)


def test_a_heavier_hook_ahead_of_balance_drops_the_nose_and_one_aft_lifts_it() -> None:
    def turn(ahead: float) -> float:
        balance = Balance(ahead, Reading(4e-3), Reading(0.118))
        found = hook_change(Reading(0.002), Reading(0.003), STEEL, TANK, balance=balance).tilt
        assert found is not None
        return found.value

    assert turn(0.038) == pytest.approx(-math.atan2(0.001 * (1 - TANK.density / 7850.0) * 0.038, 0.118 * 4e-3))
    assert turn(-0.038) == pytest.approx(-turn(0.038))


def test_lighter_hooks_may_turn_a_sinker_into_a_floater_and_say_so() -> None:
    answer = hook_change(Reading(0.004), Reading(0.002), STEEL, TANK, count=2, velocity=FOOT / 3.0, plan=PLAN)
    assert answer.after is not None
    assert answer.after.velocity.value < 0.0
    assert "with these hooks it floats" in answer.warnings[0].words


def test_there_and_back_changes_nothing() -> None:
    wood = known_wood(Reading(450.0))
    there = other_water(Reading(1.356e-4), Reading(1.5 * GRAM), TANK, SEA, wood=wood)
    back = other_water(Reading(1.356e-4), Reading(there.after.value), SEA, TANK, wood=wood)
    assert back.after.value == pytest.approx(1.5 * GRAM)
    assert there.stick_on.value > there.inside.value > 0.0
    with pytest.raises(OutsideSource, match="hollow plastic"):
        other_water(Reading(1e-4), Reading(0.0), TANK, SEA, wood=wood, body="steel")


def test_size_one_changes_nothing() -> None:
    body = blank(60.2)
    needed = lead(
        blank(60.2, BenchPart("hooks", Reading(0.0177), STEEL), BenchPart("coats", Reading(0.006), stuff("epoxy"))),
        BenchAim(velocity=FOOT / 3.0), LEAD, PLAN,
    ).inside.value  # fmt: skip
    old = Old(body, Reading(needed), Reading(0.0177), Reading(0.006))
    by_rate = resized(old, 1.0, LEAD, hardware=Reading(0.0177), velocity=FOOT / 3.0, plan=PLAN)
    by_recipe = resized(old, 1.0, LEAD, hardware=Reading(0.0177))
    assert by_rate.lead.value == pytest.approx(needed)
    assert by_recipe.lead.value == pytest.approx(needed)
    assert by_recipe.old_excess.value == pytest.approx(by_rate.old_excess.value)
    assert by_recipe.lead.spread < 0.5 * by_recipe.old_excess.spread  # the old lure's own volume cancels out
    with pytest.raises(Refusal, match="--plan-area"):
        resized(old, 1.2, LEAD, velocity=0.1)
    guessed = resized(old, 1.2, LEAD, velocity=0.0)
    assert guessed.hardware_guessed
    assert any("hooks do not scale" in finding.words for finding in guessed.warnings)


def test_a_batch_tells_each_lead_with_all_that_it_rests_on() -> None:
    answer = batch([Reading(0.060), Reading(0.062), Reading(0.075)], blank(60.0), BenchAim(), LEAD)
    assert answer.together > 3e-4
    assert answer.blanks[0].beyond.spread == pytest.approx(1e-4, rel=0.1)  # from one blank to the next
    assert sum(one.beyond.value for one in answer.blanks) == pytest.approx(0.0, abs=1e-12)
    for one in answer.blanks:  # what is shared, and a scale's tenth of a gram of its own
        assert one.lead.spread == pytest.approx(math.hypot(answer.together, 1e-4), rel=0.05)
    assert [one.aside for one in answer.blanks] == [False, False, True]
    assert answer.blanks[0].velocity_with_mean is None
    with pytest.raises(Refusal, match="two weights"):
        batch([Reading(0.06)], blank(60.0), BenchAim(), LEAD)


def test_bores_hold_what_they_should_and_deep_ones_are_told() -> None:
    answer = bores(Reading(0.012), LEAD, ("1/8 in", "1/2 in"), holes=2, filled=0.6)
    for bore in answer.bores:
        held = 0.6 * LEAD.density * math.pi / 4.0 * bore.diameter**2 * bore.depth.value
        assert held == pytest.approx(0.006)
    assert answer.warnings[0].words.startswith("1/8 in: deeper than 12 times")
    assert ball_mass(Reading(0.005), LEAD).value == pytest.approx(0.7422 * GRAM, rel=1e-3)
    with pytest.raises(Refusal) as refused:
        bores(Reading(0.0), LEAD, ("1/2 in",), filled=1.2)
    assert len(refused.value.faults) == 2


def test_a_board_by_its_offcut() -> None:
    answer = board(Reading(0.090), (0.1, 0.06, 0.03), volume=Reading(1.1e-4))
    assert answer.density.value == pytest.approx(500.0)
    assert answer.blank is not None
    assert answer.blank.value == pytest.approx(0.055)
    with pytest.raises(Refusal, match="cannot be wood"):
        board(Reading(0.090), (0.01, 0.06, 0.03))


@pytest.mark.parametrize(
    ("blank_size", "count"),
    [((0.19, 0.055, 0.025), 8), ((0.19, 0.025, 0.055), 8), ((0.9, 0.14, 0.025), 1), ((1.0, 0.05, 0.02), 0)],
)
def test_blanks_from_a_board(blank_size: tuple[float, float, float], count: int) -> None:
    assert blanks_from(Cutting((0.9, 0.14, 0.025), blank_size, 0.003)) == count


def test_a_mix_that_cannot_be_is_refused_and_a_stiff_one_told() -> None:
    for resin, bubbles, wanted in ((1050.0, 1100.0, 800.0), (1050.0, 150.0, 1100.0), (1050.0, 150.0, 300.0)):
        with pytest.raises(Refusal, match="no such mix"):
            resin_mix(Reading(resin), Reading(bubbles), wanted)
    stiff = resin_mix(Reading(1050.0), Reading(150.0), 500.0)
    assert "a paste" in stiff.warnings[0].words
    easy = resin_mix(Reading(1050.0), Reading(150.0), 900.0)
    assert not any("pourable" in finding.words for finding in easy.warnings)


def test_coats_without_an_area_or_without_any_are_refused() -> None:
    thick = CoatAsked("epoxy", Stuff("epoxy", 1150.0), thickness=Reading(1e-4))
    with pytest.raises(Refusal, match="--area"):
        coat_weights(None, [thick], TANK)
    with pytest.raises(Refusal, match="--coat"):
        coat_weights(Reading(0.02), [], TANK)


def test_coats_sum_up_and_share_the_blank() -> None:
    coats = [CoatAsked("epoxy", Stuff("epoxy", 1150.0), thickness=Reading(1e-4)),
             CoatAsked("paint", Stuff("paint", 1300.0), weight=Reading(0.001))]  # fmt: skip
    answer = coat_weights(Reading(0.01), coats, TANK, blank=Reading(9.6 * GRAM))
    assert answer.coats[0].mass.value == pytest.approx(1.150 * GRAM)
    assert answer.mass.value == pytest.approx(2.150 * GRAM)
    assert answer.share is not None
    assert answer.share.value == pytest.approx(2.15 / 9.6)
    assert answer.build is None
    assert answer.gap is None


def hanging(degrees: float) -> Hanging:
    still = as_it_sinks(FOOT / 3.2, PLAN, TANK.density)
    return Hanging(Reading(0.118), Reading(math.radians(degrees)), Reading(4e-3), still, 450.0, TANK, PLAN)


@pytest.mark.parametrize("degrees", [-15.0, 10.0])
def test_every_full_fix_leaves_the_lure_level(degrees: float) -> None:
    answer = trims(hanging(degrees), hooks=(Spot("front", 0.038), Spot("rear", -0.062)), holes=(Spot("h", 0.045),),
                   sticks=(Spot("s", -0.06), Spot("t", 0.05)))  # fmt: skip
    assert all(fix.left == pytest.approx(0.0, abs=1e-9) for fix in answer.fixes)
    changes = [abs(fix.excess.value - answer.fixes[0].excess.value) for fix in answer.fixes]
    assert changes == sorted(changes)
    assert sum("stick-on" in fix.words for fix in answer.fixes) == 1  # the other place would have to lose weight
    assert all(fix.mass.value > 0.0 for fix in answer.fixes)


def test_a_nose_up_lure_is_levelled_the_other_way_round() -> None:
    answer = trims(hanging(15.0), hooks=(Spot("front", 0.038), Spot("rear", -0.062)))
    assert answer.fixes[0].words.startswith("rear hook 1.4 g lighter, front hook")


def test_as_much_lead_is_taken_as_levels_it_and_no_hook_by_more_than_hooks_weigh() -> None:
    """28 g displaced, 8 deg, 2 mm apart: 7.9 g mm; of 2.3 g of lead 11 mm ahead, in wood of 0.45, 0.75 g is that."""
    still = as_it_sinks(0.0, None, TANK.density)
    small = Hanging(Reading(0.028), Reading(math.radians(-8.0)), Reading(2e-3), still, 450.0, TANK)
    answer = trims(small, hooks=(Spot("belly", 0.003), Spot("tail", -0.055)), holes=(Spot("h", 0.011, 2.3e-3),))
    hole = next(fix for fix in answer.fixes if "hole" in fix.words)
    assert hole.mass.value == pytest.approx(28.0 * 2.0 * math.tan(math.radians(8.0)) / 11.0 / 0.96 * 1e-3, rel=0.02)
    assert hole.left == pytest.approx(0.0, abs=1e-9)
    assert not any(fix.words.endswith("off the belly hook") for fix in answer.fixes)  # 3 g
    with pytest.raises(Refusal, match="no hook differs by so much"):
        trims(small, hooks=(Spot("belly", 0.003),))


def test_braces_in_a_name_are_only_a_name() -> None:
    answer = trims(hanging(-15.0), hooks=(Spot("{front}", 0.038),))
    assert "{front} hook" in answer.fixes[0].words
    with pytest.raises(Refusal, match="balance point"):
        trims(hanging(-15.0), hooks=(Spot("middle", 0.0),))
    with pytest.raises(Refusal, match="say where weight can change"):
        trims(hanging(-15.0))


def test_a_drop_shows_rate_excess_and_drag() -> None:
    times = [Reading(12.4), Reading(12.1), Reading(12.6)]
    answer = timed_drop(4 * FOOT, times, TANK, plan=PLAN, aim=FOOT / 2.0, wood=known_wood(Reading(450.0)))
    assert answer.velocity.value == pytest.approx(4 * FOOT / (sum(time.value for time in times) / 3))
    assert answer.excess is not None
    assert answer.aim_excess is not None
    ratio = (FOOT / 2.0 / answer.velocity.value) ** 2
    assert answer.aim_excess.value == pytest.approx(answer.excess.value * ratio)
    assert answer.lead is not None
    assert answer.lead.value > 0.0
    weighed = timed_drop(4 * FOOT, times, TANK, plan=PLAN, excess=Reading(answer.excess.value))
    assert weighed.drag is not None
    assert weighed.drag.value == pytest.approx(1.0)


def test_one_drop_spreads_wider_than_three_and_one_let_up_rises() -> None:
    one = timed_drop(4 * FOOT, [Reading(12.4)], TANK)
    three = timed_drop(4 * FOOT, [Reading(12.4), Reading(12.5), Reading(12.3)], TANK)
    assert one.velocity.spread / one.velocity.value == pytest.approx(0.07)
    assert three.velocity.spread < one.velocity.spread
    up = timed_drop(4 * FOOT, [Reading(12.4)], TANK, rises=True, plan=PLAN)
    assert up.words.endswith("floater")
    assert up.excess is not None
    assert up.excess.value < 0.0
    uneven = timed_drop(2 * FOOT, [Reading(5.0), Reading(9.0), Reading(6.0)], TANK)
    assert [finding.words[:12] for finding in uneven.warnings] == ["these drops ", "a short drop"]
    with pytest.raises(Refusal, match="--time"):
        timed_drop(1.0, [], TANK)


def test_a_cigar_too_heavy_or_asked_too_much_is_refused() -> None:
    cigar = Cigar(0.115, 0.019, Reading(0.0075))
    with pytest.raises(Refusal, match="does not float"):
        sits(cigar, (), Reading(0.020), -0.003, 0.4, TANK)
    with pytest.raises(Refusal, match="will not sit so"):
        sits(cigar, (), Reading(0.001), -0.003, 0.4, TANK)


def test_a_lure_that_hangs_has_no_excess() -> None:
    assert as_it_sinks(0.0, None, TANK.density) == Estimate(0.0, 0.0, 0.0)


def test_cold_water_is_told_in_the_shop_s_degrees():
    told = [said(one, shop) for shop in Shop for one in resin_mix(Reading(1050.0), Reading(150.0), 900.0).warnings]
    words = [one for one in told if "cold water" in one.lower()]
    assert "from 20 C to 4 C" in words[0]
    assert "from 68 F to 39 F" in words[1]


OLD = Old(BenchLure(Reading(0.0184), Reading(0.041), None, False, (), TANK, TANK), Reading(0.012), Reading(0.005),
          Reading(0.002))  # fmt: skip


@pytest.mark.parametrize(("rate", "doubted"), [(0.1, "yet you say it sinks"), (0.0, "yet you say it hangs"),
                                               (None, ""), (-0.17, "but the rate told makes it"),
                                               (-0.36, "")])  # fmt: skip
def test_weights_that_cannot_do_what_is_told_are_doubted(rate: float | None, doubted: str) -> None:
    """By its weights the old one is 6.4 g light, which rises at about 0.26 m/s."""
    plan = PlanArea(Reading(18e-4))
    found = resized(OLD, 1.2, LEAD, hardware=Reading(0.007), velocity=rate, plan=plan).warnings
    told = [finding for finding in found if "by its weights" in finding.words]
    assert [doubted in finding.words for finding in told] == ([True] if doubted else [])
    assert all("6.4 g light" in finding.words for finding in told)


@pytest.mark.parametrize(("grams", "told"), [(0.9, ""), (9.0, "0.90 g"), (0.09, "0.90 g")])
def test_a_drag_that_no_lure_has_is_told_with_the_slip_that_explains_it(grams: float, told: str) -> None:
    """1.5 m in 12.4 s on 18 cm2: 0.67 for 0.9 g."""
    times = [Reading(12.4), Reading(12.1), Reading(12.6)]
    answer = timed_drop(1.5, times, TANK, plan=PlanArea(Reading(18e-4)), excess=Reading(grams * GRAM, 0.02 * GRAM))
    words = [said(finding, Shop.METRIC) for finding in answer.warnings if "drag coefficient" in finding.words]
    assert [told in one for one in words] == ([True] if told else [])


def test_one_number_is_rounded_once_and_bodies_are_whole() -> None:
    wood = known_wood(Reading(460.0))
    taped = taped_laid(taped_inside(Reading(0.012), LEAD, LEAD, wood, TANK, bore=("10 mm", 0.89)), Shop.METRIC)
    bored = bore_laid(bores(Reading(0.012), LEAD, ("10 mm",), filled=0.6), Shop.METRIC)
    for answer, name in ((taped, "taped.depth"), (bored, "bore.10mm.depth")):
        (depth,) = [row.shown for row in answer.rows if row.name == name]
        assert depth in answer.headline
    coated = coat_weights(Reading(198e-4), [CoatAsked("epoxy", stuff("epoxy"), Reading(1e-4))], TANK)
    assert coated.bodies == pytest.approx(50.505, rel=1e-4)
    (bodies,) = [row for row in coats_laid(coated, Shop.METRIC).rows if row.name == "coats.bodies"]
    assert (bodies.value, bodies.shown) == (50.0, "50")


def test_a_drop_is_told_in_the_shops_units() -> None:
    answer = timed_drop(0.8, [Reading(6.5)] * 3, TANK, plan=PLAN)
    metric, inch = (drop_laid(answer, shop) for shop in (Shop.METRIC, Shop.INCH))
    assert "s/ft, 8.1" in metric.headline
    assert "s/m" not in inch.headline
    for laid, least, limits in ((metric, "0.91 m", "down 1 m in 4.9 to 9.8 s"), (inch, "3 ft", "down 1 ft in 1.5")):
        assert any(least in told.words for told in laid.warnings)
        assert any(row.shown.startswith(limits) for row in laid.rows)
    words = [row.shown for row in classes_laid(class_limits(None, TANK), Shop.METRIC).rows]
    assert not any("ft" in one for one in words)
    assert "less than 1 m in 49 s either way" in words
