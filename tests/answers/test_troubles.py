"""What a check finds wrong, each brought about on purpose, with the numbers in its words."""

import math
from collections.abc import Callable

import pytest

from gudgeon.answers.check import check
from gudgeon.answers.finding import Finding, Gravity
from gudgeon.design.model import Design
from gudgeon.library.water import water_density
from gudgeon.physics.spread import Estimate

Maker = Callable[..., Design]
BODY = math.pi * 0.120 * 0.010 * 0.020
FRESH, SEA = water_density(293.15, 0.0), water_density(293.15, 35.0)
POCKETS = [{"name": "front", "at": "35 mm", "bore": "12 mm"}, {"name": "rear", "at": "85 mm", "bore": "12 mm"}]
KNOWN = {"wood": {"blank_weight": "30.16 g"}, "measured": [
    {"stage": "shaped", "displaced": f"{1e3 * FRESH * BODY:.3f} g ± 0.05 g", "temperature": "20 C ± 0 C",
     "salinity": "0 ppt ± 0 ppt"}]}  # fmt: skip


def told(design: Design, start: str) -> Finding | None:
    return next((finding for finding in check(design).findings if finding.words.startswith(start)), None)


def number(finding: Finding | None, name: str) -> float:
    assert finding is not None
    value = finding.numbers[name][0]
    return value.value if isinstance(value, Estimate) else value


# --- weight ---


def test_already_heavier_than_water_is_said_plainly(cylinder: Maker) -> None:
    design = cylinder(wood={"density": "1.13 g/cm3"}, pocket=POCKETS)
    finding = told(design, "Already {excess} heavier than the water it displaces as it stands; ballast makes it sink")
    assert number(finding, "excess") == pytest.approx((1130.0 - FRESH) * BODY, rel=1e-5)
    assert finding is not None
    assert finding.gravity is Gravity.WRONG
    assert number(told(design, "{left} too heavy for the aim before any"), "left") == pytest.approx(
        (1130.0 - FRESH) * BODY, rel=1e-5
    )


def test_a_sinker_may_be_heavier_than_water_but_not_than_its_aim(cylinder: Maker) -> None:
    aim = {"does": "sinks", "rate": "3 s/ft"}
    excess = 0.5 * FRESH * 0.0024 * (0.3048 / 3.0) ** 2 / 9.80665
    design = cylinder(wood={"density": "1.13 g/cm3"}, pocket=POCKETS, aim=aim)
    assert told(design, "Already") is None
    left = number(told(design, "{left} too heavy for the aim before any"), "left")
    assert left == pytest.approx((1130.0 - FRESH) * BODY - excess, rel=1e-4)


def test_too_much_in_the_pockets_already_says_how_much_to_take_out(cylinder: Maker) -> None:
    full = [{**pocket, "holds": "27 g"} for pocket in POCKETS]
    design = cylinder(pocket=full, aim={"does": "sinks", "rate": "4 s/ft"})
    finding = told(design, "{left} too heavy for the aim with what is in the pockets already. Take {out}")
    answer = check(design)
    assert answer.ballast is not None
    worth = 1.0 - 400.0 / 11340.0
    assert number(finding, "out") == pytest.approx(number(finding, "left") / worth, rel=1e-6)
    assert number(finding, "left") == pytest.approx(answer.ballast.excess_left)
    assert number(finding, "left") > 0.004


def test_pockets_too_small_for_the_aim(cylinder: Maker) -> None:
    small = [{**pocket, "bore": "6 mm"} for pocket in POCKETS]
    design = cylinder(pocket=small)
    finding = told(design, "The pockets hold {short} too little")
    answer = check(design)
    assert number(finding, "short") == pytest.approx(-answer.rate.excess.value)
    assert number(finding, "short") > 0.02


# --- class ---


def test_one_that_may_float_or_sink_says_what_decides_and_what_to_measure(cylinder: Maker) -> None:
    design = cylinder(wood={"species": "basswood"}, pocket=POCKETS, aim={"does": "sinks", "rate": "4 s/ft"})
    answer = check(design)
    assert answer.rate.straddles
    assert answer.rate.words == "floats to sinks"
    assert answer.rate.time_per_distance is None
    finding = told(design, "It may float and it may sink")
    assert number(finding, "decides") == pytest.approx(abs(answer.rate.excess.value))
    assert number(finding, "spread") == pytest.approx(answer.rate.excess.spread)
    assert finding is not None
    assert answer.measurement is not None
    assert f"To be surer: {answer.measurement.words}." in finding.words


def test_one_known_by_scale_and_jug_does_not_waver(cylinder: Maker) -> None:
    design = cylinder(pocket=POCKETS, aim={"does": "sinks", "rate": "2 s/ft"}, **KNOWN)
    answer = check(design)
    assert not answer.rate.straddles
    assert answer.rate.words.endswith("sinker")
    assert told(design, "It may float") is None
    assert answer.rate.decides == pytest.approx(-answer.rate.excess.value)  # within a twentieth, tenths are told


# --- attitude ---


def test_a_pitch_that_is_not_the_one_asked_for(cylinder: Maker) -> None:
    """Ballast all in front, and kept so."""
    front = [{**POCKETS[0], "at": "20 mm", "holds": "28 g", "free": False}]
    finding = told(cylinder(160.0, 20.0, 15.0, pocket=front), "Lies {pitch} nose-down where level is asked for")
    assert finding is not None
    assert finding.words.endswith("Ballast or a heavier hook further aft.")
    assert number(finding, "pitch") > math.radians(5.0)
    aft = [{**POCKETS[0], "at": "140 mm", "holds": "28 g", "free": False}]
    up = told(cylinder(160.0, 20.0, 15.0, pocket=aft), "Lies {pitch} nose-up")
    asked = {"does": "hangs", "attitude": "5 deg nose-down"}
    design = cylinder(160.0, 20.0, 15.0, pocket=aft, aim=asked)
    nose_down = told(design, "Lies {pitch} nose-up where {wanted} nose-down")
    assert nose_down is not None
    assert number(nose_down, "wanted") == pytest.approx(math.radians(5.0))
    assert up is not None
    assert up.words.endswith("further forward.")


def test_a_list_is_told_with_its_side(cylinder: Maker) -> None:
    def aside(offset: float, **tables: object) -> Finding | None:
        lead = {"name": "lead", "kind": "stick-on", "weight": "44 g", "material": "lead", "at": "60 mm",
                "offset": f"{offset} mm", "height": "-18 mm"}  # fmt: skip
        return told(cylinder(fitting=[lead], **tables), "Lists {list}")

    assert aside(0.0) is None
    right, left = aside(2.0), aside(-2.0)
    assert right is not None
    assert left is not None
    assert "to the right" in right.words
    assert "to the left" in left.words
    assert number(right, "list") == pytest.approx(number(left, "list"))


def test_a_floaters_list_is_the_one_at_its_waterline(cylinder: Maker) -> None:
    """A wide raft stands on its form: it lists far less afloat than its weights would have it under water."""
    lead = {"name": "lead", "kind": "stick-on", "weight": "6 g", "material": "lead", "at": "80 mm", "offset": "8 mm",
            "height": "0 mm"}  # fmt: skip
    design = cylinder(160.0, 40.0, 10.0, fitting=[lead], aim={"does": "floats", "reserve": "50 %"})
    answer = check(design)
    assert abs(answer.rate.list_angle.value) > 4.0 * abs(answer.lying.heel)
    finding = told(design, "Lists {list}")
    if finding is not None:
        assert number(finding, "list") == pytest.approx(abs(answer.lying.heel))
    assert (finding is None) == (abs(answer.lying.heel) <= math.radians(2.0))


# --- upright ---


def test_top_heavy_turns_over(cylinder: Maker) -> None:
    top = [{"name": "top", "at": "60 mm", "bore": "14 mm", "face": "back", "holds": "46.9 g", "free": False}]
    design = cylinder(pocket=top)
    finding = told(design, "Turns over: its weight sits {lever} above its buoyancy")
    assert number(finding, "lever") == pytest.approx(-check(design).lying.lever.value)
    assert number(finding, "lever") > 0.0
    assert told(design, "Lies") is None  # one trouble is told once
    assert told(design, "Lists") is None


def test_one_that_falls_over_though_its_weight_is_low_is_not_called_top_heavy(cylinder: Maker) -> None:
    lead = {"name": "lead", "kind": "stick-on", "weight": "20 g", "material": "lead", "at": "60 mm",
            "offset": "20 mm", "height": "-10 mm"}  # fmt: skip
    design = cylinder(120.0, 20.0, 20.0, fitting=[lead], aim={"does": "floats", "reserve": "40 %"})
    assert told(design, "Turns over") is None
    heel = number(told(design, "Does not stay upright: it comes to rest {heel} over"), "heel")
    assert heel == pytest.approx(math.atan2(20.0, 10.0) - 0.0, abs=math.radians(15.0))


def test_weight_on_the_buoyancy_is_held_by_nothing(cylinder: Maker) -> None:
    design = cylinder(wood={"density": "1.2 g/cm3"})
    assert told(design, "Nothing holds it upright") is not None
    assert told(design, "Lies") is None


def test_tender_is_told_with_the_share_asked(cylinder: Maker) -> None:
    high = [{"name": "high", "at": "60 mm", "bore": "14 mm", "holds": "46.9 g", "free": False}]
    design = cylinder(pocket=high, aim={"does": "hangs", "upright": "15 %"})
    finding = told(design, "Stands less upright than asked")
    assert number(finding, "wanted") == pytest.approx(0.15)
    assert number(finding, "share") == pytest.approx(check(design).lying.lever.value / 0.040)


# --- bores, pieces, other waters, rod, dust ---


def test_a_bore_into_a_joint_meets_it_and_one_near_it_leaves_too_little(cylinder: Maker) -> None:
    joint = [{"at": "60 mm", "gap": "2 mm"}]

    def close(at: float) -> Finding | None:
        pocket = [{"name": "close", "at": f"{at} mm", "bore": "10 mm"}, {**POCKETS[1], "at": "95 mm"}]
        return told(cylinder(120.0, 15.0, 20.0, joint=joint, pocket=pocket), "The close bore")

    meets, near = close(56.0), close(50.0)
    assert meets is not None
    assert meets.gravity is Gravity.WRONG
    assert meets.words.startswith("The close bore meets joint 1 by {left}.")
    assert number(meets, "left") == pytest.approx(0.002, abs=1e-6)
    assert near is not None
    assert near.gravity is Gravity.WATCH
    assert number(near, "left") == pytest.approx(0.004, abs=1e-6)
    assert number(near, "wanted") == pytest.approx(0.010)


def test_pieces_unlike_each_other(cylinder: Maker) -> None:
    front = [{**POCKETS[0], "holds": "30 g", "free": False}]
    tables = {"joint": [{"at": "60 mm", "gap": "2 mm"}], "pocket": front}
    finding = told(cylinder(**tables), "The pieces do not float alike")
    assert finding is not None
    assert "the tail is {unlike} of its own weight lighter" in finding.words or "the head is" in finding.words
    assert told(cylinder(aim={"does": "hangs", "segments_alike": False}, **tables), "The pieces do not") is None


def test_set_for_the_lake_it_floats_in_the_sea(cylinder: Maker) -> None:
    """Sinks at 3 s/ft in fresh water; the sea lifts 26.6 kg/m3 of body and hook more."""
    hook = {"name": "hook", "at": "60 mm", "weight": "4 g"}
    design = cylinder(pocket=POCKETS, aim={"does": "sinks", "rate": "3 s/ft"}, hook=[hook], **KNOWN)
    here = 0.5 * FRESH * 0.0024 * (0.3048 / 3.0) ** 2 / 9.80665
    there = (SEA - FRESH) * (BODY + 0.004 / 7850.0) - here
    finding = told(design, "In the sea this floats: {there} light. {restore} of ballast more restores it.")
    assert number(finding, "there") == pytest.approx(there, rel=2e-3)
    worth = 1.0 - 400.0 / 11340.0
    assert number(finding, "restore") == pytest.approx((there + here) / worth, rel=2e-3)
    assert finding is not None
    assert finding.gravity is Gravity.NOTE


def test_set_for_the_sea_it_sinks_in_the_lake(cylinder: Maker) -> None:
    water = {"kind": "sea", "temperature": "20 C"}
    design = cylinder(pocket=POCKETS, aim={"does": "floats", "reserve": "1 %"}, water=water, **KNOWN)
    finding = told(design, "In fresh water this sinks: {there} heavy. {restore} of ballast less restores it.")
    assert number(finding, "there") == pytest.approx((0.99 * SEA - FRESH) * BODY, rel=5e-3)
    assert number(finding, "restore") == pytest.approx((SEA - FRESH) * BODY / (1.0 - 400.0 / 11340.0), rel=5e-3)


def test_one_that_floats_in_both_waters_says_nothing_of_them(cylinder: Maker) -> None:
    design = cylinder(pocket=POCKETS, aim={"does": "floats", "reserve": "20 %"})
    assert told(design, "In ") is None


def test_over_and_under_the_rod(cylinder: Maker) -> None:
    aim = {"does": "floats", "reserve": "20 %", "terminal_tackle": "5 g"}
    over = told(cylinder(pocket=POCKETS, aim={**aim, "rod": ["20 g", "60 g"]}), "Weighs {weight} with snap and leader")
    assert number(over, "weight") == pytest.approx(0.8 * FRESH * BODY + 0.005, rel=1e-5)
    assert number(over, "most") == pytest.approx(0.060)
    under = told(cylinder(pocket=POCKETS, aim={**aim, "rod": ["80 g", "120 g"]}), "Weighs {weight} with snap and")
    assert number(under, "least") == pytest.approx(0.080)
    assert told(cylinder(pocket=POCKETS, aim={**aim, "rod": ["40 g", "80 g"]}), "Weighs") is None


def test_a_wood_whose_dust_sensitises(cylinder: Maker) -> None:
    assert told(cylinder(wood={"species": "western red cedar"}), "Cedar, western red") is not None
    assert told(cylinder(wood={"species": "basswood"}), "Basswood") is None


def test_every_finding_names_every_number_it_has_and_the_worst_comes_first(cylinder: Maker) -> None:
    joint = [{"at": "60 mm", "gap": "2 mm"}]
    pocket = [{"name": "close", "at": "56 mm", "bore": "10 mm", "holds": "20 g"}, {**POCKETS[1], "holds": "30 g"}]
    found = check(cylinder(joint=joint, pocket=pocket, wood={"species": "western red cedar"},
                           aim={"does": "hangs", "rod": ["1 g", "2 g"], "upright": "30 %"})).findings  # fmt: skip
    assert len(found) >= 4
    assert [one.gravity for one in found] == sorted((one.gravity for one in found), reverse=True)
    for one in found:
        assert one.words.format(**dict.fromkeys(one.numbers, "N")).count("N") >= len(one.numbers)
        for value, _ in one.numbers.values():
            assert math.isfinite(value.value if isinstance(value, Estimate) else value)
