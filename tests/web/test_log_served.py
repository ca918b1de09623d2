"""The shop's log through the workbench: the terminal's own door, its questions and its refusals; entries are data."""

import http.client
import io
import json
import threading
import zipfile
from pathlib import Path

import pdfplumber
import pytest
from typer.testing import CliRunner

from gudgeon.cli.main import app
from gudgeon.shop.database import FILE_NAME, create
from gudgeon.shop.log import Log
from gudgeon.shop.records import Note, Weighing
from gudgeon.units import Reading
from gudgeon.web.server import workbench

NASTY = ["<img src=x onerror=alert(1)>", "<script>alert(1)</script>", "'); DROP TABLE entry; --", "=HYPERLINK(1)"]


class Door:
    """The page's requests to the log."""

    def __init__(self, served, shop):
        self.served, self.shop = served, shop

    def get(self, what, **asked):
        query = "&".join(f"{name}={value}" for name, value in asked.items())
        return self.served.told(f"/api/log/{what}?{query}")

    def post(self, what, *, units="metric", **asked):
        body = json.dumps(asked).encode()
        return self.served.told(f"/api/log/{what}?units={units}", method="POST", body=body)

    def weigh(self, lure, mass, *, stage="shaped", **more):
        fields = {"stage": stage, "mass": mass} | more.pop("fields", {})
        return self.post("enter", lure=lure, kind="weighing", fields=fields, **more)

    def entries(self):
        with Log.look(self.shop) as log:
            return log.history(limit=1000)


@pytest.fixture
def door(serve, tmp_path):
    """A workbench whose folder has a log in `shop`, with six lures of small.toml, five of them weighed."""
    found = Door(serve(), tmp_path / "shop")
    assert "begun" in found.post("start")["words"]
    assert found.post("begin", file="small.toml", count=6)["lure"] == 1
    for number, mass in enumerate(("12.1 g", "12.3 g", "12.4 g", "12.2 g", "12.5 g"), start=1):
        assert "entry" in found.weigh(number, mass, sure=True)
    return found


def told(refusal):
    """The words of a refusal."""
    return " ".join(f"{fault['place']}: {fault['words']}" for fault in refusal["refused"]["faults"])


def test_without_a_log_it_is_said_and_one_can_be_begun(serve, tmp_path):
    found = Door(serve(), tmp_path / "shop")
    assert found.get("lures") == {"there": False, "folder": "shop"}
    assert found.get("of", file="small.toml")["there"] is False
    assert "gudgeon log start" in told(found.weigh(1, "45.1 g"))
    assert not (tmp_path / "shop").exists()
    found.post("start")
    assert found.get("lures") == {"there": True, "folder": "shop", "headline": "0 lures in the log.", "lures": [],
                                  "more": False}  # fmt: skip


def test_a_design_is_entered_once_with_its_first_lure(door):
    found = door.get("of", file="small.toml")
    assert found["known"]
    assert [lure["number"] for lure in found["lures"]] == [6, 5, 4, 3, 2, 1]
    begun = door.post("begin", file="small.toml", count=1)
    assert begun["words"] == "Lure 7 is begun: Small floater, version 1, run 2."
    with Log.look(door.shop) as log:
        assert log.patterns("Small floater")[0].design == (door.shop.parent / "small.toml").read_text(encoding="utf-8")


def test_what_is_drawn_otherwise_becomes_the_next_version(door):
    line = door.served.line("small.toml")
    line.lift(15.0)
    found = door.get("of", file="small.toml")
    assert not found["known"]
    assert "version 1" in found["words"]
    assert "version 2" in door.post("begin", file="small.toml", count=1)["words"]
    line.close()


def test_a_weight_is_entered_as_the_terminal_enters_it(door):
    answer = door.weigh(6, "12.3 ± 0.1 g", remark="dry")
    with Log.look(door.shop) as log:
        entry = log.entry(answer["entry"])
        assert entry.what == Weighing("shaped", Reading(0.0123, 0.0001))
        assert entry.remark == "dry"
    words = CliRunner().invoke(app, ["log", "history", "6", "--shop", str(door.shop)]).output
    lure = door.get("lure", number=6)
    assert lure["entries"][0]["words"] in words
    sections = [*lure["sections"], *door.get("sums", number=6)["sections"]]
    rows = {row["name"]: row["shown"] for section in sections for row in section["rows"]}
    shown = json.loads(CliRunner().invoke(app, ["log", "show", "6", "--shop", str(door.shop), "--json"]).output)
    assert rows[f"weight.shaped.{answer['entry']}"] == "12.30 ± 0.10 g"
    assert {row["name"] for row in shown["rows"]} <= rows.keys()


def test_what_the_scale_should_show_next_is_that_of_the_check(door):
    """The next stage's weight is what `check --lure` expects of it; behind the last stage there is none."""
    assert "Weigh it once it is shaped: about" in door.get("lure", number=6)["next"]
    assert door.get("lure", number=1)["stage"] == "leaded"
    assert "Enter the lead as it goes in" in door.get("lure", number=1)["next"]
    door.post("enter", lure=1, kind="ballast", fields={"hole": "belly", "mass": "1.2 g"})
    after = door.get("lure", number=1)["next"]
    file = door.shop.parent / "small.toml"
    check = CliRunner().invoke(app, ["check", str(file), "--lure", "1", "--shop", str(door.shop), "--json"])
    rows = {row["name"]: row for row in json.loads(check.output)["rows"]}
    assert after.startswith("Weigh it once its lead is in: about 13.")
    assert rows["log.held"]["value"] == pytest.approx(1.2)
    door.weigh(1, "20 g", stage="rigged", sure=True)
    assert "every stage" in door.get("lure", number=1)["next"]


def test_a_weight_that_looks_like_a_slip_is_questioned_until_it_is_so(door):
    before = len(door.entries())
    questioned = door.weigh(6, "1.23 g")
    assert questioned.keys() == {"questioned"}
    assert "Its five twins" in questioned["questioned"][0]["words"].replace(": its", ": Its")
    assert "12.3 g?" in questioned["questioned"][0]["words"]
    terminal = CliRunner().invoke(app, ["log", "weigh", "6", "1.23 g", "--stage", "shaped", "--shop", str(door.shop)])
    assert questioned["questioned"][0]["words"] in " ".join(f"{terminal.exception}".split())
    assert len(door.entries()) == before
    answer = door.weigh(6, "1.23 g", sure=True)
    assert answer["findings"] == questioned["questioned"]
    assert len(door.entries()) == before + 1


def test_a_correction_takes_the_place_of_an_entry_and_is_questioned_too(door):
    wrong = door.weigh(6, "12.9 g")["entry"]
    assert "say why" in told(door.post("correct", entry=wrong, fields={"mass": "12.3 g"}, why=" "))
    assert "questioned" in door.post("correct", entry=wrong, fields={"mass": "123 g"}, why="misread")
    right = door.post("correct", entry=wrong, fields={"mass": "12.3 g"}, why="misread")
    assert f"in the place of entry {wrong}" in right["words"]
    assert "corrected already" in told(door.post("correct", entry=wrong, fields={"mass": "12.4 g"}, why="again"))
    struck = door.post("correct", entry=right["entry"], void=True, why="of another lure")
    assert f"strikes out entry {right['entry']}" in struck["words"]
    lure = door.get("lure", number=6)
    assert [entry["fields"] for entry in lure["entries"] if entry["number"] in (wrong, right["entry"])] == [[], []]
    assert not any(row["name"].startswith("weight.") for part in lure["sections"] for row in part["rows"])


EVERY_KIND = [
    ("jug", {"stage": "shaped", "displaced": "24.9 g", "temperature": "18 C"}, "jug.shaped"),
    ("ballast", {"hole": "belly", "mass": "2.1 g"}, "in"),
    ("timed_drop", {"stage": "rigged", "distance": "4 ft", "times": "12.4 s, 12.1 s"}, "drop"),
    ("tow_test", {"speed": "2 kn", "beats": "3 beats/s", "seen": "swings evenly"}, "tow"),
    ("attitude", {"stage": "rigged", "pitch": "4 deg nose-down", "state": "falling"}, "lies"),
    ("change", {"what": "rear hook one size up", "why": "nose-down"}, "change"),
    ("note", {"words": "two fish"}, "note"),
    ("fitting", {"part": "belly hook", "mass": "1.1 g"}, "part"),
]
"""A kind of entry, its fields, and the row of the card it is in."""


def test_every_kind_of_entry_is_on_its_card(door):
    for kind, fields, row in EVERY_KIND:
        number = door.post("enter", lure=2, kind=kind, fields=fields, sure=True)["entry"]
        names = [one["name"] for part in door.get("lure", number=2)["sections"] for one in part["rows"]]
        assert any(name.startswith(row) and str(number) in name.split(".") for name in names)


REFUSED = [
    ({"lure": 99}, "shows those there are"),
    ({"lure": "6"}, "no whole number"),
    ({"lure": True}, "no whole number"),
    ({"kind": "lure"}, "cannot be entered so"),
    ({"fields": {"stage": "polished", "mass": "x"}}, "mass"),
    ({"fields": {"stage": "polished", "mass": "12.3 g"}}, "say one of board"),
    ({"fields": {"stage": "shaped", "mass": "12.3"}}, "needs a unit"),
    ({"fields": {"stage": "shaped", "mass": "-3 g"}}, "must not be negative"),
    ({"fields": {"stage": "shaped"}}, "mass: left empty"),
    ({"fields": {"stage": "shaped", "mass": "12.3 g", "piece": "tail"}}, "the pattern has no 'tail'"),
    ({"fields": {"stage": "shaped", "mass": "12.3 g", "number; DROP TABLE entry": "1"}}, "a weighing has no"),
    ({"fields": ["mass"]}, "are not read"),
    ({"fields": {"stage": "shaped", "mass": 3}}, "is not words"),
    ({"remark": "x" * 4001}, "keep it under 4000"),
    ({"remark": "\x1b[2J"}, "does not print"),
]
"""What is asked otherwise than it should be, and words of the refusal."""


def test_what_cannot_be_entered_is_refused_and_nothing_is(door):
    before = len(door.entries())
    for asked, words in REFUSED:
        given = {"lure": 6, "kind": "weighing", "fields": {"stage": "shaped", "mass": "12.3 g"}} | asked
        assert words in told(door.post("enter", **given))
    assert len(door.entries()) == before


def test_entries_are_data(door):
    """Markup, SQL and formulas come back as they were typed, and the log stands."""
    for words in NASTY:
        door.post("enter", lure=3, kind="note", fields={"words": words}, remark=words)
    told_words = [entry["words"] for entry in door.get("lure", number=3)["entries"]][: len(NASTY)]
    assert all(words in line for words, line in zip(reversed(NASTY), told_words, strict=True))
    answer = door.served.ask("/api/log/lure?number=3")
    assert answer.headers["content-type"] == "application/json"
    assert answer.headers["x-content-type-options"] == "nosniff"


def test_what_is_no_entry_is_refused(door):
    for body in (b"", b"[]", b"{", b'"x"', b"[" * 40_000, b'{"lure": NaN}', b"x" * 70_000):
        answer = door.served.ask("/api/log/enter", method="POST", body=body)
        assert answer.status == 422
        assert json.loads(answer.content)["refused"]["faults"]


def test_strangers_are_refused(door):
    body = json.dumps({"lure": 6, "kind": "note", "fields": {"words": "from elsewhere"}}).encode()
    for headers in ({"Origin": "http://elsewhere.example"}, {"Origin": ""}, {"Host": "elsewhere.example"}):
        assert door.served.ask("/api/log/enter", method="POST", body=body, **headers).status in (403, 421)
    for path in ("lures", "take/backup", "take/card?number=1", "lure?number=1"):
        away = door.served.ask(f"/api/log/{path}", Origin="", Sec_Fetch_Site="cross-site")
        assert away.status == 403
    assert not any(isinstance(entry.what, Note) for entry in door.entries())


def test_no_path_leaves_the_folder(door):
    """A request names no folder; what stands for a file or a stamp is a plain name."""
    for path in ("begin", "of"):
        asked = {"file": "../small.toml", "count": 1}
        answer = door.post("begin", **asked) if path == "begin" else door.get("of", file="..%2Fsmall.toml")
        assert "refused" in answer
    for stamp in ("..%2F..", "%25", "a' OR '1'='1".replace(" ", "%20").replace("'", "%27")):
        assert "is no stamp" in told(door.get("find", stamp=stamp))
    assert door.served.ask("/api/log/take/..%2F..%2Fsmall.toml").status == 404


def test_a_stamp_is_found_with_its_lures_and_its_text(door):
    stamp = door.get("lure", number=1)["stamp"]
    found = door.get("find", stamp=stamp[:4])
    assert found["headline"] == f"{stamp} is Small floater, version 1."
    assert found["found"][0]["lures"] == [1, 2, 3, 4, 5, 6]
    text = door.served.ask(f"/api/log/take/pattern?stamp={stamp}").content
    assert text == (door.shop.parent / "small.toml").read_bytes()
    assert door.get("find", stamp="0000")["found"] == []


def test_the_list_tells_how_far_each_has_come(door):
    listed = door.get("lures")
    assert listed["headline"] == "6 lures in the log."
    assert [lure["number"] for lure in listed["lures"]] == [6, 5, 4, 3, 2, 1]
    assert "begun" in listed["lures"][0]["words"]
    assert "shaped 12.50 g" in listed["lures"][1]["words"]
    assert "weighing of lure 5" in listed["lures"][1]["last"]
    assert [lure["number"] for lure in door.get("lures", before=3)["lures"]] == [2, 1]
    assert "no number" in told(door.get("lures", before="-1"))


def test_card_and_backup_are_taken_away(door, tmp_path):
    card = door.served.ask("/api/log/take/card?number=1&units=inch&paper=Letter")
    assert card.headers["content-disposition"] == "attachment; filename*=UTF-8''lure-1.pdf"
    page = pdfplumber.open(io.BytesIO(card.content)).pages[0]
    assert "Small floater" in page.extract_text()
    assert float(page.width) == pytest.approx(612.0)
    packed = door.served.ask("/api/log/take/backup")
    assert zipfile.ZipFile(io.BytesIO(packed.content)).namelist() == [FILE_NAME]
    (tmp_path / "kept.zip").write_bytes(packed.content)
    restored = CliRunner().invoke(app, ["log", "restore", str(tmp_path / "kept.zip"), "--shop", str(tmp_path / "back")])
    assert restored.exit_code == 0
    with Log.look(tmp_path / "back") as log:
        assert log.history(limit=1000) == door.entries()


def test_two_windows_and_the_terminal_write_at_once(door):
    """Forty entries of four hands at the same time: all told as entered are there, and none twice."""
    done: list[int] = []

    def page(lure):
        done.extend(door.post("enter", lure=lure, kind="note", fields={"words": f"page {lure} {n}"})["entry"]
                    for n in range(10))  # fmt: skip

    def terminal(lure):
        for n in range(10):
            with Log.open(door.shop) as log:
                done.append(log.note(lure, Note(f"terminal {lure} {n}")))

    hands = [threading.Thread(target=work, args=(lure,)) for lure, work in ((1, page), (2, page), (3, terminal),
                                                                             (4, terminal))]  # fmt: skip
    for hand in hands:
        hand.start()
    for hand in hands:
        hand.join(timeout=60)
    there = {entry.number for entry in door.entries() if isinstance(entry.what, Note)}
    assert len(done) == len(set(done)) == 40
    assert set(done) == there
    assert door.get("newest")["newest"] == max(there)


def test_a_log_that_another_holds_is_refused_in_words(door, monkeypatch):
    monkeypatch.setattr("gudgeon.shop.database.PATIENCE", 0.1)
    monkeypatch.setattr("gudgeon.shop.database.open_for_writing.__defaults__", (0.1,))
    before = len(door.entries())
    holder = create(door.shop)
    with holder.transaction():
        words = told(door.post("enter", lure=6, kind="note", fields={"words": "now"}))
    holder.close()
    assert "another gudgeon is writing to it" in words
    assert len(door.entries()) == before
    assert "entry" in door.post("enter", lure=6, kind="note", fields={"words": "now"})


def test_a_damaged_log_is_refused_and_the_drawing_goes_on(door):
    (door.shop / FILE_NAME).write_bytes(b"SQLite format 3\x00" + b"x" * 200)
    assert "gudgeon log restore" in told(door.get("lures"))
    line = door.served.line("small.toml")
    assert line.lift(15.0)["kind"] == "kept"
    line.close()


def test_the_shop_is_the_one_named_or_beside_the_file_or_where_one_stands(tmp_path, small, monkeypatch, run_bench):
    designs, here = tmp_path / "designs", tmp_path / "here"
    designs.mkdir()
    (designs / "small.toml").write_text(small, encoding="utf-8")
    monkeypatch.chdir(tmp_path)

    def there(shop: Path | None = None) -> str:
        bench = workbench(designs / "small.toml", port=0, network=False, shop=shop)
        return str(Door(run_bench(bench), tmp_path).get("lures"))

    assert "'there': False" in there()
    Log.start(tmp_path / "shop").database.close()
    assert "'there': True" in there()
    with Log.start(designs / "shop") as log:
        log.add_pattern(small)
        log.add_lures("Small floater", 2)
    assert "2 lures" in there()
    assert "'there': False" in there(here)


def test_over_the_network_the_log_asks_for_the_token(tmp_path, small, monkeypatch, run_bench):
    monkeypatch.setattr("gudgeon.web.server.local_address", lambda: "127.0.0.1")
    (tmp_path / "small.toml").write_text(small, encoding="utf-8")
    served = run_bench(workbench(tmp_path / "small.toml", port=0, network=True))
    assert served.ask("/api/log/lures").status == 403
    line = http.client.HTTPConnection(served.host, timeout=20)
    line.request("POST", "/api/log/start", b"{}", {"Origin": f"http://{served.host}"})
    assert line.getresponse().status == 403
    line.close()
    assert not (tmp_path / "shop").exists()
