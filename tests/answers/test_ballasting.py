"""The ballast that is told, put back into the lure: it does what was asked, and what it leaves wrong is told truly."""

import itertools
import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.answers.aiming import steady_pitch
from gudgeon.answers.assembly import assemble
from gudgeon.answers.ballasting import Ballasting, ballasting, in_whole_shot, usable_shot, worth_inside
from gudgeon.design.model import Design
from gudgeon.errors import NoAnswer
from gudgeon.library.water import water_density
from gudgeon.physics.floater import floating_body
from gudgeon.physics.flotation import resting
from gudgeon.physics.lure import LOG_FALL_DRAG, WATER, Lure
from gudgeon.physics.mass import MASS, VOLUME
from gudgeon.physics.sinking import drag_area, excess_mass, pitch, sink_velocity
from gudgeon.units import FOOT

Maker = Callable[..., Design]


def pockets(*stations: float, **keys: object) -> list[dict[str, object]]:
    return [{"name": f"at {x:g}", "at": f"{x} mm", "bore": "12 mm", **keys} for x in stations]


def excess(lure: Lure) -> float:
    state, _ = lure.state()
    return float(excess_mass(state, state[WATER]))


def falls(lure: Lure) -> tuple[float, float]:
    """Steady velocity [m/s] and pitch [rad] under water."""
    state, _ = lure.state()
    angle = pitch(state, state[WATER], lure.falling)
    area = drag_area(angle, lure.falling, np.exp(state[LOG_FALL_DRAG]))
    return float(sink_velocity(excess_mass(state, state[WATER]), state[WATER], area)), float(angle)


def put_back(design: Design, answer: Ballasting) -> Lure:
    """The design made again with what the answer puts in written into its pockets."""
    held = {load.name: load.mass for load in answer.pockets}
    written = tuple(
        pocket.model_copy(update={"holds": type(design.water.temperature)(held.get(pocket.name, 0.0), 1e-4)})
        for pocket in design.pockets
    )
    return assemble(design.model_copy(update={"pockets": written}))


def answered(design: Design) -> Ballasting:
    return ballasting(design, assemble(design))


# --- the aim is met ---


@given(st.floats(0.3, 0.55), st.floats(28.0, 45.0), st.floats(80.0, 100.0), st.floats(1.5, 6.0), st.floats(-8.0, 8.0))
@settings(max_examples=15, deadline=None)
def test_a_sinker_sinks_as_asked_at_the_attitude_asked(
    cylinder: Maker, density: float, front: float, rear: float, seconds: float, nose: float
) -> None:
    design = cylinder(
        wood={"density": f"{density} g/cm3"}, pocket=pockets(front, 60.0, rear),
        aim={"does": "sinks", "rate": f"{seconds} s/ft", "attitude": f"{nose} deg"},
        hook=[{"name": "hook", "at": f"{front - 5} mm", "weight": "4 g"}],
    )  # fmt: skip
    answer = answered(design)
    made = put_back(design, answer)
    velocity, angle = falls(made)
    assert excess(made) == pytest.approx(answer.target.excess, abs=2e-5)  # a fiftieth of a gram
    assert angle == pytest.approx(math.radians(nose), abs=math.radians(0.6))
    assert velocity == pytest.approx(FOOT / seconds, rel=0.02)
    assert answer.excess_left == pytest.approx(excess(made) - answer.target.excess, abs=1e-9)
    assert answer.tilt_left == pytest.approx(angle - math.radians(nose), abs=1e-9)
    assert answer.needed.value == pytest.approx(answer.put, abs=2e-5)
    assert made.sums().mass == pytest.approx(answer.lure.sums().mass, rel=1e-12)


@given(st.floats(0.1, 0.3), st.floats(-4.0, 4.0))
@settings(max_examples=8, deadline=None)
def test_a_floater_keeps_its_reserve_and_floats_at_the_attitude_asked(
    cylinder: Maker, reserve: float, nose: float
) -> None:
    """Wide enough to stand upright; the pitch it rests at afloat is the one asked for, found from scratch."""
    design = cylinder(
        160.0, 20.0, 15.0, pocket=pockets(40.0, 120.0, bore="16 mm"),
        aim={"does": "floats", "reserve": f"{100 * reserve} %", "attitude": f"{nose} deg"},
        hook=[{"name": "hook", "at": "60 mm", "weight": "5 g"}],
    )  # fmt: skip
    answer = answered(design)
    made = put_back(design, answer)
    state, _ = made.state()
    assert 1.0 - state[MASS] / (state[WATER] * state[VOLUME]) == pytest.approx(reserve, abs=1e-6)
    at = resting(floating_body(made), made.water.density)
    assert math.degrees(at.pitch) == pytest.approx(nose, abs=0.05)
    assert at.heel == pytest.approx(0.0, abs=1e-6)
    assert answer.tilt_left == pytest.approx(0.0, abs=1e-3)


def test_one_that_hangs_weighs_nothing_in_its_water(cylinder: Maker) -> None:
    design = cylinder(pocket=pockets(30.0, 90.0), water={"kind": "sea", "temperature": "10 C"})
    answer = answered(design)
    made = put_back(design, answer)
    assert made.sums().mass == pytest.approx(water_density(283.15, 35.0) * made.sums().volume, rel=1e-8)
    assert falls(made)[1] == pytest.approx(0.0, abs=1e-4)


def test_near_hanging_it_lies_by_its_moments_whichever_side_of_hanging_it_is(cylinder: Maker) -> None:
    """A hundredth of a gram is worth 0.01 g x arm over weight x lever, a fraction of a degree and no more."""
    design = cylinder(joint=[{"at": "65 mm", "gap": "2 mm", "rear_bevel": "35 deg"}], pocket=pockets(30.0, 90.0))
    answer = answered(design)
    assert answer.tilt_left == pytest.approx(0.0, abs=math.radians(0.1))
    first = answer.pockets[0]
    sums = answer.lure.sums()
    lever = float(sums.buoyancy_centre[2] - sums.weight_centre[2])
    for more in (-1e-5, -1e-6, -1e-9, 1e-9, 1e-6, 1e-5):
        lure = answer.lure.filled({first.name: first.mass + more})
        turned = abs(more) * 0.060 / (sums.mass * lever)
        assert abs(steady_pitch(lure, lure.state()[0]) - answer.tilt_left) < 2.0 * turned + 1e-6


def test_one_that_rises_by_the_second_is_as_much_lighter(cylinder: Maker) -> None:
    design = cylinder(pocket=pockets(30.0, 90.0), aim={"does": "floats", "rate": "2 s/ft"})
    answer = answered(design)
    assert answer.target.excess < 0.0
    velocity, _ = falls(put_back(design, answer))
    assert velocity == pytest.approx(-FOOT / 2.0, rel=0.02)  # afloat it lies as asked; rising, a little otherwise


def test_needed_is_the_closed_form(cylinder: Maker) -> None:
    """One pocket without a plug, to hang: lead (1 - wood / lead) = water - wood."""
    body = math.pi * 0.120 * 0.010 * 0.020
    design = cylinder(wood={"density": "0.6 g/cm3"}, pocket=pockets(60.0, plug="0 mm", bore="14 mm"))
    wanted = (water_density(293.15, 0.0) - 600.0) * body / (1.0 - 600.0 / 11340.0)
    assert answered(design).needed.value == pytest.approx(wanted, rel=1e-8)


# --- bore, depth, bit, taped ---


def test_bore_depth_times_area_times_density_is_the_mass(cylinder: Maker) -> None:
    design = cylinder(pocket=pockets(40.0, 80.0), aim={"does": "sinks", "rate": "3 s/ft"})
    for load in answered(design).pockets:
        area = math.pi / 4.0 * 0.012**2
        assert (load.bored.depth - 0.003) * area * 11340.0 == pytest.approx(load.mass, rel=1e-9)
        for bit in (load.metric_bit, load.inch_bit):
            own = math.pi / 4.0 * bit.diameter**2
            assert (bit.depth - 0.003) * own * 11340.0 == pytest.approx(load.mass, rel=1e-9)
        assert load.metric_bit.diameter == pytest.approx(0.012)


def test_taped_outside_it_does_the_same(cylinder: Maker) -> None:
    """The bored lure's weight in water against the same blank with stick-on lead of what is told."""
    design = cylinder(pocket=pockets(60.0), aim={"does": "floats", "reserve": "30 %"})
    answer = answered(design)
    inside = excess(answer.lure)
    (load,) = answer.pockets
    tape = [{"name": "tape", "kind": "stick-on", "weight": f"{1e3 * load.taped:.9f} g", "material": "lead",
             "at": "60 mm"}]  # fmt: skip
    assert excess(assemble(cylinder(fitting=tape))) == pytest.approx(inside, abs=1e-8)
    hole = load.bored.depth * math.pi / 4.0 * 0.012**2
    plug = 0.003 * math.pi / 4.0 * 0.012**2 * 1150.0
    by_hand = (load.mass + plug - 400.0 * hole) / (1.0 - water_density(293.15, 0.0) / 11340.0)
    assert load.taped == pytest.approx(by_hand, rel=1e-9)


@pytest.mark.parametrize(
    ("keys", "replaced"),
    [({}, 400.0), ({"material": "tungsten"}, 400.0), ({"depth": "30 mm"}, 1150.0)],
    ids=["bored to suit", "tungsten", "drilled already, its plug gives way"],
)
def test_worth_inside_is_the_slope_of_the_weight_in_water(
    cylinder: Maker, keys: dict[str, object], replaced: float
) -> None:
    lure = assemble(cylinder(pocket=pockets(60.0, holds="10 g", **keys)))
    slope = excess(lure.filled({"at 60": 0.0101})) - excess(lure.filled({"at 60": 0.0099}))
    assert worth_inside(lure) == pytest.approx(slope / 2e-4, rel=1e-6)
    assert worth_inside(lure) == pytest.approx(1.0 - replaced / lure.pockets[0].ballast_density, rel=1e-9)


def test_worth_inside_with_no_pocket_is_that_of_lead_in_the_wood(cylinder: Maker) -> None:
    assert worth_inside(assemble(cylinder())) == pytest.approx(1.0 - 400.0 / 11340.0, rel=1e-9)


# --- what is in, what may not be filled, what does not fit ---


def test_what_is_held_stays_and_only_the_rest_is_added(cylinder: Maker) -> None:
    plain = cylinder(pocket=pockets(30.0, 90.0))
    held = pockets(30.0, 90.0)
    held[0]["holds"] = "15 g"
    answer = answered(cylinder(pocket=held))
    fresh = answered(plain)
    assert answer.needed.value == pytest.approx(fresh.needed.value, abs=1e-6)
    first = next(load for load in answer.pockets if load.name == "at 30")
    assert first.mass >= 0.015 - 1e-9
    assert first.add == pytest.approx(first.mass - 0.015, abs=1e-12)
    assert sum(load.mass for load in answer.pockets) == pytest.approx(answer.put, rel=1e-9)


def test_a_pocket_kept_is_not_filled(cylinder: Maker) -> None:
    kept = [*pockets(30.0, free=False, holds="10 g"), *pockets(60.0, 90.0)]
    answer = answered(cylinder(pocket=kept, aim={"does": "floats", "reserve": "12 %"}))
    assert answer.lure.held["at 30"] == pytest.approx(0.010)
    assert next(load for load in answer.pockets if load.name == "at 30").add == 0.0
    assert answer.excess_left == pytest.approx(0.0, abs=1e-7)


def test_nothing_is_put_beyond_the_room_and_what_is_short_is_told(cylinder: Maker) -> None:
    design = cylinder(pocket=pockets(60.0, bore="8 mm"), aim={"does": "sinks", "rate": "2 s/ft"})
    answer = answered(design)
    (load,) = answer.pockets
    assert load.bored.depth == pytest.approx(load.pocket.room, rel=1e-6)
    assert load.mass == pytest.approx(load.pocket.capacity, rel=1e-6)
    assert answer.excess_left < -0.005
    assert answer.excess_left == pytest.approx(excess(put_back(design, answer)) - answer.target.excess, abs=1e-9)
    worth = 1.0 - 400.0 / 11340.0
    assert answer.needed.value - answer.put == pytest.approx(-answer.excess_left / worth, rel=1e-6)


def test_a_lure_too_heavy_already_gets_nothing(cylinder: Maker) -> None:
    answer = answered(cylinder(wood={"density": "1.2 g/cm3"}, pocket=pockets(40.0, 80.0)))
    assert answer.pockets == ()
    assert answer.put == 0.0
    assert answer.needed.value == 0.0
    body = math.pi * 0.120 * 0.010 * 0.020
    assert answer.excess_left == pytest.approx((1200.0 - water_density(293.15, 0.0)) * body, rel=1e-6)


def test_no_pocket_to_fill_has_no_answer(cylinder: Maker) -> None:
    for design in (cylinder(), cylinder(pocket=pockets(60.0, free=False))):
        with pytest.raises(NoAnswer, match="no free pocket"):
            answered(design)


@pytest.mark.parametrize("aim", [{"does": "sinks", "rate": "3 s/ft"}, {"does": "floats", "reserve": "15 %"}])
def test_segments_asked_to_float_alike_do(cylinder: Maker, aim: dict[str, str]) -> None:
    design = cylinder(
        joint=[{"at": "70 mm", "gap": "2 mm"}], pocket=pockets(20.0, 50.0, 80.0, 110.0),
        hook=[{"name": "hook", "at": "30 mm", "weight": "4 g"}], aim=aim,
    )  # fmt: skip
    lure = answered(design).lure
    whole, _ = lure.state()
    share = float(excess_mass(whole, whole[WATER]) / whole[VOLUME])
    for piece in (0, 1):
        state, _ = lure.state(lure.chosen(segment=piece))
        assert float(excess_mass(state, state[WATER]) / state[VOLUME]) == pytest.approx(share, rel=0.01)


# --- the spread ---


def test_the_spread_of_the_ballast_is_that_of_what_it_makes_up_for(cylinder: Maker) -> None:
    """To hang, only wood (2 %) and drawing (4 %) unsure: lead follows (water - wood) V and wood V."""
    sure = {"temperature": "0 C", "scale": "0 g", "material_density": "0 %"}
    water = {"kind": "fresh", "temperature": "20 C", "salinity": "0 ppt ± 0 ppt"}
    answer = answered(cylinder(pocket=pockets(60.0, plug="0 mm", bore="14 mm"), uncertainty=sure, water=water,
                               wood={"density": "0.6 g/cm3"}))  # fmt: skip
    body, rho = math.pi * 0.120 * 0.010 * 0.020, water_density(293.15, 0.0)

    def lead(wood: float, volume: float) -> float:
        return (rho - wood) * volume / (1.0 - wood / 11340.0)

    by_wood = 0.5 * (lead(612.0, body) - lead(588.0, body))
    by_volume = 0.5 * (lead(600.0, 1.04 * body) - lead(600.0, 0.96 * body))
    assert answer.needed.spread == pytest.approx(math.hypot(by_wood, by_volume), rel=0.02)


def test_what_to_leave_out_is_no_more_than_what_goes_in(cylinder: Maker) -> None:
    sure = answered(cylinder(pocket=pockets(30.0, 90.0), wood={"blank_weight": "30 g"},
                             measured=[{"stage": "shaped", "displaced": "75.3 g"}]))  # fmt: skip
    assert sure.spare == pytest.approx(sure.needed.spread)
    little = answered(cylinder(pocket=pockets(60.0), wood={"species": "basswood"}, fitting=[
        {"name": "tape", "kind": "stick-on", "weight": "50 g", "material": "lead", "at": "60 mm"}]))  # fmt: skip
    assert little.spare == pytest.approx(sum(load.add for load in little.pockets))


# --- whole shot ---

STOCK = {"shot": [{"weight": "4.3 g", "count": 5, "hammered": True}, {"weight": "1.1 g", "count": 4, "hammered": True}]}


def in_shot(design: Design) -> Ballasting:
    lure = assemble(design)
    return in_whole_shot(design, lure, ballasting(design, lure))


@pytest.mark.parametrize("reserve", [30.0, 33.0, 37.0])
def test_whole_shot_are_the_best_of_every_choice(cylinder: Maker, reserve: float) -> None:
    """Two bores, two sizes: every count tried by making the lure with it."""
    design = cylinder(pocket=pockets(35.0, 85.0), stock=STOCK, aim={"does": "floats", "reserve": f"{reserve} %"})
    answer = in_shot(design)
    lure = assemble(design)

    def price(held: dict[str, float]) -> float:
        """Weight first, then the moment about the middle, as grams at ten millimetres; then the holes."""
        made = lure.filled(held)
        state, _ = made.state()
        moment = abs(float(state[1] - state[0] * answer.target.support[0])) * 1e5
        holes = sum(mass > 0.0 for mass in held.values())
        return 1e5 * abs(excess(made) - answer.target.excess) + 20.0 * moment + 0.02 * holes

    best = math.inf
    for a, b, c, d in itertools.product(range(6), range(6), range(5), range(5)):
        if a + b <= 5 and c + d <= 4:
            best = min(best, price({"at 35": 0.0043 * a + 0.0011 * c, "at 85": 0.0043 * b + 0.0011 * d}))
    assert price(dict(answer.lure.held)) <= best + 2.0  # 2.0: 0.02 g in water
    assert answer.in_shot


def test_whole_shot_are_whole_in_stock_and_told_truly(cylinder: Maker) -> None:
    design = cylinder(pocket=pockets(35.0, 85.0), stock=STOCK, aim={"does": "floats", "reserve": "30 %"})
    answer = in_shot(design)
    for load in answer.pockets:
        assert load.mass == pytest.approx(0.0043 * load.shot[0] + 0.0011 * load.shot[1], rel=1e-9)
    for place, count in enumerate((5, 4)):
        assert sum(load.shot[place] for load in answer.pockets) <= count
    made = put_back(design, answer)
    assert answer.excess_left == pytest.approx(excess(made) - answer.target.excess, abs=1e-9)
    assert answer.put == pytest.approx(sum(load.mass for load in answer.pockets))


def test_a_drawer_that_runs_out_leaves_what_it_leaves(cylinder: Maker) -> None:
    few = {"shot": [{"weight": "4.3 g", "count": 3, "hammered": True}]}
    answer = in_shot(cylinder(pocket=pockets(35.0, 85.0), stock=few))
    assert answer.put == pytest.approx(3 * 0.0043)
    assert answer.excess_left < -0.02


@pytest.mark.parametrize("held", ["0 g", "4 g"])
def test_loose_shot_stay_within_the_bore(cylinder: Maker, held: str) -> None:
    """What is poured already lies under the loose shot; shot and gaps go no deeper than the wood allows."""
    design = cylinder(60.0, 8.0, 10.0, pocket=pockets(30.0, bore="10 mm", holds=held), stock={"shot": [
        {"weight": "1 g"}]}, aim={"does": "sinks", "rate": "1 s/ft"})  # fmt: skip
    answer = in_shot(design)
    (load,) = answer.pockets
    assert load.bored.depth <= load.pocket.room + 1e-9
    ball = (6.0 * 0.001 / (math.pi * 11340.0)) ** (1.0 / 3.0)
    pile = ball + (load.shot[0] - 1) * math.sqrt(ball**2 - (0.010 - ball) ** 2)  # from wall to wall
    poured = 1e-3 * float(held[0]) / 11340.0 / (math.pi / 4.0 * 0.010**2)
    assert load.bored.length == pytest.approx(poured + pile, rel=1e-6)
    assert load.shot[0] >= 1


def test_a_ball_on_flattened_shot_has_its_own_diameter_of_bore(cylinder: Maker) -> None:
    stock = {"shot": [{"weight": "3.2 g", "count": 2, "hammered": True}, {"diameter": "5 mm", "count": 1}]}
    answer = in_shot(cylinder(160.0, 20.0, 20.0, pocket=pockets(80.0, bore="10 mm"), stock=stock))
    (load,) = answer.pockets
    assert load.shot == (2, 1)
    flat = 2.0 * 0.0032 / 11340.0 / (math.pi / 4.0 * 0.010**2)
    assert load.bored.depth == pytest.approx(flat + 0.005 + 0.003, abs=1e-9)


def test_shot_too_wide_for_every_bore_is_no_answer(cylinder: Maker) -> None:
    wide = {"shot": [{"diameter": "13 mm"}]}
    with pytest.raises(NoAnswer, match="no shot in stock fits a pocket"):
        in_shot(cylinder(pocket=pockets(35.0, 85.0), stock=wide))


def test_shot_by_diameter_is_a_ball_of_its_metal(cylinder: Maker) -> None:
    design = cylinder(pocket=pockets(60.0), stock={"shot": [{"diameter": "6 mm"}, {"weight": "1 g"}, {
        "diameter": "6 mm", "weight": "1.2 g", "material": "tungsten"}]})  # fmt: skip
    first, second, third = usable_shot(design.stock.shot, assemble(design))
    assert first.mass == pytest.approx(11340.0 * math.pi / 6.0 * 0.006**3, rel=1e-9)
    assert second.diameter == pytest.approx((6e-3 / (math.pi * 11340.0)) ** (1.0 / 3.0), rel=1e-9)
    assert (third.mass, third.diameter) == (pytest.approx(1.2e-3), pytest.approx(6e-3))


def test_the_answer_does_not_depend_on_the_order_of_the_pockets(cylinder: Maker) -> None:
    there, back = pockets(30.0, 60.0, 90.0), pockets(90.0, 60.0, 30.0)
    found = [answered(cylinder(pocket=order, aim={"does": "sinks", "rate": "3 s/ft"})) for order in (there, back)]
    masses = [np.array(sorted((load.mass, load.bored.depth) for load in answer.pockets)) for answer in found]
    assert masses[0] == pytest.approx(masses[1], abs=1e-5)
