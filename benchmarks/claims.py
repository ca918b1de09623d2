"""The claims: what is timed, how often, and how long it may take."""

import sys
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from benchmarks.timing import Work, bare_python, fixed_arithmetic, process
from gudgeon.answers.batch_papers import batch_papers
from gudgeon.answers.check import check
from gudgeon.answers.clashing import clashes
from gudgeon.answers.jointing import jointing
from gudgeon.answers.overall import overall
from gudgeon.answers.papers import papers
from gudgeon.answers.strength import strength
from gudgeon.design.batch_list import read_batch
from gudgeon.design.file import open_design
from gudgeon.report.check_rows import check_rows
from gudgeon.report.rows import Shop
from gudgeon.report.sheets import sheets

DEMO = Path(__file__).parents[1] / "examples" / "lanternmere.toml"
BLANKS = DEMO.with_name("lanternmere-blanks.csv")


@dataclass(frozen=True)
class Claim:
    """One thing and how long it may take.

    most      : [s] what is claimed; None where nothing is
    work      : one run of it
    yardstick : what it is set against
    times     : how many runs
    """

    words: str
    most: float | None
    work: Work
    yardstick: Work
    times: int


def remembered() -> list[Callable[[], None]]:
    """What empties all that answers remember from one design to the next, so that a run does the whole work."""
    modules = [(name, module) for name, module in sys.modules.items() if name.startswith("gudgeon.answers.")]
    return [value.cache_clear for name, module in modules for value in vars(module).values()
            if hasattr(value, "cache_clear") and value.__module__ == name]  # fmt: skip


def claims(folder: Path) -> tuple[Claim, ...]:
    """Everything that is timed; folder : where papers may be written."""
    file = open_design(DEMO)
    answer = check(file.design)
    paper = str(folder / "lanternmere.pdf")
    forgets = remembered()

    def forget() -> None:
        for forget_one in forgets:
            forget_one()

    def lay_out() -> object:
        return sheets(papers(answer), stamp=file.stamp, shop=Shop.METRIC, paper="A4", correction=1.0,
                      date=date(2026, 1, 1))  # fmt: skip

    def all_papers() -> object:
        design = open_design(DEMO).design
        return sheets(papers(overall(design)), stamp=file.stamp, shop=Shop.METRIC, paper="A4", date=date(2026, 1, 1))

    def batch_of_twelve() -> object:
        design = open_design(DEMO).design
        return sheets(papers(overall(design)), stamp=file.stamp, shop=Shop.METRIC, paper="A4", date=date(2026, 1, 1),
                      batch=batch_papers(design, read_batch(BLANKS)))  # fmt: skip

    def full_check() -> object:
        forget()
        return check(file.design)

    def joints_clashes_strength() -> object:
        forget()
        loads = answer.ballast.pockets if answer.ballast else ()
        return (jointing(file.design, answer.lure), clashes(file.design, answer.lure, loads),
                strength(file.design, answer.lure))  # fmt: skip

    def gudgeon(*arguments: str) -> Callable[[], None]:
        return lambda: process("-m", "gudgeon.cli.main", *arguments)

    return (
        Claim("full check of the demo lure, loaded", 0.030, full_check, fixed_arithmetic, 15),
        Claim("  again, its body not redrawn", None, lambda: check(file.design), fixed_arithmetic, 15),
        Claim("  its file read, checked and laid out", None,
              lambda: check_rows(check(open_design(DEMO).design), Shop.METRIC), fixed_arithmetic, 15),
        Claim("  sheets of it as a PDF", 1.0, lay_out, fixed_arithmetic, 5),
        Claim("all papers of one lure, file to PDF", 2.0, all_papers, fixed_arithmetic, 5),
        Claim("papers of a batch of twelve, file to PDF", 5.0, batch_of_twelve, fixed_arithmetic, 5),
        Claim("swing, clashes and strength of it", 0.150, joints_clashes_strength, fixed_arithmetic, 9),
        Claim("gudgeon --help, the process", 0.4, gudgeon("--help"), bare_python, 9),
        Claim("gudgeon check, the process", 1.5, gudgeon("check", str(DEMO)), bare_python, 7),
        Claim("gudgeon sheets, the process", None, gudgeon("sheets", str(DEMO), "--out", paper), bare_python, 5),
    )  # fmt: skip
