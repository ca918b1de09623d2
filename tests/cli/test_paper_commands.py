"""Sheets of a batch and the bill of several lures, run as a maker runs them."""

import json
from pathlib import Path

import pytest
from tests.cli.run_here import run_here

ROOT = Path(__file__).parents[2]
DEMO = "examples/lanternmere.toml"


def test_a_batch_is_written(tmp_path):
    out = tmp_path / "twelve.pdf"
    told = run_here("sheets", DEMO, "--out", str(out), "--batch", "examples/lanternmere-blanks.csv", "--bar", "97 mm")
    assert told.returncode == 0
    assert "print it at 100 %" in told.stdout
    assert out.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--lures", "3", "--batch", "examples/lanternmere-blanks.csv"), "not both"),
        (("--lures", "0"), "from 1 to 500"),
        (("--lures", "501"), "from 1 to 500"),
        (("--batch", "none.csv"), "there is no such file"),
    ],
)
def test_what_cannot_be_is_refused_before_anything_is_written(arguments, words, tmp_path):
    out = tmp_path / "none.pdf"
    told = run_here("sheets", DEMO, "--out", str(out), *arguments)
    assert told.returncode == 2
    assert words in told.stderr
    assert "Traceback" not in told.stderr
    assert not out.exists()


def test_every_fault_of_a_list_is_told_at_once(tmp_path):
    blanks = tmp_path / "bad.csv"
    blanks.write_text("1, 41.2\n2, 43 mm\n2, 44 g\n", encoding="utf-8")
    told = run_here("sheets", DEMO, "--out", str(tmp_path / "none.pdf"), "--batch", str(blanks))
    assert told.returncode == 2
    for words in ("line 1, weight", "line 2, weight"):
        assert words in told.stderr


def test_blanks_of_another_lure_are_refused(tmp_path):
    blanks = tmp_path / "other.csv"
    blanks.write_text("1, 412 g\n2, 430 g\n", encoding="utf-8")
    told = run_here("sheets", DEMO, "--out", str(tmp_path / "none.pdf"), "--batch", str(blanks))
    assert told.returncode == 2
    assert "which is no wood" in told.stderr


def test_the_bill_of_twelve_is_one_object_of_rows():
    one, twelve = (json.loads(run_here("bill", DEMO, *lures, "--json").stdout) for lures in ((), ("--lures", "12")))
    rows = {row["name"]: row["value"] for row in one["rows"]}
    more = {row["name"]: row["value"] for row in twelve["rows"]}
    assert more["bill.lead.mass"] == pytest.approx(12.0 * rows["bill.lead.mass"])
    assert more["bill.lead.each"] == pytest.approx(rows["bill.lead.mass"])
    assert "eyes of stainless steel" in rows["bill.hinge_1.sizes"]
    assert len(rows) == len(one["rows"])
