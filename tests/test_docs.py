"""What the help, README and docs say is so: every example runs, every line of output shown is what is printed."""

import json
import re
import shlex
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from typer.main import get_command
from typer.testing import CliRunner, Result

from gudgeon.answers.check import check
from gudgeon.answers.water_fit import WaterFit, water_fit
from gudgeon.cli.main import app
from gudgeon.design.file import load
from gudgeon.design.model import Design
from gudgeon.report.check_rows import check_rows
from gudgeon.report.rows import Row, Shop

ROOT = Path(__file__).parents[1]
EXAMPLES = ROOT / "examples"
PAGES = [ROOT / "README.md", ROOT / "CONTRIBUTING.md", *sorted((ROOT / "docs").glob("*.md"))]
LEFT_OUT = ("...", "…")
RUN_BLOCKS = ("", "console", "text")


@dataclass(frozen=True)
class Told:
    """One command as a page tells it, and the lines of its output shown below it."""

    command: str
    output: tuple[str, ...]


def blocks(page: str) -> Iterator[tuple[str, list[str]]]:
    """Fenced blocks of a page: what the fence says, and the lines."""
    for language, body in re.findall(r"^```(\w*)\n(.*?)^```", page, flags=re.MULTILINE | re.DOTALL):
        yield language, body.splitlines()


def commands_told(page: str) -> list[Told]:
    """Every gudgeon command in the blocks of a page, a backslash joining lines, with the output shown."""
    told: list[Told] = []
    for language, lines in blocks(page.replace("\\\n", " ")):
        if language not in RUN_BLOCKS:
            continue
        shown: list[str] | None = None
        for line in lines:
            bare = line.strip().removeprefix("$ ")
            if bare.startswith("gudgeon "):
                shown = []
                told.append(Told(bare, ()))
            elif shown is not None and line.strip() and line.strip() not in LEFT_OUT:
                shown.append(line.rstrip())
                told[-1] = Told(told[-1].command, tuple(shown))
    return told


def command_line(told: str) -> list[str]:
    """Arguments of a command as a shell takes them apart."""
    return shlex.split(told)[1:]


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> CliRunner:
    """A folder of one's own with the examples in it, and a terminal of 80 columns."""
    (tmp_path / "examples").mkdir()
    for path in (*EXAMPLES.glob("*.toml"), *EXAMPLES.glob("*.csv"), *EXAMPLES.glob("*.jpg")):
        (tmp_path / "examples" / path.name).write_bytes(path.read_bytes())
    monkeypatch.chdir(tmp_path)
    return CliRunner(env={"COLUMNS": "80", "NO_COLOR": "1"})


def done(runner: CliRunner, command: str) -> Result:
    """A command's result; a refusal shows in its words."""
    result = runner.invoke(app, command_line(command))
    assert result.exit_code == 0, f"{command}\n{result.output}\n{result.exception}"
    return result


def helps() -> dict[str, str]:
    """The help of every command as it is written, by the command's name."""
    commands = get_command(app).commands  # type: ignore[attr-defined]
    return {name: command.help or "" for name, command in commands.items()}


def examples_in(written: str) -> list[str]:
    """Every command of a help, with the lines that a backslash at the end carries on."""
    return re.findall(r"gudgeon (?:.*\\\n)*.*", written)


@pytest.fixture(scope="module", autouse=True)
def _a_fit_is_worked_out_once() -> Iterator[None]:
    """The longest answer of all, told here twice of one design: in words for its example, and for its rows."""
    known: dict[str, WaterFit] = {}

    def remembered(design: Design, *more: Any) -> WaterFit:
        if repr(design) not in known:
            known[repr(design)] = water_fit(design, *more)
        return known[repr(design)]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("gudgeon.answers.water_fit.water_fit", remembered)
        yield


@pytest.mark.parametrize("name", sorted(helps()))
def test_every_example_in_help_runs(name: str, desk: CliRunner, monkeypatch: pytest.MonkeyPatch) -> None:
    """The workbench is made ready and then not left to run, which it would for ever."""
    monkeypatch.setattr("gudgeon.web.server.Workbench.run", lambda bench, **_: bench.listening.close())
    examples = examples_in(helps()[name])
    assert examples, f"gudgeon {name} --help has no example"
    for example in examples:
        assert example.startswith(f"gudgeon {name}")
        done(desk, example.replace("\\\n", " "))


@pytest.mark.parametrize("name", sorted(helps()))
def test_every_example_in_help_can_be_copied(name: str, desk: CliRunner) -> None:
    shown = [
        line.strip().removeprefix("Example:").strip() for line in desk.invoke(app, [name, "--help"]).output.splitlines()
    ]
    lines = [line.strip() for example in examples_in(helps()[name]) for line in example.splitlines()]
    assert [line for line in lines if line not in shown] == []


@pytest.mark.parametrize("page", PAGES, ids=lambda path: path.name)
def test_every_command_in_a_page_runs_and_prints_what_is_shown(page: Path, desk: CliRunner) -> None:
    for told in commands_told(page.read_text(encoding="utf-8")):
        printed = [line.rstrip() for line in done(desk, told.command).output.splitlines()]
        untrue = [line for line in told.output if line not in printed]
        assert untrue == [], f"{page.name} shows these below '{told.command}', which prints otherwise:\n" + "\n".join(
            printed
        )


def test_the_pages_have_commands_to_run() -> None:
    told = [one for page in PAGES for one in commands_told(page.read_text(encoding="utf-8"))]
    assert len(told) > 20
    assert any(one.output for one in told)


@pytest.mark.parametrize("page", PAGES, ids=lambda path: path.name)
def test_links_lead_somewhere(page: Path) -> None:
    for target in re.findall(r"\]\(([^)#\s]+)", page.read_text(encoding="utf-8")):
        assert "://" in target or (page.parent / target).exists(), target


def test_the_index_names_every_page() -> None:
    index = (ROOT / "docs" / "index.md").read_text(encoding="utf-8")
    missing = [page.name for page in (ROOT / "docs").glob("*.md") if page.name != "index.md" and page.name not in index]
    assert missing == []


def test_readme_names_every_command() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert [name for name in helps() if f"`{name}`" not in readme] == []


def test_files_named_in_readme_and_contributing_are_there() -> None:
    for page in PAGES[:2]:
        for named in re.findall(r"`((?:src|tests|docs|examples|benchmarks)/[\w./-]+)`", page.read_text("utf-8")):
            assert (ROOT / named).exists(), f"{page.name} names {named}"


@dataclass(frozen=True)
class RowTold:
    """A line of the table of rows: a name with <parts> left open, and the unit in each shop."""

    name: str
    metric: str
    inch: str

    def covers(self, name: str) -> bool:
        """Whether a row's name is of this form."""
        parts = re.split(r"<\w+>", self.name)
        return re.fullmatch(r"[a-z0-9_\-]+".join(map(re.escape, parts)), name) is not None


def rows_told(command: str = "check") -> list[RowTold]:
    """The tables of docs/rows.md for one command, a plain word for a unit meaning that the row holds words."""
    found = []
    page = (ROOT / "docs" / "rows.md").read_text(encoding="utf-8")
    parts = re.split(r"^# The rows of `gudgeon (\w+) --json`$", page, flags=re.MULTILINE)
    for line in dict(zip(parts[1::2], parts[2::2], strict=True))[command].splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if len(cells) == 4 and cells[0].startswith("`"):
            found += [RowTold(name, cells[2], cells[3]) for name in re.findall(r"`([^`]+)`", cells[0])]
    return found


def every_row() -> Iterator[tuple[Row, Row]]:
    """Every row that the examples give, in both shops, and those of the demo with whole shot asked for."""
    demo = load(EXAMPLES / "lanternmere.toml")
    designs = [load(path) for path in sorted(EXAMPLES.glob("*.toml"))]
    in_shot = demo.model_copy(update={"aim": demo.aim.model_copy(update={"whole_shot": True})})
    for design in [*designs, in_shot]:
        answer = check(design)
        yield from zip(check_rows(answer, Shop.METRIC), check_rows(answer, Shop.INCH), strict=True)


def test_the_rows_in_the_docs_are_the_rows_there_are() -> None:
    told, given = rows_told(), list(every_row())
    assert len(told) > 60
    untold = {metric.name for metric, _ in given if not any(line.covers(metric.name) for line in told)}
    assert untold == set()
    unused = [line.name for line in told if not any(line.covers(metric.name) for metric, _ in given)]
    assert unused == []


def test_the_units_in_the_docs_are_the_units_there_are() -> None:
    told, wrong = rows_told(), set()
    for metric, inch in every_row():
        for line in told:
            if line.covers(metric.name):
                for row, unit in ((metric, line.metric), (inch, line.inch)):
                    holds = row.unit if isinstance(row.value, float) else "words"
                    if holds not in unit.split(" or "):
                        wrong.add((row.name, unit, holds))
    assert wrong == set()


BOARD = """
[board]
length = "12 in"
width = "{width}"
thickness = "{thickness}"
[[board.flaw]]
what = "knot"
at = "6 in"
long = "2 in"
across = "15 mm"
wide = "20 mm"
"""
PRICE = """
[[price]]
item = "treble 1/0"
each = 1.2
"""
AT = 'pivot = "4 mm"                   # aft of the middle of the gap: the pin stands in the piece behind'
LOCKED = 'kind = "plate and pin"\nlocked_by = "front hanger"'
CHANGED: dict[str, tuple[str, dict[str, str], str]] = {
    "board": ("diver", {}, BOARD.format(width="40 mm", thickness="24 mm")),
    "narrow board": ("diver", {}, BOARD.format(width="32 mm", thickness="30 mm")),
    "board on edge": ("lanternmere", {}, BOARD.format(width="34 mm", thickness="45 mm")),
    "priced": ("lanternmere", {}, PRICE),
    "knuckles": ("lanternmere", {AT: 'face = "knuckle"'}, ""),
    "swing asked for": ("glider", {'rear_bevel = "35 deg"': 'rear_bevel = "35 deg"\nswing = "40 deg"'}, ""),
    "bore in a slot": ("lanternmere", {'name = "shoulder"\nat = "107 mm"': 'name = "shoulder"\nat = "93 mm"'}, ""),
    "plates": ("lanternmere", {'kind = "eyes on a pin"': 'kind = "plate and pin"'}, ""),
    "plate locked": ("lanternmere", {'joint = 1\nkind = "eyes on a pin"': f"joint = 1\n{LOCKED}"}, ""),
    "straps": ("lanternmere", {'kind = "eyes on a pin"': 'kind = "strap"\nmaterial = "polycarbonate"'}, ""),
    "harness": ("lanternmere", {}, '[harness]\nwire = "1.3 mm"\n'),
    "strong line": ("lanternmere", {'line = "50 lb"\ndrag = "15 lb"': 'line = "900 lb"\ndrag = "300 lb"'}, ""),
    "metal not in the table": ("diver", {'material = "stainless steel"': 'material = "tin"'}, ""),
}
"""Examples changed so that rows show which no example has: example, words to change, words at its end."""
OF_A_DRAWING = ("bill", "joints", "cuts", "hardware", "strength", "wood")
HAVE_OWN_PAGES = {"check", "swim", "fit", "mend"}


@pytest.fixture(scope="module")
def lures(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """The examples and what is changed of them, as files."""
    folder = tmp_path_factory.mktemp("changed")
    for name, (example, changes, more) in CHANGED.items():
        text = (EXAMPLES / f"{example}.toml").read_text(encoding="utf-8")
        for given, other in changes.items():
            assert given in text, given
            text = text.replace(given, other)
        (folder / f"{name.replace(' ', '-')}.toml").write_text(text + more, encoding="utf-8")
    return [*sorted(EXAMPLES.glob("*.toml")), *sorted(folder.glob("*.toml"))]


def printed_rows(command: str, lures: list[Path]) -> Iterator[tuple[str, str, str]]:
    """Name and unit in both shops of every row that a command prints for a program."""
    more = ["--lures", "3"] if command == "bill" else []
    for path in lures:
        for extra in [[], more] if more else [[]]:
            shops = []
            for units in ("metric", "inch"):
                done = CliRunner().invoke(app, [command, str(path), "--json", "--units", units, *extra])
                assert done.exit_code == 0, f"{command} {path.name}: {done.output} {done.exception}"
                shops.append([(row["name"], "words" if isinstance(row["value"], str) else row["unit"] or "number")
                              for row in json.loads(done.output)["rows"]])  # fmt: skip
            for (name, metric), (_, inch) in zip(*shops, strict=True):
                yield name, metric, inch


@pytest.mark.parametrize("command", OF_A_DRAWING)
def test_every_row_a_command_prints_is_told_in_the_docs_with_its_unit(command: str, lures: list[Path]) -> None:
    told, given = rows_told(command), sorted(set(printed_rows(command, lures)))
    assert len({name for name, _, _ in given}) > 10
    untold = {name for name, _, _ in given if not any(line.covers(name) for line in told)}
    assert untold == set()
    unused = [line.name for line in told if not any(line.covers(name) for name, _, _ in given)]
    assert unused == []
    wrong = [one for one in given if not any(line.covers(one[0]) and one[1] in line.metric.split(" or ")
                                             and one[2] in line.inch.split(" or ") for line in told)]  # fmt: skip
    assert wrong == []


@pytest.mark.parametrize(("command", "more"), [("swim", ["--speeds", "1 m/s, 2 m/s"]), ("fit", [])])
def test_every_row_of_a_tow_is_told_in_the_docs_with_its_unit(command: str, more: list[str]) -> None:
    told = rows_told(command)
    done = CliRunner().invoke(app, [command, str(EXAMPLES / "lanternmere.toml"), "--json", *more])
    assert done.exit_code == 0, done.output
    for row in json.loads(done.output)["rows"]:
        unit = "words" if isinstance(row["value"], str) else row["unit"] or "number"
        assert any(line.covers(row["name"]) and unit in line.metric.split(" or ") for line in told), row


def test_every_command_on_a_design_that_a_program_can_ask_has_its_rows_told() -> None:
    commands = get_command(app).commands  # type: ignore[attr-defined]
    asked = {name for name, command in commands.items()
             if {"file", "json"} <= {option.name for option in command.params}}  # fmt: skip
    assert asked - set(OF_A_DRAWING) - HAVE_OWN_PAGES == set()
    assert set(OF_A_DRAWING) <= asked


def test_the_keys_of_the_object_are_told(desk: CliRunner) -> None:
    page = (ROOT / "docs" / "rows.md").read_text(encoding="utf-8")
    given = json.loads(done(desk, "gudgeon check examples/diver.toml --json").output)
    assert set(re.findall(r"^\| `(\w+)` \| [^|]+ \|$", page, flags=re.MULTILINE)) == set(given)
    for key in given["rows"][0]:
        assert f"`{key}`" in page


def test_no_row_is_told_twice() -> None:
    for command in ("check", *OF_A_DRAWING):
        names = [line.name for line in rows_told(command)]
        assert len(names) == len(set(names))


def test_output_below_a_command_is_read_with_it() -> None:
    page = '```console\n$ gudgeon check a.toml \\\n    --json\nAdd 3 g\n...\n\n```\n```toml\ngudgeon = "1 g"\n```\n'
    assert [(" ".join(one.command.split()), one.output) for one in commands_told(page)] == [
        ("gudgeon check a.toml --json", ("Add 3 g",))
    ]
