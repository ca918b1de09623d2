"""A design as the chain it is when towed: the examples sound, each part against hand sums, bad input told."""

import math
from dataclasses import fields
from pathlib import Path

import numpy as np
import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.hinging import made_hinges
from gudgeon.answers.lip_and_fin import lip_and_fin
from gudgeon.answers.rigging import swings
from gudgeon.answers.tow_refusals import check_solid
from gudgeon.answers.towed_chain import SWEEP, coefficient_sets, tow_speeds, towed_chain
from gudgeon.design.file import load, parse
from gudgeon.design.model import Design
from gudgeon.errors import BadDesign, NoAnswer, OutsideSource
from gudgeon.library.towing import towing_coefficients
from gudgeon.physics.carried import Carried
from gudgeon.physics.chain import Chain
from gudgeon.physics.chain_motion import starts, tow
from gudgeon.physics.straight_tow import straight_drag

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("lanternmere", "glider", "glider-weighed", "diver")
EYE = {"name": "eye", "kind": "tow eye", "weight": "0.5 g", "material": "stainless steel", "at": "1 mm"}


def example(name: str) -> Design:
    return load(EXAMPLES / f"{name}.toml")


def chain_of(design: Design, speed: float = 1.0, **keys: object) -> Chain:
    return towed_chain(design, assemble(design), speed=speed, **keys)


def bar(cylinder, *joints, eye=EYE, gap="2 mm", **tables):
    return cylinder(fitting=[] if eye is None else [eye], joint=[{"at": f"{at} mm", "gap": gap} for at in joints],
                    **tables)  # fmt: skip


def assert_sound(chain: Chain) -> None:
    for part in (chain.pieces, chain.strips, chain.joints, chain.points, chain.plates, chain.line):
        for field in fields(part):
            assert np.all(np.isfinite(getattr(part, field.name))), field.name
    pieces = len(chain.pieces.mass)
    assert len(chain.joints.friction) == pieces - 1
    assert chain.joints.place.shape == (pieces - 1, 3)
    assert np.all(chain.pieces.mass > 0.0)
    assert np.all(chain.pieces.length > 0.0)
    assert all(np.all(np.linalg.eigvalsh(tensor) > 0.0) for tensor in chain.pieces.inertia)
    assert np.all(chain.joints.most_left > 0.0)
    assert np.all(np.diff(chain.strips.first) > 0)


@pytest.mark.parametrize("speed", [SWEEP[0], 1.0, SWEEP[-1]])
@pytest.mark.parametrize("name", NAMES)
def test_every_example_is_a_sound_chain_that_weighs_what_the_lure_does(name, speed):
    design = example(name)
    lure = assemble(design)
    chain = towed_chain(design, lure, speed=speed)
    assert_sound(chain)
    whole = lure.sums()
    assert chain.pieces.mass.sum() == pytest.approx(whole.mass)
    assert chain.pieces.volume.sum() == pytest.approx(whole.volume)
    starts = np.concatenate([np.zeros((1, 3)), np.cumsum(chain.joints.place, axis=0)])
    centre = chain.pieces.mass @ (chain.pieces.centre + starts) / whole.mass
    assert centre * [-1.0, 1.0, -1.0] == pytest.approx(whole.weight_centre, abs=1e-9)
    lift = chain.pieces.volume @ (chain.pieces.buoyancy_centre + starts) / whole.volume
    assert lift * [-1.0, 1.0, -1.0] == pytest.approx(whole.buoyancy_centre, abs=1e-9)


def test_the_demo_has_its_hinges_stops_and_eye_where_they_are_drawn():
    design = example("lanternmere")
    lure = assemble(design)
    chain = towed_chain(design, lure, speed=1.0)
    assert len(chain.pieces.mass) == 4
    assert chain.joints.place[:, 0] == pytest.approx([-0.090, -0.058, -0.050])  # pivots 4 mm aft of the gaps
    assert chain.joints.place[:, 2] == pytest.approx([0.0025, -0.0010, -0.0015])  # pins' middles -2.5, -1.5, 0 mm
    assert chain.joints.most_left == pytest.approx(swings(design, lure))
    assert chain.joints.most_left == pytest.approx(chain.joints.most_right)
    assert np.degrees(chain.joints.most_left) == pytest.approx([29.3, 31.8, 37.3], abs=0.1)
    assert chain.line.eye == pytest.approx([-0.001, 0.0, 0.001])
    assert chain.pieces.length == pytest.approx([0.090, 0.058, 0.050, 0.278 - 0.198])


def test_a_hinge_that_turns_less_than_the_wood_is_the_stop():
    text = (EXAMPLES / "glider.toml").read_text(encoding="utf-8")
    design = parse(text.replace('"35 deg"', '"65 deg"').replace('"0 deg"            #', '"40 deg" #'), "steep")
    lure = assemble(design)
    (hinge,) = made_hinges(design, lure)
    joints = towed_chain(design, lure, speed=1.0).joints
    assert joints.most_left == pytest.approx([hinge.turns])
    assert hinge.turns < swings(design, lure)[0] - 0.1


def test_hardware_is_half_of_what_holds_the_demo_back():
    drag = straight_drag(chain_of(example("lanternmere")))
    assert 0.4 < (drag.hardware + drag.ends) / drag.whole < 0.85
    assert drag.hardware == pytest.approx(2.0 * (73e-6 + 37.8e-6) + 3.0 * 19.9e-6, rel=0.01)  # see test_tow_points
    assert drag.lip == 0.0


def test_skin_friction_of_the_demo_by_hand():
    chain = chain_of(example("lanternmere"))
    reynolds = 0.24 / 1.2347e-6  # fresh water at 12 C, from memory
    flat = 0.5 * (1.328 / math.sqrt(reynolds) + 0.075 / (math.log10(reynolds) - 2.0) ** 2)
    slender = math.sqrt(46.4e-3 * 32.8e-3) / 0.24
    assert chain.strips.friction[0] == pytest.approx(flat * (1 + 1.5 * slender**1.5 + 7 * slender**3), rel=2e-3)
    assert np.ptp(chain.strips.friction) == 0.0


def test_a_lip_dives():
    design = example("diver")
    lure = assemble(design)
    plates = towed_chain(design, lure, speed=1.0).plates
    angle = math.radians(40.0)
    assert plates.normal == pytest.approx(np.tile([math.sin(angle), 0.0, -math.cos(angle)], (5, 1)))
    forward = np.array([1.0, 0.0, 0.0])
    push = -(plates.normal @ forward)[:, None] * plates.normal  # water pushes back along the normal it strikes
    assert np.all(push[:, 2] > 0.0)  # down
    assert np.all(push[:, 0] < 0.0)
    assert np.all(plates.chord @ np.array([math.cos(angle), 0.0, math.sin(angle)]) < 0.0)  # back from the front edge
    answer = lip_and_fin(design, lure).lip
    assert answer is not None
    assert plates.area.sum() == pytest.approx(answer.template.beyond(0.0, 0).area)
    centre = plates.area @ plates.place / plates.area.sum()
    out = answer.template.beyond(0.0, 0).centre[0]
    assert centre == pytest.approx([-0.009 + out * math.cos(angle), 0.0, 0.007 + out * math.sin(angle)], abs=1e-9)


def test_a_lip_all_in_its_slot_is_no_plate(cylinder):
    lip = {"material": "polycarbonate", "exposed": "0.001 mm", "set_in": "10 mm", "width": "8 mm", "thickness": "1 mm",
           "angle": "40 deg", "at": "5 mm", "height": "-5 mm"}  # fmt: skip
    assert_sound(chain_of(bar(cylinder, lip=lip)))


def test_left_and_right_are_alike():
    for name in NAMES:
        chain = chain_of(example(name))
        assert chain.pieces.centre[:, 1] == pytest.approx(0.0, abs=1e-12)
        assert chain.pieces.inertia[:, 0, 1] == pytest.approx(0.0, abs=1e-12)
        assert (chain.plates.area * chain.plates.place[:, 1]).sum() == pytest.approx(0.0, abs=1e-15)


def fin(**keys):
    return {"material": "polycarbonate", "length": "30 mm", "tall": "40 mm", "thickness": "1.5 mm", "at": "120 mm",
            "set_in": "6 mm", **keys}  # fmt: skip


def test_a_stiff_fin_is_part_of_the_last_piece_and_a_soft_one_a_piece_with_a_spring(cylinder):
    stiff, soft = (chain_of(bar(cylinder, 60, fin=fin(material=stuff))) for stuff in ("polycarbonate", "vinyl"))
    assert_sound(stiff)
    assert_sound(soft)
    assert stiff.pieces.length == pytest.approx([0.060, 0.090])
    assert soft.pieces.length == pytest.approx([0.060, 0.060, 0.030])
    assert soft.joints.stiffness[0] == 0.0
    second_moment = 0.7 * 0.040 * 0.0015**3 / 12.0
    assert soft.joints.stiffness[1] == pytest.approx(4.0 * 6e6 * second_moment / 0.030)
    assert soft.joints.damping[1] == pytest.approx(0.002 * soft.joints.stiffness[1])
    shown = 0.030 * 0.040 * 0.7
    assert soft.pieces.mass[2] == pytest.approx(shown * 0.0015 * 1250.0)
    assert soft.pieces.centre[2] == pytest.approx([-0.015, 0.0, 0.0], abs=1e-12)


def test_a_fin_s_own_stiffness_counts(cylinder):
    measured = chain_of(bar(cylinder, 60, fin=fin(stiffness="4 g·mm/deg")))
    assert measured.joints.stiffness[-1] == pytest.approx(4e-6 * 9.80665 * 180.0 / math.pi)
    assert len(chain_of(bar(cylinder, 60, fin=fin(stiffness="5000 g·mm/deg"))).pieces.mass) == 2


@pytest.mark.parametrize("stuff", ["polycarbonate", "vinyl"])
def test_a_fin_larger_than_the_body_has_an_answer(cylinder, stuff):
    assert_sound(chain_of(bar(cylinder, 60, fin=fin(material=stuff, length="300 mm", tall="400 mm"))))
    assert_sound(chain_of(bar(cylinder, fin=fin(material=stuff, tall="400 mm", at="60 mm"))))


def test_a_lure_lighter_than_its_line_has_an_answer(cylinder):
    design = cylinder(20.0, 2.0, 2.0, wood={"density": "0.1 g/cm3"}, fitting=[{**EYE, "weight": "0.02 g"}],
                      tow={"line": "wire", "length": "5 m", "diameter": "2 mm"})  # fmt: skip
    assert_sound(chain_of(design))


def test_the_line_stretches_as_its_section_lets_it():
    text = (EXAMPLES / "diver.toml").read_text(encoding="utf-8").replace('[tackle]\nline = "12 lb"\n', "")
    for table, diameter, modulus, length in (
        ("", 0.35e-3, 2e9, 2.0), ('[tow]\ndiameter = "0.3 mm"\nlength = "1 m"', 0.3e-3, 2e9, 1.0),
        ('[tackle]\nline = "12 lb"\n[tow]\nline = "braid"', math.sqrt(4 * 12 * 4.44822 / math.pi / 1700e6), 25e9, 2.0),
    ):  # fmt: skip
        chain = chain_of(parse(f"{text}\n{table}\n", "diver"))
        assert chain.line.length == length
        assert chain.line.stiffness == pytest.approx(modulus * math.pi / 4.0 * diameter**2 / length, rel=1e-5)
        critical = 2.0 * math.sqrt(chain.line.stiffness * chain.pieces.mass.sum())
        assert chain.line.damping == pytest.approx(0.3 * critical)


def test_joints_open_wider_take_up_less_of_the_wake(cylinder):
    shares = [chain_of(bar(cylinder, 60, gap=f"{gap} mm")).joints.reattachment[0] for gap in (1.0, 2.5, 5.0, 8.0)]
    assert shares == pytest.approx([0.62 - 0.32 * share for share in (0.2, 0.5, 1.0, 1.0)])


def test_friction_is_the_maker_s_where_it_was_measured(cylinder):
    design = cylinder(fitting=[EYE], joint=[{"at": "40 mm", "gap": "2 mm", "friction": "50 g·mm"},
                                            {"at": "80 mm", "gap": "2 mm"}])  # fmt: skip
    assert chain_of(design).joints.friction == pytest.approx([50e-6 * 9.80665, 1e-4])


def test_stops_are_stiff_beside_the_water_at_every_speed():
    design = example("lanternmere")
    for speed in (0.3, 1.0, 2.5):
        joints = chain_of(design, speed).joints
        assert joints.stop_stiffness[0] > joints.stop_stiffness[1] > joints.stop_stiffness[2] > 0.0
        assert np.all(joints.stop_damping <= 0.01 * joints.stop_stiffness + 1e-12)
    slow, fast = (chain_of(design, speed).joints.stop_stiffness for speed in (1.0, 2.0))
    assert fast == pytest.approx(4.0 * slow)


def test_coefficients_are_the_table_s_the_maker_s_then_the_caller_s():
    text = (EXAMPLES / "lanternmere.toml").read_text(encoding="utf-8")
    design = parse(text + '\n[coefficients]\ncarry_over = "0.25 ± 0.05"\nleading_edge_suction = 0.9\n', "own")
    sets = coefficient_sets(design)
    assert [ends["carry_over"] for ends in (sets.low, sets.value, sets.high)] == pytest.approx([0.2, 0.25, 0.3])
    assert sets.value["base_drag"] == towing_coefficients()["base_drag"].value
    assert chain_of(design).suction == 0.9
    chain = chain_of(design, coefficients={"leading_edge_suction": 0.1})
    assert chain.suction == 0.1
    assert np.all(chain.joints.carry_over == 0.25)
    with pytest.raises(OutsideSource, match="nearest in spelling: carry_over"):
        chain_of(design, coefficients={"carryover": 0.1})
    with pytest.raises(OutsideSource, match="cannot be"):
        chain_of(design, coefficients={"carry_over": 7.0})


@pytest.mark.parametrize("name", NAMES)
def test_both_ends_of_every_coefficient_make_a_sound_chain(name):
    design = example(name)
    sets = coefficient_sets(design)
    for ends in (sets.low, sets.high):
        assert_sound(chain_of(design, coefficients=ends))


def test_speeds_are_the_maker_s_and_the_sweep():
    speeds = tow_speeds(example("lanternmere"))
    assert speeds[0] == 0.3
    assert speeds[-1] == pytest.approx(5.0 * 0.514444, rel=1e-5)
    assert set(example("lanternmere").aim.speeds) <= set(speeds)
    assert list(speeds) == sorted(set(speeds))


@pytest.mark.parametrize("speed", [0.0, -1.0, math.nan, math.inf])
def test_no_speed_is_refused(speed):
    with pytest.raises(NoAnswer, match="it is more than 0"):
        chain_of(example("diver"), speed)


def test_a_speed_past_the_friction_lines_is_refused():
    with pytest.raises(OutsideSource, match="say another speed"):
        chain_of(example("diver"), 1e-6)


def refused(design: Design) -> str:
    with pytest.raises(NoAnswer) as caught:
        chain_of(design)
    return str(caught.value)


def test_every_reason_not_to_tow_is_told_at_once(cylinder):
    told = refused(bar(cylinder, 18, 36, 54, 72, 90, 108, eye=None, gap="0 mm", fin=fin(at="30 mm")))
    assert told.startswith("this lure cannot be towed:")
    assert "7 pieces; what is known of jointed lures in the water ends at 5" in told
    assert "there is nothing to tie the line to" in told
    assert "joint 1: does not turn" in told
    assert "fin.at: is on the middle 1; only a tail fin on the last piece is known" in told


def test_a_lure_tied_behind_its_first_joint_is_refused(cylinder):
    told = refused(bar(cylinder, 60, eye=EYE | {"at": "90 mm"}))
    assert "fitting 'eye'.at: ties the line behind the first joint" in told


def test_a_pivot_past_its_neighbour_is_refused(cylinder):
    joints = [{"at": "50 mm", "gap": "2 mm", "pivot": "20 mm"}, {"at": "64 mm", "gap": "2 mm", "pivot": "-8 mm"}]
    assert "leaves piece 2 no length between its hinges" in refused(cylinder(fitting=[EYE], joint=joints))


def test_a_coefficient_that_cannot_be_never_gets_this_far():
    text = (EXAMPLES / "diver.toml").read_text(encoding="utf-8")
    with pytest.raises(BadDesign, match=r"coefficients\.carry_over"):
        parse(text + "\n[coefficients]\ncarry_over = 9\n", "own")


def test_a_hinge_level_outside_the_body_leaves_every_weight_a_number(cylinder):
    hinge = {"joint": 1, "kind": "eyes on a pin", "heights": ["30 mm"]}
    joint = {"at": "60 mm", "gap": "2 mm", "pivot": "4 mm", "rear_bevel": "10 deg"}
    design = cylinder(fitting=[EYE], joint=[joint], hinge=[hinge])
    assert np.all(np.isfinite(assemble(design).sums().columns))
    assert_sound(chain_of(design))


def test_a_piece_more_hole_than_wood_is_refused():
    sound, hollow = (Carried(0.01, np.zeros(3), sign * np.diag([3.0, 1.0, 1.0]) * 1e-6, 1e-5, np.zeros(3))
                     for sign in (1.0, -1.0))  # fmt: skip
    check_solid(("head", "tail"), (sound, sound))
    with pytest.raises(NoAnswer) as caught:
        check_solid(("head", "tail"), (sound, hollow))
    assert "segment 'tail': is more hole than wood" in str(caught.value)
    assert "head" not in str(caught.value)


@pytest.mark.parametrize("name", ["lanternmere", "glider"])
def test_an_example_can_be_towed(name):
    chain = chain_of(example(name))
    motion = tow(chain, 1.0, starts(chain, 1.0, 2), 2.0)
    for moved in (motion.place, motion.angles, motion.pull):
        assert np.all(np.isfinite(moved))
    assert np.all(np.isinf(motion.tumbled))
    past = np.abs(motion.angles).max(axis=(0, 2)) - chain.joints.most_left
    assert np.all(past < math.radians(10.0))  # stops stop it
