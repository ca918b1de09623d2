"""The drill schedule on bodies whose blanks are known on paper: one section from end to end, 120 by 20 by 40 mm."""

import math
from collections.abc import Callable

import pytest

from gudgeon.answers.check import check
from gudgeon.answers.drilling import Drilled, Drilling, drilling, nearest_bits
from gudgeon.answers.hinging import made_hinges
from gudgeon.answers.papers import papers
from gudgeon.answers.piece_of_wood import piece_of_wood
from gudgeon.answers.work_order import order_of_work
from gudgeon.design.model import Design

Maker = Callable[..., Design]
MM = 1e-3
STEEL = {"weight": "0.5 g", "material": "stainless steel"}


def eye(name: str, **told: str) -> dict[str, str]:
    return {"name": name, "kind": "screw eye", **STEEL, **told}


def scheduled(design: Design) -> Drilling:
    return drilling(papers(check(design)))


def one(schedule: Drilling, name: str) -> Drilled:
    return next(hole for hole in schedule.holes if hole.name == name)


def test_the_blank_is_the_body_with_its_allowances(cylinder: Maker) -> None:
    blank = scheduled(cylinder()).blank
    assert (blank.start, blank.stop, blank.length) == pytest.approx((-10 * MM, 130 * MM, 140 * MM))
    assert (blank.belly, blank.back, blank.half) == pytest.approx((-23 * MM, 23 * MM, 13 * MM))


def test_the_blank_is_the_one_the_piece_of_wood_wants(cylinder: Maker) -> None:
    board = {"length": "300 mm", "width": "80 mm", "thickness": "60 mm", "kerf": "3 mm", "ends": "15 mm",
             "allowance": "4 mm"}  # fmt: skip
    design = cylinder(board=board, joint=[{"at": "60 mm", "gap": "1 mm"}])
    answer = check(design)
    blank, need = drilling(papers(answer)).blank, piece_of_wood(design, answer.lure).need
    assert blank.length == pytest.approx(need.length)
    assert blank.back - blank.belly == pytest.approx(need.side)
    assert 2.0 * blank.half == pytest.approx(need.top)
    assert blank.joints[0] == pytest.approx(need.joints[0]) == (60 * MM, 2 * MM)


def test_stops_count_from_the_faces_of_the_board_there_is(cylinder: Maker) -> None:
    """A body 40 mm high and 20 mm wide in a board of 42 by 23 mm: 1 mm over at belly and back, 1.5 mm at the sides."""
    board = {"length": "300 mm", "width": "42 mm", "thickness": "23 mm"}
    schedule = scheduled(cylinder(board=board, fitting=[eye("belly", at="60 mm", into="belly", shank="10 mm")]))
    assert (schedule.blank.belly, schedule.blank.back, schedule.blank.half) == pytest.approx(
        (-21 * MM, 21 * MM, 11.5 * MM))  # fmt: skip
    assert schedule.stop_depth(one(schedule, "belly"), metric=True) == pytest.approx(11 * MM)


def test_behind_a_joint_all_lies_further_by_what_sawing_it_takes(cylinder: Maker) -> None:
    """A saw of 2 mm in a gap of 0.5 mm takes 1.5 mm more than the drawing has."""
    schedule = scheduled(cylinder(
        joint=[{"at": "60 mm", "gap": "0.5 mm"}],
        fitting=[eye("ahead", at="40 mm", into="belly"), eye("behind", at="90 mm", into="belly")],
    ))  # fmt: skip
    assert schedule.blank.from_end(one(schedule, "ahead").mouth[0]) == pytest.approx(50 * MM)
    assert schedule.blank.from_end(one(schedule, "behind").mouth[0]) == pytest.approx(101.5 * MM)


@pytest.mark.parametrize(
    ("told", "wide"),
    [("threaded", 1.2), ("plain", 1.9), ("twisted", 3.7)],
    ids=["2/3 of 1.8", "1.8 + 0.1", "3.6 + 0.1"],
)
def test_a_pilot_is_as_wide_as_its_shank_wants(cylinder: Maker, told: str, wide: float) -> None:
    fitting = eye("hanger", at="60 mm", into="belly", wire="1.8 mm", shank="14 mm", shank_is=told)
    hole = one(scheduled(cylinder(fitting=[fitting])), "hanger")
    assert hole.wide == pytest.approx(wide * MM)
    assert not hole.is_usual


@pytest.mark.parametrize(
    ("face", "told", "mouth", "over"),
    [
        ("belly", {"at": "60 mm"}, (60, 0, -20), 3.0),
        ("back", {"at": "60 mm"}, (60, 0, 20), 3.0),
        ("left", {"at": "60 mm", "height": "0 mm"}, (60, -10, 0), 3.0),
        ("right", {"at": "60 mm", "height": "0 mm"}, (60, 10, 0), 3.0),
        ("front", {"at": "0 mm", "height": "5 mm"}, (0, 0, 5), 10.0),
        ("rear", {"at": "120 mm", "height": "5 mm"}, (120, 0, 5), 10.0),
    ],
)
def test_stop_is_depth_and_what_lies_over_on_that_face(
    cylinder: Maker, face: str, told: dict[str, str], mouth: tuple[float, ...], over: float
) -> None:
    schedule = scheduled(cylinder(fitting=[eye("it", into=face, wire="2.4 mm", shank="8 mm", **told)]))
    hole = one(schedule, "it")
    assert hole.face == face
    assert hole.mouth == pytest.approx([place * MM for place in mouth], abs=1e-6)
    assert hole.depth(metric=True) == pytest.approx(8 * MM)
    assert math.dist(hole.mouth, hole.end) == pytest.approx(8 * MM)
    assert schedule.stop_depth(hole, metric=True) == pytest.approx((8.0 + over) * MM)
    assert hole.angle == pytest.approx(0.0 if face in ("front", "rear") else math.radians(90.0))


def test_what_is_not_told_is_the_usual_and_says_so(cylinder: Maker) -> None:
    hole = one(scheduled(cylinder(fitting=[eye("hanger", at="60 mm", into="belly")])), "hanger")
    assert hole.is_usual
    assert (hole.wide, hole.depth(metric=True)) == pytest.approx((1 * MM, 12 * MM))


def test_an_eye_that_may_go_in_anywhere_is_not_scheduled(cylinder: Maker) -> None:
    schedule = scheduled(cylinder(fitting=[eye("loose", at="60 mm", height="4 mm")]))
    assert schedule.holes == ()
    assert [name for name, _ in schedule.untold] == ["loose"]


def test_ballast_holes_are_those_of_the_papers_and_the_last_waits(cylinder: Maker) -> None:
    """Depth of the bit less the coats over its mouth, whichever shop's."""
    made = papers(check(cylinder(
        coat=[{"name": "clear", "thickness": "0.4 mm", "material": "epoxy"}],
        pocket=[{"name": "ahead", "at": "30 mm", "bore": "10 mm"}, {"name": "behind", "at": "90 mm", "bore": "10 mm"}],
    )))  # fmt: skip
    schedule = drilling(made)
    assert [hole.name for hole in schedule.at("after the tub")] == [made.holes[-1].name]
    assert schedule.last is not None
    assert schedule.last.hole is made.holes[-1]
    assert [hole.name for hole in schedule.at("square")] == [hole.name for hole in made.holes[:-1]]
    for hole in made.holes:
        drilled = one(schedule, hole.name)
        assert hole.coat == pytest.approx(0.4 * MM, abs=1e-6)
        assert drilled.depth(metric=True) == pytest.approx(hole.metric_bit.depth - 0.4 * MM, abs=1e-6)
        assert drilled.depth(metric=False) == pytest.approx(hole.inch_bit.depth - 0.4 * MM, abs=1e-6)
        assert drilled.bits is not None
        assert drilled.bits.metric == hole.metric_bit.name == "10 mm"
        assert drilled.mouth[2] == pytest.approx(-19.6 * MM, abs=1e-6)


def test_a_gram_of_lead_in_the_last_hole(cylinder: Maker) -> None:
    """1 g of lead at 11.34 g/cm3 in a bore of 10 mm: 1 / (11.34 pi 0.25) cm = 1.123 mm."""
    last = scheduled(cylinder(pocket=[{"name": "one", "at": "60 mm", "bore": "10 mm"}])).last
    assert last is not None
    assert last.per_gram[0] == pytest.approx(1.123 * MM, rel=2e-3)


def test_a_bore_from_a_joint_face_waits_until_the_pieces_are_apart(cylinder: Maker) -> None:
    schedule = scheduled(cylinder(
        joint=[{"at": "60 mm", "gap": "2 mm"}],
        pocket=[{"name": "inner", "at": "70 mm", "bore": "8 mm", "face": "front", "depth": "12 mm", "free": False},
                {"name": "tail", "at": "110 mm", "bore": "8 mm", "face": "rear", "depth": "12 mm", "free": False}],
    ))  # fmt: skip
    assert one(schedule, "inner").when == "apart"
    assert one(schedule, "inner").mouth[0] == pytest.approx(61 * MM)
    assert one(schedule, "tail").when == "square"
    assert schedule.last is None


@pytest.mark.parametrize("kind", ["plate and pin", "wire eye and pin", "screw eyes", "eyes on a pin", "strap"])
def test_every_cutout_of_a_hinge_is_scheduled_from_the_bare_face(cylinder: Maker, kind: str) -> None:
    """Coats of 0.4 mm bring a face forward: in bare wood it lies 0.4 mm further in, and the hole is so much shorter."""
    design = cylinder(
        joint=[{"at": "60 mm", "gap": "3 mm"}], hinge=[{"joint": 1, "kind": kind}],
        coat=[{"name": "clear", "thickness": "0.4 mm", "material": "epoxy"}],
    )  # fmt: skip
    answer = check(design)
    schedule = drilling(papers(answer))
    cutouts = [cutout for made in made_hinges(design, answer.lure) for cutout in made.cutouts]
    assert sorted(hole.name for hole in schedule.holes) == sorted(cutout.name for cutout in cutouts)
    for cutout in cutouts:
        piece = answer.lure.segments[cutout.piece].name
        hole = next(hole for hole in schedule.holes if hole.name == cutout.name and hole.pieces == (piece,))
        along = 0 if cutout.face in ("front", "rear") else 2
        assert hole.end[along] == pytest.approx(cutout.end[along], abs=1e-6)
        assert hole.kind == ("hole" if cutout.kind == "bore" else "slot")
        level = (hole.wide, hole.long) if hole.lies == "upright" else (hole.long, hole.wide)
        assert level == pytest.approx((cutout.wide, cutout.tall))
        if along == 0:
            assert hole.mouth[0] == pytest.approx((58.1 if cutout.face == "rear" else 61.9) * MM, abs=1e-6)
            assert hole.when == ("square" if cutout.across else "apart")
        else:
            assert hole.when == "square"


def test_lip_and_fin_have_their_slots(cylinder: Maker) -> None:
    """A lip 30 degrees down through the belly: along the slot to the belly edge, 3 mm below the skin, is 6 mm."""
    schedule = scheduled(cylinder(
        lip={"material": "polycarbonate", "exposed": "20 mm", "set_in": "12 mm", "width": "14 mm", "thickness": "2 mm",
             "angle": "30 deg", "at": "50 mm", "height": "-20 mm"},
        fin={"material": "polycarbonate", "length": "20 mm", "tall": "15 mm", "thickness": "1 mm", "at": "120 mm",
             "set_in": "8 mm"},
    ))  # fmt: skip
    lip, fin = one(schedule, "lip's slot"), one(schedule, "fin's slot")
    assert lip.depth(metric=True) == pytest.approx(12 * MM, abs=1e-5)
    assert schedule.stop_depth(lip, metric=True) == pytest.approx(18 * MM, abs=1e-5)
    assert (lip.wide, lip.long, lip.angle) == pytest.approx((2.2 * MM, 14 * MM, math.radians(30.0)))
    assert (fin.wide, fin.long) == pytest.approx((1.2 * MM, 7.5 * MM))  # the tang: half of what shows
    assert fin.depth(metric=True) == pytest.approx(8 * MM)
    assert schedule.stop_depth(fin, metric=True) == pytest.approx(18 * MM)
    assert not lip.is_across
    assert not fin.is_across


def test_a_lip_or_a_tang_wider_than_the_body_is_sawn_right_across_the_blank(cylinder: Maker) -> None:
    """The body is 20 mm wide and 40 high, its square blank 26 by 46; a tang is half as tall as its fin."""
    schedule = scheduled(cylinder(
        lip={"material": "polycarbonate", "exposed": "20 mm", "set_in": "12 mm", "width": "24 mm", "thickness": "2 mm",
             "angle": "50 deg", "at": "50 mm", "height": "-18 mm"},
        fin={"material": "polycarbonate", "length": "20 mm", "tall": "90 mm", "thickness": "1 mm", "at": "120 mm",
             "set_in": "8 mm"},
    ))  # fmt: skip
    lip, fin = one(schedule, "lip's slot"), one(schedule, "fin's slot")
    assert (lip.is_across, lip.long) == (True, pytest.approx(26 * MM))
    assert (fin.is_across, fin.long) == (True, pytest.approx(46 * MM))
    # drawn 2 mm above the skin: its upper face leaves the wood 2 mm / sin 50 further out, its slot so much deeper
    deep = 12 * MM + 2 * MM / math.sin(math.radians(50.0))
    assert lip.depth(metric=True) == pytest.approx(deep, abs=1e-5)


def test_a_pilot_too_deep_for_its_bit_waits_until_the_square_end_is_off(cylinder: Maker) -> None:
    """Root of a 1.2 mm thread: 0.8 mm, so 9.6 mm is 12 times that; the square end is 10 mm long."""
    thin = {"into": "rear", "at": "120 mm", "height": "0 mm", "shank": "9 mm"}
    design = cylinder(fitting=[eye("thin", wire="1.2 mm", **thin),
                               eye("thick", wire="4 mm", **thin | {"height": "9 mm"}),
                               eye("hanger", wire="1.2 mm", at="60 mm", into="belly", shank="9 mm")])  # fmt: skip
    schedule = scheduled(design)
    waits, rest, hanger = (one(schedule, name) for name in ("thin", "thick", "hanger"))
    assert [hole.when for hole in (waits, rest, hanger)] == ["shaped", "square", "square"]
    assert schedule.stop_depth(waits, metric=True) == pytest.approx(9 * MM)
    assert schedule.stop_depth(rest, metric=True) == pytest.approx(19 * MM)
    sawn = next(step for step in order_of_work(papers(check(design))) if "square ends last" in step.words)
    assert "drill schedule: thin." in sawn.words


def test_a_glass_eye_sits_flush_in_half_a_ball(cylinder: Maker) -> None:
    """0.7 g of glass is 2 pi / 3 r^3 of it, and the socket is as deep as half its width."""
    fitting = {"name": "left eye", "kind": "glass eye", "weight": "0.7 g", "material": "glass", "at": "20 mm",
               "height": "0 mm", "offset": "-8 mm"}  # fmt: skip
    hole = one(scheduled(cylinder(fitting=[fitting])), "left eye")
    assert hole.face == "left"
    assert hole.mouth[1] == pytest.approx(-10 * MM)
    assert hole.depth(metric=True) == pytest.approx(0.5 * hole.wide)


def test_numbers_run_in_order_of_the_work(cylinder: Maker) -> None:
    schedule = scheduled(cylinder(
        joint=[{"at": "60 mm", "gap": "3 mm"}], hinge=[{"joint": 1, "kind": "screw eyes"}],
        fitting=[eye("behind", at="90 mm", into="belly"), eye("ahead", at="40 mm", into="belly")],
        pocket=[{"name": "one", "at": "20 mm", "bore": "10 mm"}],
    ))  # fmt: skip
    assert [hole.number for hole in schedule.holes] == list(range(1, len(schedule.holes) + 1))
    order = ["square", "apart", "after the tub"]
    assert [order.index(hole.when) for hole in schedule.holes] == sorted(order.index(h.when) for h in schedule.holes)
    assert [hole.name for hole in schedule.at("square")] == ["ahead", "behind"]


def test_bits_are_the_nearest_of_each_kind_or_none() -> None:
    quarter = nearest_bits(6.35 * MM)
    assert (quarter.fraction, quarter.letter, quarter.number) == ("1/4 in", "E", None)
    three_quarters = nearest_bits(19.05 * MM)
    assert (three_quarters.fraction, three_quarters.number, three_quarters.letter) == ("3/4 in", None, None)
    assert nearest_bits(2.0 * MM).letter is None


def test_an_eye_told_in_a_joints_gap_is_piloted_from_either_face_and_not_upright(cylinder: Maker) -> None:
    design = cylinder(joint=[{"at": "60 mm", "gap": "2 mm"}],
                      fitting=[eye("upper eyes", at="60 mm", height="6 mm", shank="14 mm", into="belly")])  # fmt: skip
    ahead, behind = (hole for hole in scheduled(design).holes if hole.name == "upper eyes")
    assert [(hole.face, hole.pieces, hole.when) for hole in (ahead, behind)] == [
        ("rear", ("head",), "apart"), ("front", ("tail",), "apart")]  # fmt: skip
    assert ahead.mouth == pytest.approx((59 * MM, 0.0, 6 * MM))
    assert ahead.end == pytest.approx((45 * MM, 0.0, 6 * MM))
    assert behind.mouth == pytest.approx((61 * MM, 0.0, 6 * MM))
    assert behind.end == pytest.approx((75 * MM, 0.0, 6 * MM))
