"""What holds, on a terminal: what goes first, what is weak, then each hook's way to the line."""

from rich.text import Text

from gudgeon.answers.strength import Strength
from gudgeon.report.rows import Shop
from gudgeon.report.strength_rows import SMALL_PRINT, strength_headline, strength_rows, strength_sections
from gudgeon.report.text import (
    as_design_json,
    console_for,
    print_headline,
    print_sections,
    print_warnings,
    told_of,
)


def show_strength(answer: Strength, shop: Shop, stamp: str, color: str) -> None:
    """Print what holds."""
    console = console_for(color)
    console.print(Text(f"{answer.design.name}, design {stamp}", style="dim"))
    print_headline(console, strength_headline(answer, shop))
    print_warnings(console, told_of(answer.findings, shop))
    print_sections(console, strength_sections(answer, shop))
    console.print()
    console.print(Text(SMALL_PRINT, style="dim"))


def strength_json(answer: Strength, shop: Shop, stamp: str) -> str:
    """What holds as one object for a program."""
    told = told_of(answer.findings, shop)
    return as_design_json(answer.design.name, stamp, strength_rows(answer, shop), strength_headline(answer, shop), told)
