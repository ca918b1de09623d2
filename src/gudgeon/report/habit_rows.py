"""Rows of a shop's habits beside the book's values, and of those that a check counts with."""

from collections.abc import Iterator, Sequence

from gudgeon.answers.learning import BEATS, KINDS, ROLL, Habit, Learned, counted
from gudgeon.answers.shop_values import ShopValue
from gudgeon.report.rows import Row, Section, Shop, row, slug, words_row
from gudgeon.units import Measure

MOST_GROUPS = 12
"""Boards, runs or patterns that are shown of one habit, those with the most records."""
_COMING = {"board": "the next board", "run": "the next run", "pattern": "the next pattern"}


def habits_headline(found: Learned) -> str:
    """How much the log tells, in a sentence."""
    records = sum(habit.records for habit in found.habits)
    things = "habit" if len(found.habits) == 1 else "habits"
    return f"Your shop's log tells {len(found.habits)} {things}, on {counted(records)}."


def habit_sections(found: Learned, shop: Shop) -> tuple[Section, ...]:
    """Each habit beside the book's value."""
    return tuple(Section(_title(habit), tuple(_rows(habit, shop))) for habit in found.habits)


def _title(habit: Habit) -> str:
    return habit.label[0].upper() + habit.label[1:]


def habit_name(habit: Habit) -> str:
    """The beginning of its rows' names: "habit.density.poplar"."""
    return ".".join(part for part in ("habit", habit.kind, slug(habit.of)) if part)


def _rows(habit: Habit, shop: Shop) -> Iterator[Row]:
    kind, name = KINDS[habit.kind], habit_name(habit)
    standing = "trend" if habit.kind in (BEATS, ROLL) else "estimate"
    label = f"your shop, by its only {kind.group}" if len(habit.groups) == 1 else "your shop"
    yield row(f"{name}.mine", label, habit.mine, kind.measure, shop, standing=standing)
    yield row(f"{name}.coming", f"   {_COMING[kind.group]}", habit.coming, kind.measure, shop, standing=standing)
    if habit.book is not None:
        yield row(f"{name}.book", f"the book: {kind.book}", habit.book, kind.measure, shop)
    else:
        yield words_row(f"{name}.book", "the book", "says nothing of it")
    yield row(f"{name}.records", "records it stands on", float(habit.records), Measure.COUNT, shop)
    if habit.slips:
        entries = ", ".join(f"{slip.entry}" for slip in habit.slips)
        yield words_row(f"{name}.slips", "   left out as slips: entry", entries)
    yield row(f"{name}.between", f"{kind.group}s scatter, to either side", habit.between, Measure.PART, shop)
    yield row(f"{name}.within", f"   within one {kind.group}", habit.within, Measure.PART, shop)
    for group in habit.groups[:MOST_GROUPS]:
        label = f"   {group.name}, {counted(group.records)}"
        yield row(f"{name}.of.{slug(group.name)}", label, group.value, kind.measure, shop, standing=standing)
    if len(habit.groups) > MOST_GROUPS:
        more = len(habit.groups) - MOST_GROUPS
        yield words_row(f"{name}.more", "   and", f"{more} more {kind.group}{'' if more == 1 else 's'}")


def shop_values_section(used: Sequence[ShopValue], shop: Shop) -> Section:
    """What a check takes from the log in place of the book's values."""
    rows: list[Row] = []
    for value in used:
        habit, measure = value.habit, KINDS[value.habit.kind].measure
        name = habit_name(habit).replace("habit.", "shop.", 1)
        rows.append(row(f"{name}.used", habit.label, value.value, measure, shop))
        if value.instead_of is not None:
            rows.append(row(f"{name}.instead_of", "   in place of the book's", value.instead_of, measure, shop))
        whose = value.whose or _COMING[KINDS[habit.kind].group]
        rows.append(words_row(f"{name}.whose", "   which is that of", f"{whose}, on {counted(habit.records)}"))
    if not used:
        rows.append(words_row("shop.none", "in place of the book's", "nothing"))
    return Section("Your shop's values, used here", tuple(rows))
