"""Outlines out of SVG and DXF: our own exports come back, what SVG's letters draw is so, hostile files are refused."""

import gzip
import io
import math
import time

import ezdxf
import numpy as np
import pytest
from shapely.geometry import Point, Polygon

from gudgeon.answers.check import check
from gudgeon.answers.drawn_lines import outlines_in
from gudgeon.answers.dxf_reading import dxf_lines
from gudgeon.answers.finding import Gravity
from gudgeon.answers.svg_reading import svg_drawing
from gudgeon.answers.traced_drawing import WITHIN_DRAWING, Wanted, is_drawing, traced_drawing
from gudgeon.design.file import load
from gudgeon.errors import Refusal
from gudgeon.physics.outline import DrawnCurve
from gudgeon.report.exchange import exported
from gudgeon.report.rows import Shop

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">'


def svg(body, head=HEAD):
    return f"{head}{body}</svg>".encode()


def outline(body, **more):
    """The one closed outline of a drawing as a polygon in millimetres, y down from its upper edge."""
    (line,) = outlines_in(svg_drawing(svg(body, **more)).lines)
    return Polygon(line.points * [1e3, -1e3])


@pytest.fixture(scope="module", params=["diver", "lanternmere"])
def lure(request):
    answer = check(load(f"examples/{request.param}.toml"))
    files = {kind: exported(answer, kind, stamp="x", finished=False, piece="", shop=Shop.METRIC).content
             for kind in ("svg", "dxf")}  # fmt: skip
    return answer.lure, files


@pytest.mark.parametrize("kind", ["svg", "dxf"])
def test_our_own_drawings_come_back(lure, kind):
    made, files = lure
    found = traced_drawing(files[kind], Wanted())
    hull, profile = made.hull, found.profile
    assert found.length.value == pytest.approx(hull.length, abs=1e-5)
    place = profile.stations * hull.length / profile.length
    assert np.abs(profile.back - hull.back(place)).max() < 1e-4
    assert np.abs(profile.belly + hull.belly(place)).max() < 1e-4
    assert found.drawn.departure <= WITHIN_DRAWING
    for points, true in ((found.drawn.back, hull.back), (found.drawn.belly, hull.belly)):
        curve = DrawnCurve(*np.array(points).T, found.drawn.length, nose=found.drawn.nose, tail=found.drawn.tail)
        inner = np.linspace(0.05, 0.95, 200) * hull.length
        assert np.abs(np.abs(curve(inner)) - np.abs(true(inner))).max() < 2e-4


def test_our_own_drawing_gives_the_view_from_above_by_its_name(lure):
    made, files = lure
    found = traced_drawing(files["svg"], Wanted(from_above=True))
    place = found.profile.stations * made.hull.length / found.profile.length
    assert np.abs(found.profile.back - made.hull.side(place)).max() < 1e-4


def test_another_outline_is_had_by_number_or_name(lure):
    made, files = lure
    named = traced_drawing(files["svg"], Wanted(line="side-bare-wood"))
    assert named.length.value == pytest.approx(made.bare_hull.length, abs=1e-5)
    assert traced_drawing(files["dxf"], Wanted(line="2")).length.value == pytest.approx(made.bare_hull.length, abs=1e-5)
    with pytest.raises(Refusal, match=r"no closed outline is called 'keel'\. They are: 1 side-finished-skin"):
        traced_drawing(files["svg"], Wanted(line="keel"))


EGG = "M10 50C10 20 60 10 110 20S190 45 190 50Q150 95 90 90T10 50Z"


def test_a_nose_to_the_right_and_a_belly_above():
    left = traced_drawing(svg(f'<path d="{EGG}"/>'), Wanted())
    right = traced_drawing(svg(f'<path d="{EGG}" transform="translate(200 0) scale(-1 1)"/>'), Wanted(nose_right=True))
    over = traced_drawing(svg(f'<path d="{EGG}" transform="translate(0 100) scale(1 -1)"/>'), Wanted(belly_up=True))
    for other in (right, over):
        assert other.length.value == pytest.approx(left.length.value, rel=1e-6)
        assert other.profile.back == pytest.approx(left.profile.back, abs=2e-5)


# --- what SVG draws ---------------------------------------------------------------------------------------------------


def test_shapes_have_the_areas_they_must():
    assert outline('<rect x="10" y="20" width="30" height="40"/>').area == pytest.approx(1200.0)
    round_corners = 1200.0 - (4.0 - math.pi) * 3.0 * 5.0
    rounded = outline('<rect x="1" y="2" width="30" height="40" rx="3" ry="5"/>')
    assert rounded.area == pytest.approx(round_corners, rel=1e-4)
    assert outline('<circle cx="50" cy="50" r="20"/>').area == pytest.approx(400.0 * math.pi, rel=1e-4)
    assert outline('<ellipse cx="50" cy="50" rx="40" ry="10"/>').area == pytest.approx(400.0 * math.pi, rel=1e-4)
    assert outline('<polygon points="0,0 10,0 10,10"/>').area == pytest.approx(50.0)
    assert outline('<polyline points="0 0,10 0,10 10 0 0"/>').area == pytest.approx(50.0)


@pytest.mark.source("W3C, Scalable Vector Graphics (SVG) 2", where="9.3, path data, and B.2, arcs (from memory)")
@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("M10,10L30,10L30,40L10,40Z", "m10 10h20v30H10z"),
        ("M10-20.5.5.25L9 9z", "M10 -20.5 L0.5 0.25 L9 9 Z"),
        ("M0 0C0 10 10 10 10 0S20 -10 20 0L20 20L0 20Z", "M0 0C0 10 10 10 10 0C10 -10 20 -10 20 0v20h-20z"),
        ("M0 0Q5 10 10 0T20 0L20 30H0Z", "M0 0C3.33333333 6.66666667 6.66666667 6.66666667 10 0"
         "c3.33333333 -6.66666667 6.66666667 -6.66666667 10 0v30h-20z"),
        ("M20 10A10 10 0 0 1 40 10Z", "M20 10a10 10 0 0110 -10a10 10 0 0110 10z"),
        ("M20 10A5 5 0 0 1 40 10Z", "M20 10A10 10 0 0 1 40 10Z"),  # radii that do not reach are grown
        ("M0 0 10 0 10 10Z", "M0 0L10 0L10 10Z"),
        ("m10 10 5 0 0 5z m20 0", "M10 10h5v5z"),
        ("M0 0T10 0 20 20Z", "M0 0L10 0C16.6666667 0 20 6.6666667 20 20Z"),
    ],
)  # fmt: skip
def test_letters_that_draw_the_same(one, other):
    first, second = (outline(f'<g transform="translate(50 50)"><path d="{words}"/></g>') for words in (one, other))
    assert first.symmetric_difference(second).area < 2e-3 * max(first.area, 1.0)


@pytest.mark.parametrize(("large", "sweep"), [(0, 0), (0, 1), (1, 0), (1, 1)])
def test_arcs_go_the_way_their_flags_say(large, sweep):
    """A chord of 60 degrees cuts a circle of 10 into 9.06 and the rest; a positive sweep goes clockwise, y down."""
    found = outline(f'<path d="M50 50A10 10 0 {large} {sweep} 60 50Z"/>')
    small = 100.0 * (math.pi / 6.0 - math.sqrt(3.0) / 4.0)
    assert found.area == pytest.approx(100.0 * math.pi - small if large else small, rel=1e-3)
    middle = Point(55.0, 50.0 + math.sqrt(75.0) * (1.0 if large != sweep else -1.0))
    from_middle = [Point(corner).distance(middle) for corner in found.exterior.coords]
    assert from_middle == pytest.approx([10.0] * len(from_middle), abs=1e-4)
    assert (found.centroid.y < 50.0) == bool(sweep)


@pytest.mark.source("W3C, Scalable Vector Graphics (SVG) 2", where="8.5, the transform property (from memory)")
@pytest.mark.parametrize(
    ("transform", "corners"),
    [
        ("translate(5,6)", [(5, 6), (15, 6), (15, 26), (5, 26)]),
        ("translate(5)", [(5, 0), (15, 0), (15, 20), (5, 20)]),
        ("scale(2 3)", [(0, 0), (20, 0), (20, 60), (0, 60)]), ("scale(2)", [(0, 0), (20, 0), (20, 40), (0, 40)]),
        ("rotate(90)", [(0, 0), (0, 10), (-20, 10), (-20, 0)]),
        ("rotate(90 10 0)", [(10, -10), (10, 0), (-10, 0), (-10, -10)]),
        ("skewX(45)", [(0, 0), (10, 0), (30, 20), (20, 20)]), ("skewY(45)", [(0, 0), (10, 10), (10, 30), (0, 20)]),
        ("matrix(1 0 0 1 7 8)", [(7, 8), (17, 8), (17, 28), (7, 28)]),
        ("translate(10 0) scale(2), rotate(90)", [(10, 0), (10, 20), (-30, 20), (-30, 0)]),
    ],
)  # fmt: skip
def test_transforms_move_what_they_hold(transform, corners):
    found = outline(f'<g transform="{transform}"><rect width="10" height="20"/></g>')
    assert found.symmetric_difference(Polygon(corners)).area < 1e-3


@pytest.mark.parametrize(
    ("head", "millimetres", "sized"),
    [
        ('width="200mm" height="100mm" viewBox="0 0 400 200"', 0.5, True),
        ('width="4in" viewBox="0 0 96 48"', 25.4 / 24.0, True),
        ('width="20cm" height="10cm" viewBox="0 0 100 50"', 2.0, True),
        ('width="72pt" height="72pt" viewBox="10 20 72 72"', 25.4 / 72.0, True),
        ('width="96" height="96"', 25.4 / 96.0, False), ('width="100%" viewBox="0 0 10 10"', 25.4 / 96.0, False),
        ('viewBox="0 0 10 10"', 25.4 / 96.0, False), ('width="960px" viewBox="0 0 96 96"', 254.0 / 96.0, False),
        ('width="100mm" height="300mm" viewBox="0 0 100 100"', 1.0, True),
    ],
)  # fmt: skip
def test_a_drawing_is_as_large_as_it_says(head, millimetres, sized):
    content = svg('<rect width="10" height="20"/>', head=f'<svg xmlns="http://www.w3.org/2000/svg" {head}>')
    drawing = svg_drawing(content)
    assert drawing.sized is sized
    assert outlines_in(drawing.lines)[0].size == pytest.approx((0.010 * millimetres, 0.020 * millimetres))
    told = " ".join(one.words for one in traced_drawing(content, Wanted()).findings if one.gravity >= Gravity.WATCH)
    assert ("does not say its size" in told) is not sized


def test_what_is_not_drawn_is_left_out():
    body = ('<defs><rect width="90" height="90"/></defs><clipPath><rect width="90" height="90"/></clipPath>'
            '<g display="none"><g><rect width="80" height="80"/></g></g><script>alert(1)</script>'
            '<style>rect { width: 3px }</style><g style="display: none"><circle r="40"/></g>'
            '<rect x="5" y="5" width="10" height="20"/>')  # fmt: skip
    assert outline(body).area == pytest.approx(200.0)


def test_pieces_that_meet_are_joined_and_copies_are_told():
    body = '<g id="body"><path d="M10 50L60 20"/><path d="M110 50L60.02 20.03"/><path d="M10 50Q60 90 110 50"/></g>'
    assert outline(body).bounds == pytest.approx((10.0, 20.0, 110.0, 70.0), abs=0.05)
    copied = traced_drawing(svg(f'<use href="#a"/>{body}'), Wanted())
    assert any("by reference" in one.words for one in copied.findings)


def test_a_plain_doctype_is_no_harm():
    head = '<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/svg11.dtd">'
    assert svg_drawing(head.encode() + svg('<circle r="9"/>')).lines


# --- hostile ----------------------------------------------------------------------------------------------------------

LAUGHS = "".join(f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 12))
BAD_SVG = {
    "laughs": f'<!DOCTYPE svg [<!ENTITY a0 "ha">{LAUGHS}]><svg xmlns="http://www.w3.org/2000/svg">&a11;</svg>',
    "a file of this machine": '<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]><svg><text>&x;</text></svg>',
    "an outside list of entities": '<!DOCTYPE svg [<!ENTITY % x SYSTEM "http://127.0.0.1:9/x.dtd"> %x;]><svg/>',
    "cut short": svg(f'<path d="{EGG}"/>').decode()[:-20], "no drawing": "<html><body/></html>", "no XML": "M0 0 L9 9",
    "empty": "", "deep": "<svg>" + "<g>" * 5000 + "</g>" * 5000 + "</svg>",
    "many": "<svg>" + '<path d="M0 0L9 9"/>' * 50_001 + "</svg>",
    "a path of rubbish": '<svg><path d="M0 0 L 1e999 3"/></svg>',
    "words in a path": '<svg><path d="M0 0 L a b"/></svg>',
    "numbers missing": '<svg><path d="M0 0 C 1 2 3"/></svg>', "no number": '<svg><circle r="nan"/></svg>',
    "far away": '<svg><g transform="scale(1e6)"><g transform="scale(1e6)"><rect width="9" height="9"/></g></g></svg>',
    "flattened to nothing": '<svg><g transform="scale(0)"><rect width="9" height="9"/></g></svg>',
    "a bad transform": '<svg><g transform="scale(1 2 3)"/></svg>',
    "a transform of words": '<svg><g transform="run()"/></svg>',
    "open": '<svg><path d="M0 0L10 0L10 10"/></svg>', "no lines": '<svg width="3mm"></svg>',
    "an endless path": f'<svg><path d="M0 0{"h1" * 100_001}"/></svg>',
    "many numbers": f'<svg><polygon points="{"1 2 " * 100_001}"/></svg>',
}  # fmt: skip


@pytest.mark.parametrize("name", BAD_SVG)
def test_a_hostile_or_broken_svg_is_refused_at_once(name):
    begun = time.monotonic()
    with pytest.raises(Refusal, match="the drawing"):
        outlines_in(svg_drawing(BAD_SVG[name].encode()).lines)
    assert time.monotonic() - begun < 10.0


def test_packed_and_large_files_are_refused():
    with pytest.raises(Refusal, match="packed"):
        svg_drawing(gzip.compress(svg("")))
    with pytest.raises(Refusal, match="larger than 10 MB"):
        svg_drawing(svg("<!--" + "x" * 10_000_001 + "-->"))


def dxf(draw, units=4):
    document = ezdxf.new("R2010")
    document.units = units
    draw(document)
    held = io.StringIO()
    document.write(held)
    return held.getvalue().encode()


@pytest.mark.parametrize(("units", "millimetres"), [(4, 1.0), (1, 25.4), (5, 10.0), (0, 1.0)])
def test_a_dxf_is_as_large_as_it_says(units, millimetres):
    lines, sized = dxf_lines(dxf(lambda document: document.modelspace().add_circle((3, 4), 5), units))
    assert sized is (units != 0)
    assert outlines_in(lines)[0].size == pytest.approx((1e-2 * millimetres, 1e-2 * millimetres), rel=2e-3)


def test_a_dxf_in_pieces_is_joined():
    def draw(document):
        space = document.modelspace()
        space.add_line((0, 0), (40, 0), dxfattribs={"layer": "body"})
        space.add_arc((40, 10), 10, 270, 90, dxfattribs={"layer": "body"})
        space.add_line((0, 20), (40, 20), dxfattribs={"layer": "body"})
        space.add_arc((0, 10), 10, 90, 270, dxfattribs={"layer": "body"})
        space.add_text("not a line")

    found = traced_drawing(dxf(draw), Wanted())
    assert found.length.value == pytest.approx(0.060, abs=2e-5)
    assert found.area.value == pytest.approx((800.0 + 100.0 * math.pi) * 1e-6, rel=2e-3)


def nested(document):
    """Blocks of ten blocks of ten blocks: ten million circles."""
    for depth in range(8):
        block = document.blocks.new(f"b{depth}")
        for number in range(10):
            if depth == 0:
                block.add_circle((number, 0), 5)
            else:
                block.add_blockref(f"b{depth - 1}", (number, 0))
    document.modelspace().add_blockref("b7", (0, 0))


def test_a_hostile_or_broken_dxf_is_refused():
    good = dxf(lambda document: document.modelspace().add_circle((0, 0), 5))
    for content in (good[: len(good) // 2], b"AutoCAD Binary DXF\r\n\x1a\x00", b"", dxf(nested),
                    b"0\nSECTION\n2\nENTITIES\n0\nLINE\n10\nx\n", b"\xff\xfe\x00SECTION\x00",
                    dxf(lambda document: None)):  # fmt: skip
        begun = time.monotonic()
        with pytest.raises(Refusal, match="the drawing"):
            outlines_in(dxf_lines(content)[0])
        assert time.monotonic() - begun < 20.0


def test_drawings_are_told_from_pictures():
    assert is_drawing(b"\xef\xbb\xbf  <svg/>")
    assert is_drawing(b"  0\nSECTION\n")
    assert not is_drawing(b"\x89PNG\r\n\x1a\n")
    assert not is_drawing(b"")
