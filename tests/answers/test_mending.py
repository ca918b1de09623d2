"""What mends a lure: the weights found against moments worked out by hand, and what is ranked how."""

import math
from dataclasses import replace
from pathlib import Path

import pytest

from gudgeon.answers.as_seen import AsSeen, Lies, Sighting, as_seen, known_again
from gudgeon.answers.assembly import assemble
from gudgeon.answers.check import check
from gudgeon.answers.finding import Gravity
from gudgeon.answers.fix_bench import FixBench, Goal, Proposal
from gudgeon.answers.hook_choices import HookChoice, choices, hook_weight_now, is_another
from gudgeon.answers.hook_fixes import HOOK_TRIALS
from gudgeon.answers.lead_fixes import LEAD_TRIALS
from gudgeon.answers.leaning import lean_of, lean_told
from gudgeon.answers.mended import Fix, Mending, side_effects
from gudgeon.answers.mending import asked_of, mend
from gudgeon.answers.stick_fixes import STICK_TRIALS
from gudgeon.design.file import load
from gudgeon.design.model import Design, Measured
from gudgeon.errors import OutsideSource
from gudgeon.physics.immersion import tilting_moment, worth_outside
from gudgeon.physics.spread import exactly, nothing_measured
from gudgeon.report.mend_rows import mend_rows, mend_sections
from gudgeon.report.rows import Shop
from gudgeon.units import FOOT, Reading

EXAMPLES = Path(__file__).parents[2] / "examples"
STEEL, LEAD = 7850.0, 11340.0
DEGREE = math.pi / 180.0


def drawn(name: str) -> Design:
    return load(EXAMPLES / f"{name}.toml")


@pytest.fixture(scope="module")
def glider() -> Design:
    """The glider with the lead that a check asks for told as in it."""
    design = drawn("glider")
    held = check(design).lure.held
    pockets = tuple(pocket.model_copy(update={"holds": Reading(held[pocket.name])}) if held[pocket.name] else pocket
                    for pocket in design.pockets)  # fmt: skip
    return design.model_copy(update={"pockets": pockets})


def bench_of(design: Design, kind: str, sighting: Sighting, wanted: float = 0.0) -> FixBench:
    seen = as_seen(design, sighting, is_under=design.aim.does != "floats")
    return FixBench(seen, Goal(kind, wanted), choices(seen.design, seen.lure, ()))


def made(bench: FixBench, change: str) -> list[Proposal]:
    trials = {**HOOK_TRIALS, **STICK_TRIALS, **LEAD_TRIALS}
    return [one for one in trials[change](bench) if one is not None]


def grams(proposal: Proposal, name: str = "mass") -> float:
    value = proposal.what.numbers[name][0]
    assert isinstance(value, float)
    return value


def named(found: Mending, words: str) -> Fix:
    return next(fix for fix in found.fixes if words in fix.what.words)


def moment_of(seen: AsSeen, pitch: float) -> float:
    """[kg m] that tilts it, nose-down positive, as a bench sum has it; what is left over in water pulls hardly."""
    sums, water = seen.lure.sums(), seen.lure.water.density
    apart = float(sums.buoyancy_centre[2] - sums.weight_centre[2])
    return tilting_moment(-pitch, water * sums.volume, apart)


# --- the lure as it was seen ---


@pytest.mark.parametrize(("name", "pitch", "leans"), [("glider", -15.0, 3.0), ("glider", 9.0, -2.0),
                                                      ("diver", 6.0, 4.0), ("lanternmere", -8.0, 0.0)])  # fmt: skip
def test_the_model_lies_as_the_lure_was_seen(name: str, pitch: float, leans: float) -> None:
    sighting = Sighting(Reading(pitch * DEGREE), Reading(leans * DEGREE))
    seen = as_seen(drawn(name), sighting, is_under=name != "diver")
    found = seen.lies(seen.lure)
    assert found.pitch == pytest.approx(pitch * DEGREE, abs=0.1 * DEGREE)
    assert found.leans == pytest.approx(leans * DEGREE, abs=0.1 * DEGREE)
    plain = as_seen(drawn(name), Sighting(), is_under=name != "diver")
    assert seen.lure.sums().mass == pytest.approx(plain.lure.sums().mass, rel=1e-12)


def test_a_seen_rate_is_taken_in_with_the_ballast_in(glider: Design) -> None:
    seen = as_seen(glider, Sighting(rate=Reading(FOOT / 1.5)), is_under=True)
    told = as_seen(drawn("glider"), Sighting(rate=Reading(FOOT / 1.5)), is_under=True)
    assert told.lies(told.lure).excess == pytest.approx(seen.lies(seen.lure).excess, abs=2e-5)
    assert 3e-3 < seen.lies(seen.lure).excess < 9e-3


def test_what_was_measured_stays_known_when_a_hook_is_changed(glider: Design) -> None:
    """The weight of the rigged lure is not spread over the rest of it when a hook is exchanged."""
    rigged = glider.model_copy(update={"measured": (Measured.model_construct(stage="rigged", weight=Reading(0.13)),)})
    bench = bench_of(rigged, "level", Sighting(Reading(-8.0 * DEGREE)))
    assert bench.seen.lure.sums().mass == pytest.approx(0.13, abs=2e-5)
    (hook, _) = bench.seen.design.hooks
    heavier = hook_weight_now(bench.seen.lure, hook) + 1e-3
    other = hook.model_copy(update={"weight": Reading(heavier)})
    design = bench.seen.design.model_copy(update={"hooks": (other, *bench.seen.design.hooks[1:])})
    lure = bench.seen.changed(design, frozenset({hook.name}))
    assert lure is not None
    assert lure.sums().mass - bench.seen.lure.sums().mass == pytest.approx(1e-3, abs=1e-9)


def test_of_a_part_that_was_taken_off_nothing_is_known_any_more() -> None:
    before = nothing_measured(("a", "b", "c")).given(nothing_measured(("a", "b", "c")).covariance.sum(axis=0), 2.0, 0.1)
    after = known_again(before, ("c", "new", "b", "a"), {"b"})
    assert after.sources == ("c", "new", "b", "a")
    assert list(after.mean[[1, 2]]) == [0.0, 0.0]
    assert after.mean[0] == before.mean[2]
    assert after.covariance[0, 3] == before.covariance[2, 0] != 0.0
    assert after.covariance[2, 2] == 1.0
    assert not after.covariance[2, [0, 1, 3]].any()


# --- the weights that are found ---


@pytest.mark.parametrize("degrees", [-4.0, -8.0, 6.0])
def test_hooks_traded_take_away_the_moment_that_a_hand_sum_gives(glider: Design, degrees: float) -> None:
    bench = bench_of(glider, "level", Sighting(Reading(degrees * DEGREE)))
    exact = next(one for one in made(bench, "trade hooks") if "as much heavier" in one.what.words)
    arm = glider.hooks[1].at - glider.hooks[0].at
    by_hand = abs(moment_of(bench.seen, degrees * DEGREE)) / (arm * worth_outside(bench.seen.lure.water.density, STEEL))
    assert grams(exact) == pytest.approx(by_hand, abs=1e-4)
    found = bench.seen.lies(exact.lure)
    assert abs(found.pitch) < 1.0 * DEGREE
    assert found.excess == pytest.approx(bench.seen.lies(bench.seen.lure).excess, abs=1e-7)


def test_stick_on_lead_takes_away_the_moment_that_a_hand_sum_gives(glider: Design) -> None:
    bench = bench_of(glider, "level", Sighting(Reading(-6.0 * DEGREE)))
    (one,) = made(bench, "stick-on at the end")
    sums, water = bench.seen.lure.sums(), bench.seen.lure.water.density
    arm = grams(one, "at") - float(sums.buoyancy_centre[0])
    by_hand = moment_of(bench.seen, -6.0 * DEGREE) / (arm * worth_outside(water, LEAD))
    assert grams(one) == pytest.approx(by_hand, rel=0.12)  # to the tenth of a gram, and low down it stiffens the lure
    more = bench.seen.lies(one.lure).excess - bench.seen.lies(bench.seen.lure).excess
    assert more == pytest.approx(grams(one) * worth_outside(water, LEAD), rel=0.02)


def test_a_changed_lure_is_what_the_same_lure_drawn_so_is(glider: Design) -> None:
    """With nothing seen and nothing measured, each change is a design like any other."""
    heavy = glider.pockets[0].model_copy(update={"holds": Reading(glider.pockets[0].holds.value + 2e-3)})  # type: ignore[union-attr]
    design = glider.model_copy(update={"pockets": (heavy, *glider.pockets[1:])})
    bench = bench_of(design, "level", Sighting())
    assert bench.off < -3.0 * DEGREE
    for change in ("trade hooks", "stick-on at the end", "stick-on by the hook", "plug at the end", "move lead",
                   "take lead"):  # fmt: skip
        for one in made(bench, change):
            other = assemble(one.design)
            assert one.lure.sums().columns == pytest.approx(other.sums().columns, rel=1e-9, abs=1e-12), change
            assert abs(bench.seen.lies(one.lure).pitch) < 3.0 * DEGREE, change


def test_a_lean_is_told_as_a_moment_and_as_the_lead_s_only_if_it_is(glider: Design) -> None:
    bench = bench_of(glider, "upright", Sighting(leans=Reading(4.0 * DEGREE)))
    lean = lean_of(bench.seen)
    assert lean is not None
    sums = bench.seen.lure.sums()
    apart = float(sums.buoyancy_centre[2] - sums.weight_centre[2])
    by_hand = sums.mass * apart * math.tan(4.0 * DEGREE)
    assert lean.moment == pytest.approx(by_hand, rel=0.03)
    assert lean.aside == pytest.approx(lean.moment / sum(bench.seen.lure.held.values()))
    told = lean_told(bench.seen, lean).words
    assert "If it is the lead, all {lead} of it lies {aside} off the middle to the right" in told
    assert "put weight low on the left" in told
    found = mend(glider, "leans", Sighting(leans=Reading(4.0 * DEGREE)))
    assert not any("bore it out" in fix.what.words for fix in found.fixes)  # nobody does, of lead glued in
    (stuck,) = made(bench, "stick-on at the side")
    assert "low on the left" in stuck.what.words


@pytest.mark.parametrize("seconds", [1.5, 6.0])
def test_a_sinker_that_is_too_fast_or_slow_is_brought_to_its_aim(glider: Design, seconds: float) -> None:
    name = "sinks fast" if seconds < 3.0 else "sinks slow"
    found = mend(glider, name, Sighting(rate=Reading(FOOT / seconds)))
    assert found.best is not None
    assert 1.0 / found.best.after.velocity.value == pytest.approx(3.0 / FOOT, rel=0.12)
    assert found.best.rung.rung == ("lead" if seconds < 3.0 else "hooks")  # so much lighter no hook is


def test_lead_that_is_taken_out_leaves_its_hole_which_is_filled(glider: Design) -> None:
    bench = bench_of(glider, "level", Sighting(Reading(-8.0 * DEGREE)))
    (one,) = made(bench, "take lead")
    name = next(pocket.name for pocket in bench.seen.design.pockets if bench.seen.lure.held[pocket.name])
    assert one.lure.fills[name].depth == pytest.approx(bench.seen.lure.fills[name].depth)
    assert one.lure.fills[name].plug_mass > bench.seen.lure.fills[name].plug_mass


# --- what is told ---


def test_what_spoils_the_lure_comes_after_what_does_not(glider: Design) -> None:
    found = mend(glider, "nose-down", Sighting(Reading(-8.0 * DEGREE)))
    assert found.best is not None
    assert found.best.rung.rung == "hooks"
    hole = named(found, "out of the front hole, ")
    assert hole.cures
    assert hole.spoils
    assert hole is found.fixes[-1]
    assert hole.effects[0].words.startswith("then it floats")
    stick = named(found, "stick-on lead on the belly")
    assert [effect.gravity for effect in stick.effects] == [Gravity.WRONG]  # past the rate that the lure is to sink at
    words = "it sinks faster, {after} where it might float or sink before; {wanted} is asked for"
    assert stick.effects[0].words == words
    assert stick.spoils
    assert found.fixes.index(stick) > found.fixes.index(named(found, "into the tail hole"))
    assert [rung.change for rung in found.idle] == ["swap hooks"]  # they weigh the same


def test_hooks_in_stock_are_taken_before_those_of_the_table(glider: Design) -> None:
    stock = (HookChoice("2 treble, in stock", Reading(2.0e-3)), HookChoice("1/0 treble, in stock", Reading(3.9e-3)))
    found = mend(glider, "nose-down", Sighting(Reading(-8.0 * DEGREE)), hooks=stock)
    assert "front hook: 2 treble, in stock" in named(found, "in stock").what.words
    assert not any("by the table" in fix.what.words for fix in found.fixes)


def test_hooks_that_differ_are_changed_over_first(glider: Design) -> None:
    front = glider.hooks[0].model_copy(update={"weight": Reading(3.6e-3)})
    rear = glider.hooks[1].model_copy(update={"weight": Reading(2.6e-3)})
    design = glider.model_copy(update={"hooks": (front, rear)})
    found = mend(design, "nose-down", Sighting(Reading(-6.0 * DEGREE)))
    assert found.best is not None
    assert found.best.what.words == "front hook and rear hook changed over"
    other = mend(design, "nose-up", Sighting(Reading(6.0 * DEGREE)))
    assert not any("changed over" in fix.what.words for fix in other.fixes)


def test_what_the_weights_do_not_bear_out_is_asked_for_in_numbers(glider: Design) -> None:
    for name, asked in (("nose-up", '--by "15 deg"'), ("leans", '--by "4 deg"'), ("floats", '--by "2 s/ft"')):
        found = mend(glider, name, Sighting())
        assert found.fixes == ()
        assert any(asked in finding.words for finding in found.findings), name
        assert found.rest


def test_in_the_sea_the_glider_floats_and_hooks_or_lead_restore_it(glider: Design) -> None:
    water = glider.water.model_copy(update={"kind": "sea", "salinity": Reading(33.0)})
    found = mend(glider, "floats", Sighting(water=water))
    assert found.now.excess.value < 0.0
    needed = found.best.after.excess.value - found.now.excess.value  # type: ignore[union-attr]
    assert needed == pytest.approx(found.now.mass.value * 0.0256, rel=0.15)  # sea over fresh water
    stick = named(found, "stick-on lead")
    assert stick.after.excess.value > 0.0


def test_what_the_model_cannot_know_is_told_in_the_ladder_s_own_words(glider: Design) -> None:
    found = mend(glider, "runs to one side", Sighting())
    assert found.fixes == ()
    assert [rung.rung for rung in found.rest] == ["tow eye", "rebuild"]  # and no lip, which it has not
    with pytest.raises(OutsideSource, match="nothing the ladder knows"):
        mend(glider, "explodes", Sighting())


def test_how_much_is_told_by_its_own_sign() -> None:
    assert asked_of("nose-down") == ("level", -1.0)
    assert asked_of("rises too fast") == ("rate", -1.0)
    assert asked_of("sinks too fast") == ("rate", 1.0)
    assert asked_of("rolls out") == ("steady", 1.0)


def test_what_a_drop_says_goes_by_how_the_lure_was_seen_to_fall(glider: Design) -> None:
    """A lure that falls on its nose meets less drag: the same rate is then less weight in water."""
    level, steep = (as_seen(glider, Sighting(Reading(pitch * DEGREE), rate=Reading(FOOT / 2.0)), is_under=True)
                    for pitch in (0.0, -50.0))  # fmt: skip
    first, second = (seen.lies(seen.lure) for seen in (level, steep))
    assert second.pitch == pytest.approx(-50.0 * DEGREE, abs=0.5 * DEGREE)
    assert second.excess < 0.7 * first.excess


def test_a_change_spoils_the_rate_when_it_leaves_what_is_asked_for(glider: Design) -> None:
    """3 s/ft asked for: to 2.0 from 7.1 is past it; to 2.8 is not; to 4 from 7.1 is nearer; to 2 from 3 is further."""
    aimed = glider.model_copy(update={"aim": glider.aim.model_copy(update={"does": "sinks", "rate": FOOT / 3.0})})
    now = mend(glider, "nose-down", Sighting(Reading(-8.0 * DEGREE))).now

    def effect(before: float, after: float) -> Gravity | None:
        ends = [replace(now, velocity=exactly(FOOT / pace)) for pace in (before, after)]
        found = [one for one in side_effects("level", *ends, aimed, is_undone=True) if "sinks" in one.words]
        return found[0].gravity if found else None

    assert effect(7.1, 2.0) is Gravity.WRONG
    assert effect(3.0, 2.0) is Gravity.WRONG
    assert effect(7.1, 2.8) is Gravity.WATCH
    assert effect(7.1, 4.0) is Gravity.WATCH
    assert effect(3.0, 2.9) is None


def test_a_hook_is_known_by_the_maker_s_own_weight_and_not_by_the_table_s(glider: Design) -> None:
    front = glider.hooks[0].model_copy(update={"size": "2/0", "weight": Reading(6.2e-3)})
    rear = glider.hooks[1].model_copy(update={"size": "1/0", "weight": Reading(4.5e-3)})
    design = glider.model_copy(update={"hooks": (front, rear)})
    lure = assemble(design)
    found = choices(design, lure, (HookChoice("2/0 treble, in stock", Reading(6.1e-3), "2/0"),))
    weights = {choice.size: choice.mass.value for choice in found}
    assert weights["2/0"] == 6.1e-3
    assert weights["1/0"] == pytest.approx(4.5e-3)
    assert [choice.size for choice in found if choice.size in ("1/0", "2/0")] == ["1/0", "2/0"]
    own = next(choice for choice in found if choice.size == "2/0")
    assert not is_another(own, front, 6.2e-3)  # one more of the same
    assert is_another(own, rear, 4.5e-3)


def test_where_hooks_are_in_stock_none_is_asked_for_that_weighs_something_else(glider: Design) -> None:
    stock = (HookChoice("8 treble, in stock", Reading(0.74e-3)), HookChoice("4 treble, in stock", Reading(1.62e-3)))
    asked = (("nose-down", Sighting(Reading(-8.0 * DEGREE))), ("sinks fast", Sighting(rate=Reading(FOOT))))
    for name, sighting in asked:
        told = [fix.what.words for fix in mend(glider, name, sighting, hooks=stock).fixes if fix.rung.rung == "hooks"]
        assert told
        assert not any("lighter" in words or "heavier" in words for words in told)


def test_a_change_that_moves_nothing_that_shows_does_not_mend(glider: Design) -> None:
    bench = bench_of(glider, "level", Sighting(Reading(-2.6 * DEGREE)))
    assert not bench.is_met(Lies(-2.0 * DEGREE, 0.0, 0.0))
    assert bench.is_met(Lies(-0.5 * DEGREE, 0.0, 0.0))
    near = mend(glider, "nose-down", Sighting(Reading(-1.0 * DEGREE)))
    assert near.fixes == ()
    assert not near.borne_out
    assert any(finding.words.startswith("it was seen to lie {pitch} nose-down") for finding in near.findings)


def test_what_may_still_float_is_not_told_as_mended(glider: Design) -> None:
    found = mend(drawn("glider"), "floats", Sighting(water=glider.water.model_copy(
        update={"kind": "sea", "salinity": Reading(33.0)})))  # fmt: skip
    doubtful = [fix for fix in found.fixes if fix.cures and fix.after.velocity.low <= 0.0]
    assert doubtful
    assert all(fix.doubt == "may still float" for fix in doubtful)
    titles = [section.title for section in mend_sections(found, Shop.METRIC)]
    assert any(title.endswith("may mend it, and may still float") for title in titles)
    rows = [line.name for line in mend_rows(found, Shop.METRIC)]
    assert all(f"mend.{place}.rate" in rows for place in range(1, len(found.fixes) + 1))


def test_no_fin_is_taken_off_a_lure_that_has_none(glider: Design) -> None:
    assert drawn("diver").fin is None
    for name in ("turns one way only", "joint binds"):
        found = mend(drawn("diver"), name, Sighting())
        assert not any("fin" in rung.words or "joint" in rung.words for rung in (*found.idle, *found.rest))
