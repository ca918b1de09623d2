"""A bill of materials as rows."""

from collections.abc import Iterator

from gudgeon.answers.bill import Bill, BillLine
from gudgeon.report.rows import Measure, Row, Shop, row, slug, words_row


def bill_rows(answer: Bill, shop: Shop) -> tuple[Row, ...]:
    """Every line, then the sum."""
    return (*(made for line in answer.lines for made in _line(line, shop)), *_sum(answer, shop))


def bill_headline(answer: Bill, shop: Shop) -> str:
    """What goes into it, in one sentence."""
    mass = row("", "", sum(line.mass for line in answer.lines), Measure.CASTING_MASS, shop).shown
    priced = len(answer.lines) - len(answer.unpriced)
    cost = f"; {answer.cost:.2f} for the {priced} with a price" if priced else ""
    return f"{len(answer.lines)} things to have on the bench, {mass} in all before wood is bored out{cost}."


def bill_warnings(answer: Bill) -> list[str]:
    """Prices that nothing asked for: mostly a name written otherwise."""
    return [f"the price of '{name}' is asked for by nothing; write the name as it stands in the list"
            for name in answer.unused]  # fmt: skip


def _line(line: BillLine, shop: Shop) -> Iterator[Row]:
    name = f"bill.{slug(line.name)}"
    label = f"{line.name}, {line.made_of}" if line.made_of and line.made_of != line.name else line.name
    yield row(f"{name}.mass", label, line.mass, Measure.MASS, shop)
    if line.cost is not None:
        yield row(f"{name}.cost", "   costs", line.cost, Measure.MONEY, shop)


def _sum(answer: Bill, shop: Shop) -> Iterator[Row]:
    if answer.cost > 0.0:
        yield row("bill.cost", "all that has a price", answer.cost, Measure.MONEY, shop)
    if answer.unpriced and answer.cost > 0.0:
        yield words_row("bill.unpriced", "without a price", ", ".join(answer.unpriced))
