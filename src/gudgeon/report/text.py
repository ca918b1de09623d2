"""Rows for a terminal: the answer in a sentence, then what is wrong, worst first, then the figures, quietly.

A pipe gets the same lines without colour; nothing is told by colour alone.
"""

import json
import os
import re
import sys
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from rich.cells import cell_len
from rich.console import Console
from rich.segment import Segment, Segments
from rich.style import Style
from rich.text import Text

from gudgeon.answers.finding import Finding
from gudgeon.report.rows import Row, Section, Shop
from gudgeon.report.sentences import SIGNS, said

NARROW = 56  # columns below which a row's label and its figure stand on two lines
LONGEST_LABEL = 44
_MARGIN = 8  # labels no longer than that are a list's numbers: what does not fit goes on beside them
_UNIT = re.compile(r"(?<=\d) (?=(?:%|[A-Za-z/]{1,5})(?:[\s,;.)]|$))")
_GLUE = "\ue000"  # stands for a space that no line may end at
_FIGURE = re.compile(r"^(?P<whole>-?\d+)(?P<part>\.\d+)?(?: ± (?P<spread>\d+)(?P<spread_part>\.\d+)?)?(?P<rest>.*)$")
_QUIET = Style(dim=True)
_SIGNS = {"wrong": ("x", "bold red"), "watch": ("!", "bold yellow"), "note": ("-", "bold")}


@dataclass(frozen=True)
class Told:
    """A warning with how much it matters: "wrong", "watch" or "note"."""

    gravity: str
    words: str


def told_of(findings: Iterable[Finding], shop: Shop) -> tuple[Told, ...]:
    """Findings as they are told, in their order."""
    return tuple(Told(SIGNS[finding.gravity][1], said(finding, shop)) for finding in findings)


def show(
    answer_rows: Sequence[Row], headline: str, warnings: Sequence[str | Told], as_json: bool, *, color: str = "auto"
) -> None:
    """Print an answer.

    warnings : worst first
    as_json  : one object for a program instead of words
    color    : "auto" (only on a terminal, or when FORCE_COLOR asks; never when NO_COLOR does), "always", "never"
    """
    if as_json:
        print(as_json_text(answer_rows, headline, warnings))
        return
    console = console_for(color)
    print_headline(console, headline)
    print_warnings(console, warnings)
    if answer_rows:
        console.print()
        print_rows(console, answer_rows)


def show_sections(
    sections: Sequence[Section], headline: str, warnings: Sequence[str | Told], as_json: bool, *, color: str = "auto"
) -> None:
    """Print an answer whose figures stand under titles; arguments as for `show`."""
    if as_json:
        print(as_json_text([row for section in sections for row in section.rows], headline, warnings))
        return
    console = console_for(color)
    print_headline(console, headline)
    print_warnings(console, warnings)
    if sections:
        print_sections(console, sections)


def as_json_text(answer_rows: Sequence[Row], headline: str, warnings: Sequence[str | Told]) -> str:
    """One object: rows, headline, warnings."""
    found = {
        "rows": [row.as_json() for row in answer_rows],
        "headline": headline,
        "warnings": [told.words if isinstance(told, Told) else told for told in warnings],
    }
    return json.dumps(found, indent=2, allow_nan=False)


def as_design_json(
    name: str, stamp: str, answer_rows: Sequence[Row], headline: str, warnings: Sequence[str | Told]
) -> str:
    """The same of a drawn lure: which design it is comes first."""
    found = json.loads(as_json_text(answer_rows, headline, warnings))
    return json.dumps({"design": name, "stamp": stamp, **found}, indent=2, allow_nan=False)


def wants_color(color: str) -> bool:
    """Whether to colour what is printed; an option given beats the environment."""
    if color in ("always", "never"):
        return color == "always"
    if os.environ.get("NO_COLOR"):
        return False
    forced = os.environ.get("FORCE_COLOR")
    if forced is not None and forced != "":
        return forced != "0"
    return sys.stdout.isatty()


def console_for(color: str) -> Console:
    """Where words go: as wide as the terminal, or 80 columns in a pipe unless COLUMNS says."""
    coloured = wants_color(color)
    return Console(
        file=sys.stdout, force_terminal=coloured, no_color=not coloured, highlight=False, markup=False, emoji=False,
        color_system="standard" if coloured else None, legacy_windows=False,
    )  # fmt: skip


def print_headline(console: Console, headline: str) -> None:
    """The answer, in bold."""
    console.print(Text(headline, style="bold"))


def print_warnings(console: Console, warnings: Sequence[str | Told]) -> None:
    """A line each, with a sign and a word; what does not fit goes on under its own beginning."""
    for told in warnings:
        gravity, words = (told.gravity, told.words) if isinstance(told, Told) else ("watch", told)
        sign, style = _SIGNS[gravity]
        head = f"{sign} {gravity}: "
        lines = Text(words).wrap(console, max(20, console.width - len(head)))
        for place, line in enumerate(lines):
            line.rstrip()
            start = (head, style) if place == 0 else " " * len(head)
            console.print(Text.assemble(start, line))


def print_rows(console: Console, answer_rows: Sequence[Row], label_width: int | None = None) -> None:
    """The figures, aligned at the point; long words go below under their label.

    All go out at once, since a long list would take longer to print than to find.
    label_width : of the labels' column; the longest of these rows' labels when left out
    """
    label_width = label_width or min(LONGEST_LABEL, max(len(row.label) for row in answer_rows))
    figures = _aligned([row for row in answer_rows if _is_figure(row)])
    width = console.width
    found: list[Segment] = []
    for row in answer_rows:
        for label, words in _lines(console, row.label, figures.get(id(row), row.shown), label_width):
            found += _line(console, label, words, width)
    console.print(Segments(found), end="", crop=False)


def _lines(console: Console, label: str, shown: str, label_width: int) -> Iterator[tuple[str, str]]:
    """A row in lines, each what is told quietly and what follows it."""
    width = console.width
    head = f"{label:<{label_width}}  "
    if len(head) == label_width + 2 and len(head) + len(shown) <= width and width >= NARROW:
        yield head, shown
    elif label_width <= _MARGIN and width >= NARROW:  # long words on from their label, as a list has them
        for place, line in enumerate(_wrapped(console, shown.strip(), width - len(head))):
            yield (head, line) if place == 0 else ("", " " * len(head) + line)
    else:
        yield label, ""
        yield from (("", f"    {line}") for line in _wrapped(console, shown.strip(), width - 4))


def _line(console: Console, label: str, words: str, width: int) -> Iterator[Segment]:
    """A line as it goes to the terminal; what does not fit, or has marks that are no letters, is laid out anew."""
    whole = label + words
    if not whole.isprintable() or cell_len(whole) > width:
        yield from console.render(Text.assemble((label, "dim"), words))
        return
    if label:
        yield Segment(label, _QUIET)
    yield Segment(f"{words}\n")


def print_sections(console: Console, sections: Sequence[Section], widest: int = LONGEST_LABEL) -> None:
    """Figures under their titles, the labels of all in one column of at most `widest`."""
    width = min(widest, max(len(row.label) for section in sections for row in section.rows))
    for section in sections:
        console.print()
        console.print(Text(section.title, style="bold"))
        print_rows(console, section.rows, width)


def _wrapped(console: Console, words: str, width: int) -> list[str]:
    """Words in lines; a number and its unit stay together."""
    lines = Text(_UNIT.sub(_GLUE, words)).wrap(console, max(20, width))
    return [line.plain.rstrip().replace(_GLUE, " ") for line in lines]


def _is_figure(row: Row) -> bool:
    """Whether a row is a number with a point to align; a ruler's fraction has none."""
    if isinstance(row.value, str) or "/" in row.shown.removesuffix(row.unit):
        return False
    return _FIGURE.match(row.shown) is not None


def _aligned(rows: Sequence[Row]) -> dict[int, str]:
    """Row -> its figure padded so that points stand under points, those of the spreads too."""
    found = {id(row): _FIGURE.match(row.shown) for row in rows}
    parts = {key: match.groupdict("") for key, match in found.items() if match is not None}
    wide = {name: max((len(part[name]) for part in parts.values()), default=0)
            for name in ("whole", "part", "spread", "spread_part")}  # fmt: skip
    return {key: _padded(part, wide) for key, part in parts.items()}


def _padded(part: dict[str, str], wide: dict[str, int]) -> str:
    number = f"{part['whole']:>{wide['whole']}}{part['part']:<{wide['part']}}"
    if part["spread"]:
        number += f" ± {part['spread']:>{wide['spread']}}{part['spread_part']:<{wide['spread_part']}}"
        return number + part["rest"]
    if part["rest"].startswith(" ("):
        return number.rstrip() + part["rest"]
    room = wide["spread"] + wide["spread_part"]
    return (number + " " * (room + 3 if room else 0) + part["rest"]).rstrip()
