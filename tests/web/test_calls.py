"""What the page is told: the rows of the terminal, in the place each belongs, and a drawing that fits the numbers."""

import json
from pathlib import Path

import pytest

from gudgeon.answers.overall import overall
from gudgeon.design.file import parse
from gudgeon.report.check_rows import check_rows, headline
from gudgeon.report.rows import Shop
from gudgeon.report.sentences import said
from gudgeon.web.calls import answer_told, shape_told, vocabulary, weights_told

EXAMPLES = {path.name: path.read_text(encoding="utf-8")
            for path in sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))}  # fmt: skip


def rows_of(told):
    return {row["name"]: row for place in told["places"].values() for section in place["sections"]
            for row in section["rows"]}  # fmt: skip


@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("shop", list(Shop))
def test_every_row_finding_and_sentence_of_a_check_is_told(name, shop):
    told = json.loads(json.dumps(answer_told(EXAMPLES[name], name, shop), allow_nan=False))
    answer, rows = overall(parse(EXAMPLES[name])), rows_of(told)
    for row in check_rows(answer, shop):
        given = rows[row.name]
        assert {key: given[key] for key in row.as_json()} == json.loads(json.dumps(row.as_json()))
        assert given["shown"] == row.shown
    assert told["headline"] == headline(answer, shop)
    assert [finding["words"] for finding in told["findings"]] == [said(finding, shop) for finding in answer.findings]


@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("shop", list(Shop))
def test_what_is_told_first_is_what_the_whole_answer_tells(name, shop):
    first, told = weights_told(EXAMPLES[name], name, [shop])[shop], answer_told(EXAMPLES[name], name, shop)
    rows = rows_of(told)
    assert {"whole.mass", "whole.rate", "upright.lever"} <= {row["name"] for row in first["rows"]}
    assert [row for row in first["rows"] if row != rows[row["name"]]] == []
    assert first["headlines"] == {place: told["places"][place]["headline"] for place in ("drawing", "water")}
    assert {key: told["scene"][key] for key in first["scene"]} == first["scene"]


def test_nothing_is_told_first_of_what_is_refused():
    assert weights_told("name = 'x'", "x.toml", [Shop.METRIC]) == {}


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_row_is_told_twice_and_every_place_has_a_sentence(name):
    told = answer_told(EXAMPLES[name], name, Shop.METRIC)
    names = [row["name"] for place in told["places"].values() for section in place["sections"] for row in
             section["rows"]]  # fmt: skip
    assert [one for one in set(names) if names.count(one) > 1] == []
    assert all(told["places"][place]["headline"] for place in ("drawing", "ledger", "water"))
    assert len(told["tasks"]) > 5


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_outline_is_as_long_and_deep_as_the_rows_say(name):
    rows = rows_of(answer_told(EXAMPLES[name], name, Shop.METRIC))
    shape = shape_told(EXAMPLES[name], name)
    for view, across in (("side", "depth"), ("top", "width")):
        outlines = {stroke["line"]: stroke["points"] for stroke in shape[view]}
        for line, size in (("visible", "bare"), ("finished", "size")):
            if line in outlines:
                stations, outs = outlines[line][0::2], outlines[line][1::2]
                assert max(stations) - min(stations) == pytest.approx(rows[f"{size}.length"]["value"], abs=0.03)
                assert max(outs) - min(outs) <= rows[f"{size}.{across}"]["value"] + 0.05 or across == "depth"
                assert max(abs(out) for out in outs) > 0.4 * rows[f"{size}.{across}"]["value"]


def test_the_water_stands_where_the_rows_say_it_does():
    told = answer_told(EXAMPLES["diver.toml"], "diver", Shop.METRIC)
    (x0, z0, x1, z1), rows = told["scene"]["water"], rows_of(told)
    assert told["scene"]["afloat"]
    assert (z1 - z0) / (x1 - x0) == pytest.approx(-0.0875, abs=5e-4)  # tan 5 deg, nose-down: deeper ahead
    assert rows["whole.nose_height"]["value"] < 0.0 < z0


def test_handles_stand_where_the_design_puts_them():
    shape = shape_told(EXAMPLES["lanternmere.toml"], "demo")
    at = {(handle["table"], handle["place"]): handle["at"] for handle in shape["handles"]}
    assert at["joint", 1][0] == pytest.approx(0.086)
    assert at["fitting", 2] == pytest.approx([0.068, 0.0, -0.020])
    assert at["hook", 2][0] == pytest.approx(0.178)
    assert at["pocket", 5][0] == pytest.approx(0.211)
    assert at["fin", 1][0] == pytest.approx(0.240)
    assert len(at) == len(shape["handles"]) == 3 + 5 + 2 + 5 + 1


def test_what_meets_in_the_wood_is_marked_where_it_meets():
    text = EXAMPLES["lanternmere.toml"].replace('name = "rear hanger"             #', 'name = "x" #').replace(
        'at = "178 mm"\nheight = "-6 mm"', 'at = "168 mm"\nheight = "-6 mm"')  # fmt: skip
    text = text.replace('"rear hanger"', '"x"').replace('at = "178 mm"\nshank', 'at = "168 mm"\nshank')
    marks = answer_told(text, "demo", Shop.METRIC)["scene"]["marks"]
    assert marks
    assert any(abs(mark["at"][0] - 168.0) < 12.0 for mark in marks)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "nothing is written"),
        ("name = ", "cannot be read"),
        ("name = 'x'", "cannot be built"),
        (EXAMPLES["diver.toml"].replace("basswood", "unobtainium"), "unobtainium"),
    ],
)
def test_a_text_that_gives_no_answer_is_refused_with_every_fault(text, words):
    for told in (answer_told(text, "x.toml", Shop.METRIC), shape_told(text, "x.toml")):
        assert words in json.dumps(told["refused"])


def test_every_table_of_a_design_has_its_keys_told():
    keys = vocabulary()["keys"]
    assert {key["name"] for key in keys["joint"]} >= {"at", "gap", "face", "front_bevel"}
    face = next(key for key in keys["pocket"] if key["name"] == "face")
    assert (face["takes"], face["choices"][0]) == ("choice", "belly")
    weight = next(key for key in keys["hook"] if key["name"] == "weight")
    assert (weight["takes"], weight["units"][0]) == ("quantity", "g")
