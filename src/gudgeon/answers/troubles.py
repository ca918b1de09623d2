"""What is wrong, or may go wrong, with a checked lure, and what to change first."""

import math
from collections.abc import Iterator, Sequence

from gudgeon.answers.aiming import steady_pitch
from gudgeon.answers.checked import Check
from gudgeon.answers.clearance import Clearance
from gudgeon.answers.finding import Finding, Gravity, Number
from gudgeon.answers.pieces import ALIKE_WITHIN
from gudgeon.answers.saying import plain
from gudgeon.library.cautions import sensitising
from gudgeon.library.woods import species
from gudgeon.units import Measure

_DEGREE = math.pi / 180.0
_TILT_TOLERATED = 5.0 * _DEGREE  # common practice, no source
_LIST_TOLERATED = 2.0 * _DEGREE
_HALF_GRAM = 5e-4
_LEFT_AS_IT_IS = 5e-5  # kg
_TILT_TOLD = 0.5 * _DEGREE
_PLUG_TOLD = 5e-5  # m: a plug thinner by less is as drawn
_FULL = 1e-4  # kg: less room than this is none


def troubles(answer: Check) -> list[Finding]:
    """Every finding of a check, in no order."""
    found = [*_weight(answer), *_class(answer), *_attitude(answer), *_upright(answer), *_bores(answer), *_plugs(answer)]
    return [*found, *_shot(answer), *_pieces(answer), *_waters(answer), *_casting(answer), *_wood(answer)]


def _weight(answer: Check) -> Iterator[Finding]:
    aim, ballast = answer.design.aim, answer.ballast
    excess = answer.now.excess
    if aim.does != "sinks" and excess.value > _HALF_GRAM:
        yield Finding(
            Gravity.WRONG,
            "Already {excess} heavier than the water it displaces as it stands; ballast makes it sink faster. "
            "Lighter wood or hardware, or a fuller body.",
            {"excess": (excess, Measure.MASS)},
        )
    if ballast is None:
        return
    left, added = ballast.excess_left, sum(load.add for load in ballast.pockets)
    too_heavy = left > max(_HALF_GRAM, 0.5 * ballast.needed.spread) and added < _HALF_GRAM
    if too_heavy and ballast.needed.value > 0.0 and ballast.put >= _HALF_GRAM:
        yield Finding(
            Gravity.WRONG,
            "{left} too heavy for the aim with what is in the pockets already. Take {out} of ballast out"
            f"{_out_of(answer, ballast.put - ballast.needed.value)}.",
            {"left": (left, Measure.MASS), "out": (ballast.put - ballast.needed.value, Measure.MASS)},
        )
    elif too_heavy:
        yield Finding(
            Gravity.WRONG,
            "{left} too heavy for the aim before any ballast goes in. Lighter wood or hardware, or a fuller body.",
            {"left": (left, Measure.MASS)},
        )
    elif added < _LEFT_AS_IT_IS and ballast.put > 0.0 and abs(left) <= ballast.needed.spread:
        return
    elif left < -max(_HALF_GRAM, 0.05 * ballast.needed.value):
        yield Finding(
            Gravity.WRONG,
            "The pockets hold {short} too little for the aim. Wider or deeper bores, another pocket, a denser metal.",
            {"short": (-left, Measure.MASS)},
        )
    elif abs(left) > max(_FULL, answer.rate.excess.spread):
        yield Finding(
            Gravity.WATCH,
            f"{{left}} {'heavier' if left > 0.0 else 'lighter'} in water than the aim asks: {_why_off(answer, left)}",
            {"left": (abs(left), Measure.MASS)},
        )


def _out_of(answer: Check, out: float) -> str:
    """The hole that so much ballast [kg] is best taken out of, in words: where it then lies nearest to the aim."""
    lies = {}
    for name, mass in answer.lure.held.items():
        if mass >= out:
            lighter = answer.lure.filled({name: mass - out})
            lies[name] = abs(steady_pitch(lighter, lighter.state()[0]) - answer.design.aim.attitude)
    if len(answer.lure.held) < 2 or not lies:
        return ""
    return f", best from the {plain(min(lies, key=lies.__getitem__))} hole"


def _why_off(answer: Check, left: float) -> str:
    """What keeps the ballast from the weight [kg] aimed at, and what would help."""
    free = {pocket.name for pocket in answer.design.pockets if pocket.free}
    has_room = any(pocket.capacity - answer.lure.held.get(pocket.name, 0.0) > _FULL
                   for pocket in answer.lure.pockets if pocket.name in free)  # fmt: skip
    if left < 0.0 and not has_room:
        return "its free holes are full. Wider or deeper bores, another pocket, a denser metal."
    if left > 0.0 and answer.lure.held == answer.drawn.held:
        return "that much is in it already. Take ballast out, or lighter hardware."
    return "with the holes where they are, the weight and the attitude do not come right together. Move a hole."


def _class(answer: Check) -> Iterator[Finding]:
    rate = answer.rate
    if rate.straddles or (rate.decides is not None and abs(rate.decides) < rate.excess.spread):
        measure = f" To be surer: {answer.measurement.words}." if answer.measurement else ""
        yield Finding(
            Gravity.WATCH,
            "It may float and it may sink: {decides} decide it, and the numbers are good to {spread}." + measure
            + " Leave the last of the lead out until the tub has spoken.",
            {"decides": (abs(rate.excess.value), Measure.MASS), "spread": (rate.excess.spread, Measure.MASS)},
        )  # fmt: skip


def _attitude(answer: Check) -> Iterator[Finding]:
    if not answer.lying.upright:
        return  # told by _upright, and all that needs telling
    wanted = answer.design.aim.attitude
    pitch = answer.lying.pitch if answer.rate.excess.value < 0.0 else answer.rate.attitude
    if pitch is None:
        return
    off = pitch.value - wanted
    if abs(off) > _TILT_TOLERATED:
        way = "nose-up" if pitch.value > 0.0 else "nose-down"
        yield Finding(
            Gravity.WRONG,
            f"Lies {{pitch}} {way} where {_asked(wanted)[0]} is asked for. "
            + ("Ballast or a heavier hook further forward." if off > 0.0 else "Ballast or a heavier hook further aft."),
            {"pitch": (abs(pitch.value), Measure.ANGLE)} | _asked(wanted)[1],
        )
    elif abs(off) > max(_TILT_TOLD, pitch.spread):
        way, end = ("up", "forward") if off > 0.0 else ("down", "aft")
        yield Finding(
            Gravity.WATCH,
            f"Lies {{off}} more nose-{way} than the aim asks: no free hole far enough {end} has room for it. Move a "
            f"hole {end}, or hang a heavier hook there.",
            {"off": (abs(off), Measure.ANGLE)},
        )
    elif pitch.spread > _TILT_TOLERATED:
        yield Finding(
            Gravity.WATCH,
            "The attitude is good to {spread} only: the buoyancy sits {lever} above the weight, so a millimetre of "
            "ballast fore or aft shows. Set it by the tub, with the last hole.",
            {"spread": (pitch.spread, Measure.ANGLE), "lever": (answer.lying.lever.value, Measure.LENGTH)},
        )
    lists = answer.lying.heel if answer.lying.afloat else answer.rate.list_angle.value
    if abs(lists) > _LIST_TOLERATED:
        side = "right" if lists > 0.0 else "left"
        yield Finding(
            Gravity.WRONG,
            f"Lists {{list}} to the {side}: weight off the middle. Move ballast or fittings to the middle plane.",
            {"list": (abs(lists), Measure.ANGLE)},
        )


def _asked(wanted: float) -> tuple[str, dict[str, Number]]:
    """An attitude [rad] in words, and the number in them."""
    if abs(wanted) < 0.5 * _TILT_TOLD:
        return "level", {}
    return "{wanted} " + ("nose-up" if wanted > 0.0 else "nose-down"), {"wanted": (abs(wanted), Measure.ANGLE)}


def _upright(answer: Check) -> Iterator[Finding]:
    lever, share = answer.lying.lever, answer.lying.lever_share
    wanted = answer.design.aim.upright
    if answer.lying.pitch is None:
        yield Finding(
            Gravity.WRONG,
            "Nothing holds it upright: its weight sits where its buoyancy does. Ballast in the belly.",
        )
    elif lever.value <= 0.0:
        yield Finding(
            Gravity.WRONG,
            "Turns over: its weight sits {lever} above its buoyancy. Ballast lower, in the belly; lighter wood above.",
            {"lever": (-lever.value, Measure.LENGTH)},
        )
    elif not answer.lying.upright:
        yield Finding(
            Gravity.WRONG,
            "Does not stay upright: it comes to rest {heel} over. Ballast lower, and on the middle plane.",
            {"heel": (abs(answer.lying.heel), Measure.ANGLE)},
        )
    elif share.value < 0.8 * wanted:
        yield Finding(
            Gravity.WATCH,
            "Stands less upright than asked: buoyancy {share} of the depth above the weight, {wanted} wanted. Ballast "
            "lower, or more of it under a lighter wood.",
            {"share": (share, Measure.PART), "wanted": (wanted, Measure.PART)},
        )


def _bores(answer: Check) -> Iterator[Finding]:
    close = {(one.pocket, one.to) for one in answer.clearances if not one.is_enough}
    yield from _too_close(answer.clearances, "The")
    yield from _too_close([one for one in answer.shot_clearances if (one.pocket, one.to) not in close],
                          "Drilled for the whole shot, the")  # fmt: skip


def _shot(answer: Check) -> Iterator[Finding]:
    """What whole shot spoil that solid ballast does not."""
    if answer.shot is None or not answer.lying.upright:
        return
    sums, wanted = answer.shot.lure.sums(), answer.design.aim.upright
    share = float(sums.buoyancy_centre[2] - sums.weight_centre[2]) / answer.lure.depth
    if share < 0.8 * wanted <= answer.lying.lever_share.value:
        yield Finding(
            Gravity.WATCH,
            "In whole shot it stands less upright than asked: buoyancy {share} of the depth above the weight, {wanted} "
            "wanted. Larger or hammered shot lie lower, or a wider bore.",
            {"share": (share, Measure.PART), "wanted": (wanted, Measure.PART)},
        )
    tilt = answer.shot.tilt_left
    if abs(tilt) > _TILT_TOLERATED and answer.ballast is not None and abs(answer.ballast.tilt_left) <= _TILT_TOLERATED:
        way = "up" if tilt > 0.0 else "down"
        yield Finding(
            Gravity.WATCH,
            f"In whole shot it lies {{tilt}} more nose-{way} than the aim asks. Shot of another size, or hammered.",
            {"tilt": (abs(tilt), Measure.ANGLE)},
        )


def _too_close(found: Sequence[Clearance], the: str) -> Iterator[Finding]:
    for clearance in found:
        if clearance.is_enough:
            continue
        meets = clearance.distance < 0.0
        to = plain(clearance.to)
        where = "" if clearance.place is None else ", {at} from the nose at a height of {height}"
        x, _, z = clearance.place or (0.0, 0.0, 0.0)
        words = f"{the} {plain(clearance.pocket)} bore " + (
            f"meets {to} by {{left}}" if meets else f"leaves {{left}} of wood to {to}, {{wanted}} wanted"
        ) + f"{where}. {clearance.mend}."  # fmt: skip
        numbers = {"left": abs(clearance.distance), "wanted": clearance.wanted, "at": x, "height": z,
                   "by": clearance.by}  # fmt: skip
        told = {name: (value, Measure.LENGTH) for name, value in numbers.items() if f"{{{name}}}" in words}
        yield Finding(Gravity.WRONG if meets else Gravity.WATCH, words, told)


def _plugs(answer: Check) -> Iterator[Finding]:
    """Holes drilled and filled already that leave less for the plug than is drawn."""
    wanted = {pocket.name: pocket.plug for pocket in answer.design.pockets}
    for pocket in answer.drawn.pockets:
        if pocket.plug < wanted[pocket.name] - _PLUG_TOLD:
            yield Finding(
                Gravity.WATCH,
                f"The plug of the {plain(pocket.name)} hole is {{plug}}, not {{wanted}}: with its ballast in, the hole "
                "as drilled leaves no more. See that it closes the hole.",
                {"plug": (pocket.plug, Measure.LENGTH), "wanted": (wanted[pocket.name], Measure.LENGTH)},
            )


def _pieces(answer: Check) -> Iterator[Finding]:
    if not answer.design.aim.segments_alike or len(answer.pieces) < 2:
        return
    odd = [piece for piece in answer.pieces if abs(piece.unlike.value) > ALIKE_WITHIN]
    if odd:
        worst = max(odd, key=lambda piece: abs(piece.unlike.value))
        way = "heavier" if worst.unlike.value > 0.0 else "lighter"
        yield Finding(
            Gravity.WATCH,
            f"The pieces do not float alike: the {worst.name} is {{unlike}} of its own weight {way} in water than the "
            "whole lure, 3 % is the habit. "
            + ("Its joint will hang." if way == "heavier" else "It will ride up at its joint."),
            {"unlike": (abs(worst.unlike.value), Measure.PART)},
        )  # fmt: skip


def _waters(answer: Check) -> Iterator[Finding]:
    at_home = answer.rate.excess.value
    for other in answer.elsewhere:
        there = other.rate.excess.value
        if other.kind != "brackish" and at_home * there < 0.0:
            does, by = ("floats", "light") if there < 0.0 else ("sinks", "heavy")
            where = "In the sea" if other.kind == "sea" else "In fresh water"
            change = "more restores it" if other.restore > 0.0 else "less restores it"
            yield Finding(
                Gravity.NOTE,
                f"{where} this {does}: {{there}} {by}. {{restore}} of ballast {change}.",
                {"there": (abs(there), Measure.MASS), "restore": (abs(other.restore), Measure.MASS)},
            )


def _casting(answer: Check) -> Iterator[Finding]:
    weight, least, most = answer.casting.weight, answer.casting.least, answer.casting.most
    if most is not None and weight.value > most:
        yield Finding(
            Gravity.WATCH,
            "Weighs {weight} with snap and leader, over the rod's {most}.",
            {"weight": (weight, Measure.CASTING_MASS), "most": (most, Measure.CASTING_MASS)},
        )
    if least is not None and weight.value < least:
        yield Finding(
            Gravity.WATCH,
            "Weighs {weight} with snap and leader, under the rod's {least}.",
            {"weight": (weight, Measure.CASTING_MASS), "least": (least, Measure.CASTING_MASS)},
        )


def _wood(answer: Check) -> Iterator[Finding]:
    name = answer.design.wood.species
    caution = sensitising(species(name)) if name else None
    if caution is not None:
        yield Finding(Gravity.NOTE, caution.words)
