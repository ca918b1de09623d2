"""The piece of wood, the lip, the fin and the tow eye's place on a terminal."""

from collections.abc import Sequence

from rich.console import Console
from rich.text import Text

from gudgeon.answers.cut_order import Step
from gudgeon.answers.lip_and_fin import LipAndFin
from gudgeon.answers.piece_of_wood import PieceOfWood
from gudgeon.report.rows import Shop
from gudgeon.report.text import as_design_json, console_for, print_headline, print_rows, print_warnings, told_of
from gudgeon.report.wood_rows import (
    STAGE_WORDS,
    STEPS,
    step_words,
    wood_findings,
    wood_headline,
    wood_rows,
    wood_sections,
)


def show_wood(wood: PieceOfWood | None, plates: LipAndFin, shop: Shop, color: str) -> None:
    """Print both answers under their titles."""
    console = console_for(color)
    print_headline(console, wood_headline(wood, shop))
    print_warnings(console, told_of(wood_findings(wood, plates), shop))
    for section in wood_sections(wood, plates, shop):
        console.print()
        console.print(Text(section.title, style="bold"))
        if section.title == STEPS and wood is not None:
            _print_steps(console, wood.steps, shop)
        else:
            print_rows(console, section.rows)


def _print_steps(console: Console, steps: Sequence[Step], shop: Shop) -> None:
    """Numbered, under what the blank is when they are done."""
    before = ""
    for number, step in enumerate(steps, start=1):
        if step.when != before:
            console.print(Text(STAGE_WORDS[step.when], style="dim"))
            before = step.when
        for place, line in enumerate(Text(step_words(step, shop)).wrap(console, max(20, console.width - 4))):
            line.rstrip()
            console.print(Text(f"{number:2}  " if place == 0 else "    ") + line)


def wood_json(wood: PieceOfWood | None, plates: LipAndFin, shop: Shop, *, name: str, stamp: str) -> str:
    """Both answers as one object for a program."""
    told = told_of(wood_findings(wood, plates), shop)
    return as_design_json(name, stamp, wood_rows(wood, plates, shop), wood_headline(wood, shop), told)
