"""How a tow looks: every number says how far it is to be trusted, on the terminal, on paper and as it is played."""

import base64
import datetime
import io
import json
from pathlib import Path

import numpy as np
import pdfplumber
import pytest

from gudgeon.answers.running import RunningDepths
from gudgeon.answers.swum import Growth
from gudgeon.answers.tow_lines import LineStuff
from gudgeon.answers.tow_test import TowTest, tow_test
from gudgeon.design.file import load
from gudgeon.report.recording import FRAMES_PER_SECOND, recording
from gudgeon.report.rows import Shop
from gudgeon.report.swim_rows import depth_sections, growth_words, swim_headline
from gudgeon.report.swim_sheets import swim_sheets
from gudgeon.report.swim_text import tow_json, tow_rows

EXAMPLES = Path(__file__).parents[2] / "examples"
NUMBERS = ("beat", "tail_sweep", "head_sweep", "roll", "list", "pitch", "pull")


@pytest.fixture(scope="module")
def found() -> TowTest:
    design = load(EXAMPLES / "lanternmere.toml")
    return tow_test(design, speeds=(1.0, 1.5), lines=(20.0,), changes=False, stage=lambda _: lambda done, of: None)


@pytest.fixture(scope="module")
def text(found):
    pdf = swim_sheets(found, stamp="abc", shop=Shop.METRIC, paper="A4", date=datetime.date(2026, 1, 1))
    with pdfplumber.open(io.BytesIO(pdf)) as book:
        return " ".join((page.extract_text() or "") for page in book.pages).replace("\n", " ")


def test_every_number_of_a_tow_says_how_far_to_trust_it(found):
    rows = [row for row in tow_rows(found, Shop.METRIC) if row.name.split(".")[-1] in NUMBERS]
    assert len(rows) >= 10
    for row in rows:
        assert row.standing in ("estimate", "trend")
        assert row.shown.endswith(row.standing)
        assert row.low <= row.value <= row.high


def test_row_names_are_there_once(found):
    names = [row.name for row in tow_rows(found, Shop.METRIC)]
    assert len(names) == len(set(names))


def test_the_headline_never_promises_a_sweep(found):
    assert "(trend)" in swim_headline(found.swimming, Shop.METRIC)


def test_paper_and_json_show_what_the_terminal_shows(found, text):
    told = json.loads(tow_json(found, Shop.METRIC, "abc"))
    for row in tow_rows(found, Shop.METRIC):
        assert row.shown.split(",")[0].split(" (")[0] in text, row
    assert [row["name"] for row in told["rows"]] == [row.name for row in tow_rows(found, Shop.METRIC)]


def test_an_inch_shop_reads_inches_ounces_and_feet(found):
    units = {row.unit for row in tow_rows(found, Shop.INCH)}
    assert {"in", "oz", "ft"} <= units
    assert not units & {"mm", "N", "m"}


def test_depths_at_the_surface_say_so(found):
    stuff = LineStuff("nylon", 3e-4, 1140.0, "as given")
    (run,) = found.depths.runs[:1]
    bare = type(run)(run.speed, run.line, None, run.down, None, "at the surface")
    (section,) = depth_sections(RunningDepths(stuff, found.depths.weight, (bare,), ()), Shop.METRIC)
    assert section.rows[-1].shown == "at the surface"


def test_a_recording_plays_what_was_towed(found):
    run = found.swimming.shown
    told = json.loads(recording(run, name="any", stamp="abc"))
    frames = np.frombuffer(base64.b64decode(told["frames"]), "<f4").reshape(told["count"], told["width"])
    joints = len(run.task.chain.joints.friction)
    assert told["width"] == 7 + joints
    assert len(told["pieces"]) == joints + 1
    assert told["frames_per_second"] == FRAMES_PER_SECOND
    assert np.linalg.norm(frames[:, 3:7], axis=1) == pytest.approx(1.0, abs=1e-5)
    assert np.ptp(frames[:, 1]) > 0.01  # the nose goes from side to side
    assert len(json.dumps(told)) < 60_000


@pytest.mark.parametrize(("way", "what", "words"), [
    ("slew", "place aside", "as a slew to one side"), ("swing", "joint 2", "as a swing of joint 2"),
    ("swing", "head's yaw", "as a swing of the head's yaw"), ("slew", "depth", "as a slew up or down"),
])
def test_what_grows_is_told_as_a_maker_would(way, what, words):
    assert growth_words(Growth(1.0, 2.0, way, what)).endswith(words)
