"""A check on a terminal: the answer, what is wrong, then the figures under their titles."""

import json
from collections.abc import Sequence

from rich.text import Text

from gudgeon.answers.checked import Check
from gudgeon.report.check_rows import Section, check_sections, headline
from gudgeon.report.rows import Shop
from gudgeon.report.sentences import SIGNS, said
from gudgeon.report.text import Told, as_json_text, console_for, print_headline, print_rows, print_warnings


def show_check(check: Check, shop: Shop, stamp: str, color: str) -> None:
    """Print a check."""
    console = console_for(color)
    console.print(Text(f"{check.design.name}, design {stamp}", style="dim"))
    print_headline(console, headline(check, shop))
    print_warnings(console, told(check, shop))
    sections = check_sections(check, shop)
    label_width = _label_width(sections)
    for section in sections:
        console.print()
        console.print(Text(section.title, style="bold"))
        print_rows(console, section.rows, label_width)
    console.print()
    console.print(Text(SMALL_PRINT, style="dim"))


SMALL_PRINT = (
    "± holds about 19 times in 20. Weights and places are computed and hold within that; rates are estimates, right "
    "within a third until one timed drop is entered."
)


def told(check: Check, shop: Shop) -> list[Told]:
    """Findings as the terminal tells them."""
    return [Told(SIGNS[finding.gravity][1], said(finding, shop)) for finding in check.findings]


def check_json(check: Check, shop: Shop, stamp: str) -> str:
    """A check as one object for a program."""
    rows = [row for section in check_sections(check, shop) for row in section.rows]
    found = json.loads(as_json_text(rows, headline(check, shop), told(check, shop)))
    return json.dumps({"design": check.design.name, "stamp": stamp, **found}, indent=2, allow_nan=False)


def _label_width(sections: Sequence[Section]) -> int:
    return min(40, max(len(row.label) for section in sections for row in section.rows))
