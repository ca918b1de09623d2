"""A lure in three dimensions as the page gets it: the wood's volume, closed surfaces, every part a number."""

import json
import math
from pathlib import Path

import numpy as np
import pytest

from gudgeon.answers.check import check
from gudgeon.design.file import parse
from gudgeon.errors import Refusal
from gudgeon.physics.solid import segment_solids
from gudgeon.report.exchange import wood_of
from gudgeon.web.desk import Desk
from gudgeon.web.solid_told import rough_told, solid_told
from gudgeon.web.telling import Drawing

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ["lanternmere", "diver", "glider"]


@pytest.fixture(params=NAMES)
def desk(request, tmp_path):
    file = tmp_path / "lure.toml"
    file.write_text((EXAMPLES / f"{request.param}.toml").read_text(encoding="utf-8"), encoding="utf-8")
    found = Desk(file)
    yield found
    found.close()


def drawn(desk):
    return Drawing.on(desk.state, "lure.toml")


def unpacked(content):
    """The head, and each piece's corners and triangles, read as the page reads them."""
    long = int.from_bytes(content[:4], "little")
    head, at, pieces = json.loads(content[4 : 4 + long]), 4 + long, []
    assert at % 4 == 0
    for piece in head["pieces"]:
        corners = np.frombuffer(content, "<f4", 3 * piece["corners"], at).reshape(-1, 3)
        at += 12 * piece["corners"]
        triangles = np.frombuffer(content, "<u4", 3 * piece["triangles"], at).reshape(-1, 3)
        at += 12 * piece["triangles"]
        pieces.append((corners.astype(float), triangles.astype(int)))
    assert at == len(content)
    return head, pieces


def volume(corners, triangles):
    """Volume [mm3] inside a closed surface: the signed tetrahedra over its triangles, summed."""
    a, b, c = (corners[triangles[:, place]] for place in range(3))
    return float((a * np.cross(b, c)).sum() / 6.0)


def test_the_pieces_hold_the_wood_that_is_left(desk):
    wood = wood_of(check(desk.design()), finished=False)
    solids = segment_solids(wood.hull, wood.joints, wood.bores, wood.slots)
    head, pieces = unpacked(solid_told(drawn(desk), whole=True))
    assert head["stamp"] == desk.state.stamp
    assert len(pieces) == len(solids) == len(head["folds"]) + 1
    for (corners, triangles), solid in zip(pieces, solids, strict=True):
        assert volume(corners, triangles) == pytest.approx(1e9 * solid.volume, rel=1e-5)


def test_every_edge_is_shared_by_two_triangles(desk):
    for whole in (True, False):
        for _, triangles in unpacked(solid_told(drawn(desk), whole=whole))[1]:
            edges = np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
            there, count = np.unique(edges, axis=0, return_counts=True)
            assert (count == 1).all()
            assert len(np.unique(np.sort(there, axis=1), axis=0)) == len(there) / 2


def test_what_is_told_soon_is_the_same_wood_before_it_is_bored(desk):
    rough, pieces = unpacked(solid_told(drawn(desk), whole=False))
    assert not rough["whole"]
    assert rough["parts"] == []
    wood = wood_of(check(desk.design()), finished=False)
    unbored = segment_solids(wood.hull, wood.joints)
    for (corners, triangles), solid in zip(pieces, unbored, strict=True):
        assert volume(corners, triangles) == pytest.approx(1e9 * solid.volume, rel=0.005)


def test_every_part_is_in_numbers_and_goes_with_a_piece(desk):
    design = desk.design()
    head, pieces = unpacked(solid_told(drawn(desk), whole=True))
    assert all(np.isfinite(corners).all() for corners, _ in pieces)
    names = {part["name"] for part in head["parts"]}
    assert names >= {hook.name for hook in design.hooks} | {fitting.name for fitting in design.fittings}
    assert ("lip" in names) == (design.lip is not None)
    assert all(0 <= part["piece"] < len(pieces) for part in head["parts"])
    assert all(fold["swing"] > 5.0 for fold in head["folds"])


def test_ballast_fills_the_end_of_its_bore(desk):
    """The slug weighs what its bill says: its volume times lead's density."""
    answer = check(desk.design())
    told = {part["name"]: part for part in unpacked(solid_told(drawn(desk), whole=True))[0]["parts"]}
    for name, fill in answer.lure.fills.items():
        if fill.mass > 0.0:
            rod = told[f"ballast, {name}"]
            held = math.pi * rod["radius"] ** 2 * 2.0 * rod["half"] * 1e-9
            assert fill.mass / held == pytest.approx(11340.0, rel=0.05)  # kg/m3, lead; shot leaves little room


def test_a_lure_that_floats_has_its_water(desk):
    rests = check(desk.design()).lying
    water = unpacked(solid_told(drawn(desk), whole=True))[0]["water"]
    assert (water is None) == (rests.afloat is None)
    if water is not None:
        assert water["pitch"] == pytest.approx(math.degrees(rests.pitch.value))


def test_a_drawing_that_gives_no_lure_is_refused(desk):
    parse(desk.state.text)
    text = desk.state.text.replace('species = "', 'species = "no ')
    broken = Drawing(text, "lure.toml", "abc", 1)
    for whole in (True, False):
        with pytest.raises(Refusal):
            solid_told(broken, whole=whole)
    told = json.loads(rough_told(broken))
    assert (told["kind"], told["stamp"]) == ("no solid", "abc")
    assert any("no " in fault["words"] for fault in told["refused"]["faults"])


def test_the_page_is_answered_with_bytes(serve):
    served = serve()
    answer = served.ask("/api/solid?file=small.toml")
    assert answer.status == 200
    assert answer.headers["content-type"] == "application/octet-stream"
    head, pieces = unpacked(answer.read())
    assert head["whole"]
    assert len(pieces) == 1
    assert served.ask("/api/solid?file=none.toml").status == 422
    assert served.ask("/api/solid?file=../small.toml").status == 422


def test_the_wood_of_every_stroke_goes_to_who_looks_at_it(serve):
    served = serve()
    looking, other = served.line("small.toml"), served.line("small.toml")
    looking.send("solid", ask="look")
    kept = looking.lift(11.0)
    assert kept["kind"] == "kept"
    head, pieces = unpacked(looking.wood())
    assert (head["stamp"], head["whole"], len(pieces)) == (kept["stamp"], False, 1)
    first = volume(*pieces[0])
    looking.lift(12.0)
    assert volume(*unpacked(looking.wood())[1][0]) > first
    looking.send("solid", ask="leave")
    looking.lift(11.5)
    for line in (looking, other):
        while line.until("answer")["stamp"] != looking.stamp:
            pass
    assert looking.woods == 2
    assert other.woods == 0
    for line in (looking, other):
        line.close()
