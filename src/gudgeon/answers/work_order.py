"""The order of work on one lure, print to plug: the cuts in their order, between them weighing, filling, the tub."""

from collections.abc import Iterator
from dataclasses import dataclass

from gudgeon.answers.blank_sizes import square_blank
from gudgeon.answers.cut_order import SquareStock, Step, When, cut_order
from gudgeon.answers.finding import Number
from gudgeon.answers.papers import Hole, Papers
from gudgeon.answers.piece_of_wood import piece_of_wood
from gudgeon.answers.saying import listed, plain
from gudgeon.design.model import STAGES
from gudgeon.physics.lure import DRILLED, LEADED, PAINTED, RIGGED, SEALED
from gudgeon.physics.mass import MASS
from gudgeon.physics.spread import Estimate, smooth
from gudgeon.units import Measure

IN_TUB = "tub test"
_NONE = 5e-5  # kg: less is not worth leaving out


@dataclass(frozen=True)
class Waiting:
    """The last ballast hole, which the tub test settles, as the lure is until then.

    hole      : as reckoned
    is_bored  : it is there already: part of its ballast goes in before the test, else all of it is taped outside
    put, left : [kg] of its ballast put in before the test, and left out until after
    net       : [kg] that the lure weighs more once it is drilled, filled and plugged
    wood      : [kg] of wood that drilling it takes
    """

    hole: Hole
    is_bored: bool
    put: float
    left: float
    net: float
    wood: float


def waiting(papers: Papers) -> Waiting | None:
    """The hole that waits for the tub; None where no ballast is still to be found."""
    hole = papers.waiting
    if hole is None:
        return None
    lure = papers.check.lure
    masses = {item.name: float(mass) for item, mass in zip(
        lure.ledger.items, lure.ledger.item_masses(lure.knowledge)[0], strict=True)}  # fmt: skip
    if hole.pocket.drilled is not None or papers.check.drawn.held.get(hole.name, 0.0) > 0.0:
        left = papers.held_back
        return Waiting(hole, True, hole.add - left, left, left, 0.0)
    wood = -masses[f"hole, {hole.name}"]
    net = masses[f"ballast, {hole.name}"] + masses[f"plug, {hole.name}"] - wood
    return Waiting(hole, False, 0.0, hole.add, net, wood)


def square_stock(papers: Papers) -> SquareStock:
    """What the blank is sawn to: as it lies on the maker's board, or with the usual allowances where none is told."""
    check = papers.check
    if check.design.board is not None:
        return piece_of_wood(check.design, check.lure).stock
    blank = square_blank(papers)
    return SquareStock(blank.length, blank.back - blank.belly, 2.0 * blank.half)


def tub_lacks(papers: Papers) -> tuple[Waiting, float, float] | None:
    """The last hole where the tub test finds it not filled, what is taped on for it, and what is left out [kg]."""
    last = waiting(papers)
    if last is None or STAGES.index(papers.check.tub.stage) < LEADED:
        return None
    taped = 0.0 if last.is_bored or last.hole.taped is None else last.hole.taped
    left = last.left if last.is_bored else 0.0
    return (last, taped, left) if max(taped, left) > _NONE else None


def order_of_work(papers: Papers) -> tuple[Step, ...]:
    """Every step, numbered by its place; the tub test at the stage the design tells.

    source : common practice, no source
    """
    last = waiting(papers)
    cuts = cut_order(papers.check.design, papers.check.lure, square_stock(papers),
                     last.hole.name if last and not last.is_bored else "")  # fmt: skip
    made = [step for step in cuts if step.when != "after the tub"]
    tub, stages = _tub(papers, last), list(_stages(papers, last))
    place = STAGES.index(papers.check.tub.stage)
    before = [step for stage, step in stages if stage <= place]
    after = [step for stage, step in stages if stage > place]
    # a test before any lead is in tells of all holes; one after it, of the last one alone
    ends = [step for step in cuts if step.when == "after the tub"] + list(_last_hole(last, is_leaded=place >= LEADED))
    if place < LEADED:
        split = sum(stage <= LEADED for stage, _ in stages) - len(before)
        after = [*after[:split], *ends, *after[split:]]
        ends = []
    return (_step("before", "Print at 100 %, no fitting to the page. Measure the bars on the template before anything "
                  "is cut."), *made, *before, tub, *ends, *after)  # fmt: skip


def _step(when: When, words: str, about: tuple[str, ...] = (), **numbers: Number) -> Step:
    return Step(when, words, numbers, about)


def _stages(papers: Papers, last: Waiting | None) -> Iterator[tuple[int, Step]]:
    """Each with the stage of the work that it reaches."""
    design = papers.check.design
    weight = _weight(papers, DRILLED, last.wood if last else 0.0)
    weigh, them = "Weigh it: {weight}", "it"
    if design.joints:
        weigh, them = "Weigh the pieces: {weight}, all together", "them"
    shut = f"Tape every bore shut and push {them}" if papers.holes else f"Push {them}"
    yield DRILLED, _step("weighed", f"{weigh}. {shut} under in a jug on the scale: {{volume}} of water, grams for cm3. "
                         "Write both down.",
                         weight=(weight, Measure.MASS), volume=(papers.blank_volume, Measure.VOLUME))  # fmt: skip
    if design.sealer is not None:
        yield SEALED, _step("sealed", "Seal, bores too, let dry, and weigh: {weight}.", ("solvents", "resin"),
                            weight=(_weight(papers, SEALED, last.wood if last else 0.0), Measure.MASS))  # fmt: skip
    fill = _fill(papers, last)
    if fill is not None:
        yield LEADED, fill
    if design.coats:
        names = ", ".join(plain(coat.name) for coat in design.coats)
        clear = "joints and eyes" if design.joints else "the eyes"
        words = f"The finish: {names}. Clear {clear} of it, and weigh when it is hard."
        yield PAINTED, _step("finished", words, ("resin", "uv lamp", "solvents"))  # fmt: skip
    about = ("resin", *(("hooks",) if design.hooks else ()))
    set_in = [name for name, there in (("eyes", design.fittings), ("hinges", design.hinges), ("lip", design.lip),
                                       ("fin", design.fin)) if there]  # fmt: skip
    done = [f"Set {listed(set_in)}"] if set_in else []
    done += ["hang the pieces together"] if design.joints else []
    done += ["hooks last of all"] if design.hooks else []
    if done:
        words = f"{', '.join(done[:-1])}, and {done[-1]}" if len(done) > 1 else done[0]
        yield RIGGED, _step("rigged", f"{words[0].upper()}{words[1:]}.", about)


def _weight(papers: Papers, stage: int, more: float) -> Estimate:
    """What the scale should show at a stage, with [kg] of wood that is still there."""
    lure = papers.check.lure
    state, effects = lure.state(lure.chosen(step=stage))
    return smooth(lambda s: s[..., MASS] + more, state, effects, lure.knowledge)


def scale_weights(papers: Papers) -> tuple[tuple[str, Estimate], ...]:
    """What the scale should show as the work goes on, the last hole and what is taped on for it in their turn: what is
    done, and the weight [kg]."""
    last, place = waiting(papers), STAGES.index(papers.check.tub.stage)
    wood, net = (last.wood, last.net) if last else (0.0, 0.0)
    done = {DRILLED: "drilled", SEALED: "sealed", LEADED: "filled", PAINTED: "finished", RIGGED: "rigged"}
    found = []
    for stage, words in done.items():
        lacks = last is not None and (stage < LEADED or stage <= place)
        more = 0.0 if not lacks else wood if stage < LEADED else -net
        but = f", {last.hole.name} not yet" if last is not None and lacks else ""
        found.append((f"{words}{but}", _weight(papers, stage, more)))
        if stage == max(place, DRILLED):
            found.append((IN_TUB, tub_weight(papers)))
        if stage == max(place, LEADED) and last is not None:
            found.append((f"{words}, {last.hole.name} too", _weight(papers, stage, 0.0)))
    return tuple(found)


def tub_weight(papers: Papers) -> Estimate:
    """What the scale should show in the tub test as it will be done [kg]."""
    last, weight = waiting(papers), papers.check.tub.rate.mass
    if last is None or STAGES.index(papers.check.tub.stage) < LEADED:
        return weight
    shift = _taped_shift(last) - (last.left if last.is_bored else 0.0)
    return Estimate(weight.value + shift, weight.low + shift, weight.high + shift)


def _fill(papers: Papers, last: Waiting | None) -> Step | None:
    """The holes that wait for nothing; of one that is bored already, what goes in before the test."""
    at_once = [hole for hole in papers.holes if hole.is_to_fill and (last is None or hole is not last.hole)]
    numbers: dict[str, Number] = {f"mass_{place}": (hole.add, Measure.MASS) for place, hole in enumerate(at_once)}
    parts = [f"{plain(hole.name)} {{mass_{place}}}" for place, hole in enumerate(at_once)]
    words = f"Fill and plug: {', '.join(parts)}." if parts else ""
    if last is not None and last.is_bored and last.put > _NONE:
        numbers |= {"put": (last.put, Measure.MASS), "left": (last.left, Measure.MASS)}
        words += (
            f" {plain(last.hole.name)}, bored already and filled last: put {{put}} in and leave {{left}} out until "
        )
        words += "the tub test."
    if not words:
        return None
    stuffs = {hole.material for hole in papers.holes}
    about = ("lead", "lead law", "resin") if any("lead" in stuff.lower().split() for stuff in stuffs) else ("resin",)
    return Step("filled", words.strip(), numbers, about)


def _tub(papers: Papers, last: Waiting | None) -> Step:
    """What to expect of the tub with the last hole's ballast taped outside, and what a gram there is worth inside."""
    tub = papers.check.tub
    is_leaded = STAGES.index(tub.stage) >= LEADED
    out = last.left if last is not None and last.is_bored and is_leaded else 0.0
    half = tub.rate.excess.spread
    lacks = tub.to_hang + out / tub.inside_per_taped
    taped = abs(lacks)
    numbers: dict[str, Number] = {
        "weight": (tub_weight(papers), Measure.MASS),
        "amount": (Estimate(taped, taped - half, taped + half), Measure.MASS),
        "inside": (1e-3 * tub.inside_per_taped, Measure.MASS),
    }
    without = ""
    if last is not None and is_leaded and not last.is_bored and last.hole.taped is not None:
        numbers["outside"] = (last.hole.taped, Measure.MASS)
        without = (f", with {{outside}} of {last.hole.material} taped outside over the mark of "
                   f"{plain(last.hole.name)}, from the last drill card, in place of what is to go in")  # fmt: skip
    elif out > _NONE:
        numbers["out"] = (out, Measure.MASS)
        without = ", {out} still left out"
    words = f"Tub test ({tub.stage}; {plain(tub.on)}; {tub.water}{without}): it should weigh {{weight}}"
    words += _may_hang(is_heavy=lacks < 0.0) if taped < half else f" and {_hangs(is_heavy=lacks < 0.0)}"
    if papers.check.design.tub.fitted and STAGES.index(tub.stage) < RIGGED:
        words += f" Fitted dry for it: {', '.join(plain(name) for name in papers.check.design.tub.fitted)}."
    return Step("tub", words, numbers, ("lead",) if is_leaded else ())


def _may_hang(*, is_heavy: bool) -> str:
    """Where the spread is wider than what it lacks to hang: no promise that it sinks, nor that it floats."""
    how = "too heavy to hang" if is_heavy else "short of hanging"
    return (f". It is reckoned {{amount}} of lead {how}: it may sink and it may float. For each gram heavier than "
            "reckoned put {inside} less inside; for each gram lighter, {inside} more.")  # fmt: skip


def _hangs(*, is_heavy: bool) -> str:
    if is_heavy:
        return ("sink, {amount} of lead too heavy to hang. For each gram more than that put {inside} less inside; for "
                "each gram less, {inside} more.")  # fmt: skip
    return ("hang with {amount} more of lead taped on. For each gram more that it takes put {inside} more inside; for "
            "each gram less, {inside} less.")  # fmt: skip


def _taped_shift(last: Waiting) -> float:
    """[kg] that the lure weighs more in air with ballast taped outside than with what does the same inside."""
    if last.is_bored or last.hole.taped is None:
        return 0.0
    return last.hole.taped - last.net


def _last_hole(last: Waiting | None, *, is_leaded: bool) -> Iterator[Step]:
    if last is None:
        return
    name, material = plain(last.hole.name), last.hole.material
    if last.is_bored:
        yield _step("after the tub", f"Put what the tub asks for in {name}, {{mass}} of {material} as reckoned, test "
                    "once more, then plug it flush and let it set.", ("resin",),
                    mass=(last.left, Measure.MASS))  # fmt: skip
        return
    words = f"It is reckoned to hold {{mass}} of {material}, its depth by the last drill card"
    words += "; each gram more or less that the tub asks for changes it as told there" if is_leaded else ""
    yield _step("after the tub", f"{words}. Fill it, test once more, then plug it flush and let it set.",
                ("lead", "lead law", "resin"), mass=(last.left, Measure.MASS))  # fmt: skip
