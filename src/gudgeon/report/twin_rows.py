"""Rows of lures side by side: what tells them apart first, what they did, and how the model has each."""

from collections.abc import Iterator
from dataclasses import dataclass

from gudgeon.answers.twin_agreement import agreement
from gudgeon.answers.twin_differences import Difference
from gudgeon.answers.twin_words import beyond_words, does_words, label_of
from gudgeon.answers.twins import Modelled, Twins
from gudgeon.report.laying import plain
from gudgeon.report.rows import Row, Section, Shop, row, slug, words_row
from gudgeon.units import Measure


@dataclass(frozen=True)
class TwinsLaid:
    """For the two kinds of readers: a line for each difference, and rows with a name for each of its numbers."""

    headline: str
    sections: tuple[Section, ...]
    rows: tuple[Row, ...]


def twins_laid(found: Twins, shop: Shop) -> TwinsLaid:
    """Lures side by side."""
    sections = [
        Section(f"{number} beside {found.numbers[0]}, most telling first", tuple(_lines(found, number, shop)))
        for number in found.numbers[1:]
    ]
    sections.append(Section("What they did", tuple(_line(one, found.numbers[0], shop) for one in found.seen)))
    sections.append(Section("As they were measured, by the model", tuple(
        line for one in found.modelled for line in _modelled(one, shop))))  # fmt: skip
    rows = [line for one in (*found.causes, *found.seen) for line in _numbers(one, shop)]
    rows += [line for one in found.modelled for line in _modelled(one, shop)]
    return TwinsLaid(_headline(found, shop), tuple(section for section in sections if section.rows), tuple(rows))


def _lines(found: Twins, number: int, shop: Shop) -> Iterator[Row]:
    own = [one for one in found.causes if one.number == number]
    yield from (_line(one, found.numbers[0], shop) for one in own if not one.is_alike)
    alike = [label_of(one.fact) for one in own if one.is_alike]
    if alike:
        yield words_row(f"twin.{number}.alike", "alike in", ", ".join(alike))


def _headline(found: Twins, shop: Shop) -> str:
    first, others = found.numbers[0], ", ".join(str(number) for number in found.numbers[1:])
    best = next((one for one in found.causes if one.tells or one.shows), None)
    if best is None or best.effect is None:
        return f"{found.pattern}: nothing measured tells {others} from {first}."
    side = "more" if best.change > 0.0 else "less"
    if best.fact.kind == "place":
        side = "farther aft" if best.change > 0.0 else "farther forward"
    change = plain(abs(best.change), best.fact.measure, shop)
    usual = "" if best.tells else ", though twins usually differ as much"
    held = agreement(best, found.seen).words
    return (f"{found.pattern}: number {best.number} is unlike {first} above all in {_in_sentence(best)}, {change} "
            f"{side}{usual}: by the model {does_words(best.effect)}{f'; {held}' if held else ''}.")  # fmt: skip


def _in_sentence(one: Difference) -> str:
    label = label_of(one.fact)
    return label if label.startswith("the ") else f"{'its' if one.fact.kind == 'part' else 'the'} {label}"


def _line(one: Difference, first: int, shop: Shop) -> Row:
    """Both values, how far apart, what it does."""
    values = [plain(value, one.fact.measure, shop) for value in (one.fact.value, one.own)]
    words = f"{first}: {values[0]}; {one.number}: {values[1]}; {beyond_words(one)}"
    if one.effect is not None and one.effect.shows > 1.0:
        words += f"; {does_words(one.effect)}"
    return words_row(_name(one), label_of(one.fact), words)


def _name(one: Difference) -> str:
    parts = [one.fact.kind, slug(one.fact.of), slug(one.fact.since)]
    return ".".join(["twin", str(one.number), *(part for part in parts if part)])


def _numbers(one: Difference, shop: Shop) -> Iterator[Row]:
    name, label, measure = _name(one), label_of(one.fact), one.fact.measure
    yield row(f"{name}.first", f"{label}, of the first", one.fact.value, measure, shop)
    yield row(f"{name}.own", "   its own", one.own, measure, shop)
    yield row(f"{name}.usual", "   usual difference, to either side", one.usual, measure, shop)
    yield row(f"{name}.beyond", "   times that", one.beyond, Measure.NUMBER, shop)
    yield row(f"{name}.by", "   twins that tell what is usual; 0 for the book", float(one.by), Measure.COUNT, shop)
    if one.effect is not None:
        yield row(f"{name}.excess", "   makes it heavier in water", one.effect.excess, Measure.MASS, shop,
                  standing="estimate")  # fmt: skip
        yield row(f"{name}.pitch", "   turns it nose-up", one.effect.pitch, Measure.ANGLE, shop, standing="estimate")
        yield row(f"{name}.list", "   leans it to the right", one.effect.heel, Measure.ANGLE, shop, standing="estimate")
        yield row(f"{name}.lever", "   lifts buoyancy over weight", one.effect.lever, Measure.LENGTH, shop,
                  standing="estimate")  # fmt: skip


def _modelled(one: Modelled, shop: Shop) -> Iterator[Row]:
    name = f"twin.{one.number}.model"
    yield row(f"{name}.excess", f"{one.number}: weight in water", one.rate.excess, Measure.MASS, shop)
    yield row(f"{name}.velocity", "   speed, down is plus", one.rate.velocity, Measure.SPEED, shop, standing="estimate")
    for key, label, value, measure in (("pitch", "nose up", one.pitch, Measure.ANGLE),
                                       ("list", "leans, right side down", one.heel, Measure.ANGLE),
                                       ("lever", "buoyancy over weight", one.lever, Measure.LENGTH)):  # fmt: skip
        if value is not None:
            yield row(f"{name}.{key}", f"   {label}", value, measure, shop)
