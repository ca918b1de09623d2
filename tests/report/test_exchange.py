"""Files for other programs, read back by other readers: sizes, volumes, layers, and whole or not at all."""

import importlib
import io
import math
import xml.etree.ElementTree as ET
import zipfile
from pathlib import Path

import ezdxf
import numpy as np
import pytest
import trimesh
from scipy.stats.qmc import Halton
from shapely.geometry import Polygon

from gudgeon.answers.check import check
from gudgeon.answers.hinging import hinging
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.papers import papers
from gudgeon.design.file import load, parse
from gudgeon.errors import Refusal
from gudgeon.physics.hull import profile, section
from gudgeon.physics.joint_removal import removals
from gudgeon.physics.portion import portion
from gudgeon.physics.shapes import Box, Rod
from gudgeon.physics.solid import segment_solids
from gudgeon.physics.wood_piece import wood_pieces
from gudgeon.report.exchange import exported, kind_of, views, wood_of
from gudgeon.report.rows import Shop
from gudgeon.report.vector_files import LAYERS, View, placed, round_of, svg

EXAMPLES = Path(__file__).parents[2] / "examples"
SVG = "{http://www.w3.org/2000/svg}"
CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"


@pytest.fixture(scope="module", params=["lanternmere", "glider", "diver"])
def answer(request):
    return check(load(EXAMPLES / f"{request.param}.toml"))


@pytest.fixture(scope="module")
def jointed():
    return check(load(EXAMPLES / "lanternmere.toml"))


def write(answer, kind, *, finished=False, piece=""):
    return exported(answer, kind, stamp="0badcafe", finished=finished, piece=piece, shop=Shop.METRIC).content


def group(content, name):
    root = ET.fromstring(content)
    return next(found for found in root.iter(f"{SVG}g") if found.get("id") == name)


def points_of(element):
    return np.array([[float(part) for part in pair.split(",")] for pair in element.get("points").split()])


# --- SVG ---


def test_svg_is_as_large_as_it_says_and_one_unit_is_a_millimetre(answer):
    root = ET.fromstring(write(answer, "svg"))
    width, height = (float(root.get(key).removesuffix("mm")) for key in ("width", "height"))
    assert [float(part) for part in root.get("viewBox").split()] == [0.0, 0.0, width, height]
    for element in root.iter():
        if element.get("points"):
            points = points_of(element)
            assert points.min() >= 0.0
            assert points[:, 0].max() <= width
            assert points[:, 1].max() <= height


@pytest.mark.parametrize(("layer", "which"), [("bare-wood", "bare_hull"), ("finished-skin", "hull")])
def test_svg_outlines_have_the_bodys_own_sizes(answer, layer, which):
    hull, content = getattr(answer.lure, which), write(answer, "svg")
    for view in ("side", "top"):
        outline = points_of(group(content, f"{view}-{layer}")[0])
        drawn = 1e3 * profile(hull, view)
        assert np.ptp(outline, axis=0) == pytest.approx(np.ptp(drawn, axis=0), abs=0.01)
        assert Polygon(outline).area == pytest.approx(Polygon(drawn).area, rel=1e-5)


def test_svg_views_stand_nose_over_nose_and_back_up(answer):
    content = write(answer, "svg")
    side, top = (points_of(group(content, f"{view}-bare-wood")[0]) for view in ("side", "top"))
    assert side[:, 0].min() == pytest.approx(top[:, 0].min(), abs=1e-3)
    wood = answer.lure.bare_hull
    x = 1e3 * np.linspace(wood.start, wood.stop, 50)[5:-5]
    back = 1e3 * wood.back(1e-3 * x)
    nose = side[np.argmin(side[:, 0])]
    first_half = side[: len(side) // 2]
    assert nose[1] - np.interp(x - 1e3 * wood.start + nose[0], *first_half.T) == pytest.approx(
        back - 500.0 * float(wood.back(np.array([wood.start]))[0] + wood.belly(np.array([wood.start]))[0]), abs=0.2
    )


def test_svg_sections_have_their_area(jointed):
    content = write(jointed, "svg")
    outline = points_of(group(content, "section-B-bare-wood")[0])
    drawn = next(view for view in views(jointed, Shop.METRIC) if view.name == "section-B")
    station = 1e-3 * float(drawn.words.split(", ")[1].split(" mm")[0])
    assert Polygon(outline).area == pytest.approx(1e6 * section(jointed.lure.bare_hull, station).area, rel=2e-3)


def test_svg_has_layers_as_groups_and_no_hatching(answer):
    content = write(answer, "svg")
    names = {found.get("id") for found in ET.fromstring(content).iter(f"{SVG}g")}
    assert {"side", "top", "side-bare-wood", "side-finished-skin", "side-centre-lines", "top-bare-wood"} <= names
    assert not any("hatching" in name for name in names)
    assert len(names) == len(list(ET.fromstring(content).iter(f"{SVG}g")))


def test_svg_carries_the_plates_flat(answer):
    content = write(answer, "svg")
    for name, plate in (("lip", answer.design.lip), ("fin", answer.design.fin)):
        if plate is None:
            with pytest.raises(StopIteration):
                group(content, name)
            continue
        outline = points_of(group(content, f"{name}-bare-wood")[0])
        if name == "lip":
            assert np.ptp(outline, axis=0) == pytest.approx(
                [1e3 * (plate.exposed + plate.set_in), 1e3 * plate.width], abs=0.001)  # fmt: skip
        else:
            area = plate.length * plate.tall * plate.fill + 0.5 * plate.tall * plate.set_in
            assert Polygon(outline).is_valid
            assert Polygon(outline).area == pytest.approx(1e6 * area, rel=1e-6)


def test_views_do_not_lie_over_each_other(answer):
    places, (width, height) = placed(views(answer, Shop.METRIC))
    boxes = []
    for place in places:
        left, bottom, right, top = place.view.box
        x, y = place.shift
        boxes.append((left + x, bottom + y, right + x, top + y))
        assert boxes[-1][0] > 0.0
        assert boxes[-1][1] > 0.0
        assert boxes[-1][2] < width
        assert boxes[-1][3] < height
    for number, one in enumerate(boxes):
        for other in boxes[number + 1 :]:
            assert one[2] < other[0] or other[2] < one[0] or one[3] < other[1] or other[3] < one[1]


def test_words_of_a_maker_are_kept_as_words():
    drawn = View("side", "5 < 6 & 'bites'", views(check(load(EXAMPLES / "diver.toml")), Shop.METRIC)[0].strokes)
    content = svg([drawn, drawn], "a <b> & c")
    assert next(found.text for found in ET.fromstring(content).iter(f"{SVG}text")) == "5 < 6 & 'bites'"
    assert next(ET.fromstring(content).iter(f"{SVG}title")).text == "a <b> & c"


# --- DXF ---


@pytest.fixture(scope="module")
def drawing(answer):
    return ezdxf.read(io.StringIO(write(answer, "dxf").decode()))


def test_dxf_says_millimetres_and_names_its_layers(drawing):
    assert drawing.header["$INSUNITS"] == 4
    assert drawing.header["$MEASUREMENT"] == 1
    assert {"bare-wood", "finished-skin", "centre-lines", "hidden"} <= {layer.dxf.name for layer in drawing.layers}
    assert not drawing.audit().errors
    used = {entity.dxf.layer for entity in drawing.modelspace()}
    assert used <= {*LAYERS.values(), "words"}


def test_dxf_outlines_have_the_bodys_own_sizes(drawing, answer):
    outlines = [np.array(entity.get_points("xy")) for entity in drawing.modelspace().query("LWPOLYLINE")
                if entity.dxf.layer == "bare-wood" and entity.closed]  # fmt: skip
    longest = sorted(outlines, key=lambda outline: -np.ptp(outline[:, 0]))[:2]
    for view in ("side", "top"):
        drawn = 1e3 * profile(answer.lure.bare_hull, view)
        close = [outline for outline in longest if np.abs(np.ptp(outline, axis=0) - np.ptp(drawn, axis=0)).max() < 1e-3]
        assert [Polygon(outline).area for outline in close] == pytest.approx([Polygon(drawn).area], rel=1e-6)


def test_dxf_bores_are_circles_of_their_bit(drawing, answer):
    radii = sorted(round(circle.dxf.radius, 6) for circle in drawing.modelspace().query("CIRCLE"))
    for hole in papers(answer).holes:
        if hole.face in ("belly", "back"):
            assert round(500.0 * hole.pocket.bore, 6) in radii


def test_dxf_without_its_writer_is_refused_with_what_to_install(answer, monkeypatch):
    def missing(name):
        raise ImportError(name)

    monkeypatch.setattr(importlib, "import_module", missing)
    with pytest.raises(Refusal, match=r'pip install "gudgeon\[dxf\]"'):
        write(answer, "dxf")


# --- STL and 3MF ---


def expected_bare(answer):
    """Each piece's volume [m3] by quadrature, before any bore or slot."""
    wood = wood_of(answer, finished=False)
    edges = [wood.hull.start]
    for at, shape in wood.joints:
        edges += [at - 0.5 * shape.gap, at + 0.5 * shape.gap]
    edges.append(wood.hull.stop)
    taken = removals(wood.hull, [(at, shape.gap, face) for at, shape in wood.joints
                                 for face in (shape.front, shape.rear)])  # fmt: skip
    ends = [[], *[[one] for one in taken], []]
    return [portion(wood.hull, start, stop).volume - sum(one.volume for one in ends[2 * place] + ends[2 * place + 1])
            for place, (start, stop) in enumerate(zip(edges[::2], edges[1::2], strict=True))]  # fmt: skip


def bored_away(answer, place, *, finished):
    """What bores and slots take of one piece [m3], each by the solid it is cut with, between two independent sums."""
    wood = wood_of(answer, finished=finished)
    plain = segment_solids(wood.hull, wood.joints)[place].volume
    return plain - segment_solids(wood.hull, wood.joints, wood.bores, wood.slots)[place].volume


def objects(content):
    """Name and mesh of each object in a 3MF, by its own XML."""
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        assert package.testzip() is None
        model = ET.fromstring(package.read("3D/3dmodel.model"))
    assert model.get("unit") == "millimeter"
    found = {}
    for one in model.iter(f"{CORE}object"):
        vertices = [[float(v.get(axis)) for axis in "xyz"] for v in one.iter(f"{CORE}vertex")]
        faces = [[int(t.get(key)) for key in ("v1", "v2", "v3")] for t in one.iter(f"{CORE}triangle")]
        found[one.get("name")] = trimesh.Trimesh(vertices, faces, process=False)
    assert len(list(model.iter(f"{CORE}item"))) == len(found)
    return found


def test_3mf_has_a_closed_object_for_each_piece_with_its_volume(answer):
    meshes = objects(write(answer, "3mf"))
    assert list(meshes) == [segment.name for segment in answer.lure.segments]
    for place, (mesh, whole) in enumerate(zip(meshes.values(), expected_bare(answer), strict=True)):
        assert mesh.is_watertight
        assert mesh.is_winding_consistent
        left = whole - bored_away(answer, place, finished=False)
        assert mesh.volume == pytest.approx(1e9 * left, rel=2e-3)


def test_3mf_at_finished_size_has_the_ledgers_volume(answer):
    meshes = objects(write(answer, "3mf", finished=True))
    for place, (mesh, segment) in enumerate(zip(meshes.values(), answer.lure.segments, strict=True)):
        left = segment.outside - bored_away(answer, place, finished=True)
        assert mesh.volume == pytest.approx(1e9 * left, rel=2e-3)


def taken_by_points(answer, place):
    """What is cut from one piece of bare wood [m3], by points strewn in every hole and slot: no solid is asked."""
    wood = wood_of(answer, finished=False)
    piece = wood_pieces(wood.hull, wood.joints)[place]
    shapes = [Rod(tuple(np.array(bore.mouth) - min(bore.proud, 0.02) * np.array(bore.inward)),
                  tuple(np.array(bore.mouth) + bore.depth * np.array(bore.inward)), 0.5 * bore.diameter)
              for bore in wood.bores if bore.piece in (None, place)]  # fmt: skip
    shapes += [_within(piece, Box(slot.centre, tuple(0.5 * size for size in slot.size), slot.tilt))
               for slot in wood.slots if slot.piece in (None, place)]  # fmt: skip
    strewn, total = Halton(3, scramble=False).random(8000), 0.0
    for shape in shapes:
        points = _strewn(shape, strewn)
        kept = points[piece.holds(points)]
        if len(kept):
            shared = sum(_inside(other, kept).astype(float) for other in shapes)
            total += _volume(shape) * float((1.0 / shared).sum()) / len(points)
    return total


def _within(piece, box):
    """A level box no further out than its piece may reach, so that points are not strewn where there is no wood."""
    if box.tilt:
        return box
    hull = piece.hull
    wide = float(hull.side(np.linspace(hull.start, hull.stop, 201)).max())
    ahead = hull.start if piece.ahead is None else piece.ahead[0] - 2.0 * wide
    behind = hull.stop if piece.behind is None else piece.behind[0] + 2.0 * wide
    low = np.maximum(np.array(box.middle) - box.halves, [ahead, -wide, -1.0])
    high = np.minimum(np.array(box.middle) + box.halves, [behind, wide, 1.0])
    if (high <= low).any():
        return box
    return Box(tuple(0.5 * (low + high)), tuple(0.5 * (high - low)))


def _strewn(shape, shares):
    if isinstance(shape, Box):
        return shape.centre + ((2.0 * shares - 1.0) * np.array(shape.halves)) @ shape.axes
    out, turn = shape.radius * np.sqrt(shares[:, 1]), 2.0 * math.pi * shares[:, 2]
    local = np.stack([(2.0 * shares[:, 0] - 1.0) * shape.halves[0], out * np.cos(turn), out * np.sin(turn)], axis=1)
    return shape.centre + local @ shape.axes


def _inside(shape, points):
    local = (points - shape.centre) @ shape.axes.T
    if isinstance(shape, Box):
        return (np.abs(local) <= np.array(shape.halves) + 1e-9).all(axis=1)
    return (np.abs(local[:, 0]) <= shape.halves[0] + 1e-9) & (np.hypot(local[:, 1], local[:, 2]) <= shape.radius + 1e-9)


def _volume(shape):
    if isinstance(shape, Box):
        return 8.0 * math.prod(shape.halves)
    return 2.0 * shape.halves[0] * math.pi * shape.radius**2


def ledgers_bare_wood(answer):
    """Each piece's [m3] as the ledger counts it: finished volume less a coat over the skin it has, measured here."""
    joints = [(joint.at, joint_shape(joint, answer.lure.hull)) for joint in answer.design.joints]
    solids = segment_solids(answer.lure.hull, joints, stations=161, points=96)
    skins = [trimesh.Trimesh(*solid.triangles(), process=False).area for solid in solids]
    return [segment.outside - skin * answer.lure.build
            for segment, skin in zip(answer.lure.segments, skins, strict=True)]  # fmt: skip


def test_solids_hold_the_ledgers_bare_wood_less_every_hole_and_slot(answer):
    meshes, wood = objects(write(answer, "3mf")), ledgers_bare_wood(answer)
    gone = [taken_by_points(answer, place) for place in range(len(wood))]
    for mesh, whole, taken, by_quadrature in zip(meshes.values(), wood, gone, expected_bare(answer), strict=True):
        assert taken > 0.03 * whole  # left out, they would show
        assert 1e-9 * mesh.volume == pytest.approx(by_quadrature - taken, rel=2e-3)
        assert 1e-9 * mesh.volume == pytest.approx(whole - taken, rel=5e-3)  # a small piece's coats are not thin
    assert 1e-9 * sum(mesh.volume for mesh in meshes.values()) == pytest.approx(sum(wood) - sum(gone), rel=2e-3)


def test_every_hole_of_the_ledgers_hinges_is_cut(jointed):
    """Of each hinge, each of its cutouts: one bore or slot in the same piece with the same inner end."""
    wood = wood_of(jointed, finished=False)
    cutouts = hinging(jointed.design, jointed.lure).cutouts
    assert len(cutouts) == 15
    for cutout in cutouts:
        if cutout.kind == "bore":
            ends = [np.array(bore.mouth) + bore.depth * np.array(bore.inward) for bore in wood.bores
                    if bore.piece == cutout.piece and bore.diameter == pytest.approx(cutout.wide)]  # fmt: skip
        else:
            own = [slot for slot in wood.slots if slot.piece == cutout.piece]
            ends = [np.array(slot.centre) + 0.5 * slot.size[0] * np.array(cutout.inward) for slot in own
                    if slot.size[1:] == pytest.approx((cutout.wide, cutout.tall))]  # fmt: skip
        assert min(np.linalg.norm(end - np.array(cutout.end)) for end in ends) < 1e-9, cutout.name


FACES = [("vee", "front"), ("knuckle", "front"), ("knuckle", "rear"), ("tongue", "front"), ("tongue", "rear")]
KINDS = ["plate and pin", "wire eye and pin", "eyes on a pin", "screw eyes", "strap"]


def faced(face, carries, kind, harness=""):
    """The demo with other joints and hinges, and a harness through it."""
    pivot = -5.0 if face != "vee" and carries == "front" else 5.0
    text = (EXAMPLES / "lanternmere.toml").read_text(encoding="utf-8")
    keep = 'pivot = "4 mm"                   # aft of the middle of the gap: the pin stands in the piece behind'
    other = f'face = "{face}"\ncarries = "{carries}"'
    text = text.replace(keep, other if face == "knuckle" else f'{other}\npivot = "{pivot} mm"')
    text = text.replace('kind = "eyes on a pin"', f'kind = "{kind}"')
    return check(parse(text + harness))


HARNESSES = [
    "", '\n[harness]\nwire = "1.6 mm"\nheight = "2 mm"\n',
    '\n[harness]\nwire = "1.3 mm"\ntwisted = true\nruns = "slot from the belly"\n',
]  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(("face", "carries"), FACES)
def test_solids_close_whatever_the_joints_hinges_and_harness(face, carries, kind):
    turn = (KINDS.index(kind) + FACES.index((face, carries))) % 3
    answer = faced(face, carries, kind, HARNESSES[turn])
    mesh = trimesh.load(io.BytesIO(write(answer, "stl")), file_type="stl")
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    meshes, wood = objects(write(answer, "3mf")), expected_bare(answer)
    for place, (one, whole) in enumerate(zip(meshes.values(), wood, strict=True)):
        assert one.is_watertight
        assert 1e-9 * one.volume == pytest.approx(whole - taken_by_points(answer, place), rel=2e-3)


def test_stl_holds_all_pieces_closed_and_in_millimetres(answer):
    content = write(answer, "stl")
    mesh = trimesh.load(io.BytesIO(content), file_type="stl")
    assert mesh.is_watertight
    parts = mesh.split()
    assert len(parts) == len(answer.lure.segments)
    total = sum(expected_bare(answer)) - sum(bored_away(answer, place, finished=False) for place in range(len(parts)))
    assert mesh.volume == pytest.approx(1e9 * total, rel=2e-3)
    wood = answer.lure.bare_hull
    assert mesh.bounds[:, 0] == pytest.approx([1e3 * wood.start, 1e3 * wood.stop], abs=1e-3)
    assert len(content) == 84 + 50 * len(mesh.faces)


def test_stl_normals_point_outward(jointed):
    content = write(jointed, "stl", piece="tail")
    rows = np.frombuffer(content[84:], dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("unused", "<u2")])
    a, b, c = (rows["corners"][:, corner].astype(float) for corner in range(3))
    across = np.cross(b - a, c - a)
    sizes = np.linalg.norm(across, axis=1)
    large = sizes > 1e-3
    turned = np.einsum("ij,ij->i", across[large] / sizes[large, None], rows["normal"][large])
    assert turned.min() > 0.999


def test_one_piece_alone_lies_where_it_lies_in_the_lure(jointed):
    meshes = objects(write(jointed, "3mf", piece="waist"))
    assert list(meshes) == ["waist"]
    waist = jointed.lure.segments[2]
    low, high = (float(bound) for bound in meshes["waist"].bounds[:, 0])
    build = 1e3 * jointed.lure.build
    assert low == pytest.approx(1e3 * waist.start + build, abs=0.05)
    assert high == pytest.approx(1e3 * waist.stop - build, abs=0.05)


def test_the_same_lure_gives_the_same_bytes(jointed):
    assert write(jointed, "3mf") == write(jointed, "3mf")
    assert write(jointed, "stl") == write(jointed, "stl")
    assert write(jointed, "svg") == write(jointed, "svg")


# --- what is asked for ---


@pytest.mark.parametrize(
    ("name", "kind"), [("a.stl", "stl"), ("A.STEP", "step"), ("a.stp", "step"), ("a.b.3mf", "3mf")]
)
def test_a_files_ending_says_what_it_is(name, kind):
    assert kind_of(name) == kind


@pytest.mark.parametrize("name", ["a.obj", "stl", "a.", ".svg"])
def test_an_ending_that_says_nothing_is_refused(name):
    with pytest.raises(Refusal, match=r"end it in \.stl"):
        kind_of(name)


def test_a_piece_that_is_not_there_is_refused_with_those_that_are(jointed):
    with pytest.raises(Refusal, match="the pieces are head, shoulder, waist, tail"):
        write(jointed, "stl", piece="neck")


def test_a_drawing_of_bare_wood_has_no_finished_solid():
    text = (EXAMPLES / "diver.toml").read_text().replace("[outline]", '[outline]\ndrawn = "bare wood"')
    answer = check(parse(text))
    with pytest.raises(Refusal, match="no finished skin"):
        write(answer, "stl", finished=True)
    assert write(answer, "stl")


def turns_round(mesh, point):
    """How often a surface goes round a point: the solid angle of every triangle seen from it, over that of a sphere."""
    a, b, c = (mesh.triangles[:, corner] - point for corner in range(3))
    lengths = [np.linalg.norm(side, axis=1) for side in (a, b, c)]
    top = np.einsum("ij,ij->i", a, np.cross(b, c))
    dots = [np.einsum("ij,ij->i", *pair) for pair in ((a, b), (b, c), (c, a))]
    bottom = math.prod(lengths) + dots[0] * lengths[2] + dots[1] * lengths[0] + dots[2] * lengths[1]
    return float(2.0 * np.arctan2(top, bottom).sum() / (4.0 * math.pi))


def test_a_lips_slot_is_where_the_lip_is():
    answer = check(load(EXAMPLES / "diver.toml"))
    mesh, lip = next(iter(objects(write(answer, "3mf")).values())), answer.design.lip
    inside = [1e3 * lip.at + 6.0 * math.cos(lip.angle), 0.0, 1e3 * lip.height + 6.0 * math.sin(lip.angle)]
    down = np.array([math.sin(lip.angle), 0.0, -math.cos(lip.angle)])
    probes = np.array([inside + shift * down for shift in (-1.0, 1.0, 3.0)])
    assert [round(turns_round(mesh, probe)) for probe in probes] == [1, 0, 1]


def test_rings_are_told_from_other_outlines(jointed):
    rings = [round_of(stroke) for view in views(jointed, Shop.METRIC) for stroke in view.kept]
    found = {round(ring[1], 6) for ring in rings if ring is not None}
    bores = {round(500.0 * hole.pocket.bore, 6) for hole in papers(jointed).holes}
    assert bores <= found
    assert max(found) == max(bores)
