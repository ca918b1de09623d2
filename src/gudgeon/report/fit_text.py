"""Fitted constants on a terminal and for programs: the figures, then the lines that go into a design."""

from rich.text import Text

from gudgeon.answers.water_fit import WaterFit
from gudgeon.report.fit_rows import SMALL_PRINT, design_lines, fit_headline, fit_sections, fit_warnings
from gudgeon.report.rows import Shop
from gudgeon.report.text import (
    as_design_json,
    console_for,
    print_headline,
    print_sections,
    print_warnings,
)


def show_fit(found: WaterFit, shop: Shop, stamp: str, color: str) -> None:
    """Print it; the lines for a design stand as they are to be copied."""
    console = console_for(color)
    console.print(Text(f"{found.design.name}, design {stamp}", style="dim"))
    print_headline(console, fit_headline(found))
    print_warnings(console, fit_warnings(found, shop))
    print_sections(console, fit_sections(found, shop))
    console.print()
    for line in design_lines(found):
        console.print(Text(line), soft_wrap=True)
    console.print()
    console.print(Text(SMALL_PRINT, style="dim"))


def fit_json(found: WaterFit, shop: Shop, stamp: str) -> str:
    """It as one object for a program."""
    rows = [row for section in fit_sections(found, shop) for row in section.rows]
    return as_design_json(found.design.name, stamp, rows, fit_headline(found), fit_warnings(found, shop))
