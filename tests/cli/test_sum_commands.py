"""The commands without a drawing, run as a maker runs them."""

import json
import re
import shlex
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner

from gudgeon.cli.sum_commands import add_sum_commands
from gudgeon.errors import Refusal

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs" / "bench-sums.md"
COMMANDS = ("lead", "sum", "swap", "batch", "taped", "hook", "salt", "scale", "trim", "drop", "classes", "sits", "bore",
            "board", "coats", "mix")  # fmt: skip
PAPER_SUM = tuple(shlex.split(
    "lead --blank '37.82 g' --density '0.67 g/cm3' --fittings '4.09 g, steel, buried' --hooks '3.69 g' "
    "--part 'plate, 0.89 g, aluminium, buried' --margin '25 %' --shot '4.29 g'"
))  # fmt: skip


def app() -> typer.Typer:
    found = typer.Typer(rich_markup_mode=None)
    add_sum_commands(found)
    return found


def run(*words: str) -> str:
    result = CliRunner().invoke(app(), list(words), catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.output


def refused(*words: str) -> Refusal:
    with pytest.raises(Refusal) as found:
        CliRunner().invoke(app(), list(words), catch_exceptions=False)
    return found.value


def as_json(*words: str) -> dict[str, dict[str, object]]:
    found = json.loads(run(*words, "--json"))
    assert set(found) == {"rows", "headline", "warnings"}
    return {row["name"]: row for row in found["rows"]}


def doc_examples() -> list[str]:
    return [line for line in DOCS.read_text(encoding="utf-8").splitlines() if line.startswith("gudgeon ")]


def help_example(command: str) -> list[str]:
    text = run(command, "--help").replace("\\\n", " ")
    found = re.search(r"^ *gudgeon (.*)$", text, re.MULTILINE)
    assert found is not None, command
    return shlex.split(found[1])


@pytest.mark.parametrize("example", doc_examples())
def test_every_example_in_the_docs_runs(example: str) -> None:
    out = run(*shlex.split(example)[1:])
    assert out.strip()
    assert "nan" not in out.casefold()


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_help_with_an_example_that_runs(command: str) -> None:
    words = help_example(command)
    assert words[0] == command
    assert run(*words)
    rows = as_json(*words)
    assert rows
    assert all(name.startswith(f"{command}.") for name in rows)


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.parametrize("units", ["metric", "inch"])
def test_json_rows_are_numbers_with_their_range_or_words(command: str, units: str) -> None:
    found = json.loads(run(*help_example(command), "--json", "--units", units))
    names = [row["name"] for row in found["rows"]]
    assert len(set(names)) == len(names)
    for row in found["rows"]:
        assert set(row) == {"name", "label", "value", "unit", "low", "high"}
        if row["low"] is not None:
            assert row["low"] <= row["value"] <= row["high"], row


def test_every_command_is_in_the_docs() -> None:
    assert {shlex.split(example)[1] for example in doc_examples()} == set(COMMANDS)


def test_the_sum_on_paper_and_what_it_leaves_out() -> None:
    rows = as_json(*PAPER_SUM)
    assert rows["lead.parts"]["value"] == pytest.approx(46.49)
    assert rows["lead.volume"]["value"] == pytest.approx(56.4, abs=0.1)
    assert rows["lead.plain"]["value"] == pytest.approx(9.9, abs=0.1)
    assert rows["lead.shot.count"]["value"] == 3
    assert rows["lead.excess"]["value"] == pytest.approx(1.2, abs=0.1)
    assert rows["lead.other.excess"]["value"] == pytest.approx(-0.3, abs=0.1)
    assert "In the sea (salt 35 g/kg, 20 C) this floats: 0.3 g light" in " ".join(run(*PAPER_SUM).split())


def test_a_wrong_total_is_told_first_and_both_ways() -> None:
    words = "already 10 g heavier than the water it displaces; ballast makes it sink faster"
    lines = run(*PAPER_SUM, "--total", "66.49 g").splitlines()
    told = [line for line in lines if line.startswith("x wrong:")]
    assert "Told 66.49 g, but the parts add to 46.49 g" in told[0]
    assert words in " ".join(" ".join(lines).split())
    alone = run("lead", "--blank", "37.82 g", "--density", "0.67 g/cm3", "--total", "66.49 g")
    assert words in " ".join(alone.split())


def test_all_bad_options_are_refused_at_once_with_what_would_do() -> None:
    refusal = refused(*shlex.split(
        "lead --blank 37.82 --density '0.67 g/mm3' --part 'plate, 0.89, unobtainium, berried' --hooks '2 x #77' "
        "--water '60 C' --sinks '3 s/ft' --floats '20 %' --units cubit --shot '0 g' --total 'nan g' --color red"
    ))  # fmt: skip
    places = [fault.place for fault in refusal.faults]
    for place in ("--blank", "--density", "--hooks", "--water", "--units", "--shot", "--total", "--color"):
        assert place in places
    assert places.count("--part") == 3
    told = str(refusal)
    assert "'37.82' needs a unit: g, oz, gr (grains) or lb" in told
    assert "say buried (in a hole cut after the weighing) or outside" in told
    assert "--plan-area, --plan: a rate needs the area seen from above" in told
    assert "--sinks, --rises, --hangs, --floats: give only one of them" in told


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_without_its_options_says_all_it_needs(command: str) -> None:
    if command == "classes":
        assert "no standard" in run(command)
        return
    refusal = refused(command)
    assert refusal.faults
    assert all(fault.place.startswith("--") for fault in refusal.faults)


@pytest.mark.parametrize(
    ("words", "place"),
    [
        (("--blank", "-3 g", "--density", "0.4 g/cm3"), "--blank"),
        (("--blank", "3 g", "--density", "0 g/cm3"), "--density"),
        (("--blank", "3 g", "--density", "inf g/cm3"), "--density"),
        (("--blank", "3 g", "--density", "4 g/cm3"), "--density"),
        (("--blank", "3 g", "--wood", "basswod"), "--wood"),
        (("--blank", "3 g", "--wood", "basswood", "--moisture", "80 %"), "--wood"),
        (("--blank", "3 g", "--density", "0.4 g/cm3", "--moisture", "8 %"), "--moisture"),
        (("--blank", "3 g", "--density", "0.4 g/cm3", "--volume", "7 cm3"),
         "--displaced, --volume, --density or --wood"),
        (("--blank", "3 g", "--density", "0.4 g/cm3", "--part", "eye"), "--part"),
        (("--blank", "3 g", "--density", "0.4 g/cm3", "--fittings", "1 g, steel, brass"), "--fittings"),
        (("--blank", "3 g", "--density", "0.4 g/cm3", "--plan", "178 mm"), "--plan"),
        (("--blank", "3 g", "--density", "0.4 g/cm3", "--plan", "178 x 24 mm", "--plan-area", "30 cm2"),
         "--plan-area, --plan"),
        (("--blank", "3 g", "--density", "0.4 g/cm3", "--plan-area", "30 cm2", "--drag", "much"), "--drag"),
        (("--blank", "3 g", "--density", "0.4 g/cm3", "--salinity", "90 ppt"), "--salinity"),
        (("--blank", "3 g", "--density", "0.4 g/cm3", "--margin", "20 %", "--floats", "20 %"), "--margin"),
        (("--blank", "3 g", "--density", "0.4 g/cm3", "--material", "kryptonite"), "--material"),
        (("--blank", "3 g ± -1 g", "--density", "0.4 g/cm3"), "--blank"),
    ],
)  # fmt: skip
def test_each_slip_is_placed(words: tuple[str, ...], place: str) -> None:
    assert place in [fault.place for fault in refused("lead", *words).faults]


def test_a_spread_given_takes_the_place_of_the_usual_one() -> None:
    def inside(blank: str) -> float:
        row = as_json("lead", "--blank", blank, "--displaced", "128.0 g ± 0.01 g")["lead.inside"]
        return (float(str(row["high"])) - float(str(row["low"]))) / 2.0

    # a heavier blank takes 1.044 g of lead out for each gram, and its denser wood gives 0.05 g of that back
    assert inside("60.2 g ± 1 g") == pytest.approx(0.994, rel=0.01)
    assert inside("60.2 g +/- 0.02 g") < 0.1


def test_parts_of_one_name_are_all_counted() -> None:
    rows = as_json("sum", "--blank", "60.2 g", "--displaced", "128 g", "--part", "eye, 1 g, steel", "--part",
                   "eye, 1 g, steel", "--part", "blank weight, 1 g, steel")  # fmt: skip
    assert rows["sum.parts"]["value"] == pytest.approx(63.2)


def test_inch_shop_keeps_grams_and_reads_fractions() -> None:
    out = run("board", "--offcut", "3.1 oz", "--size", "4 x 2 1/2 x 1 in", "--units", "inch")
    assert "lb/ft3" in out
    rows = as_json("bore", "--lead", "12 g", "--units", "inch")
    assert rows["bore.3_8in.depth"]["unit"] == "in"
    assert rows["bore.3_8in.depth"]["value"] == pytest.approx(14.85 / 25.4, rel=0.01)


def test_a_trim_and_a_drop_carry_their_words() -> None:
    refusal = refused("trim", "--displaced", "118 g", "--tilt", "15 deg nose-down", "--apart", "4 mm", "--hook",
                      "front, 38 mm", "--sinks", "3 s/ft", "--plan-area", "30 cm2")  # fmt: skip
    assert 'write it like "38 mm ahead" or "62 mm aft"' in str(refusal)
    blind = refused("drop", "--distance", "4 ft", "--time", "9 s", "--wanted", "3 s/ft")
    assert "needs --plan-area or --heavy" in str(blind)
    rose = as_json("drop", "--distance", "4 ft", "--time", "9 s", "--rose")
    assert float(str(rose["drop.speed"]["value"])) < 0.0
