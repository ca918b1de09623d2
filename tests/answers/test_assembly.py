"""A design made a lure: the six traps of the weight ledger, refusals, invariances, and what each input is worth."""

import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.check import check
from gudgeon.design.file import load
from gudgeon.design.model import Design
from gudgeon.errors import BadDesign
from gudgeon.library.metals import material
from gudgeon.library.water import water_density
from gudgeon.physics.floater import floating_body
from gudgeon.physics.lure import DRILLED, LEADED, PAINTED, SEALED, SHAPED, WATER, Lure
from gudgeon.physics.mass import MASS, MASS_X, MASS_Z, VOLUME, VOLUME_X, VOLUME_Z
from gudgeon.physics.sinking import excess_mass, heel, pitch

Maker = Callable[..., Design]

BODY = math.pi * 120.0 * 10.0 * 20.0 / 1000.0  # cm3 of the plain cylinder
WOOD, LEAD, STEEL, EPOXY = 0.4, 11.34, 7.85, 1.15  # g/cm3


def grams(lure: Lure, step: int = 5) -> float:
    return 1e3 * lure.sums(lure.chosen(step=step)).mass


def room(lure: Lure, step: int = 5) -> float:
    return 1e6 * lure.sums(lure.chosen(step=step)).volume


def excess(lure: Lure) -> float:
    state, _ = lure.state()
    return 1e3 * float(excess_mass(state, state[WATER]))


def bore(**keys: object) -> dict[str, object]:
    return {"name": "belly", "at": "60 mm", "bore": "10 mm", **keys}


# --- the six traps ---


def test_lead_inside_displaces_nothing_new_but_takes_wood_away(cylinder: Maker) -> None:
    lure = assemble(cylinder(pocket=[bore(holds="10 g")]))
    area = math.pi / 4.0  # cm2
    hole = area * (10.0 / LEAD / area + 0.3)
    assert room(lure) == pytest.approx(BODY, rel=1e-9)
    assert grams(lure) == pytest.approx(BODY * WOOD + 10.0 + 0.3 * area * EPOXY - WOOD * hole, rel=1e-9)
    assert grams(lure, DRILLED) == pytest.approx(BODY * WOOD - WOOD * hole, rel=1e-9)
    assert grams(lure, SHAPED) == pytest.approx(BODY * WOOD, rel=1e-9)


def test_loose_ballast_needs_a_longer_bore(cylinder: Maker) -> None:
    """Packed 80 %: a quarter longer, filler between; it takes that much more wood away."""
    lure = assemble(cylinder(pocket=[bore(holds="10 g", packed="80 %")]))
    area = math.pi / 4.0  # cm2
    solid = 10.0 / LEAD / area
    hole, filler = solid / 0.8 + 0.3, solid / 0.8 - solid + 0.3
    assert grams(lure) == pytest.approx(BODY * WOOD + 10.0 + area * (filler * EPOXY - hole * WOOD), rel=1e-9)
    with pytest.raises(ValueError, match="leaves the bore all but empty"):
        cylinder(pocket=[bore(holds="10 g", packed="8 %")])


def test_lead_taped_outside_displaces_and_leaves_the_wood_alone(cylinder: Maker) -> None:
    taped = {"name": "tape", "kind": "stick-on", "weight": "10 g", "material": "lead", "at": "60 mm"}
    lure = assemble(cylinder(fitting=[taped]))
    assert room(lure) == pytest.approx(BODY + 10.0 / LEAD, rel=1e-9)
    assert grams(lure) == pytest.approx(BODY * WOOD + 10.0, rel=1e-9)


def test_coats_displace(cylinder: Maker) -> None:
    """Drawn bare they go on top; drawn finished the wood is cut smaller by them and the outside stays."""
    coat = {"name": "clear", "coats": 2, "thickness": "0.2 mm", "material": "epoxy"}
    length, radius, build = 12.0, 1.5, 0.04
    full, skin = math.pi * radius**2 * length, 2.0 * math.pi * radius * (length + radius)
    turn = math.pi * build**2 * length  # a coat round a section is longer outside than in
    on_top = assemble(cylinder(120.0, 15.0, 15.0, drawn="bare wood", coat=[coat]))
    assert room(on_top) == pytest.approx(full + skin * build + turn, rel=1e-6)
    assert room(on_top, SEALED) == pytest.approx(full, rel=1e-9)
    assert grams(on_top) == pytest.approx(full * WOOD + (skin * build + turn) * EPOXY, rel=1e-6)
    within = assemble(cylinder(120.0, 15.0, 15.0, coat=[coat]))
    assert room(within) == pytest.approx(full, rel=1e-9)
    coated = skin * build - turn
    assert grams(within) == pytest.approx((full - coated) * WOOD + coated * EPOXY, rel=1e-6)


def test_sealer_soaked_in_weighs_and_does_not_displace(cylinder: Maker) -> None:
    joint = {"at": "50 mm", "gap": "2 mm"}
    lure = assemble(cylinder(sealer={"weight": "3 g"}, joint=[joint]))
    assert room(lure, PAINTED) == pytest.approx(BODY * 118.0 / 120.0, rel=1e-9)
    assert grams(lure, SEALED) - grams(lure, DRILLED) == pytest.approx(3.0, rel=1e-9)
    head = 1e3 * lure.sums(lure.chosen(step=SEALED, segment=0)).mass
    assert head == pytest.approx(BODY * WOOD * 49.0 / 120.0 + 3.0 * 49.0 / 118.0, rel=1e-9)


def test_hooks_and_the_outsides_of_fittings_displace(cylinder: Maker) -> None:
    hook = {"name": "hook", "at": "60 mm", "weight": "3.7 g"}
    eye = {"name": "eye", "kind": "screw eye", "weight": "0.8 g", "material": "steel", "at": "60 mm"}
    plate = {"name": "plate", "kind": "plate", "weight": "0.89 g", "material": "aluminium", "at": "60 mm",
             "buried": "100 %"}  # fmt: skip
    lure = assemble(cylinder(hook=[hook], fitting=[eye, plate]))
    outside = 3.7 / STEEL + 0.25 * 0.8 / STEEL
    gone = 0.75 * 0.8 / STEEL + 0.89 / 2.7
    assert room(lure) == pytest.approx(BODY + outside, rel=1e-9)
    assert grams(lure) == pytest.approx(BODY * WOOD + 3.7 + 0.8 + 0.89 - WOOD * gone, rel=1e-9)
    assert grams(lure, DRILLED) == pytest.approx(BODY * WOOD - WOOD * gone, rel=1e-9)
    assert room(lure, LEADED) == pytest.approx(BODY, rel=1e-9)


@pytest.mark.parametrize(("front", "rear"), [(0.0, 0.0), (25.0, 0.0), (12.5, 12.5)])
def test_a_joint_takes_wood_and_water_away(cylinder: Maker, front: float, rear: float) -> None:
    """34 x 50 mm section, 2 mm gap: each vee takes tan(bevel) times the section's first moment, 4/3 a^2 c."""
    joint = {"at": "100 mm", "gap": "2 mm", "front_bevel": f"{front} deg", "rear_bevel": f"{rear} deg"}
    lure = assemble(cylinder(200.0, 17.0, 25.0, joint=[joint]))
    slopes = math.tan(math.radians(front)) + math.tan(math.radians(rear))
    gone = 0.2 * math.pi * 1.7 * 2.5 + slopes * 4.0 / 3.0 * 1.7**2 * 2.5
    assert lure.joints[0].removed == pytest.approx(gone * 1e-6, rel=2e-4)
    left = math.pi * 20.0 * 1.7 * 2.5 - gone
    assert room(lure) == pytest.approx(left, rel=2e-5)
    assert grams(lure) == pytest.approx(left * WOOD, rel=2e-5)
    if front or rear:
        assert 5.0 < gone < 8.0  # "6 cm3 a joint is ordinary"


def test_a_vee_moves_the_centre_of_its_piece_away_from_the_joint(cylinder: Maker) -> None:
    joint = {"at": "100 mm", "gap": "2 mm", "front_bevel": "25 deg"}
    head, tail = assemble(cylinder(200.0, 17.0, 25.0, joint=[joint])).segments
    slope, a, c = math.tan(math.radians(25.0)), 17.0, 25.0
    full, vee = math.pi * a * c * 99.0, slope * 4.0 / 3.0 * a * a * c
    depth = 0.5 * slope * (math.pi / 4.0 * a**3 * c) / (4.0 / 3.0 * a * a * c)
    assert 1e3 * head.centre[0] == pytest.approx((full * 49.5 - vee * (99.0 - depth)) / (full - vee), rel=1e-4)
    assert 1e3 * tail.centre[0] == pytest.approx(150.5, rel=1e-9)


def test_what_a_joint_was_measured_to_take_away_replaces_what_its_sizes_come_to(cylinder: Maker) -> None:
    joint = {"at": "100 mm", "gap": "2 mm", "front_bevel": "25 deg", "takes_away": "6 cm3"}
    lure = assemble(cylinder(200.0, 17.0, 25.0, joint=[joint]))
    assert room(lure) == pytest.approx(math.pi * 20.0 * 1.7 * 2.5 - 6.0, rel=1e-9)


@pytest.mark.parametrize("drawn", ["finished", "bare wood"])
def test_joint_faces_are_cut_back_by_the_coats_whichever_size_is_drawn(cylinder: Maker, drawn: str) -> None:
    coat = {"name": "clear", "thickness": "0.5 mm", "material": "epoxy"}
    joint = {"at": "60 mm", "gap": "2 mm"}
    lure = assemble(cylinder(120.0, 15.0, 15.0, drawn=drawn, coat=[coat], joint=[joint]))
    section = math.pi * 1.5**2
    ends = 2.0 * section * 0.05 if drawn == "finished" else 0.0
    around = math.pi * (1.5**2 - 1.45**2) * 11.8 if drawn == "finished" else 0.0
    assert room(lure, SHAPED) == pytest.approx(section * (12.0 - 0.2 - 0.1) - ends - around, rel=1e-4)


def test_a_hook_pulls_at_its_hanger_wherever_it_hangs(cylinder: Maker) -> None:
    hook = {"name": "hook", "at": "30 mm", "weight": "3.7 g", "shank": "40 mm", "gape": "12 mm"}
    lure, without = assemble(cylinder(hook=[hook])), assemble(cylinder())
    change = lure.state()[0] - without.state()[0]
    metal = 3.7e-3 / 7850.0
    assert change[MASS_X] == pytest.approx(3.7e-3 * 0.030, rel=1e-9)
    assert change[MASS_Z] == pytest.approx(3.7e-3 * -0.020, rel=1e-9)  # on the belly
    assert change[VOLUME_X] == pytest.approx(metal * 0.030, rel=1e-6)
    assert change[VOLUME_Z] == pytest.approx(metal * -0.020, rel=1e-6)
    raised = assemble(cylinder(hook=[{**hook, "height": "-5 mm", "offset": "2 mm"}]))
    weight = (raised.state()[0] - without.state()[0])[MASS_Z]
    assert weight == pytest.approx(3.7e-3 * -0.005, rel=1e-9)
    body = floating_body(raised)  # afloat, and heeled, it still pulls there
    assert body.centre[1] * body.mass == pytest.approx(3.7e-3 * 0.002, rel=1e-9)


# --- hardware partly in the wood ---


def test_a_lip_displaces_where_it_shows_and_takes_wood_where_it_is_buried(cylinder: Maker) -> None:
    lip = {"material": "polycarbonate", "exposed": "30 mm", "set_in": "10 mm", "width": "20 mm", "thickness": "2 mm",
           "angle": "90 deg", "at": "10 mm", "height": "-20 mm", "shape": "square"}  # fmt: skip
    change = assemble(cylinder(lip=lip)).state()[0] - assemble(cylinder()).state()[0]
    plate, shows, buried = 1.6 * 1.2e-3, 1.2e-6, 0.4e-6  # kg, m3, m3
    assert change[VOLUME] == pytest.approx(shows, rel=1e-6)
    assert change[VOLUME_Z] == pytest.approx(shows * -0.035, rel=1e-6)  # middle of the part outside
    assert change[MASS] == pytest.approx(plate - 400.0 * buried, rel=1e-6)
    assert change[MASS_Z] == pytest.approx(plate * -0.030 - 400.0 * buried * -0.015, rel=1e-6)
    assert change[VOLUME_X] == pytest.approx(shows * 0.010, rel=1e-6)


def test_a_fin_displaces_where_it_shows_and_takes_wood_where_it_is_buried(cylinder: Maker) -> None:
    fin = {"material": "polycarbonate", "length": "40 mm", "tall": "20 mm", "thickness": "1 mm", "at": "120 mm",
           "set_in": "10 mm", "fill": "50 %"}  # fmt: skip
    change = assemble(cylinder(fin=fin)).state()[0] - assemble(cylinder()).state()[0]
    shows, buried = 0.4e-6, 0.1e-6
    assert change[VOLUME] == pytest.approx(shows, rel=1e-6)
    assert change[VOLUME_X] == pytest.approx(shows * 0.140, rel=1e-6)
    steps = 1200.0 * (shows * 0.140 + buried * 0.115) - 400.0 * buried * 0.115
    assert change[MASS_X] == pytest.approx(steps, rel=1e-6)


def test_a_hinge_pin_in_the_gap_belongs_to_both_its_neighbours(cylinder: Maker) -> None:
    pin = {"name": "pin", "kind": "pin", "weight": "1 g", "material": "steel", "at": "60 mm"}
    lure = assemble(cylinder(joint=[{"at": "60 mm", "gap": "2 mm"}], fitting=[pin]))
    halves = [item.mass for item in lure.fixed if item.name == "pin"]
    assert halves == pytest.approx([0.5e-3, 0.5e-3])
    hook = {"name": "hook", "at": "60 mm", "weight": "2 g"}
    hung = assemble(cylinder(joint=[{"at": "60 mm", "gap": "2 mm"}], hook=[hook]))
    assert [(item.segment, item.mass) for item in hung.fixed if item.name == "hook"] == [(0, pytest.approx(2e-3))]


def test_a_hook_is_weighed_before_it_is_looked_up_in_the_drawer_and_in_the_table(cylinder: Maker) -> None:
    drawer = {"hook": [{"size": "2/0", "weight": "5.5 g"}]}

    def mass(hook: dict[str, object], stock: dict[str, object] | None = None) -> float:
        lure = assemble(cylinder(hook=[{"name": "hook", "at": "60 mm", **hook}], stock=stock or {}))
        return 1e3 * next(item.mass for item in lure.fixed if item.kind == "hook")

    assert mass({"size": "2/0", "weight": "5 g"}, drawer) == pytest.approx(5.0)
    assert mass({"size": "2/0"}, drawer) == pytest.approx(5.5)
    assert mass({"size": "1/0"}, drawer) not in (5.0, 5.5)


# --- refusals ---


def faults_of(design: Design) -> dict[str, str]:
    with pytest.raises(BadDesign) as refused:
        assemble(design)
    assert refused.value.heading == "the design cannot be built"
    return {fault.place: fault.words for fault in refused.value.faults}


def test_every_fault_of_meaning_is_told_at_once_with_its_place(cylinder: Maker) -> None:
    lip = {"material": "glas", "exposed": "10 mm", "set_in": "5 mm", "width": "10 mm", "thickness": "1 mm",
           "angle": "30 deg", "at": "0 mm", "height": "0 mm"}  # fmt: skip
    fin = {"material": "vynil", "length": "20 mm", "tall": "20 mm", "thickness": "1 mm", "at": "120 mm"}
    faults = faults_of(cylinder(
        wood={"species": "ballsa", "density": "2.2 g/cm3"},
        hook=[{"name": "front", "at": "30 mm", "weight": "2 g", "material": "unobtainium"},
              {"name": "rear", "at": "90 mm", "size": "99/0"}],
        fitting=[{"name": "hinge", "kind": "plate", "weight": "1 g", "material": "stel", "at": "20 mm"}],
        coat=[{"name": "clear", "thickness": "0.1 mm", "material": "epoxyy"}],
        lip=lip, fin=fin, stock={"shot": [{"weight": "1 g", "material": "leed"}]},
        tub={"stand_in": [{"hook": "front", "weight": "2 g", "material": "irn"}]},
        pocket=[bore(name="off the side", offset="8 mm"), bore(name="through", depth="50 mm"),
                bore(name="stuff", material="led", plug_material="glu"), bore(name="too much", holds="90 g"),
                bore(name="over the back", face="left", height="18 mm"), bore(name="off the tail", at="118 mm"),
                bore(name="all wall", wall="39 mm")],
    ))  # fmt: skip
    assert set(faults) == {
        "wood.species", "wood.density", "hook 1 'front'.material", "hook 2 'rear'.size", "fitting 1 'hinge'.material",
        "coat 1 'clear'.material", "lip.material", "fin.material", "stock.shot 1.material", "tub.stand_in 1.material",
        "pocket 1 'off the side'", "pocket 2 'through'.depth", "pocket 3 'stuff'.material",
        "pocket 3 'stuff'.plug_material", "pocket 4 'too much'.holds", "pocket 5 'over the back'",
        "pocket 6 'off the tail'", "pocket 7 'all wall'",
    }  # fmt: skip
    assert "'Balsa'" in faults["wood.species"]
    assert "2.20 g/cm3 is no wood" in faults["wood.density"]
    assert "'Steel' or 'Stainless steel'" in faults["fitting 1 'hinge'.material"]
    assert "breaks out of the body's side" in faults["pocket 1 'off the side'"]
    assert "drill 34.3 mm at most" in faults["pocket 2 'through'.depth"]
    assert "the bore holds 27.9 g" in faults["pocket 4 'too much'.holds"]


def test_a_pocket_in_a_joints_gap_is_refused(cylinder: Maker) -> None:
    faults = faults_of(cylinder(joint=[{"at": "60 mm", "gap": "4 mm"}], pocket=[bore()]))
    assert faults == {"pocket 1 'belly'.at": "lies in a joint's gap; move it into the wood"}


def test_joints_that_leave_no_wood_are_refused_both_of_them(cylinder: Maker) -> None:
    joints = [{"at": "1 mm", "gap": "4 mm"}, {"at": "60 mm", "gap": "4 mm"}, {"at": "62 mm", "gap": "4 mm"}]
    assert set(faults_of(cylinder(joint=joints))) == {"joint 1.at", "joint 3.at"}


def test_a_blank_too_heavy_for_its_drawing_is_no_wood(cylinder: Maker) -> None:
    faults = faults_of(cylinder(wood={"blank_weight": "301.6 g"}))
    assert "4.00 g/cm3 is no wood" in faults["wood.blank_weight"]
    assert "drawing is the piece that was weighed" in faults["wood.blank_weight"]


# --- designs with little in them ---


def test_a_bare_body_is_checked(cylinder: Maker) -> None:
    answer = check(cylinder())
    assert answer.ballast is None
    assert answer.shot is None
    assert answer.clearances == ()
    assert answer.rate.excess.value == pytest.approx(BODY * 1e-3 * (WOOD - 0.9982067), rel=1e-5)
    assert [piece.name for piece in answer.pieces] == ["body"]
    assert any("upright" in finding.words or "Turns over" in finding.words for finding in answer.findings)


def test_a_lure_with_every_pocket_kept_is_checked_as_it_stands(cylinder: Maker) -> None:
    answer = check(cylinder(pocket=[bore(holds="20 g", free=False)]))
    assert answer.ballast is None
    assert answer.rate.excess.value == answer.now.excess.value


# --- invariances ---


def test_mirrored_it_lists_the_other_way(cylinder: Maker) -> None:
    def lists(side: float) -> tuple[float, float, float]:
        eye = {"name": "weight", "kind": "stick-on", "weight": "50 g", "material": "lead", "at": "70 mm",
               "offset": f"{side} mm", "height": "-20 mm"}  # fmt: skip
        lure = assemble(cylinder(fitting=[eye]))
        state, _ = lure.state()
        list_angle = float(heel(state, state[WATER], lure.falling))
        return list_angle, float(pitch(state, state[WATER], lure.falling)), excess(lure)

    right, left = lists(3.0), lists(-3.0)
    assert right[0] > 0.01
    assert left == pytest.approx((-right[0], right[1], right[2]), rel=1e-9)


def test_hooks_further_aft_turn_the_nose_up(cylinder: Maker) -> None:
    def lies(aft: float) -> float:
        hooks = [{"name": "front", "at": f"{30.0 + aft} mm", "weight": "5 g"},
                 {"name": "rear", "at": f"{90.0 + aft} mm", "weight": "5 g"}]  # fmt: skip
        lure = assemble(cylinder(hook=hooks, pocket=[bore(holds="20 g")]))
        state, _ = lure.state()
        return float(pitch(state, state[WATER], lure.falling))

    assert lies(-5.0) < lies(0.0) < lies(5.0)
    assert lies(0.0) == pytest.approx(0.0, abs=1e-9)


def _twice(scale: float) -> dict[str, object]:
    def mm(size: float) -> str:
        return f"{scale * size} mm"

    return {
        "joint": [{"at": mm(50.0), "gap": mm(2.0), "front_bevel": "15 deg"}],
        "hook": [{"name": "hook", "at": mm(30.0), "weight": f"{3.0 * scale**3} g"}],
        "fitting": [{"name": "eye", "kind": "screw eye", "weight": f"{0.8 * scale**3} g", "material": "steel",
                     "at": mm(20.0)}],
        "coat": [{"name": "clear", "thickness": mm(0.3), "material": "epoxy"}],
        "sealer": {"weight": f"{1.5 * scale**3} g"},
        "pocket": [{"name": "belly", "at": mm(80.0), "bore": mm(8.0), "holds": f"{9.0 * scale**3} g", "plug": mm(3.0),
                    "wall": mm(3.0)}],
    }  # fmt: skip


def test_a_lure_twice_the_size_weighs_eight_times_as_much(ellipsoid: Maker) -> None:
    small, big = assemble(ellipsoid(**_twice(1.0))), assemble(ellipsoid(240.0, 20.0, 40.0, **_twice(2.0)))
    powers = np.array([8.0, 16.0, 16.0, 16.0, 8.0, 16.0, 16.0, 16.0])
    ones, twos = small.state()[0][:8], big.state()[0][:8]
    assert twos == pytest.approx(ones * powers, rel=1e-6, abs=1e-12)
    assert big.falling.plan_area == pytest.approx(4.0 * small.falling.plan_area, rel=1e-6)
    inertias = [lure.ledger.inertia(lure.chosen()) for lure in (small, big)]
    assert np.diag(inertias[1]) == pytest.approx(32.0 * np.diag(inertias[0]), rel=1e-6)


# --- what each input is worth: the lure made again with the input moved by its spread ---

_SURE = {"outline_volume": "0 %", "density": "0 %", "along_board": "0 %", "scale": "0 g", "coat_thickness": "0 %",
         "material_density": "0 %", "joint_removal": "0 %", "sealer": "0 %", "table_hook": "0 %", "temperature": "0 C",
         "salinity": "0 ppt"}  # fmt: skip


def _chain(cylinder: Maker, **moved: str) -> Lure:
    """A lure drawn in bare wood, so that a thicker coat leaves the wood as it is; `moved` replaces words in it."""
    words = {"density": "0.45 g/cm3 ± 0.02 g/cm3", "thickness": "0.2 mm ± 0.06 mm", "hook": "4.3 g ± 0.5 g",
             "warm": "18 C ± 3 C", "sealer": "2 g ± 0.6 g", "salt": "0 ppt ± 1 ppt", **moved}  # fmt: skip
    return assemble(cylinder(
        140.0, 14.0, 18.0, drawn="bare wood", uncertainty=_SURE, wood={"density": words["density"]},
        coat=[{"name": "clear", "coats": 2, "thickness": words["thickness"], "density": "1.15 g/cm3 ± 0 g/cm3"}],
        hook=[{"name": "hook", "at": "40 mm", "weight": words["hook"]}], sealer={"weight": words["sealer"]},
        pocket=[bore(name="front", holds="25 g"), bore(name="rear", at="110 mm", holds="12 g")],
        water={"kind": "fresh", "temperature": words["warm"], "salinity": words["salt"]},
    ))  # fmt: skip


@pytest.mark.parametrize(
    ("source", "up", "down"),
    [
        ("density of the wood", {"density": "0.47 g/cm3"}, {"density": "0.43 g/cm3"}),
        ("thickness of the clear", {"thickness": "0.26 mm"}, {"thickness": "0.14 mm"}),
        ("weight of hook", {"hook": "4.8 g"}, {"hook": "3.8 g"}),
        ("sealer soaked in", {"sealer": "2.6 g"}, {"sealer": "1.4 g"}),
        ("water temperature", {"warm": "21 C"}, {"warm": "15 C"}),
    ],
)
def test_each_sources_effect_is_that_of_the_lure_made_again(
    cylinder: Maker, source: str, up: dict[str, str], down: dict[str, str]
) -> None:
    lure = _chain(cylinder)
    _, effects = lure.state()
    row = effects[lure.sources.index(source)]
    made = 0.5 * (_chain(cylinder, **up).state()[0] - _chain(cylinder, **down).state()[0])
    scale = np.maximum(np.abs(made), 1e-4 * np.abs(lure.state()[0]) + 1e-12)
    assert np.abs(row - made) / scale == pytest.approx(0.0, abs=0.02)


def test_the_outlines_effect_is_that_of_a_fuller_drawing(cylinder: Maker) -> None:
    lure = assemble(cylinder(uncertainty={"outline_volume": "4 %"}))
    row = lure.state()[1][lure.sources.index("volume of the drawn body")]
    fuller, leaner = assemble(cylinder(half_width=10.4)), assemble(cylinder(half_width=9.6))
    made = 0.5 * (fuller.state()[0] - leaner.state()[0])
    assert row[[MASS, VOLUME]] == pytest.approx(made[[MASS, VOLUME]], rel=1e-6)


def test_the_spread_of_the_weight_in_water_is_that_of_lures_made_at_random(cylinder: Maker) -> None:
    lure = _chain(cylinder)
    state, effects = lure.state()
    chosen = ["density of the wood", "thickness of the clear", "weight of hook", "sealer soaked in"]
    wanted = effects[:, MASS] - state[WATER] * effects[:, VOLUME]
    told = 1e3 * math.sqrt(sum(float(wanted[lure.sources.index(name)]) ** 2 for name in chosen))
    random = np.random.default_rng(7).standard_normal((250, 4)) / 2.0
    made = [
        excess(_chain(cylinder, density=f"{0.45 + 0.02 * a:.6f} g/cm3", thickness=f"{0.2 + 0.06 * b:.6f} mm",
                      hook=f"{4.3 + 0.5 * c:.6f} g", sealer=f"{2.0 + 0.6 * d:.6f} g"))
        for a, b, c, d in random
    ]  # fmt: skip
    assert float(np.mean(made)) == pytest.approx(excess(lure), abs=0.15 * told)
    assert 2.0 * float(np.std(made)) == pytest.approx(told, rel=0.1)  # 250 draws are good to 4.5 %


def test_with_sure_inputs_only_the_tables_density_of_the_hook_is_left(cylinder: Maker) -> None:
    sure = _chain(cylinder, density="0.45 g/cm3 ± 0 g/cm3", thickness="0.2 mm ± 0 mm", hook="4.3 g ± 0 g",
                  warm="18 C ± 0 C", sealer="2 g ± 0 g", salt="0 ppt ± 0 ppt")  # fmt: skip
    state, effects = sure.state()
    wanted = effects[:, MASS] - state[WATER] * effects[:, VOLUME]
    wanted = wanted - effects[:, WATER] * state[VOLUME]
    steel = material("steel")
    left = state[WATER] * 4.3e-3 / steel.density * steel.spread / steel.density
    assert left < 3e-6
    assert sure.knowledge.half_width(wanted) == pytest.approx(left, rel=1e-6)


def test_the_water_is_the_one_the_design_names(cylinder: Maker) -> None:
    for kind, salt in (("fresh", 0.0), ("brackish", 7.0), ("sea", 35.0)):
        lure = assemble(cylinder(water={"kind": kind, "temperature": "12 C"}))
        assert lure.water.density == pytest.approx(water_density(285.15, salt), rel=1e-12)
    named = assemble(cylinder(water={"kind": "sea", "temperature": "12 C", "salinity": "33 ppt"}))
    assert named.water.density == pytest.approx(water_density(285.15, 33.0), rel=1e-12)


def test_the_example_lures_hold_together() -> None:
    """Segments, gaps and vees make up the drawn body; no part is counted twice or lost."""
    lure = assemble(load(Path(__file__).parents[2] / "examples" / "lanternmere.toml"))
    parts = sum(item.mass for item in lure.ledger.items)
    prior = replace(lure, knowledge=replace(lure.knowledge, mean=np.zeros(len(lure.sources))))
    assert prior.state()[0][MASS] == pytest.approx(parts, rel=1e-12)
    by_piece = sum(lure.state(lure.chosen(segment=place))[0] for place in range(4))
    assert by_piece[:8] == pytest.approx(lure.state()[0][:8], rel=1e-9)
