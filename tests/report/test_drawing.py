"""Drawings against the shape they are of, and notes that keep clear of each other."""

import math
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.answers.check import check
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.papers import Papers, papers
from gudgeon.design.file import load, parse
from gudgeon.physics.hull import half_width_at
from gudgeon.report.cuts import cuts_of, deepest, section_view
from gudgeon.report.drawing import figure, side_view, top_view
from gudgeon.report.drawn_parts import lip_flat
from gudgeon.report.joint_lines import bare_faces
from gudgeon.report.labels import flags
from gudgeon.report.rows import Shop
from gudgeon.report.strokes import Drawing, Line, Note, circle, grouped, hatched
from gudgeon.report.tile import Window
from gudgeon.report.tiling import Span

EXAMPLES = Path(__file__).parents[2] / "examples"
FACES = """
name = "Peg"
length = "100 mm"
[outline]
back = ["0 mm: 0 mm", "30 mm: 15 mm", "70 mm: 15 mm", "100 mm: 0 mm"]
side = ["0 mm: 0 mm", "30 mm: 15 mm", "70 mm: 15 mm", "100 mm: 0 mm"]
[wood]
density = "0.4 g/cm3"
[water]
temperature = "10 C"
[aim]
does = "sinks"
rate = "4 s/ft"
[[pocket]]
name = "low"
at = "35 mm"
bore = "8 mm"
holds = "2 g"
[[pocket]]
name = "high"
at = "65 mm"
bore = "6 mm"
face = "back"
holds = "1 g"
[[pocket]]
name = "near"
at = "50 mm"
bore = "6 mm"
face = "left"
holds = "1 g"
"""


@cache
def demo() -> Papers:
    return papers(check(load(EXAMPLES / "lanternmere.toml")))


@cache
def diver() -> Papers:
    return papers(check(load(EXAMPLES / "diver.toml")))


@cache
def faces() -> Papers:
    return papers(check(parse(FACES)))


def span(points: np.ndarray, axis: int) -> float:
    return float(np.ptp(points[:, axis]))


def test_side_view_has_the_bare_and_the_finished_outline() -> None:
    made = demo()
    bare, finished = side_view(made, cuts_of(made), Shop.METRIC).strokes[:2]
    sizes = made.check
    assert (bare.line, finished.line) == (Line.VISIBLE, Line.FINISHED)
    for stroke, size in ((bare, sizes.bare_size), (finished, sizes.finished_size)):
        assert span(stroke.points, 0) == pytest.approx(1e3 * size.length, abs=0.01)
        assert span(stroke.points, 1) == pytest.approx(1e3 * size.depth, abs=0.02)


def test_top_view_is_as_wide_as_the_body() -> None:
    bare, finished = top_view(demo(), Shop.METRIC).strokes[:2]
    assert span(bare.points, 1) == pytest.approx(1e3 * demo().check.bare_size.width, abs=0.02)
    assert span(finished.points, 1) == pytest.approx(1e3 * demo().check.finished_size.width, abs=0.02)


def test_bare_joint_faces_stand_apart_by_the_gap_and_the_finish_over_each() -> None:
    """A finish lies square to its face: along the body it is thicker by the face's slope."""
    lure = demo().check.lure
    for number, joint in enumerate(lure.joints, start=1):
        front, rear = bare_faces(demo().check, number)
        assert joint.at - front == pytest.approx(0.5 * joint.gap + lure.build / math.cos(joint.front_bevel))
        assert rear - joint.at == pytest.approx(0.5 * joint.gap + lure.build / math.cos(joint.rear_bevel))


def test_the_line_a_vee_is_cut_on_lies_where_the_face_meets_the_skin() -> None:
    lure = demo().check.lure
    joint = lure.joints[0]
    front, _ = bare_faces(demo().check, 1)
    slope = math.tan(joint.front_bevel)
    view = side_view(demo(), (), Shop.METRIC)
    lines = [stroke.points / 1e3 for stroke in view.strokes if stroke.line is Line.VISIBLE and len(stroke.points) == 41]
    arris = min(lines, key=lambda line: abs(line[:, 0].mean() - front + slope * 0.015))
    for x, z in arris[1:-1]:
        assert x == pytest.approx(front - slope * half_width_at(lure.bare_hull, float(x), float(z)), abs=1e-6)


def test_bores_are_hidden_and_as_long_and_wide_as_drilled() -> None:
    made = demo()
    hole = next(hole for hole in made.holes if hole.name == "shoulder")
    view = side_view(made, (), Shop.METRIC)
    x = 1e3 * hole.pocket.mouth[0]
    hidden = [stroke.points for stroke in view.strokes if stroke.line is Line.HIDDEN]
    ends = [points for points in hidden if abs(points[:, 0].mean() - x) < 1e-6]
    assert span(ends[0], 0) == pytest.approx(1e3 * hole.pocket.bore)
    inner = max(float(points[:, 1].max()) for points in ends)
    assert inner - 1e3 * hole.pocket.mouth[2] == pytest.approx(1e3 * hole.bored.depth)


def rings(view: Drawing, line: Line) -> list[float]:
    return [span(stroke.points, 0) for stroke in view.strokes if stroke.line is line and stroke.closed]


def test_a_bore_from_the_left_shows_as_a_ring_and_one_from_the_back_does_from_above() -> None:
    side, top = side_view(faces(), (), Shop.METRIC), top_view(faces(), Shop.METRIC)
    assert rings(side, Line.VISIBLE)[1:] == [pytest.approx(6.0)]
    assert rings(top, Line.VISIBLE)[1:] == [pytest.approx(6.0)]
    assert rings(top, Line.HIDDEN) == [pytest.approx(8.0)]


def test_without_coats_there_is_one_outline() -> None:
    view = side_view(faces(), (), Shop.METRIC)
    assert not [stroke for stroke in view.strokes if stroke.line is Line.FINISHED]


def test_every_bore_joint_and_the_deepest_place_is_cut() -> None:
    made = demo()
    cuts = cuts_of(made)
    told = " ".join(cut.words for cut in cuts)
    for words in ("joint 1", "joint 3", "head rear", "tail", "deepest"):
        assert words in told
    stations = [cut.station for cut in cuts]
    assert stations == sorted(stations)
    assert len({cut.letter for cut in cuts}) == len(cuts)
    hull = made.check.lure.hull
    x = deepest(made.check.lure)
    near = np.linspace(x - 0.01, x + 0.01, 41)
    assert float((hull.back(near) - hull.belly(near)).max()) == pytest.approx(made.check.lure.depth, abs=2e-5)


@pytest.mark.parametrize("made", [demo, diver, faces])
def test_hatching_stays_in_the_right_half_of_the_wood(made) -> None:
    lure = made().check.lure
    for cut in cuts_of(made()):
        for stroke in section_view(made(), cut).strokes:
            if stroke.line is Line.HATCH:
                for y, z in stroke.points:
                    assert abs(y) <= 1e3 * half_width_at(lure.bare_hull, cut.station, z / 1e3) + 0.1


def test_hatching_leaves_out_what_it_is_told_to() -> None:
    ring, hole = circle(Line.VISIBLE, (0.0, 0.0), 10.0).points, circle(Line.VISIBLE, (2.0, 1.0), 3.0).points
    strokes = hatched(ring, 1.0, spare=[hole])
    assert strokes
    for stroke in strokes:
        middle = stroke.points.mean(axis=0)
        assert np.hypot(*(middle - [2.0, 1.0])) > 2.9
        assert np.hypot(*stroke.points.T).max() <= 10.0 + 1e-9
    covered = sum(np.hypot(*(stroke.points[1] - stroke.points[0])) for stroke in strokes) / math.sqrt(2.0)
    assert covered == pytest.approx(math.pi * (100.0 - 9.0), rel=0.02)  # a millimetre apart in height: the area


def test_the_lip_laid_flat_is_as_long_and_wide_as_it_is() -> None:
    flat, lip = lip_flat(diver().check), diver().check.design.lip
    assert lip is not None
    assert span(flat, 0) == pytest.approx(1e3 * (lip.exposed + lip.set_in))
    assert span(flat, 1) == pytest.approx(1e3 * lip.width)


def test_every_part_is_told_with_its_distance_from_the_nose() -> None:
    view = side_view(demo(), cuts_of(demo()), Shop.METRIC)
    notes = {words: note.number for note in (*view.above, *view.below) for words in note.words}
    for item in (*demo().check.design.fittings, *demo().check.design.hooks):
        assert notes[item.name] == figure(item.at, Shop.METRIC)
    for hole in demo().holes:
        told = next(number for words, number in notes.items() if words.startswith(f"{hole.name} ("))
        assert told == figure(hole.pocket.mouth[0], Shop.METRIC)


def test_inch_shop_reads_fractions() -> None:
    assert figure(0.0254 * 2.625, Shop.INCH) == "2 5/8"
    assert figure(0.0666, Shop.METRIC) == "66.6"


def test_parts_at_one_station_share_a_leader() -> None:
    notes = [Note((5.0, 1.0), "5.0", ("a",)), Note((1.0, 1.0), "1.0", ("b",)), Note((5.0, 3.0), "5.0", ("c",))]
    assert [(note.number, note.words) for note in grouped(notes)] == [("1.0", ("b",)), ("5.0", ("a", "c"))]


PLACES = st.lists(st.floats(0.0, 150.0), min_size=1, max_size=16, unique_by=round)


def notes_at(places: list[float]) -> list[Note]:
    return [Note((x, 0.0), f"{x:.1f}", ("some words",) * (1 + place % 2)) for place, x in enumerate(places)]


def overlap(first: tuple[float, ...], second: tuple[float, ...]) -> bool:
    return (first[0] < second[2] - 1e-9 and second[0] < first[2] - 1e-9
            and first[1] < second[3] - 1e-9 and second[1] < first[3] - 1e-9)  # fmt: skip


@settings(max_examples=60)
@given(PLACES, st.booleans())
def test_no_words_lie_on_other_words(places: list[float], up: bool) -> None:
    placed = flags(notes_at(places), (-5.0, 155.0), 10.0 if up else -10.0, up=up, width_of=lambda note: 24.0)
    assert {flag.note for flag in placed} == set(notes_at(places))
    for flag in placed:
        assert -5.0 - 1e-9 <= flag.left <= flag.right <= 155.0 + 1e-9
        assert flag.box[1] >= 10.0 - 1e-9 if up else flag.box[3] <= -10.0 + 1e-9
        assert not any(overlap(flag.box, other.box) for other in placed if other is not flag)


@settings(max_examples=60)
@given(PLACES, st.booleans())
def test_with_room_at_the_ends_no_leader_runs_through_words(places: list[float], up: bool) -> None:
    placed = flags(notes_at(places), (-5.0, 180.0), 10.0 if up else -10.0, up=up, width_of=lambda note: 24.0)
    for flag in placed:
        for other in placed:
            x, (low, high) = other.note.at[0], sorted((other.note.at[1], other.foot))
            runs = (x - 1e-6, low, x + 1e-6, high)
            assert other is flag or not overlap(flag.box, runs)


@given(st.floats(0.85, 1.15), st.floats(-50.0, 300.0), st.floats(-60.0, 60.0), st.floats(0.0, 90.0))
def test_leaders_and_strokes_land_on_one_another(factor: float, x: float, y: float, lift: float) -> None:
    window = Window((31.0, 47.0), Span(-10.0, 140.0), Span(3.0, 120.0), factor)
    stroke = window.points(np.array([(x, y), (x + 10.0, y)]), lift)
    assert tuple(stroke[0]) == pytest.approx(window.place(x, y + lift))
    assert stroke[1, 0] - stroke[0, 0] == pytest.approx(10.0 * factor)
    assert window.place(-10.0, 3.0) == pytest.approx((31.0, 47.0))


@pytest.mark.parametrize("carries", ["front", "rear"])
@pytest.mark.parametrize("face", ["knuckle", "tongue"])
def test_a_knuckle_or_a_tongue_is_drawn_as_it_is_cut(face, carries) -> None:
    """From above its faces are the faces the solids are cut to, from skin to skin; from the side its tip is hidden."""
    text = (EXAMPLES / "lanternmere.toml").read_text(encoding="utf-8")
    sized = f'gap = "2 mm"\nface = "{face}"\ncarries = "{carries}"'
    answer = check(parse(text.replace('gap = "2 mm"', sized)))
    lure = answer.lure
    for drawn, joint in zip(answer.design.joints, lure.joints, strict=True):
        bare = joint_shape(drawn, lure.hull).bared(lure.build)
        top = [stroke.points / 1e3 for stroke in top_view(papers(answer), Shop.METRIC).strokes if
               stroke.line is Line.VISIBLE and not stroke.closed]  # fmt: skip
        for line in (bare.front, bare.rear):
            tip = joint.at + float(line.station(np.zeros(1))[0])
            (found,) = [points for points in top if abs(np.interp(0.0, points[:, 1], points[:, 0]) - tip) < 1e-6]
            out = float(found[:, 1].max())
            assert found - [joint.at, 0.0] == pytest.approx(line.drawn(out), abs=1e-9)
            place = np.array([joint.at + float(line.station(np.array([out]))[0])])
            assert out == pytest.approx(half_width_at(lure.bare_hull, place[0], float(lure.bare_hull.widest(place)[0])),
                                        abs=2e-5)  # fmt: skip
            hidden = [stroke.points[:, 0] for stroke in side_view(papers(answer), (), Shop.METRIC).strokes
                      if stroke.line is Line.HIDDEN]  # fmt: skip
            assert any(np.allclose(x, 1e3 * tip) for x in hidden)


def test_the_notes_tell_a_knuckles_and_a_tongues_sizes() -> None:
    text = (EXAMPLES / "lanternmere.toml").read_text(encoding="utf-8")
    for face, size in (("knuckle", 'radius = "10 mm"'), ("tongue", 'tongue_width = "8 mm"')):
        answer = check(parse(text.replace('gap = "2 mm"', f'gap = "2 mm"\nface = "{face}"\n{size}')))
        words = " ".join(word for note in top_view(papers(answer), Shop.METRIC).below for word in note.words)
        build = 1e3 * answer.lure.build
        if face == "knuckle":
            assert f"knuckle of radius {10.0 - build:.1f} on the head" in words
            assert f"socket of radius {12.0 + build:.1f}" in words
        else:
            assert f"tongue {8.0 - 2.0 * build:.1f} wide on the head" in words
            assert f"slot {12.0 + 2.0 * build:.1f} wide" in words
