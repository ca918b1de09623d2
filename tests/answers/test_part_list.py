"""Parts under their bill numbers: letters, weights that add up, parts alike together, shapes where they belong."""

from pathlib import Path

import numpy as np
import pytest

from gudgeon.answers.bill import bill
from gudgeon.answers.check import check
from gudgeon.answers.hanging import hanging
from gudgeon.answers.hinging import made_hinges
from gudgeon.answers.part_list import part_list
from gudgeon.answers.part_shapes import part_shapes
from gudgeon.design.file import load

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def swimmer():
    return check(load(EXAMPLES / "lanternmere.toml"))


@pytest.fixture(scope="module")
def entries(swimmer):
    return part_list(swimmer.design, swimmer.lure, bill(swimmer.design, swimmer.lure))


def test_letters_stand_only_where_a_line_is_several_parts(entries):
    marks = [entry.mark for entry in entries]
    assert marks[:5] == ["1a", "1b", "1c", "1d", "2"]
    assert len(set(marks)) == len(marks)
    for entry in entries:
        alone = sum(other.number == entry.number for other in entries) == 1
        assert (entry.mark == str(entry.number)) == alone


def test_pieces_weigh_what_the_ledger_says(swimmer, entries):
    masses, _ = swimmer.lure.ledger.item_masses(swimmer.lure.knowledge)
    wood = {
        item.name: mass for item, mass in zip(swimmer.lure.ledger.items, masses, strict=True) if item.kind == "wood"
    }
    told = {entry.names[0]: entry.mass for entry in entries if entry.names[0] in wood}
    assert told == {name: pytest.approx(mass) for name, mass in wood.items()}


def test_eyes_alike_are_one_entry_and_a_ring_is_weighed_with_its_hook(entries):
    eyes = next(entry for entry in entries if entry.words == "eye of hinge 1")
    assert eyes.count == 2
    assert eyes.names == ("hinge 1: lower eye", "hinge 1: upper eye")
    ring = next(entry for entry in entries if entry.words == "ring of the front hook")
    assert ring.mass is None
    assert ring.sizes[0][:2] == ("ring", pytest.approx(0.012))


def test_every_part_has_a_shape_but_what_is_laid_on(swimmer, entries):
    shapes = {shape.name for shape in part_shapes(swimmer.design, swimmer.lure)}
    without = {name for entry in entries for name in entry.names} - shapes
    assert without == {"sealer", "primer", "colour", "clear", "glue for hinges"}
    assert shapes <= {name for entry in entries for name in entry.names}


def test_shapes_lie_where_their_parts_are(swimmer):
    design, lure = swimmer.design, swimmer.lure
    shapes = {shape.name: shape for shape in part_shapes(design, lure)}
    made = made_hinges(design, lure)[0]
    pin = shapes["hinge 1: pin"].points
    assert pin.min(axis=0) == pytest.approx([made.pivot - 0.001, made.sizes.pin_bottom])
    assert pin.max(axis=0) == pytest.approx([made.pivot + 0.001, made.sizes.pin_top])
    eye = shapes["hinge 1: upper eye"].points
    assert eye[:, 0].max() == pytest.approx(made.pivot + 0.5 * made.sizes.eye + made.sizes.wire)
    assert np.ptp(eye[:, 1]) == pytest.approx(made.sizes.wire)  # level, seen edge on
    pocket = next(pocket for pocket in lure.pockets if pocket.name == "shoulder")
    filled = lure.fills["shoulder"]
    slug = shapes["ballast, shoulder"].points
    assert np.ptp(slug, axis=0) == pytest.approx([pocket.bore, filled.length])
    assert slug[:, 1].max() == pytest.approx(pocket.mouth[2] + filled.depth)


def test_a_hook_with_its_ring_hangs_as_far_as_it_reaches(swimmer):
    design, lure = swimmer.design, swimmer.lure
    shapes = {shape.name: shape for shape in part_shapes(design, lure)}
    reach = next(hook for hook in hanging(design, lure, [0.0] * 3).hooks if hook.name == "front hook")
    points = np.concatenate([shapes["front hook"].points, shapes["front hook: ring"].points])
    assert np.ptp(points[:, 1]) == pytest.approx(reach.length)
    assert np.ptp(points[:, 0]) == pytest.approx(2.0 * reach.gape)


def test_a_coat_of_the_glues_own_name_is_told_apart_from_it(swimmer):
    coat = swimmer.design.coats[-1].model_copy(update={"name": "epoxy"})
    design = swimmer.design.model_copy(update={"coats": (*swimmer.design.coats[:-1], coat)})
    lure = check(design).lure
    lines = bill(design, lure)
    found = [entry for entry in part_list(design, lure, lines) if entry.names in (("epoxy",), ("glue for hinges",))]
    assert [entry.words for entry in found] == ["epoxy", "glue for hinges"]
    assert len({entry.number for entry in found}) == 1
    assert len({entry.mark for entry in found}) == 2
    assert found[1].mass < 1e-4 < found[0].mass
