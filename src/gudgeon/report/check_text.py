"""A check on a terminal: the answer, what is wrong, then the figures under their titles."""

from collections.abc import Sequence

from rich.text import Text

from gudgeon.answers.checked import Check
from gudgeon.report.check_rows import check_rows, check_sections, headline
from gudgeon.report.rows import Section, Shop
from gudgeon.report.text import (
    as_design_json,
    console_for,
    print_headline,
    print_sections,
    print_warnings,
    told_of,
)

SMALL_PRINT = (
    "± holds about 19 times in 20. Weights and places are computed and hold within that; rates are estimates, right "
    "within a third until one timed drop is entered."
)
_LABELS = 40  # columns


def show_check(check: Check, shop: Shop, stamp: str, color: str, first: Sequence[Section] = ()) -> None:
    """Print a check; `first` stands ahead of its own sections."""
    console = console_for(color)
    console.print(Text(f"{check.design.name}, design {stamp}", style="dim"))
    print_headline(console, headline(check, shop))
    print_warnings(console, told_of(check.findings, shop))
    print_sections(console, (*first, *check_sections(check, shop)), _LABELS)
    console.print()
    console.print(Text(SMALL_PRINT, style="dim"))


def check_json(check: Check, shop: Shop, stamp: str, first: Sequence[Section] = ()) -> str:
    """A check as one object for a program; `first` as for `show_check`."""
    more = [row for section in first for row in section.rows]
    told = told_of(check.findings, shop)
    return as_design_json(check.design.name, stamp, (*more, *check_rows(check, shop)), headline(check, shop), told)
