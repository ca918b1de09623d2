"""What holds as rows: stable names, the answer's numbers, the same on the terminal and in the object."""

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.strength import strength
from gudgeon.design.bench import Tackle
from gudgeon.design.file import load
from gudgeon.design.hardware import Hinge
from gudgeon.report.rows import Shop
from gudgeon.report.strength_rows import strength_headline, strength_rows, strength_sections
from gudgeon.report.strength_text import show_strength, strength_json
from gudgeon.report.text import told_of
from gudgeon.units import POUND, STANDARD_GRAVITY

EXAMPLES = sorted(Path(__file__).parents[2].glob("examples/*.toml"))
LINE = 200.0


def followed(path, *, line=None, hinged=False):
    design = load(path)
    tackle = Tackle() if line is None else Tackle.model_validate({"line": f"{line} N"})
    hinges = tuple(Hinge(joint=place, kind="eyes on a pin") for place in range(1, len(design.joints) + 1))
    design = design.model_copy(update={"tackle": tackle, "hinges": hinges if hinged else ()})
    return strength(design, assemble(design))


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def answer(request):
    return followed(request.param, line=LINE, hinged=True)


def plain(text):
    return re.sub(r"\s+", "", text)


def test_names_are_unique_and_plain(answer):
    names = [row.name for row in strength_rows(answer, Shop.METRIC)]
    assert len(names) == len(set(names))
    assert all(re.fullmatch(r"strength(\.[a-z0-9_]+)+", name) for name in names)


def test_both_shops_have_the_same_rows(answer):
    metric, inch = (strength_rows(answer, shop) for shop in Shop)
    assert [row.name for row in metric] == [row.name for row in inch]


def test_every_hook_has_its_way_what_goes_first_and_its_margin(answer):
    rows = {row.name: row for row in strength_rows(answer, Shop.METRIC)}
    for pull in answer.pulls:
        key = f"strength.{'_'.join(pull.name.lower().split())}"
        hold, link = pull.first
        soaked = ", soaked" if link.wet else ""
        assert rows[f"{key}.weakest"].value == f"{hold.name}: {link.part}{soaked}"
        assert rows[f"{key}.margin"].value == pytest.approx(link.soaked.value / (LINE / 3.0))
        assert rows[f"{key}.line_margin"].low == pytest.approx(link.soaked.low / LINE)


def test_pulls_are_in_newtons_and_kilograms_or_in_pounds(answer):
    metric, inch = ({row.name: row for row in strength_rows(answer, shop)} for shop in Shop)
    line = metric["strength.line"]
    assert (line.unit, line.value, line.shown) == ("N", 200.0, "200 N (20 kg)")
    assert inch["strength.line"].value == pytest.approx(200.0 / (POUND * STANDARD_GRAVITY))
    assert inch["strength.line"].shown == "45 lb"


def test_no_number_is_missing_or_not_a_number(answer):
    for row in strength_rows(answer, Shop.INCH):
        for number in (row.value, row.low, row.high):
            assert number is None or isinstance(number, str) or abs(number) < 1e9
        if row.low is not None:
            assert row.low <= row.value <= row.high
        assert "nan" not in row.shown
        assert "inf " not in row.shown


def test_the_headline_names_the_least_of_all(answer):
    words = strength_headline(answer, Shop.METRIC)
    least = min((pull.first for pull in answer.pulls), key=lambda found: found[1].soaked.value)
    assert words.startswith(f"First to let go: {least[0].name}")
    assert "times the drag" in words


def test_without_tackle_there_are_loads_and_no_margins():
    bare = followed(EXAMPLES[0])
    names = {row.name for row in strength_rows(bare, Shop.METRIC)}
    assert not {name for name in names if name.endswith("margin")}
    assert "times the drag" not in strength_headline(bare, Shop.METRIC)
    assert any("give [tackle] line" in one.words for one in told_of(bare.findings, Shop.METRIC))


def test_what_cannot_be_told_is_a_row_of_words():
    swimmer = next(path for path in EXAMPLES if path.stem == "glider")
    rows = {row.name: row for row in strength_rows(followed(swimmer), Shop.METRIC)}
    assert rows["strength.rear_hook.joint_1.load"].shown == "not told: hinge not described; write a [[hinge]]"
    assert "cannot be told" in strength_headline(followed(swimmer), Shop.METRIC)


def test_a_lure_with_nothing_described_says_so():
    answer = followed(EXAMPLES[0])
    empty = replace(answer, pulls=tuple(replace(pull, holds=()) for pull in answer.pulls))
    assert "Nothing can be told" in strength_headline(empty, Shop.METRIC)


@pytest.mark.parametrize("shop", list(Shop))
def test_the_terminal_and_the_object_show_every_row(answer, shop, capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", "100")
    show_strength(answer, shop, "abc", "never")
    printed = plain(capsys.readouterr().out)
    assert plain(strength_headline(answer, shop)) in printed
    for section in strength_sections(answer, shop):
        assert plain(section.title) in printed
        for row in section.rows:
            assert plain(row.shown) in printed, row.name
    found = json.loads(strength_json(answer, shop, "abc"))
    assert found["rows"] == [row.as_json() for row in strength_rows(answer, shop)]
    assert found["warnings"] == [one.words for one in told_of(answer.findings, shop)]


def test_sentences_are_in_the_shops_units(answer):
    metric = " ".join(one.words for one in told_of(answer.findings, Shop.METRIC))
    inch = " ".join(one.words for one in told_of(answer.findings, Shop.INCH))
    assert " lb" not in metric
    assert not re.search(r"\d N\b", inch)
    assert "{" not in metric + inch


def test_every_sentence_ends_and_the_wood_is_told_as_oven_dry(answer):
    told = told_of(answer.findings, Shop.INCH)
    assert told
    assert all(one.words.endswith(".") and not one.words.endswith("..") for one in told)
    labels = [row.label for row in strength_rows(answer, Shop.INCH) if row.name.startswith("strength.wood.")]
    assert labels
    assert all(label.endswith("specific gravity of its wood, oven-dry") for label in labels)
