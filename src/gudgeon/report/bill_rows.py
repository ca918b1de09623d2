"""A bill of materials as rows."""

from collections.abc import Iterator, Sequence

from gudgeon.answers.bill import TIMES, Bill, BillLine, BillPart, Purchase
from gudgeon.physics.spread import Estimate, around
from gudgeon.report.rows import Measure, Row, Section, Shop, row, slug, spoken, words_row

_SURE = 1e-6  # of a weight: less is none
BILL, TO_BUY = "Bill of materials", "What to buy"


def bill_sections(answer: Bill, shop: Shop) -> tuple[Section, ...]:
    """Every line, then what to buy, alike things together."""
    lines = tuple(made for line in answer.lines for made in _line(line, answer, shop))
    bought = tuple(made for place, one in enumerate(answer.to_buy, start=1) for made in _purchase(place, one, shop))
    title = BILL if answer.lures == 1 else f"{BILL}, {answer.lures} lures"
    return Section(title, lines), Section(TO_BUY, (*bought, *_sum(answer, shop)))


def bill_rows(answer: Bill, shop: Shop) -> tuple[Row, ...]:
    """Every row of it."""
    return tuple(made for section in bill_sections(answer, shop) for made in section.rows)


def bill_headline(answer: Bill, shop: Shop) -> str:
    """What goes into it, in one sentence."""
    mass = spoken(sum(line.mass for line in answer.lines), Measure.MASS, shop)
    priced = len(answer.lines) - len(answer.unpriced)
    cost = f"; {answer.cost:.2f} for the {priced} with a price" if priced else ""
    many = "" if answer.lures == 1 else f" for {answer.lures} lures"
    return f"{len(answer.lines)} things to have on the bench{many}, about {mass} in all before wood is bored out{cost}."


def bill_warnings(answer: Bill) -> list[str]:
    """Prices that nothing asked for: mostly a name written otherwise."""
    return [f"the price of '{name}' is asked for by nothing; write the name as it stands in the list"
            for name in answer.unused]  # fmt: skip


def line_label(line: BillLine) -> str:
    """What a line is."""
    return f"{line.name}, {line.made_of}" if line.made_of and line.made_of != line.name else line.name


def known_mass(line: BillLine | Purchase) -> Estimate | float:
    """Weight of all of it [kg], with its spread where it has one."""
    return around(line.mass, line.spread) if line.spread > _SURE * line.mass else line.mass


def known_each(line: BillLine) -> Estimate | float:
    """The same of one piece, or of one lure's share."""
    spread = line.spread * line.each / line.mass if line.mass > 0.0 else 0.0
    return around(line.each, spread) if spread > _SURE * line.each else line.each


def count_words(count: int) -> str:
    """How many pieces, or that it is weighed out."""
    return str(count) if count else "by weight"


def parts_words(parts: Sequence[BillPart], shop: Shop) -> str:
    """What it is made of, with sizes: "2 eyes of stainless steel: wire 1.60 mm, inside 2.50 mm; ..."."""
    return "; ".join(_part(part, shop) for part in parts)


def cost_words(cost: float | None) -> str:
    """A sum of money, or that there is no price."""
    return "no price" if cost is None else row("", "", cost, Measure.MONEY, Shop.METRIC).shown


def price_words(one: Purchase) -> str:
    """The maker's own price."""
    return "no price" if one.price is None else f"{one.price.each:.2f} a {one.price.per}".replace("a 100", "per 100")


def _part(part: BillPart, shop: Shop) -> str:
    told: list[str] = []
    for name, size, measure in part.sizes:
        shown = row("", "", size, measure, shop)
        if name == TIMES and told:
            told[-1] = f"{told[-1].removesuffix(shown.unit).strip()} {TIMES} {shown.shown}"
        else:
            told.append(f"{name} {shown.shown}")
    sizes = ", ".join(told)
    many = f"{part.count} {part.words}{'s' if part.count > 1 else ''}" if part.words else ""
    return ": ".join(words for words in (f"{many} of {part.material}" if many else "", sizes) if words)


def _line(line: BillLine, answer: Bill, shop: Shop) -> Iterator[Row]:
    name = f"bill.{slug(line.name)}"
    yield row(f"{name}.mass", f"{line.number} {line_label(line)}", known_mass(line), Measure.MASS, shop)
    if line.material and line.material not in line_label(line):
        yield words_row(f"{name}.material", "   of", line.material)
    if answer.lures > 1:
        yield row(f"{name}.each", "   each" if line.count else "   in each lure", known_each(line), Measure.MASS,
                  shop)  # fmt: skip
    if line.parts:
        yield words_row(f"{name}.sizes", "   sizes" if line.count else "   put on", parts_words(line.parts, shop))
    if line.cost is not None:
        yield row(f"{name}.cost", "   costs", line.cost, Measure.MONEY, shop)


def _purchase(place: int, one: Purchase, shop: Shop) -> Iterator[Row]:
    mass = row("", "", known_mass(one), Measure.MASS, shop).shown
    sizes = f", {parts_words(one.parts, shop)}" if one.parts else ""
    many = f"{one.count}" if one.count else mass
    yield words_row(f"buy.{place}", one.words, f"{many}{sizes}; {price_words(one)}")
    if one.cost is not None:
        yield row(f"buy.{place}.cost", "   together", one.cost, Measure.MONEY, shop)


def _sum(answer: Bill, shop: Shop) -> Iterator[Row]:
    if answer.cost > 0.0:
        yield row("bill.cost", "all that has a price", answer.cost, Measure.MONEY, shop)
        yield row("bill.cost_each", "   a lure", answer.cost / answer.lures, Measure.MONEY, shop)
    if answer.unpriced and answer.cost > 0.0:
        yield words_row("bill.unpriced", "without a price", ", ".join(answer.unpriced))
    if answer.cost == 0.0:
        yield words_row("bill.unpriced", "prices", "none is told; write a [[price]] for what you buy")
