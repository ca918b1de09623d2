"""Lead in the wood: a plug in a new small hole, lead moved from hole to hole, taken out, or put in."""

from collections.abc import Iterator, Mapping
from functools import partial

from gudgeon.answers.fix_bench import (
    FixBench,
    Made,
    Proposal,
    Trial,
    balance_point,
    first_guess,
    level_station,
    most_of,
    solved,
    unused,
)
from gudgeon.answers.saying import note, plain
from gudgeon.answers.stick_fixes import light_side, station_at_end
from gudgeon.design.model import Design, Pocket
from gudgeon.physics.lure import Lure
from gudgeon.units import Measure, Reading

_PLUG_BORES = (0.006, 0.008, 0.010)  # m


def _drilled(design: Design, place: tuple[float, float, float], mass: float) -> Made:
    """A new hole in the belly with lead in it; place : station, bore and offset [m]."""
    at, bore, offset = place
    name = unused("new hole", [pocket.name for pocket in design.pockets])
    hole = Pocket.model_construct(name=name, at=at, bore=bore, holds=Reading(mass), free=False, offset=offset,
                                  plug=0.002, wall=0.002)  # fmt: skip
    return design.model_copy(update={"pockets": (*design.pockets, hole)}), frozenset()


def _plug(bench: FixBench, at: float, arm: float, words: str, offset: float = 0.0) -> Iterator[Proposal]:
    """Lead in a new small hole, the narrowest of the usual ones that takes it."""
    for bore in _PLUG_BORES:
        found = solved(bench, partial(_drilled, bench.seen.design, (at, bore, offset)), first_guess(bench, arm),
                       most_of(bench))  # fmt: skip
        if found is not None:
            mass, made, lure = found
            depth = lure.fills[made[0].pockets[-1].name].depth
            what = note(words, mass=(mass, Measure.MASS), at=(at, Measure.CUT), bore=(bore, Measure.CUT),
                        depth=(depth, Measure.BORE), aside=(abs(offset), Measure.CUT))  # fmt: skip
            yield Proposal(what, made[0], lure)
            return


_HOLE = "a new hole in the belly {at} from the nose, {bore} wide and {depth} deep, {mass} of lead in it"


def _plug_at_end(bench: FixBench) -> Iterator[Proposal]:
    at = station_at_end(bench)
    yield from _plug(bench, at, at - balance_point(bench), _HOLE)


def _plug_in_middle(bench: FixBench) -> Iterator[Proposal]:
    if bench.off < 0.0:
        yield from _plug(bench, level_station(bench), 0.0, _HOLE)


def _plug_at_side(bench: FixBench) -> Iterator[Proposal]:
    side, at, out = light_side(bench)
    words = f"{_HOLE}, {{aside}} to the {side} of the middle"
    yield from _plug(bench, at, out, words, out)


def _refilled(bench: FixBench, masses: dict[str, float]) -> Made:
    """Other lead in holes that are there; one that loses lead stays as deep as it is, and is filled up."""
    lure = bench.seen.lure

    def other(pocket: Pocket) -> Pocket:
        if pocket.name not in masses:
            return pocket
        update: dict[str, object] = {"holds": Reading(masses[pocket.name])}
        if masses[pocket.name] < lure.held[pocket.name] and pocket.depth is None:
            update["depth"] = lure.fills[pocket.name].depth
        return pocket.model_copy(update=update)

    design = bench.seen.design
    return design.model_copy(update={"pockets": tuple(other(pocket) for pocket in design.pockets)}), frozenset()


def _leaded(bench: FixBench) -> list[Pocket]:
    """Pockets with ballast in them, from the nose aft."""
    held = bench.seen.lure.held
    return sorted((pocket for pocket in bench.seen.design.pockets if held[pocket.name] > bench.step),
                  key=lambda pocket: pocket.at)  # fmt: skip


def _take_lead(bench: FixBench) -> Iterator[Proposal]:
    """Lead out of the hole at the heavy end."""
    pockets = _leaded(bench)
    if not pockets:
        return
    pocket = pockets[0] if bench.light_end > 0 else pockets[-1]
    arm = pocket.at - balance_point(bench)
    if arm * bench.light_end < -0.005:
        held = bench.seen.lure.held[pocket.name]
        found = solved(bench, partial(_changed_by, bench, pocket.name, -1.0), first_guess(bench, arm), held)
        if found is not None:
            words = f"{{mass}} of lead out of the {plain(pocket.name)} hole, {{at}} from the nose"
            yield _of_hole(found, words, pocket)


def _of_hole(found: tuple[float, Made, Lure], words: str, pocket: Pocket) -> Proposal:
    mass, made, lure = found
    return Proposal(note(words, mass=(mass, Measure.MASS), at=(pocket.at, Measure.CUT)), made[0], lure)


def _move_lead(bench: FixBench) -> Iterator[Proposal]:
    """Lead from the hole at the heavy end to the one at the light end."""
    pockets = _leaded(bench)
    free = sorted((pocket for pocket in bench.seen.design.pockets if pocket.free), key=lambda pocket: pocket.at)
    if not pockets or not free:
        return
    source = pockets[0] if bench.light_end > 0 else pockets[-1]
    target = free[-1] if bench.light_end > 0 else free[0]
    arm = abs(target.at - source.at)
    held = bench.seen.lure.held
    if target.name == source.name or (target.at - source.at) * bench.light_end < 0.01:
        return

    def family(mass: float) -> Made:
        return _refilled(bench, {source.name: held[source.name] - mass,
                                             target.name: held[target.name] + mass})  # fmt: skip

    found = solved(bench, family, first_guess(bench, arm), held[source.name])
    if found is not None:
        words = f"{{mass}} of lead out of the {plain(source.name)} hole and into the {plain(target.name)} hole"
        yield _of_hole(found, words, target)


def _other_lead(bench: FixBench) -> Iterator[Proposal]:
    """More or less lead in the hole from which it turns the lure least."""
    takes = bench.off > 0.0
    held = bench.seen.lure.held
    usable = _leaded(bench) if takes else [pocket for pocket in bench.seen.design.pockets if pocket.free]
    middle = level_station(bench)
    for pocket in sorted(usable, key=lambda pocket: abs(pocket.at - middle)):
        most = held[pocket.name] if takes else most_of(bench)
        found = solved(bench, partial(_changed_by, bench, pocket.name, -1.0 if takes else 1.0),
                       first_guess(bench, 0.0), most)  # fmt: skip
        if found is not None:
            way = "out of" if takes else "more into"
            words = f"{{mass}} of lead {way} the {plain(pocket.name)} hole, {{at}} from the nose"
            yield _of_hole(found, words, pocket)
            return


def _changed_by(bench: FixBench, name: str, sign: float, mass: float) -> Made:
    return _refilled(bench, {name: bench.seen.lure.held[name] + sign * mass})


LEAD_TRIALS: Mapping[str, Trial] = {
    "plug at the end": _plug_at_end, "plug in the middle": _plug_in_middle, "plug at the side": _plug_at_side,
    "move lead": _move_lead, "take lead": _take_lead, "other lead": _other_lead,
}  # fmt: skip
