"""A harness in the ledger: wire, channel and what fills it, by closed form on a bar, and against the cut solids."""

import math

import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.bill import bill
from gudgeon.answers.harness_items import HARNESS_GLUE, NAME
from gudgeon.answers.part_list import part_list
from gudgeon.errors import BadDesign
from gudgeon.library.metals import material
from gudgeon.physics.mass import MASS, MASS_X, MASS_Z, VOLUME

WIRE, RUN = 1.6e-3, 0.100  # m; from the tow eye at 10 mm to the hanger at 110 mm
STEEL, EPOXY, WOOD = material("stainless spring wire").density, material("Epoxy").density, 400.0
LOOP = {"weight": "0.01 g", "material": "steel", "height": "0 mm"}
HUNG = [{"name": "nose loop", "kind": "tow eye", "at": "10 mm", **LOOP},
        {"name": "tail loop", "kind": "eye", "at": "110 mm", **LOOP}]  # fmt: skip
METAL = math.pi / 4 * WIRE**2 * RUN
BORE = math.pi / 4 * (2 * WIRE) ** 2 * RUN


@pytest.fixture
def change(cylinder):
    """What a harness changes in a bar of 120 mm, 30 wide and 40 deep: sums of the whole lure with it, less without."""

    def made(joint=(), **keys):
        with_it = cylinder(120.0, 15.0, 20.0, fitting=HUNG, joint=joint, harness={"wire": "1.6 mm", **keys})
        without = cylinder(120.0, 15.0, 20.0, fitting=HUNG, joint=joint)
        return assemble(with_it).state()[0] - assemble(without).state()[0]

    return made


def test_a_bore_full_of_water_loses_what_it_takes_but_the_wire(change):
    sums = change()
    assert sums[MASS] == pytest.approx(METAL * STEEL - BORE * WOOD, rel=1e-6)
    assert sums[VOLUME] == pytest.approx(METAL - BORE, rel=1e-6)
    assert sums[MASS_X] == pytest.approx(0.060 * sums[MASS], rel=1e-6)


def test_air_or_glue_in_the_bore_displaces_as_before(change):
    air, glue = change(filled="air"), change(filled="glue")
    assert (air[VOLUME], glue[VOLUME]) == pytest.approx((0.0, 0.0), abs=1e-15)
    assert air[MASS] == pytest.approx(METAL * STEEL - BORE * WOOD, rel=1e-6)
    assert glue[MASS] - air[MASS] == pytest.approx((BORE - METAL) * EPOXY, rel=1e-6)


def test_a_slot_from_the_belly_is_glued_shut_and_lies_low(change):
    wide, top = 2 * WIRE, 0.5 * 2 * WIRE
    slot = wide * (top + 0.020) * RUN
    sums = change(runs="slot from the belly")
    assert sums[VOLUME] == pytest.approx(0.0, abs=1e-15)
    assert sums[MASS] == pytest.approx(METAL * STEEL - slot * WOOD + (slot - METAL) * EPOXY, rel=1e-6)
    middle = 0.5 * (top - 0.020)
    assert sums[MASS_Z] == pytest.approx(middle * ((slot - METAL) * EPOXY - slot * WOOD), rel=1e-6)


def test_two_strands_weigh_twice_and_what_was_weighed_goes_before_sizes(change):
    wide = math.pi / 4 * (3 * WIRE) ** 2 * RUN
    assert change(twisted=True)[MASS] == pytest.approx(2 * METAL * STEEL - wide * WOOD, rel=1e-6)
    assert change(weight="3 g")[MASS] == pytest.approx(3e-3 - BORE * WOOD, rel=1e-6)


def test_in_a_joints_gap_the_wire_runs_in_the_water_and_takes_no_wood(change):
    sums = change(joint=[{"at": "60 mm", "gap": "4 mm"}], filled="air")
    assert sums[VOLUME] == pytest.approx(METAL * 0.04, rel=1e-6)
    assert sums[MASS] == pytest.approx(METAL * STEEL - 0.96 * BORE * WOOD, rel=1e-6)


def test_its_weight_is_unsure_where_it_was_not_weighed(cylinder):
    lure = assemble(cylinder(120.0, 15.0, 20.0, fitting=HUNG, harness={"wire": "1.6 mm"}))
    (item,) = (item for item in lure.ledger.items if item.name == NAME)
    assert item.effects[0].mass == pytest.approx(0.1 * METAL * STEEL, rel=1e-6)


def test_it_stands_in_the_bill_with_its_glue(cylinder):
    design = cylinder(120.0, 15.0, 20.0, fitting=HUNG, harness={"wire": "1.6 mm", "filled": "glue"})
    lure = assemble(design)
    lines = bill(design, lure)
    line = next(line for line in lines.lines if line.name == NAME)
    assert (line.made_of, line.mass) == ("stainless spring wire", pytest.approx(METAL * STEEL, rel=1e-6))
    assert [(name, size) for name, size, _ in line.parts[0].sizes] == [("wire", WIRE), ("run", pytest.approx(RUN))]
    assert {NAME, HARNESS_GLUE} <= {name for entry in part_list(design, lure, lines) for name in entry.names}


def test_a_harness_with_nothing_to_hang_on_it_weighs_nothing(cylinder):
    with_it, without = (assemble(cylinder(**keys)) for keys in ({"harness": {"wire": "1.6 mm"}}, {}))
    assert with_it.state()[0] == pytest.approx(without.state()[0], abs=0.0)


def test_an_unknown_wire_is_refused(cylinder):
    with pytest.raises(BadDesign) as refused:
        assemble(cylinder(harness={"wire": "1.6 mm", "material": "liquorice"}, fitting=HUNG))
    assert refused.value.faults[0].place == "harness.material"
