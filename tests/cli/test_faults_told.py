"""A lure drawn with faults: each is told on the terminal and to a program, with its place and what to move."""

import json
import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

from gudgeon.cli.main import app

EXAMPLE = Path(__file__).parents[2] / "examples" / "lanternmere.toml"
FAULTS = {
    # a ballast bore 93 mm from the nose, where hinge 1 turns in its slots
    'name = "shoulder"\nat = "107 mm"': 'name = "shoulder"\nat = "93 mm"',
    # the rear hook hung 60 mm behind the front one
    'at = "178 mm"\nshank = "33 mm"': 'at = "128 mm"\nshank = "33 mm"',
    # a knuckle of 24 mm radius where the body is 13 mm from middle to skin
    'at = "144 mm"                    # 60 %\ngap = "2 mm"':
        'at = "144 mm"\ngap = "2 mm"\nface = "knuckle"\nradius = "24 mm"',
    # plates in the last joint, and a pin that ends below the upper one
    'joint = 3\nkind = "eyes on a pin"': 'joint = 3\nkind = "plate and pin"',
    'pin_top = "7.5 mm"': 'pin_top = "3 mm"',
}  # fmt: skip
TOLD = {
    "a ballast bore meets a hinge slot": ("hardware", (
        r"The shoulder bore meets hinge 1's lower slot by \d+\.\d mm, 9\d\.\d mm from the nose at a height of "
        r"-1\d\.\d mm\. Move the shoulder bore \d+\.\d mm toward the tail")),
    "a hook reaches the next": ("hardware", (
        r"The front hook, 68 mm from the nose, can catch the rear hook at 128 mm: they hang \d+\.\d mm apart and reach "
        r".* too close\. Move one of them by as much")),
    "a pin misses its plate": ("hardware", (
        r"Hinge 3, 198 mm from the nose, has a pin that misses its upper plate: it ends at a height of 3\.0 mm, the "
        r"upper plate lies at 4\.0 mm\. Give pin_top = \d\.\d mm, or move the plate")),
    "a knuckle breaks the skin": ("joints", (
        r"Joint 2, 144 mm from the nose, has a knuckle of radius 24\.0 mm that breaks the skin of the shoulder: "
        r"119\.0 mm from the nose, .* A radius of 1\d\.\d mm or less keeps it inside")),
}  # fmt: skip


@pytest.fixture(scope="module")
def faulty(tmp_path_factory):
    text = EXAMPLE.read_text(encoding="utf-8")
    for given, wrong in FAULTS.items():
        assert text.count(given) == 1, given
        text = text.replace(given, wrong)
    path = tmp_path_factory.mktemp("bench") / "faulty.toml"
    path.write_text(text, encoding="utf-8")
    return path


def run(*words):
    done = CliRunner(env={"COLUMNS": "80", "NO_COLOR": "1"}).invoke(app, [str(word) for word in words])
    assert done.exit_code == 0, done.output
    return done.output


@pytest.mark.parametrize("fault", TOLD)
def test_a_fault_is_told_in_words_and_to_a_program_with_its_place_and_what_to_move(faulty, fault):
    command, words = TOLD[fault]
    on_terminal = " ".join(run(command, faulty).split())
    assert re.search(words, on_terminal)
    warnings = json.loads(run(command, faulty, "--json"))["warnings"]
    assert sum(re.match(words, one) is not None for one in warnings) == 1


@pytest.mark.parametrize("fault", TOLD)
def test_the_sound_lure_has_none_of_them(fault):
    command, words = TOLD[fault]
    assert not re.search(words, " ".join(run(command, EXAMPLE).split()))


def test_a_program_gets_the_place_of_a_clash_in_millimetres_and_its_mend(faulty):
    rows = {row["name"]: row for row in json.loads(run("hardware", faulty, "--json"))["rows"]}
    assert rows["clash.1.what"]["value"] == "the shoulder bore and hinge 1's lower slot"
    # the slot runs from 87 mm to 93.4 mm, at 13 mm below the centre line; the bore from 87 mm on
    assert 87.0 <= rows["clash.1.at"]["value"] <= 93.4
    assert rows["clash.1.height"]["value"] == pytest.approx(-13.0, abs=1.2)
    assert rows["clash.1.offset"]["value"] == pytest.approx(0.0, abs=6.0)
    assert {rows[f"clash.1.{key}"]["unit"] for key in ("at", "height", "offset", "left", "wanted")} == {"mm"}
    assert re.fullmatch(r"Move the shoulder bore \d+\.\d mm toward the tail, or use a smaller bit",
                        rows["clash.1.mend"]["value"])  # fmt: skip
