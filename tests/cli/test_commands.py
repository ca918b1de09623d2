"""The commands on a drawn lure, run as a maker runs them: some in a process of their own, the rest in this one."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from tests.cli.run_here import run_here

ROOT = Path(__file__).parents[2]
DEMO = "examples/lanternmere.toml"


def run(*arguments: str, env: dict[str, str] | None = None) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", "gudgeon.cli.main", *arguments], capture_output=True, text=True,
                          encoding="utf-8", check=False, cwd=ROOT, env=env)  # fmt: skip


def test_help_tells_every_command_and_each_has_an_example():
    told = run_here("--help").stdout
    names = [line.split()[0] for line in told.split("Commands:")[1].splitlines() if line.strip()]
    assert {"new", "check", "sheets", "lead", "batch"} <= set(names)
    for name in names:
        assert "Example:" in run_here(name, "--help").stdout, name


def test_check_answers_first_and_tells_what_is_wrong_before_the_figures():
    told = run("check", DEMO)
    assert told.returncode == 0
    lines = told.stdout.splitlines()
    assert lines[1].startswith("Add ")
    assert told.stdout.index("watch:") < told.stdout.index("As drawn")
    assert "\x1b[" not in told.stdout


def test_colour_survives_a_pipe_when_asked_for():
    assert "\x1b[" in run("check", DEMO, "--color", "always").stdout
    assert "\x1b[" not in run("check", DEMO, "--color", "never").stdout


def test_json_is_one_object_of_rows():
    told = json.loads(run_here("check", DEMO, "--json").stdout)
    assert set(told) == {"design", "stamp", "headline", "warnings", "rows"}
    assert all(set(row) == {"name", "label", "value", "unit", "low", "high"} for row in told["rows"])


def test_inch_shop_shows_fractions_for_what_is_cut_and_grams_for_ballast():
    rows = {row["name"]: row for row in json.loads(run_here("check", DEMO, "--json", "--units", "inch").stdout)["rows"]}
    assert rows["size.length"]["unit"] == "in"
    assert rows["ballast.needed"]["unit"] == "g"
    assert "/64 in" in run_here("check", DEMO, "--units", "inch").stdout


def test_a_refusal_tells_every_fault_and_leaves_with_2(tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text((ROOT / DEMO).read_text(encoding="utf-8").replace("western red cedar", "western rad cedar")
                   .replace('material = "glass"', 'material = "glas"'), encoding="utf-8")  # fmt: skip
    told = run("check", str(bad))
    assert told.returncode == 2
    assert told.stdout == ""
    assert "Traceback" not in told.stderr
    assert "wood.species" in told.stderr
    assert told.stderr.count("glas") >= 2
    assert all("line" in line for line in told.stderr.splitlines()[1:])


def test_a_wrong_option_leaves_with_2():
    assert run("check", DEMO, "--units", "furlong").returncode == 2


@pytest.mark.parametrize("form", ["swimmer4", "swimmer3", "glider2", "diver", "walker", "needle"])
def test_a_new_design_can_be_checked_at_once(form, tmp_path):
    made = tmp_path / "mine.toml"
    assert run_here("new", form, "--out", str(made)).returncode == 0
    assert run_here("check", str(made)).returncode == 0


def test_new_never_writes_over_a_design(tmp_path):
    made = tmp_path / "mine.toml"
    made.write_text("precious", encoding="utf-8")
    told = run_here("new", "diver", "--out", str(made))
    assert told.returncode == 2
    assert made.read_text(encoding="utf-8") == "precious"


def test_new_without_a_form_lists_them():
    told = run_here("new").stdout
    assert all(form in told for form in ("swimmer4", "glider2", "walker"))


def test_hardware_stands_under_the_hinge_it_belongs_to():
    lines = run_here("hardware", DEMO).stdout.splitlines()
    titles = [place for place, line in enumerate(lines) if line.startswith("Hinge ")]
    assert len(titles) == 3
    for title in titles:
        assert lines[title - 1] == ""
        assert lines[title + 1].startswith("axis, from the nose")
