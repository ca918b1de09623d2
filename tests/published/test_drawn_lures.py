"""Lures of the trade's own sums and stories, drawn and assembled, against the same worked out by hand.

The trade's numbers are common practice without a source; what is not given there is said where it is chosen.
Shapes are ellipsoids scaled to the body's volume, finished size for size with bare wood unless coats are named.
"""

import math

import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.ballasting import Ballasting, ballasting
from gudgeon.answers.check import check
from gudgeon.answers.elsewhere import elsewhere
from gudgeon.answers.sinking_rate import sinking_rate
from gudgeon.design.model import Design
from gudgeon.physics.lure import WATER, Lure
from gudgeon.physics.mass import MASS, VOLUME
from gudgeon.physics.sinking import excess_mass
from gudgeon.units import FOOT

PRACTICE = "common practice, no source"
FRESH_20, SEA_20 = 0.998207, 1.024763  # g/cm3: Tanaka 2001; TEOS-10 at 35 g/kg, 20 C
LEAD, STEEL, ALUMINIUM = 11.34, 7.85, 2.70


def ellipsoid(cc: float, length: float, half_depth: float, **tables: object) -> Design:
    """A body of `cc` [cm3] through 31 points; length and half depth in mm, its width as the volume asks."""
    angles = [math.pi * share / 30.0 for share in range(31)]
    half_width = cc * 1000.0 / (2.0 / 3.0 * math.pi * length * half_depth)

    def drawn(half_width: float) -> Design:
        points = [(0.5 * length * (1.0 - math.cos(a)), 0.0 if a in (0.0, math.pi) else math.sin(a)) for a in angles]
        outline = {"back": [f"{x:.9f} mm: {half_depth * r:.12f} mm" for x, r in points],
                   "side": [f"{x:.9f} mm: {half_width * r:.12f} mm" for x, r in points],
                   "drawn": "bare wood"}  # fmt: skip
        return Design.model_validate({"name": "drawn", "length": f"{length} mm", "outline": outline, **tables})

    first = sum(segment.bare for segment in assemble(drawn(half_width)).segments)
    return drawn(half_width * cc * 1e-6 / first)


def other(name: str, grams: float, material: str, buried: str, at: str = "50 mm") -> dict[str, object]:
    return {"name": name, "kind": "other", "weight": f"{grams} g", "material": material, "at": at, "buried": buried,
            "height": "-5 mm"}  # fmt: skip


def grams(mass: float) -> float:
    return 1e3 * mass


def excess(lure: Lure) -> float:
    state, _ = lure.state()
    return grams(float(excess_mass(state, state[WATER])))


# --- a maker's own sum: hang it in fresh water, then a quarter more lead ---


def practised(kind: str = "fresh", shot: int = 3, fittings: float = 4.09, does: str = "hangs") -> Design:
    pockets = [{"name": f"shot {place}", "at": f"{40 + 10 * place} mm", "bore": "9.05 mm", "plug": "0 mm",
                "holds": "4.29 g"} for place in range(shot)]  # fmt: skip
    return ellipsoid(
        56.448, 110.0, 18.0, wood={"blank_weight": "37.82 g"}, water={"kind": kind, "temperature": "20 C"},
        aim={"does": does}, fitting=[other("fittings", fittings, "steel", "100 %"),
                                     other("plate", 0.89, "aluminium", "100 %")],
        hook=[{"name": "hooks", "at": "55 mm", "weight": "3.70 g"}], pocket=pockets,
    )  # fmt: skip


def by_hand(water: float) -> float:
    """Parts less the wood they push out, less the water that body and hooks displace [g]."""
    wood = 37.82 / 56.448
    gone = wood * (4.09 / STEEL + 0.89 / ALUMINIUM + 12.87 / LEAD)
    mass = 37.82 + 4.09 + 0.89 + 3.70 + 12.87 - gone
    return mass - water * (56.448 + 3.70 / STEEL)


@pytest.mark.source(PRACTICE, where="a bare body of 37.82 g in wood of 0.67 g/cm3 displaces 56.4 cm3")
def test_the_blank_displaces_what_its_wood_says() -> None:
    lure = assemble(practised())
    assert lure.segments[0].bare == pytest.approx(56.448e-6, rel=1e-9)
    assert lure.wood_density_of(0) == pytest.approx(670.0, abs=0.05)


@pytest.mark.source(PRACTICE, where="blank, fittings 4.09, plate 0.89, hooks 3.7: 46.49 g, some 10 g short of hanging")
def test_the_parts_add_up_and_fall_ten_grams_short() -> None:
    parts = [item for item in assemble(practised(shot=0)).ledger.items if item.kind != "slot"]
    assert grams(sum(item.mass for item in parts)) == pytest.approx(46.49, abs=0.011)
    short = practised(shot=1).model_copy(update={"pockets": practised(shot=1).pockets[:1]})
    answer = ballasting(short, assemble(short))
    assert grams(answer.needed.value) == pytest.approx(10.9, abs=1.0)  # with the wood the parts take and hooks' water


@pytest.mark.source(PRACTICE, where="three shot of 4.29 g: about 1.2 g heavy in fresh water at 20 C, ± 0.3 g")
def test_so_ballasted_it_is_heavy_in_a_lake() -> None:
    found = excess(assemble(practised()))
    assert found == pytest.approx(1.2, abs=0.3)
    assert found == pytest.approx(by_hand(FRESH_20), abs=0.02)


@pytest.mark.source(PRACTICE, where="the same lure about 0.3 g light in the sea at 35 g/kg and 20 C, ± 0.3 g")
def test_and_light_in_the_sea() -> None:
    found = excess(assemble(practised("sea")))
    assert found == pytest.approx(-0.3, abs=0.3)
    assert found == pytest.approx(by_hand(SEA_20), abs=0.02)
    lake = assemble(practised())
    sea = next(water for water in elsewhere(practised(), lake, 1.0) if water.kind == "sea")
    assert grams(sea.rate.excess.value) == pytest.approx(found, abs=1e-6)


@pytest.mark.source(PRACTICE, where="set to sink, tested in the lake, meant for the sea, and there it floats")
def test_the_check_says_so_with_both_numbers() -> None:
    answer = check(practised())
    told = next(finding for finding in answer.findings if finding.words.startswith("In the sea this floats"))
    there, restore = (told.numbers[name][0] for name in ("there", "restore"))
    assert isinstance(there, float)
    assert isinstance(restore, float)
    assert grams(there) == pytest.approx(-by_hand(SEA_20), abs=0.02)
    wanted = (by_hand(FRESH_20) - by_hand(SEA_20)) / (1.0 - 0.67 / LEAD)
    assert grams(restore) == pytest.approx(wanted, abs=0.02)
    assert told.words.endswith("{restore} of ballast more restores it.")


@pytest.mark.source(PRACTICE, where="told 66.49 g: already 10 g heavier than the water it displaces")
def test_twenty_grams_of_slip_are_told_as_already_heavier_than_water() -> None:
    """The total told before any ballast, 66.49 g, is 20 g over its parts; as outside fittings it would sink."""
    answer = check(practised(fittings=4.09 + 20.0, shot=0))
    told = next(finding for finding in answer.findings if finding.words.startswith("Already {excess} heavier"))
    assert "ballast makes it sink faster" in told.words
    assert grams(answer.now.excess.value) == pytest.approx(10.0, abs=3.0)
    assert answer.rate.words.endswith("sinker")


# --- a two-piece glide, a lipped crankbait, a suspending jerkbait ---


def fahrenheit(degrees: float) -> dict[str, object]:
    return {"kind": "fresh", "temperature": f"{degrees} F", "salinity": "0 ppt"}


def with_coats(cc: float, length: float, half_depth: float, coats: float, **tables: object) -> Design:
    """A body with `coats` [g] of 1.15 g/cm3 spread over its skin."""
    bare = assemble(ellipsoid(cc, length, half_depth, **tables))
    thick = coats / 1.15 / (1e4 * bare.segments[0].skin) * 10.0
    coat = {"name": "coats", "thickness": f"{thick:.9f} mm", "density": "1.15 g/cm3"}
    return ellipsoid(cc, length, half_depth, coat=[coat], **tables)


def ballasted(design: Design) -> tuple[Ballasting, Lure]:
    answer = ballasting(design, assemble(design))
    assert answer.excess_left == pytest.approx(0.0, abs=1e-7)
    return answer, answer.lure


def total(lure: Lure) -> float:
    return grams(lure.sums().mass)


def glide(rate: str, cc: float = 128.2) -> Design:
    # plan area 30 cm2: an ellipse of 178 mm is 21.46 mm wide, and so 64 mm deep; hardware outside, no plug
    pockets = [{"name": name, "at": at, "bore": "14 mm", "plug": "0 mm"} for name, at in (("fore", "60 mm"),
                                                                                     ("aft", "115 mm"))]  # fmt: skip
    return with_coats(
        cc, 178.0, 32.04 * cc / 128.2, 6.0, wood={"density": f"{60.2 / cc} g/cm3"}, water=fahrenheit(55.0),
        aim={"does": "sinks", "rate": rate}, coefficients={"fall_drag": 1.0},
        hook=[{"name": "hardware", "at": "89 mm", "weight": "17.7 g"}], pocket=pockets,
    )  # fmt: skip


@pytest.mark.source(PRACTICE, where="a two-piece glide of 128.2 cc, 3 s/ft level: excess 1.6 g, lead 55.5 g, 137 g")
def test_story_2_the_lead_for_three_seconds_a_foot() -> None:
    answer, lure = ballasted(glide("3 s/ft"))
    assert grams(lure.falling.plan_area) * 10.0 == pytest.approx(30.0, abs=0.1)
    assert grams(answer.target.excess) == pytest.approx(1.6, abs=0.05)
    assert grams(answer.needed.value) == pytest.approx(55.5, abs=0.3)
    assert grams(answer.put) == pytest.approx(grams(answer.needed.value), abs=1e-3)
    assert total(lure) == pytest.approx(137.0, abs=0.5)
    assert answer.tilt_left == pytest.approx(0.0, abs=1e-4)


@pytest.mark.source(PRACTICE, where="the same at 2 s/ft 57.5 g, at 5 s/ft 54.4 g")
@pytest.mark.parametrize(("rate", "lead"), [("2 s/ft", 57.5), ("5 s/ft", 54.4)])
def test_story_2_other_rates(rate: str, lead: float) -> None:
    assert grams(ballasted(glide(rate))[0].needed.value) == pytest.approx(lead, abs=0.3)


@pytest.mark.source(PRACTICE, where="1 % of volume swings it from about 8 s/ft to 2.2 s/ft, 2 % makes it float")
def test_story_2_a_slip_in_the_volume() -> None:
    lure = ballasted(glide("3 s/ft"))[1]

    def falls(share: float) -> float:
        """[m/s] with the wood's weight as it was and a body fuller by a share of itself."""
        state, effects = lure.state()
        moved = state.copy()
        moved[VOLUME:WATER] += share * 128.2e-6 / state[VOLUME] * state[VOLUME:WATER]
        return sinking_rate(moved, effects, lure.knowledge, lure.falling).velocity.value

    assert FOOT / falls(0.01) == pytest.approx(8.0, rel=0.15)
    assert FOOT / falls(-0.01) == pytest.approx(2.2, rel=0.05)
    assert falls(0.02) < 0.0


def crank(reserve: str, cc: float = 22.8, density: float = 0.40) -> Design:
    # lip 1.9 g of polycarbonate outside, the rest steel outside, two bores without plugs
    pockets = [{"name": name, "at": at, "bore": "10 mm", "plug": "0 mm", "wall": "2 mm"}
               for name, at in (("fore", "28 mm"), ("aft", "42 mm"))]  # fmt: skip
    return with_coats(
        cc, 70.0, 17.0, 1.6, wood={"density": f"{density} g/cm3"}, water=fahrenheit(68.0),
        aim={"does": "floats", "reserve": reserve}, coefficients={"fall_drag": 1.0},
        fitting=[other("lip", 1.9, "polycarbonate", "0 %", "35 mm")],
        hook=[{"name": "hardware", "at": "35 mm", "weight": "2.8 g"}], pocket=pockets,
    )  # fmt: skip


@pytest.mark.source(PRACTICE, where="a crankbait of 22.8 cc: 20 % reserve 5.7 g of lead, 20.9 g; 35 % 1.6 g, 17 g")
@pytest.mark.parametrize(("reserve", "lead", "finished"), [("20 %", 5.7, 20.9), ("35 %", 1.6, 17.0)])
def test_story_3_lead_for_a_reserve(reserve: str, lead: float, finished: float) -> None:
    answer, lure = ballasted(crank(reserve))
    assert grams(answer.needed.value) == pytest.approx(lead, abs=0.1)
    assert total(lure) == pytest.approx(finished, abs=0.1)
    state, _ = lure.state()
    assert 1.0 - state[MASS] / (state[WATER] * state[VOLUME]) == pytest.approx(float(reserve[:2]) / 100.0, abs=1e-6)


@pytest.mark.source(PRACTICE, where="the lipped crankbait with 20 % reserve rises at about 1 s/ft")
def test_story_3_rise() -> None:
    lure = ballasted(crank("20 %"))[1]
    state, effects = lure.state()
    rate = sinking_rate(state, effects, lure.knowledge, lure.falling)
    assert FOOT / -rate.velocity.value == pytest.approx(1.0, rel=0.15)


@pytest.mark.source(PRACTICE, where="4 % of volume moves the lead 0.75 g, blank weighed; 0.4 g if drawn")
def test_story_3_a_slip_in_the_pattern() -> None:
    weighed = [grams(ballasted(crank("20 %", cc, 9.12 / cc))[0].needed.value) for cc in (22.8 * 0.96, 22.8 * 1.04)]
    drawn = [grams(ballasted(crank("20 %", cc))[0].needed.value) for cc in (22.8 * 0.96, 22.8 * 1.04)]
    assert 0.5 * (weighed[1] - weighed[0]) == pytest.approx(0.75, abs=0.05)
    assert 0.5 * (drawn[1] - drawn[0]) == pytest.approx(0.4, abs=0.06)


def jerk(degrees: float, hook: float = 0.72) -> Design:
    # three hooks within 4.3 g of hardware, of which a lip of 0.84 g; the rest steel; all outside
    hooks = [{"name": f"hook {at}", "at": f"{at} mm", "weight": f"{hook} g"} for at in (35, 60, 95)]
    pockets = [{"name": name, "at": at, "bore": "7 mm", "plug": "0 mm", "wall": "2 mm"}
               for name, at in (("fore", "35 mm"), ("middle", "55 mm"), ("aft", "70 mm"))]  # fmt: skip
    return with_coats(
        17.8, 110.0, 13.0, 2.0, wood={"density": "0.42 g/cm3"}, water=fahrenheit(degrees), aim={"does": "hangs"},
        fitting=[other("lip", 0.84, "polycarbonate", "0 %"), other("eyes", 4.3 - 0.84 - 3 * 0.72, "steel", "0 %")],
        hook=hooks, pocket=pockets,
    )  # fmt: skip


@pytest.mark.source(PRACTICE, where="a jerkbait of 17.8 cc: lead 7.14 g at 45 F, 7.12 g at 68 F, total 20.7 g")
def test_story_5_lead_to_hang() -> None:
    answer, lure = ballasted(jerk(45.0))
    assert grams(answer.needed.value) == pytest.approx(7.1, abs=0.1)
    assert total(lure) == pytest.approx(20.7, abs=0.1)
    warm = ballasted(jerk(68.0))[0]
    assert grams(answer.needed.value - warm.needed.value) == pytest.approx(0.02, abs=0.02)


@pytest.mark.source(PRACTICE, where="one hook up a size, 0.23 g more, is 0.20 g net; 68 to 45 F is 0.02 g")
def test_story_5_a_bigger_hook_and_colder_water() -> None:
    design = jerk(68.0)
    lure = ballasted(design)[1]
    bigger = design.model_copy(update={"hooks": (
        design.hooks[0].model_copy(update={"weight": type(design.hooks[0].weight)(0.95e-3)}), *design.hooks[1:],
    )})  # fmt: skip
    swapped = assemble(bigger).filled(lure.held)
    assert excess(swapped) == pytest.approx(0.20, abs=0.005)
    cold = assemble(jerk(45.0)).filled(lure.held)
    assert excess(cold) == pytest.approx(-0.02, abs=0.02)  # the water alone makes 0.035; wood shrinks a little too
