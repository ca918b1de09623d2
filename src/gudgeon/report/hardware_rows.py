"""Hinges, hooks and clashes as rows."""

import math
from collections.abc import Iterator

import numpy as np

from gudgeon.answers.clashing import Clash
from gudgeon.answers.hinge_made import Cutout, HingePart
from gudgeon.answers.hinging import HingeAnswer
from gudgeon.answers.hook_reach import Hanging, HookReach
from gudgeon.answers.rigging import Rigging
from gudgeon.report.rows import Measure, Row, Section, Shop, row, slug, spoken, words_row

_SAME_PLACE = 1e-5  # m
_THINGS = {"tow eye": "the tow eye", "line": "the line ahead", "lip": "the lip's edge", "fin": "the fin"}


def hardware_rows(answer: Rigging, pieces: tuple[str, ...], shop: Shop) -> tuple[Row, ...]:
    """Every row; `pieces` are the segments' names."""
    return tuple(line for section in hardware_sections(answer, pieces, shop) for line in section.rows)


def hardware_sections(answer: Rigging, pieces: tuple[str, ...], shop: Shop) -> tuple[Section, ...]:
    """The rows under their titles."""
    found = []
    for hinge in answer.hinging.hinges:
        found.append(Section(_title(hinge), tuple(_hinge(hinge, pieces, shop))))
    if answer.hanging.hooks:
        found.append(Section("Hooks", tuple(_hooks(answer.hanging, shop))))
    if answer.clashes:
        found.append(Section("What meets what in the wood", tuple(_clashes(answer.clashes, shop))))
    return tuple(found)


def hardware_headline(answer: Rigging) -> str:
    """What is wrong in one sentence."""
    known = [clash for clash in answer.clashes if clash.most is None]
    meets = sum(clash.distance <= 0.0 for clash in known)
    tight = len(known) - meets
    wood = "Everything in the wood has its room"
    if meets or tight:
        near = f"come{'s' * (tight == 1)} too near another"
        told = [f"{meets} thing{'s' * (meets > 1)} in the wood meet{'s' * (meets == 1)} another" * (meets > 0),
                f"{tight} {near}" if meets else f"{tight} thing{'s' * (tight > 1)} in the wood {near}"]  # fmt: skip
        wood = ", ".join(told[meets == 0 : 1 + (tight > 0)])
    caught = [pair for pair in answer.hanging.pairs if pair.folded < pair.reach]
    hooks = "" if len(answer.hanging.hooks) < 2 else (
        "; no hook can catch another" if not caught else "; hooks can catch each other")  # fmt: skip
    idle = answer.hinging.idle
    joints = "" if not idle else f"{idle} joint{'s' * (idle > 1)} cannot do {'their' if idle > 1 else 'its'} work. "
    return f"{joints}{wood}{hooks}."


def _title(hinge: HingeAnswer) -> str:
    name = hinge.made.name
    return f"{name[0].upper()}{name[1:]}, joint {hinge.made.joint}: {hinge.kind}"


def _hinge(hinge: HingeAnswer, pieces: tuple[str, ...], shop: Shop) -> Iterator[Row]:
    made, name = hinge.made, f"hinge.{hinge.made.number}"
    yield row(f"{name}.at", "axis, from the nose", made.pivot, Measure.CUT, shop)
    yield row(f"{name}.mass", "weighs", hinge.mass, Measure.MASS, shop)
    yield row(f"{name}.play", "up and down play", made.play, Measure.WIRE, shop)
    if made.eye_play is not None:
        yield row(f"{name}.eye_play", "eyes wider than their pin by", made.eye_play, Measure.WIRE, shop)
    yield row(f"{name}.swing", "the wood lets it turn to each side", made.swing, Measure.ANGLE, shop)
    if made.turns < 7.0:
        yield row(f"{name}.turns", "the hinge itself turns", made.turns, Measure.ANGLE, shop)
    else:
        yield words_row(f"{name}.turns", "the hinge itself turns", "freely")
    yield row(f"{name}.exposed", "bare across the gap", made.gap, Measure.WIRE, shop)
    for part in made.parts:
        yield from _part(name, part, hinge.masses[part.name], shop)
    for cutout in made.cutouts:
        is_in_cup = any(_lies_in(cutout, other) for other in made.cutouts)
        yield from _cutout(name, cutout, pieces, shop, "the cup's bottom" if is_in_cup else "the finished face")
    if hinge.lock is not None:
        yield words_row(f"{name}.lock", f"the {hinge.lock.fitting} passes through", ", ".join(hinge.lock.plates) or "-")
        yield row(f"{name}.lock.hole", "   its hole in the plate", hinge.lock.hole, Measure.WIRE, shop)
        yield row(f"{name}.lock.edge", "   from that to the plate's edge", hinge.lock.to_edge, Measure.WIRE, shop)
        yield row(f"{name}.lock.face", "   wood to the joint face", hinge.lock.to_face, Measure.WIRE, shop)


def _part(name: str, part: HingePart, mass: float, shop: Shop) -> Iterator[Row]:
    own = f"{name}.{slug(part.name)}"
    sizes = ", ".join(f"{spoken(size, measure, shop)} {word}" for word, size, measure in part.sizes)
    yield words_row(f"{own}.sizes", part.name, f"{part.material}: {sizes}")
    yield row(f"{own}.height", "   its height" if part.kind != "pin" else "   height of its middle", part.level,
              Measure.CUT, shop)  # fmt: skip
    yield row(f"{own}.mass", "   weighs", mass, Measure.MASS, shop)


def _lies_in(cutout: Cutout, cup: Cutout) -> bool:
    """Whether it is bored on from the bottom of a cup."""
    bottom = np.array(cup.mouth) + cup.depth * np.array(cup.inward)
    same = (cutout.piece, cutout.face) == (cup.piece, cup.face) and "cup" in cup.name
    return same and math.dist(cutout.mouth, bottom) < _SAME_PLACE


def _cutout(name: str, cutout: Cutout, pieces: tuple[str, ...], shop: Shop, since: str) -> Iterator[Row]:
    what = cutout.name.partition(": ")[2]
    own = f"{name}.cut.{slug(what)}.{slug(pieces[cutout.piece])}"
    x, _, z = cutout.mouth
    if cutout.kind == "bore":
        size = f"{spoken(cutout.wide, Measure.WIRE, shop)} bore"
    else:
        wide = "right across" if cutout.across else f"{spoken(cutout.wide, Measure.LENGTH, shop)} wide"
        size = f"slot {spoken(cutout.tall, Measure.WIRE, shop)} high, {wide}"
    yield words_row(f"{own}.size", f"{what}, {pieces[cutout.piece]}", f"{size}, from the {_face(cutout)}")
    yield row(f"{own}.depth", f"   deep, from {since}", cutout.depth, Measure.BORE, shop)
    yield row(f"{own}.at", "   its mouth, from the nose", x, Measure.CUT, shop)
    yield row(f"{own}.height", "   height", z, Measure.CUT, shop)


def _face(cutout: Cutout) -> str:
    return f"{cutout.face} face" if cutout.face in ("front", "rear") else cutout.face


def _hooks(hanging: Hanging, shop: Shop) -> Iterator[Row]:
    for hook in hanging.hooks:
        yield from _hook(hanging, hook, shop)


def _hook(hanging: Hanging, hook: HookReach, shop: Shop) -> Iterator[Row]:
    name = f"hook.{slug(hook.name)}"
    known = {"as measured": "measured", "its size": f"taken for a {hook.size}",
             "its weight": f"taken for a {hook.size} by its weight"}[hook.known_by]  # fmt: skip
    yield row(f"{name}.reach", f"{hook.name} reaches, {known}", hook.reach, Measure.LENGTH, shop)
    yield row(f"{name}.length", "   shank and ring", hook.length, Measure.LENGTH, shop)
    for pair in hanging.pairs:
        if pair.first is hook:
            to = f"{name}.to_{slug(pair.second.name)}"
            yield row(to, f"   to the {pair.second.name}", pair.straight, Measure.LENGTH, shop)
            if pair.way:
                yield row(f"{to}.folded", f"      {pair.way}", pair.folded, Measure.LENGTH, shop)
            yield row(f"{to}.reach", "      both reach", pair.reach, Measure.LENGTH, shop)
            yield row(f"{to}.habit", "      the habit wants", pair.habit, Measure.LENGTH, shop)
    for thing in hanging.things:
        if thing.hook is hook:
            to = f"{name}.to_{slug(thing.thing)}"
            yield row(to, f"   to {_THINGS[thing.thing]}, joints as they may fold", thing.folded, Measure.LENGTH, shop)


def _clashes(clashes: tuple[Clash, ...], shop: Shop) -> Iterator[Row]:
    for number, clash in enumerate(clashes, start=1):
        name = f"clash.{number}"
        x, y, z = clash.place
        yield words_row(f"{name}.what", f"{number}", f"{clash.what} and {clash.to}")
        yield row(f"{name}.left", "   wood left", clash.distance, Measure.LENGTH, shop)
        yield row(f"{name}.wanted", "   wanted", clash.wanted, Measure.LENGTH, shop)
        for key, label, value in (("at", "from the nose", x), ("offset", "to the right", y), ("height", "height", z)):
            yield row(f"{name}.{key}", f"   {label}", value, Measure.LENGTH, shop)
        yield words_row(f"{name}.mend", "   to do", clash.mend.format(by=spoken(clash.by, Measure.LENGTH, shop)))
