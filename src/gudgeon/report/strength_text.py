"""What holds, on a terminal: what goes first, what is weak, then each hook's way to the line."""

import json

from rich.text import Text

from gudgeon.answers.strength import Strength
from gudgeon.report.rows import Shop
from gudgeon.report.sentences import SIGNS, said
from gudgeon.report.strength_rows import SMALL_PRINT, strength_headline, strength_rows, strength_sections
from gudgeon.report.text import (
    LONGEST_LABEL,
    Told,
    as_json_text,
    console_for,
    print_headline,
    print_rows,
    print_warnings,
)


def show_strength(answer: Strength, shop: Shop, stamp: str, color: str) -> None:
    """Print what holds."""
    console = console_for(color)
    console.print(Text(f"{answer.design.name}, design {stamp}", style="dim"))
    print_headline(console, strength_headline(answer, shop))
    print_warnings(console, told(answer, shop))
    sections = strength_sections(answer, shop)
    width = min(LONGEST_LABEL, max(len(row.label) for section in sections for row in section.rows))
    for section in sections:
        console.print()
        console.print(Text(section.title, style="bold"))
        print_rows(console, section.rows, width)
    console.print()
    console.print(Text(SMALL_PRINT, style="dim"))


def told(answer: Strength, shop: Shop) -> list[Told]:
    """Findings as the terminal tells them."""
    return [Told(SIGNS[finding.gravity][1], said(finding, shop)) for finding in answer.findings]


def strength_json(answer: Strength, shop: Shop, stamp: str) -> str:
    """What holds as one object for a program."""
    found = json.loads(as_json_text(strength_rows(answer, shop), strength_headline(answer, shop), told(answer, shop)))
    return json.dumps({"design": answer.design.name, "stamp": stamp, **found}, indent=2, allow_nan=False)
