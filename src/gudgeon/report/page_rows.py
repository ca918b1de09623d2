"""What a page tells besides a check: what it does in its water in a sentence, weights to expect, the work in steps."""

from collections.abc import Iterator
from dataclasses import dataclass

from gudgeon.answers.checked import Check, Weighed
from gudgeon.answers.papers import Papers
from gudgeon.answers.work_order import order_of_work
from gudgeon.report.rows import Measure, Row, Section, Shop, row, slug, words_row
from gudgeon.report.wood_rows import STAGE_WORDS, step_words


@dataclass(frozen=True)
class Task:
    """One step of the work: when it is done, what is done, the cautions to read before it."""

    when: str
    words: str
    cautions: tuple[str, ...]


def water_headline(check: Weighed, shop: Shop) -> str:
    """What it does in its water, in one sentence with its numbers."""
    water, rate = check.lure.water.words, check.rate
    excess = row("", "", rate.excess, Measure.MASS, shop).shown
    time = rate.time_per_distance
    does = rate.words
    if time is not None:
        pace = row("", "", time, Measure.TIME_PER_FOOT, shop).shown
        does = f"{does}, {pace}"
    return f"In its water, {water}: {does}; weight in water {excess}."


def stage_rows(papers: Papers, shop: Shop) -> Section:
    """What the scale should show at each stage of the work, whole and by piece."""
    return Section("What the scale should show", tuple(_stages(papers, shop)))


def _stages(papers: Papers, shop: Shop) -> Iterator[Row]:
    names = [piece.name for piece in papers.check.pieces]
    for stage in papers.stages:
        yield row(f"stage.{stage.stage}", stage.stage, stage.whole, Measure.MASS, shop, standing="computed")
        for name, piece in zip(names, stage.pieces, strict=False):
            yield row(f"stage.{stage.stage}.{slug(name)}", f"   {name}", piece, Measure.MASS, shop, standing="computed")


def tasks(papers: Papers, shop: Shop) -> tuple[Task, ...]:
    """The work in its order; each caution stands at the first step it belongs to."""
    found, told = [], set[str]()
    for step in order_of_work(papers):
        own = [caution.words for caution in papers.cautions
               if caution.subject in step.about and caution.subject not in told]  # fmt: skip
        told |= set(step.about)
        found.append(Task(STAGE_WORDS[step.when], step_words(step, shop), tuple(own)))
    return tuple(found)


def bits_rows(check: Check, shop: Shop) -> Section:
    """Every ballast bore as it is drilled: from the nose, bit, depth, and what goes in."""
    return Section("Bores for ballast", tuple(_bores(check, shop)))


def _bores(check: Check, shop: Shop) -> Iterator[Row]:
    for load in check.ballast.pockets if check.ballast else ():
        bit = load.metric_bit if shop is Shop.METRIC else load.inch_bit
        at = row("", "", load.pocket.mouth[0], Measure.CUT, shop).shown
        depth = row("", "", bit.depth, Measure.BORE, shop).shown
        mass = row("", "", load.mass, Measure.MASS, shop).shown
        words = f"{at} from the nose, {bit.name} bit, {depth} deep from the finished skin: {mass}"
        yield words_row(f"bore.{slug(load.name)}", load.name, words)
