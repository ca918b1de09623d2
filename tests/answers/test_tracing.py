"""Pictures of shapes known exactly come back at their size; what spoils a picture is told; what is none is refused."""

import io
import struct
import zlib

import numpy as np
import pytest
from PIL import Image
from scipy import ndimage
from shapely.geometry import Polygon
from tests.answers.drawn_pictures import HIGH, WIDE, Ellipse, coded, covered, pictured, saved

from gudgeon.answers.finding import Gravity
from gudgeon.answers.outline_fit import WITHIN, drawn_outline, profile_of
from gudgeon.answers.picture import MOST_PIXELS, WORKED_ON, picture_of
from gudgeon.answers.tracing import KnownLength, Marks, traced
from gudgeon.answers.woodwork import drawn_hull
from gudgeon.design.file import load
from gudgeon.errors import Refusal
from gudgeon.physics.outline import DrawnCurve
from gudgeon.units import Reading

MM = 0.25e-3  # m along one pixel of every picture here
SHAPE = Ellipse()
RULE = KnownLength(Reading(0.1, 1e-5), (100.0, 400.0), (500.0, 400.0))


@pytest.fixture(scope="module")
def share():
    return covered(SHAPE)


def marks(shape=SHAPE, off=2.5, **more):
    """Marks as a hand sets them: a few pixels off the ends."""
    (x0, y0), (x1, y1) = shape.ends
    return Marks(RULE, (x0 + off, y0 - off), (x1 - off, y1 - off), **more)


def words_of(answer, least=Gravity.WATCH):
    return " ".join(one.words for one in answer.findings if one.gravity >= least)


SEEN = {
    "plain": {}, "noise": {"noise": 0.025}, "blur": {"blur": 2.5}, "dark corners": {"vignette": 0.45},
    "white on black": {"object_": 0.75, "ground": 0.05},
    "pale on grey": {"object_": 0.3, "ground": 0.5, "noise": 0.015}, "soft shadow": {"shadow": 0.4},
    "shadow of a white template": {"object_": 0.75, "ground": 0.1, "shadow": 0.6},
    "deep shadow": {"shadow": 0.6, "shadow_blur": 3.0},
    "all at once": {"shadow": 0.35, "vignette": 0.4, "noise": 0.015},
}  # fmt: skip


@pytest.mark.parametrize("seen", SEEN)
def test_an_ellipse_comes_back_at_its_size(share, seen):
    answer = traced(picture_of(saved(coded(pictured(share, **SEEN[seen])))), marks())
    true = SHAPE.area * MM**2
    assert answer.area.value == pytest.approx(true, rel=0.003)
    assert Polygon(answer.line).area == pytest.approx(SHAPE.area, rel=0.003)
    worst = np.abs(SHAPE.off(answer.line)) * MM
    assert worst.max() < 3e-4
    assert np.percentile(worst, 95) < 2.0 * answer.edge
    assert answer.length.value == pytest.approx(2.0 * SHAPE.halves[0] * MM, abs=3e-4)
    assert answer.depth.value == pytest.approx(2.0 * SHAPE.halves[1] * MM, abs=3e-4)


@pytest.mark.parametrize("seen", ["plain", "all at once"])
def test_the_points_draw_it_within_what_is_said(share, seen):
    drawn = traced(picture_of(saved(coded(pictured(share, **SEEN[seen])))), marks()).drawn
    assert 4 <= len(drawn.back) <= 8
    assert drawn.departure <= WITHIN
    stations = 0.5 * drawn.length * (1.0 - np.cos(np.linspace(0.0, np.pi, 2001)))
    for points in (drawn.back, drawn.belly):
        curve = DrawnCurve(*np.array(points).T, drawn.length, nose=drawn.nose, tail=drawn.tail)
        half, middle = 0.5 * drawn.length, 0.5 * drawn.length
        first, second = half, SHAPE.halves[1] * MM
        x, y = stations - middle, curve(stations)
        level = np.maximum(np.hypot(x / first, y / second), 1e-9)
        off = (level - 1.0) * level / np.hypot(x / first**2, y / second**2)
        assert np.abs(off).max() < 4e-4


def test_a_shadow_is_told_with_its_side(share):
    clear, shaded = (traced(picture_of(saved(coded(pictured(share, **more)))), marks()) for more in
                     ({}, {"shadow": 0.4}))  # fmt: skip
    assert "shadow" not in words_of(clear)
    assert "shadow lies along the belly" in words_of(shaded)
    above = traced(picture_of(saved(coded(pictured(share, shadow=0.4, shadow_at=(4, -10))))), marks())
    assert "shadow lies along the back" in words_of(above)


def test_marks_a_little_off_change_nothing(share):
    picture = picture_of(saved(coded(pictured(share))))
    near, exact = traced(picture, marks(off=5.0)), traced(picture, marks(off=0.0))
    assert near.length.value == pytest.approx(exact.length.value, rel=1e-4)
    assert near.depth.value == pytest.approx(exact.depth.value, rel=1e-4)


def test_a_nose_to_the_right_keeps_its_back_up():
    """An egg, deeper below: the belly stays the belly whichever way the lure looks, and however the picture lies."""
    def egg(x, y):
        below = np.where(y > 200.0, 70.0, 40.0)
        return ((x - 360.0) / 280.0) ** 2 + ((y - 200.0) / below) ** 2 <= 1.0

    light = coded(pictured(covered(egg)))
    rule = KnownLength(RULE.length, (100.0, 390.0), (500.0, 390.0))
    left, right = (traced(picture_of(saved(light)), Marks(rule, *ends)) for ends in
                   (((80.0, 200.0), (640.0, 200.0)), ((640.0, 200.0), (80.0, 200.0))))  # fmt: skip
    over = traced(picture_of(saved(light)), Marks(rule, (80.0, 200.0), (640.0, 200.0), belly_up=True))
    for answer in (left, right):
        assert answer.profile.back.max() == pytest.approx(40.0 * MM, abs=3e-4)
        assert answer.profile.belly.max() == pytest.approx(70.0 * MM, abs=3e-4)
    assert over.profile.back.max() == pytest.approx(70.0 * MM, abs=3e-4)


def test_a_drawn_line_is_followed_along_its_middle():
    outer, inner = Ellipse(halves=(281.5, 63.5)), Ellipse(halves=(278.5, 60.5))
    share = covered(lambda x, y: outer(x, y) & ~inner(x, y))
    answer = traced(picture_of(saved(coded(pictured(share, blur=0.8, vignette=0.2)))), marks())
    assert answer.area.value == pytest.approx(SHAPE.area * MM**2, rel=0.003)
    assert np.abs(SHAPE.off(answer.line)).max() * MM < 3e-4
    assert "drawn line" in words_of(answer, Gravity.NOTE)


def test_a_tail_marked_inside_cuts_the_outline_off_there(share):
    cut = Marks(RULE, SHAPE.ends[0], (SHAPE.middle[0] + 150.0, SHAPE.middle[1] + 8.0))
    answer = traced(picture_of(saved(coded(pictured(share)))), cut)
    assert answer.profile.tail == "flat"
    assert answer.length.value == pytest.approx(430.0 * MM, abs=4e-4)
    assert answer.drawn.back[-1][1] == pytest.approx(62.0 * MM * np.sqrt(1 - (150 / 280) ** 2), abs=4e-4)
    assert "left out" in words_of(answer, Gravity.NOTE)


def test_other_things_in_the_picture_are_left_out(share):
    light = pictured(share)
    light[360:400, 60:640] = 0.05  # a rule
    light[20:60, 600:690] = 0.02
    answer = traced(picture_of(saved(coded(light))), marks())
    assert answer.area.value == pytest.approx(SHAPE.area * MM**2, rel=0.003)


def test_a_painted_eye_and_a_pale_belly_do_not_move_the_edge(share):
    light = pictured(share, ground=0.8, noise=0.0, blur=0.01)
    y, x = np.mgrid[0:HIGH, 0:WIDE]
    belly = (y > 200) & (light < 0.5)
    light[belly] += 0.2 * (share[belly])
    light[np.hypot(x - 150, y - 175) < 14] = 0.75
    answer = traced(picture_of(saved(coded(ndimage.gaussian_filter(light, 1.1)))), marks())
    assert answer.area.value == pytest.approx(SHAPE.area * MM**2, rel=0.003)


# --- how sure ---------------------------------------------------------------------------------------------------------


def test_a_known_length_less_well_known_widens_every_size(share):
    picture = picture_of(saved(coded(pictured(share))))
    loose = Marks(KnownLength(Reading(0.1, 0.002), RULE.first, RULE.second), *SHAPE.ends)
    sure, unsure = traced(picture, marks()), traced(picture, loose)
    assert unsure.length.spread > 2.5 * sure.length.spread
    assert unsure.length.spread / unsure.length.value == pytest.approx(0.02, rel=0.2)


def test_two_lengths_at_right_angles_show_a_tilt(share):
    picture = picture_of(saved(coded(pictured(share))))

    def told(pixels):
        square = KnownLength(Reading(0.05), (50.0, 100.0), (50.0, 100.0 + pixels))
        return traced(picture, marks(across=square))

    assert "aslant" not in words_of(told(200.0))
    slight, bad = told(196.0), told(184.0)
    assert slight.tilt == pytest.approx(-0.02)
    assert "aslant: the first known length comes out 2.0 % the longer" in words_of(slight)
    assert slight.length.spread / slight.length.value > 0.02
    assert bad.findings[0].gravity is Gravity.WRONG


# --- pictures as they come --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("orientation", [1, 2, 3, 4, 5, 6, 7, 8])
def test_a_picture_is_turned_as_its_camera_says(orientation):
    """The eight ways of EXIF 2.3, table of the tag Orientation (from memory), undone by Pillow's own flips."""
    upright = np.zeros((90, 140), dtype=np.uint8)
    upright[:30, :50] = 250
    undo = {1: None, 2: Image.Transpose.FLIP_LEFT_RIGHT, 3: Image.Transpose.ROTATE_180,
            4: Image.Transpose.FLIP_TOP_BOTTOM, 5: Image.Transpose.TRANSPOSE, 6: Image.Transpose.ROTATE_90,
            7: Image.Transpose.TRANSVERSE, 8: Image.Transpose.ROTATE_270}[orientation]  # fmt: skip
    laid = Image.fromarray(upright)
    laid = laid if undo is None else laid.transpose(undo)
    exif = Image.Exif()
    exif[0x0112] = orientation
    held = io.BytesIO()
    laid.save(held, "PNG", exif=exif)
    found = picture_of(held.getvalue())
    assert (found.width, found.height) == (140, 90)
    assert found.light.shape == (90, 140, 3)
    assert found.light[:25, :45].min() > 0.9
    assert found.light[40:].max() < 0.1


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP"])
def test_each_kind_is_read(share, kind):
    answer = traced(picture_of(saved(coded(pictured(share)), kind, quality=90)), marks())
    assert answer.area.value == pytest.approx(SHAPE.area * MM**2, rel=0.003)


def test_a_large_picture_is_made_smaller_and_keeps_its_scale():
    by = 5
    large = np.kron(coded(pictured(covered(SHAPE), noise=0.0)), np.ones((by, by), dtype=np.uint8))
    assert large.size > WORKED_ON
    rule = KnownLength(RULE.length, (100.0 * by, 400.0 * by), (500.0 * by, 400.0 * by))
    nose, tail = (tuple(by * place for place in end) for end in SHAPE.ends)
    picture = picture_of(saved(large, "JPEG", quality=85))
    answer = traced(picture, Marks(rule, nose, tail))
    assert picture.light.shape[0] * picture.light.shape[1] <= 1.01 * WORKED_ON
    assert answer.area.value == pytest.approx(SHAPE.area * MM**2, rel=0.003)
    assert Polygon(answer.line).area == pytest.approx(by**2 * SHAPE.area, rel=0.003)


def test_clear_grey_and_deep_pictures_are_read():
    grey = np.full((80, 80), 40, dtype=np.uint8)
    clear = np.dstack([grey, grey, grey, np.zeros_like(grey)])
    assert picture_of(saved(clear)).light.min() > 0.95
    deep = picture_of(saved((grey.astype(np.uint16) << 8) + 40))
    assert deep.light.mean() == pytest.approx(picture_of(saved(grey)).light.mean(), rel=0.02)


# --- refusals ---------------------------------------------------------------------------------------------------------


def bomb(wide=60_000, high=60_000):
    """A PNG whose head promises more than it holds."""
    def chunk(name, data):
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = struct.pack(">IIBBBBB", wide, high, 8, 2, 0, 0, 0)
    held = chunk(b"IDAT", zlib.compress(bytes(5000))) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + held


ROUGH = coded(np.random.default_rng(1).random((200, 300)))
GOOD = saved(np.zeros((100, 100), dtype=np.uint8), "JPEG")
BAD = {
    "nothing": (b"", "nothing is in it"), "words": (b"length = '3 mm'\n" * 40, "it is no picture"),
    "a vector drawing": (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "it is no picture"),
    "a PDF": (b"%PDF-1.7 ...", "it is a PDF"),
    "a GIF": (saved(np.zeros((99, 99), dtype=np.uint8), "GIF"), "it is a GIF"),
    "a HEIC": (b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00", "it is a HEIC or AVIF"),
    "cut short": (saved(ROUGH, "JPEG")[:6000], "damaged or cut short"),
    "a damaged PNG": (saved(ROUGH)[:6000], "damaged or cut short"),
    "a bomb": (bomb(), "far more than 50 million pixels"),
    "just too large": (bomb(10_001, 5_000), "10001 x 5000 pixels"),
    "too small": (saved(np.zeros((30, 400), dtype=np.uint8)), "too few to trace from"),
}  # fmt: skip


@pytest.mark.parametrize("name", BAD)
def test_what_is_no_picture_is_refused(name):
    content, words = BAD[name]
    with pytest.raises(Refusal, match=words):
        picture_of(content)


def test_a_picture_of_too_many_bytes_is_refused_before_it_is_read():
    with pytest.raises(Refusal, match="larger than 40 MB"):
        picture_of(GOOD + bytes(40_000_001))
    assert MOST_PIXELS < 60_000**2


def test_every_wrong_mark_is_named(share):
    picture = picture_of(saved(coded(pictured(share))))
    wrong = Marks(KnownLength(Reading(0.1), (10.0, 10.0), (20.0, 10.0)), (900.0, 5.0), (880.0, 5.0))
    with pytest.raises(Refusal) as refusal:
        traced(picture, wrong)
    said = str(refusal.value)
    for words in ("nose: 900, 5 lies outside the picture, which is 720 wide and 420 high", "tail: 880, 5 lies outside",
                  "from, to: 10 pixels are too short", "nose, tail: lie 20 pixels apart"):  # fmt: skip
        assert words in said


def test_a_second_length_that_is_not_square_is_refused(share):
    askew = KnownLength(Reading(0.05), (50.0, 100.0), (200.0, 250.0))
    with pytest.raises(Refusal, match="45 degrees to the first length"):
        traced(picture_of(saved(coded(pictured(share)))), marks(across=askew))


def test_nothing_that_stands_out_is_refused():
    level = picture_of(saved(coded(np.random.default_rng(2).normal(0.5, 0.01, (HIGH, WIDE)))))
    with pytest.raises(Refusal, match="nothing stands out"):
        traced(level, marks())


def test_an_object_that_leaves_the_picture_is_refused():
    out = Ellipse(middle=(360.0, 400.0))
    with pytest.raises(Refusal, match="runs out of the picture at the lower edge"):
        traced(picture_of(saved(coded(pictured(covered(out))))), marks(out, off=0.0))


def test_a_mark_off_the_outline_is_refused(share):
    picture = picture_of(saved(coded(pictured(share))))
    ahead = Marks(RULE, (SHAPE.ends[0][0] - 60.0, SHAPE.ends[0][1]), SHAPE.ends[1])
    inside = Marks(RULE, (SHAPE.ends[0][0] + 60.0, SHAPE.ends[0][1]), SHAPE.ends[1])
    with pytest.raises(Refusal, match=r"nose: lies 15\.\d mm ahead of the outline"):
        traced(picture, ahead)
    with pytest.raises(Refusal, match=r"nose: the outline begins 15\.\d mm ahead of it"):
        traced(picture, inside)


# --- outlines to points -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("turned", [0.0, 12.0, 170.0, -95.0])
@pytest.mark.parametrize("name", ["lanternmere", "diver", "glider"])
def test_a_design_s_own_outline_comes_back(name, turned):
    hull = drawn_hull(load(f"examples/{name}.toml"))
    stations = 0.5 * hull.length * (1.0 - np.cos(np.linspace(0.0, np.pi, 1201)))
    across = np.linspace(-1.0, 1.0, 61)[1:-1, None]
    tail = np.column_stack([np.full(59, hull.length), -across * hull.back(np.array([hull.length]))])
    line = np.vstack([np.column_stack([stations, hull.back(stations)]), tail,
                      np.column_stack([stations, hull.belly(stations)])[::-1][:-1]])  # fmt: skip
    angle = np.radians(turned)
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    ends = np.array([[0.0, 0.0005], [hull.length - 0.001, 0.001]]) @ turn.T
    found = profile_of(line @ turn.T + 0.3, *(ends + 0.3))
    assert found.length == pytest.approx(hull.length, abs=5e-5)
    assert found.tail == "flat"
    up = 1.0 if abs(turned) < 90.0 or turned == -95.0 else -1.0
    back, belly = (found.back, found.belly) if up > 0.0 else (found.belly, found.back)
    if turned == 170.0:  # nose to the right in a picture: its upper side is the back
        back, belly = found.belly, found.back
    assert np.abs(back - hull.back(found.stations)).max() < 1e-4
    assert np.abs(belly + hull.belly(found.stations)).max() < 1e-4
    drawn = drawn_outline(found)
    assert drawn.departure <= WITHIN
    assert len(drawn.back) <= 9
