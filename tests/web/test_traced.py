"""Pictures and drawings brought to the workbench: traced, taken into a design, or refused while they come in."""

import json
from pathlib import Path
from urllib.parse import urlencode

import pytest
from tests.answers.test_traced_drawing import BAD_SVG
from tests.answers.test_tracing import BAD
from typer.testing import CliRunner

from gudgeon.cli.main import app
from gudgeon.design.file import load, parse
from gudgeon.errors import BadDesign
from gudgeon.web.traced import outline_of
from gudgeon.web.writing import drawn

ROOT = Path(__file__).parents[2]
PICTURE = (ROOT / "examples" / "template.jpg").read_bytes()
MARKS = {"known": "100 mm", "from": "240,655", "to": "1040,655", "nose": "107,330", "tail": "1299,330"}
SVG = (b'<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">'
       b'<path id="egg" d="M10 50C10 20 60 10 110 20S190 45 190 50Q150 95 90 90T10 50Z"/></svg>')  # fmt: skip


@pytest.fixture
def bench(serve):
    return serve()


def trace(bench, content, **asked):
    return bench.told(f"/api/trace?{urlencode(MARKS | asked)}", method="POST", body=content)


def test_a_picture_is_told_as_on_the_terminal(bench):
    told = trace(bench, PICTURE)
    marked = [word for key, value in MARKS.items() for word in (f"--{key}", value)]
    printed = CliRunner().invoke(app, ["trace", str(ROOT / "examples" / "template.jpg"), "--json", *marked])
    rows = json.loads(printed.output)
    assert [row["name"] for row in told["rows"]] == [row["name"] for row in rows["rows"]]
    assert [row["value"] for row in told["rows"]] == [row["value"] for row in rows["rows"]]
    assert told["headline"] == rows["headline"]
    assert [one["words"] for one in told["findings"]] == rows["warnings"]
    xs, ys = told["line"][::2], told["line"][1::2]
    assert (min(xs), max(xs)) == pytest.approx((108.0, 1300.0), abs=1.0)
    assert (min(ys), max(ys)) == pytest.approx((330 - 8 * 14.25, 330 + 8 * 18.0), abs=1.5)


def test_bare_numbers_are_of_the_shop(bench):
    metric, inch = trace(bench, PICTURE, known="100"), trace(bench, PICTURE, known="3.937008", units="inch")
    assert inch["rows"][0]["unit"] == "in"
    assert 25.4 * inch["rows"][0]["value"] == pytest.approx(metric["rows"][0]["value"], rel=1e-5)


def test_a_drawing_is_told_without_marks(bench):
    told = bench.told("/api/trace?nose_right=yes", method="POST", body=SVG)
    assert told["drawing"] is True
    assert told["rows"][0]["value"] == pytest.approx(180.0, abs=0.1)
    assert max(told["line"][::2]) == pytest.approx(180.0, abs=0.1)


def test_a_new_design_is_begun_with_it(bench):
    told = trace(bench, PICTURE)
    asked = {"file": "my minnow", "form": "walker", "width": "22", "units": "metric", "source": "template.jpg",
             "outline": told["outline"]}  # fmt: skip
    begun = bench.told("/api/trace/begin", method="POST", body=json.dumps(asked).encode())
    assert begun == {"file": "my minnow.toml"}
    design = load(bench.folder / "my minnow.toml")
    assert design.length == pytest.approx(0.149, abs=1e-4)
    assert design.hooks
    assert max(point.out for point in design.outline.side) == pytest.approx(0.011)
    again = bench.told("/api/trace/begin", method="POST", body=json.dumps(asked).encode())
    assert "there already" in again["refused"]["faults"][0]["words"]


def shape_of(window):
    """The outline of what is drawn now; those told before may still be on their way."""
    shape = window.until("shape")
    while shape["stamp"] != window.stamp:
        shape = window.until("shape")
    return shape


def test_it_is_a_stroke_like_any_other(bench):
    told = trace(bench, PICTURE, length="90 mm")
    window = bench.line("small.toml")
    before = bench.folder.joinpath("small.toml").read_text()
    kept = window.draw({"act": "outline", "outline": told["outline"]}, words="the outline, traced")
    assert kept["kind"] == "kept"
    assert kept["undo"] == "the outline, traced"
    shape = shape_of(window)
    assert shape["length"] == pytest.approx(90.0)
    assert shape["curves"]["belly"] is not None
    assert '[[hook]]\nname = "belly hook"' in shape["text"]
    window.do("undo")
    assert shape_of(window)["text"] == before
    window.close()


def test_half_widths_are_drawn_out_to_the_design(bench, small):
    told = trace(bench, PICTURE, above="yes")
    after = parse(drawn(small, [{"act": "half-widths", "outline": told["outline"]}], False))
    assert after.outline.back == parse(small).outline.back
    assert after.outline.side[-1].station == pytest.approx(0.090)
    assert max(point.out for point in after.outline.side) == pytest.approx(0.0161 * 90 / 149, abs=2e-4)


def test_every_fault_of_the_marks_is_told(bench):
    refused = trace(bench, PICTURE, known="a hand", nose="", tail="9999,nan", length="-3 mm")["refused"]
    places = [fault["place"] for fault in refused["faults"]]
    assert sorted(places) == ["made so long", "the known length", "the nose", "the tail"]


# --- hostile ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["nothing", "words", "cut short", "a damaged PNG", "a bomb", "a HEIC", "too small"])
def test_a_hostile_picture_is_refused_and_the_next_is_traced(bench, name):
    answer = bench.ask(f"/api/trace?{urlencode(MARKS)}", method="POST", body=BAD[name][0])
    assert answer.status == 422
    assert json.loads(answer.content)["refused"]["heading"]
    assert "headline" in trace(bench, PICTURE)


@pytest.mark.parametrize("name", ["laughs", "a file of this machine", "an outside list of entities", "cut short"])
def test_a_hostile_drawing_is_refused(bench, name):
    answer = bench.ask("/api/trace", method="POST", body=BAD_SVG[name].encode())
    assert answer.status == 422
    assert b"root:" not in answer.content
    assert b"the drawing" in answer.content


def test_scripts_in_a_drawing_are_neither_run_nor_sent_back(bench):
    evil = SVG.replace(b"<path", b"<script>alert(1)</script><path onload='alert(2)'").replace(b"egg", b"&lt;b&gt;")
    answer = bench.ask("/api/trace", method="POST", body=evil)
    assert answer.status == 200
    assert answer.headers["content-type"] == "application/json"
    assert b"alert" not in answer.content


def test_an_upload_without_end_is_given_up(bench):
    """It says nothing of its size and goes on; the workbench lets go as soon as it has had enough."""
    import socket

    head = (f"POST /api/trace?{urlencode(MARKS)} HTTP/1.1\r\nHost: {bench.host}\r\nOrigin: http://{bench.host}\r\n"
            "Transfer-Encoding: chunked\r\n\r\n")  # fmt: skip
    piece = b"100000\r\n" + bytes(0x100000) + b"\r\n"
    with socket.create_connection(bench.host.split(":"), timeout=20) as line:
        line.sendall(head.encode())
        sent = 0
        try:
            while sent < 200:
                line.sendall(piece)
                sent += 1
        except OSError:
            pass
    assert 38 <= sent < 120
    assert "headline" in trace(bench, PICTURE)


def test_another_page_may_not_bring_one(bench):
    answer = bench.ask("/api/trace", method="POST", body=PICTURE, Origin="http://elsewhere.example")
    assert answer.status == 403


GOOD = {"length": 0.1, "back": [[0, 0], [0.05, 0.01], [0.1, 0]], "belly": [[0, 0], [0.05, 0.02], [0.1, 0]],
        "nose": "round", "tail": "round"}  # fmt: skip


def test_an_outline_is_read_back():
    assert outline_of(GOOD).back == ((0.0, 0.0), (0.05, 0.01), (0.1, 0.0))


@pytest.mark.parametrize(
    "change",
    [
        {"length": 0}, {"length": "3 mm"}, {"length": True}, {"length": 1e9}, {"nose": "sharp"}, {"tail": None},
        {"back": []}, {"back": "0,0"}, {"back": [[0, 0]] * 61}, {"back": [[0, 0], [1]]}, {"belly": [[0, 0], [0, "a"]]},
        {"belly": [[0, 0], [0.06, 0.02], [0.1, 0]]}, {"length": 0.2}, {"back": [[0, 0], [0.1, 0], [0.1, 0]]},
        {"back": [[0, 0], [0.05, 0], [0.1, 0]], "belly": [[0, 0], [0.05, 0], [0.1, 0]]},
        {"belly": None}, {"back": [[0, 0], [float("nan"), 0]]}, {"back": [[0, 0], {"a": 1}]},
    ],
)  # fmt: skip
def test_what_is_no_outline_is_refused(change):
    with pytest.raises(BadDesign, match="the outline was not taken"):
        outline_of(GOOD | change)
    with pytest.raises(BadDesign):
        outline_of([GOOD])


@pytest.mark.parametrize("asked", [b"", b"[]", b"{", b'{"file": 3}', b'{"file": "../x", "outline": {}}', b"null"])
def test_a_beginning_that_is_none_is_refused(bench, asked):
    assert bench.ask("/api/trace/begin", method="POST", body=asked).status == 422
    tricks = {"file": "../out", "form": "", "width": "", "units": "metric", "source": "x", "outline": GOOD}
    assert bench.ask("/api/trace/begin", method="POST", body=json.dumps(tricks).encode()).status == 422
    assert [path.name for path in bench.folder.glob("*.toml")] == ["small.toml"]
    assert not (bench.folder.parent / "out.toml").exists()
