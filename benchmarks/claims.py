"""The claims: what is timed, how often, and how long it may take."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from benchmarks.timing import Work, bare_python, fixed_arithmetic, process
from gudgeon.answers.check import check
from gudgeon.answers.papers import papers
from gudgeon.design.file import open_design
from gudgeon.report.check_rows import check_rows
from gudgeon.report.rows import Shop
from gudgeon.report.sheets import sheets

DEMO = Path(__file__).parents[1] / "examples" / "lanternmere.toml"


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


def claims(folder: Path) -> tuple[Claim, ...]:
    """Everything that is timed; folder : where papers may be written."""
    file = open_design(DEMO)
    answer = check(file.design)
    paper = str(folder / "lanternmere.pdf")

    def lay_out() -> object:
        return sheets(papers(answer), stamp=file.stamp, shop=Shop.METRIC, paper="A4", correction=1.0,
                      date=date(2026, 1, 1))  # fmt: skip

    def gudgeon(*arguments: str) -> Callable[[], None]:
        return lambda: process("-m", "gudgeon.cli.main", *arguments)

    return (
        Claim("full check of the demo lure, loaded", 0.030, lambda: check(file.design), fixed_arithmetic, 15),
        Claim("  its file read, checked and laid out", None,
              lambda: check_rows(check(open_design(DEMO).design), Shop.METRIC), fixed_arithmetic, 15),
        Claim("  sheets of it as a PDF", 1.0, lay_out, fixed_arithmetic, 5),
        Claim("gudgeon --help, the process", 0.4, gudgeon("--help"), bare_python, 9),
        Claim("gudgeon check, the process", 1.5, gudgeon("check", str(DEMO)), bare_python, 7),
        Claim("gudgeon sheets, the process", None, gudgeon("sheets", str(DEMO), "--out", paper), bare_python, 5),
    )  # fmt: skip
