"""STEP files: true cylinders for holes, and volumes as the triangles'."""

import re
from pathlib import Path

import pytest

from gudgeon.answers.check import check
from gudgeon.design.file import load, parse
from gudgeon.physics.solid import segment_solids
from gudgeon.report.exchange import exported, wood_of
from gudgeon.report.rows import Shop
from gudgeon.report.step import read_back, volume

EXAMPLES = Path(__file__).parents[2] / "examples"
FACES = [("knuckle", "front", "plate and pin"), ("knuckle", "rear", "strap"), ("tongue", "front", "eyes on a pin"),
         ("tongue", "rear", "screw eyes"), ("vee", "front", "wire eye and pin")]  # fmt: skip


def faced(face, carries, kind):
    """The demo with other joints and hinges, and wire through it."""
    text = (EXAMPLES / "lanternmere.toml").read_text(encoding="utf-8")
    text = re.sub(r'pivot = "4 mm".*', f'face = "{face}"\ncarries = "{carries}"', text)
    text = text.replace('kind = "eyes on a pin"', f'kind = "{kind}"')
    return parse(f'{text}\n[harness]\nwire = "1.6 mm"\nheight = "2 mm"\n')


DESIGNS = [*(pytest.param(load(EXAMPLES / f"{name}.toml"), id=name) for name in ("lanternmere", "glider", "diver")),
           *(pytest.param(faced(*one), id=" ".join(one)) for one in FACES)]  # fmt: skip


@pytest.mark.parametrize("design", DESIGNS)
def test_a_step_file_holds_what_the_triangles_hold_with_every_hole_a_true_cylinder(design):
    answer = check(design)
    content = exported(answer, "step", stamp="0badcafe", finished=False, piece="", shop=Shop.METRIC).content
    wood = wood_of(answer, finished=False)
    solids = segment_solids(wood.hull, wood.joints, wood.bores, wood.slots, stations=161, points=96)
    assert volume(read_back(content)) == pytest.approx(1e9 * sum(solid.volume for solid in solids), rel=5e-4)
    radii = {round(float(found), 5) for found in re.findall(r"CYLINDRICAL_SURFACE\('[^']*',#\d+,([\d.E+-]+)\)",
                                                            content.decode())}  # fmt: skip
    told = {round(500.0 * bore.diameter, 5) for bore in wood.bores}
    assert told <= radii
    rounds = {round(1e3 * edge.radius, 5) for _, shape in wood.joints for face in (shape.front, shape.rear)
              for edge in face.edges}  # fmt: skip
    assert radii <= told | rounds
