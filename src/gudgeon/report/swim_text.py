"""How a lure tows, on a terminal and for programs."""

from rich.text import Text

from gudgeon.answers.tow_test import TowTest
from gudgeon.report.rows import Row, Section, Shop
from gudgeon.report.swim_rows import (
    SMALL_PRINT,
    change_sections,
    depth_sections,
    eye_sections,
    swim_headline,
    swim_sections,
)
from gudgeon.report.text import as_design_json, console_for, print_headline, print_sections, print_warnings, told_of


def tow_sections(found: TowTest, shop: Shop) -> tuple[Section, ...]:
    """Every section, in order."""
    swum = found.swimming
    sections = [*swim_sections(swum, shop)]
    if found.changes is not None:
        sections += change_sections(found.changes, swum.shown.task.speed, shop)
    if found.eye is not None:
        sections += eye_sections(found.eye, shop)
    return (*sections, *depth_sections(found.depths, shop))


def tow_rows(found: TowTest, shop: Shop) -> tuple[Row, ...]:
    """Every row."""
    return tuple(line for section in tow_sections(found, shop) for line in section.rows)


def show_tow(found: TowTest, shop: Shop, stamp: str, color: str) -> None:
    """Print it."""
    swum = found.swimming
    console = console_for(color)
    console.print(Text(f"{swum.design.name}, design {stamp}", style="dim"))
    print_headline(console, swim_headline(swum, shop))
    print_warnings(console, told_of(swum.findings, shop))
    print_sections(console, tow_sections(found, shop))
    console.print()
    console.print(Text(SMALL_PRINT, style="dim"))


def tow_json(found: TowTest, shop: Shop, stamp: str) -> str:
    """It as one object for a program."""
    swum = found.swimming
    told = told_of(swum.findings, shop)
    return as_design_json(swum.design.name, stamp, tow_rows(found, shop), swim_headline(swum, shop), told)
