"""The running server: who is answered, what is too much, a thousand strokes, two windows, an end without warning."""

import json
import os
import re
import signal
import socket
import subprocess
import sys
import time
from urllib.parse import quote

import pytest
from loops import awaited
from websockets.exceptions import InvalidStatus
from websockets.sync.client import connect

from gudgeon.errors import Refusal
from gudgeon.web.desk import Desk
from gudgeon.web.guard import Guard
from gudgeon.web.lan import local_address, new_token, scan_code
from gudgeon.web.server import workbench

PAGES = ["/", "/api/shelf", "/api/take/design?file=small.toml", "/static/index.html"]


@pytest.mark.parametrize("path", PAGES)
def test_what_is_answered_is_fenced(serve, path):
    answer = serve().ask(path)
    assert answer.status == 200
    policy = answer.headers["content-security-policy"]
    assert policy.startswith("default-src 'self'")
    assert "unsafe" not in policy
    assert "*" not in policy
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["referrer-policy"] == "no-referrer"
    assert "server" not in answer.headers


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1", "127.0.0.1:1", "localhost.evil.example:80", "[::1]:80",
                                  "0.0.0.0:80"])  # fmt: skip
def test_another_name_for_this_machine_is_not_answered(serve, host):
    served = serve()
    for path in PAGES:
        answer = served.ask(path, Host=host, Origin="")
        assert answer.status == 421
        assert b"Small floater" not in answer.read()
    assert served.ask("/", Host=served.host.replace("127.0.0.1", "localhost"), Origin="").status == 200


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "https://{host}", "http://localhost:1", "file://"])
def test_another_page_is_not_answered(serve, origin):
    served = serve()
    origin = origin.format(host=served.host)
    for path in PAGES:
        assert served.ask(path, Origin=origin).status == 403
    posted = served.ask("/api/bring?file=x.toml", method="POST", body=b"name = 'x'", Origin=origin)
    assert posted.status == 403
    assert not (served.folder / "x.toml").exists()
    with pytest.raises(InvalidStatus) as refusal, connect(f"ws://{served.host}/line?file=small.toml", origin=origin):
        pass
    assert refusal.value.response.status_code == 403


def test_what_changes_something_must_say_where_it_comes_from(serve):
    served = serve()
    assert served.ask("/api/bring?file=x.toml", method="POST", body=b"name = 'x'", Origin="").status == 403
    with pytest.raises(InvalidStatus), connect(f"ws://{served.host}/line?file=small.toml"):
        pass
    assert served.ask("/api/take/sheets?file=small.toml", Origin="", Sec_Fetch_Site="cross-site").status == 403
    assert served.ask("/", Origin="", Sec_Fetch_Site="cross-site").status == 200


def test_a_file_that_is_too_large_is_given_up_while_it_comes(serve):
    served = serve()
    line = socket.create_connection(("127.0.0.1", int(served.host.rpartition(":")[2])), timeout=20)
    head = (f"POST /api/bring?file=big.toml HTTP/1.1\r\nHost: {served.host}\r\nOrigin: http://{served.host}\r\n"
            "Transfer-Encoding: chunked\r\n\r\n")  # fmt: skip
    line.sendall(head.encode())
    sent = 0
    piece = b"10000\r\n" + b"#" * 0x10000 + b"\r\n"
    try:
        while sent < 100_000_000:  # a server that took it all in would take this
            line.sendall(piece)
            sent += len(piece)
    except OSError:
        pass
    finally:
        line.close()
    assert sent < 30_000_000  # what the sockets' own room holds
    assert not (served.folder / "big.toml").exists()


def test_a_file_that_says_it_is_too_large_is_refused_in_words(serve):
    served = serve()
    answer = served.ask("/api/bring?file=big.toml", method="POST", body=b"#" * 1_000_001)
    assert answer.status == 422
    assert "larger than 1000 kB" in json.loads(answer.read())["refused"]["faults"][0]["words"]


@pytest.mark.parametrize("file", ["../secret.toml", "%2e%2e%2fsecret.toml", "/etc/passwd", "a%00.toml", ".x.toml", ""])
def test_no_path_leads_out_of_the_folder(serve, file):
    served = serve()
    (served.folder.parent / "secret.toml").write_text("name = 'secret'")
    for path in (f"/api/take/design?file={file}", f"/api/take/sheets?file={file}"):
        answer = served.ask(path)
        assert answer.status == 422
        assert b"secret'" not in answer.read()
    posted = served.ask(f"/api/bring?file={file}", method="POST", body=b"name = 'x'")
    assert posted.status == 422
    line = served.line(file or "small.toml")
    assert line.opened["kind"] == ("closed" if file else "opened")
    line.close()


@pytest.mark.parametrize("path", ["/static/../server.py", "/static/%2e%2e/server.py", "/static/..%2fserver.py",
                                  "/static//etc/passwd", "/static/%00"])  # fmt: skip
def test_only_the_page_lies_under_static(serve, path):
    assert serve().ask(path).status in (400, 404, 405)


def test_a_design_is_begun_and_one_is_brought(serve, small):
    served = serve()
    body = json.dumps({"file": "mine", "form": "diver", "length": "90 mm", "units": "metric"}).encode()
    assert served.told("/api/begin", method="POST", body=body) == {"file": "mine.toml"}
    assert served.told("/api/bring?file=brought.toml", method="POST", body=small.encode()) == {"file": "brought.toml"}
    assert served.told("/api/shelf")["designs"] == ["brought.toml", "mine.toml", "small.toml"]
    for wrong in (b"", b"[]", b'{"file": 3}', b'{"file": "mine", "form": "diver"}', b"{" * 9000, b"#" * 20_000,
                  b'{"file": "n", "form": "whale"}'):  # fmt: skip
        assert served.ask("/api/begin", method="POST", body=wrong).status == 422


@pytest.mark.parametrize(("what", "start"), [
    ("design", b"# a small floater"), ("sheets", b"%PDF"), ("sheets&paper=Letter&units=inch&bar=97 mm", b"%PDF"),
    ("export&kind=svg", b"<?xml"), ("export&kind=stl&piece=body&finished=yes", b""), ("export&kind=3mf", b"PK"),
])  # fmt: skip
def test_papers_and_files_are_taken_away(serve, what, start):
    what, _, more = what.partition("&")
    answer = serve().ask(f"/api/take/{what}?file=small.toml&{quote(more, safe='&=')}")
    assert answer.status == 200
    assert "small" in answer.headers["content-disposition"]
    assert answer.read().startswith(start)


@pytest.mark.parametrize("what", ["sheets?file=small.toml&bar=9 mm", "sheets?file=small.toml&bar=x",
                                  "x?file=small.toml", "export?file=small.toml&kind=exe",
                                  "export?file=small.toml&kind=stl&piece=wing",
                                  "export?file=small.toml", "design?file=none.toml"])  # fmt: skip
def test_what_cannot_be_taken_away_is_refused_in_words(serve, what):
    answer = serve().ask(f"/api/take/{quote(what, safe='?&=')}")
    assert answer.status == 422
    assert json.loads(answer.read())["refused"]["faults" if "bar" not in what else "heading"]


def test_a_window_is_told_what_is_kept_then_outline_and_answer(serve):
    line = serve().line("small.toml")
    assert line.opened["saved"]
    shape = line.until("shape")
    assert shape["curves"]["back"][2] == [0.03, 0.014]
    assert shape["curves"]["belly"] is None
    assert {handle["name"] for handle in shape["handles"]} == {"belly hook", "belly"}
    answer = line.until("answer")
    assert answer["headline"]
    kept = line.lift(15)
    assert kept["kind"] == "kept"
    assert kept["stamp"] != line.opened["stamp"]
    assert line.until("shape")["stamp"] == kept["stamp"]
    while (answer := line.until("answer"))["stamp"] != kept["stamp"]:
        pass
    line.close()


@pytest.mark.parametrize("message", ["", "{", "[]", "3", '"x"', "null", '{"kind": "fly"}', '{"kind": "stroke"}',
                                     "[" * 5000, '{"kind": ["x"]}',
                                     '{"kind": "stroke", "acts": [{"act": "point", "out": NaN}]}',
                                     '{"kind": "units", "shop": 3}'])  # fmt: skip
def test_nonsense_does_not_end_the_line(serve, message):
    line = serve().line("small.toml")
    line.socket.send(message)
    assert line.lift(15)["kind"] == "kept"
    line.close()


def test_a_stroke_that_gives_no_design_is_refused_with_its_faults(serve):
    line = serve().line("small.toml")
    refused = line.draw({"act": "point", "curve": "back", "place": 3, "station": 0.08, "out": 0.01})
    assert refused["kind"] == "refused"
    assert "not stand aft" in json.dumps(refused["faults"])
    assert line.lift(15)["kind"] == "kept"
    line.close()


def test_a_thousand_strokes_are_each_kept(serve):
    served = serve()
    line = served.line("small.toml")
    started = time.monotonic()
    for number in range(1000):
        kept = line.lift(14 + number % 7 + 0.01 * (number % 13), gesture=f"d{number // 100}")
        assert kept["kind"] == "kept"
    assert time.monotonic() - started < 150.0  # some 10 s on two idle cores
    assert kept["steps"] == 10
    for left in reversed(range(10)):
        assert line.do("undo")["steps"] == left
    assert line.do("undo")["undo"] is None
    assert line.stamp == line.opened["stamp"]
    line.close()


def test_a_thousand_strokes_sent_without_waiting_do_no_harm(serve):
    served = serve()
    line = served.line("small.toml")
    for number in range(1000):
        act = {"act": "point", "curve": "back", "place": 3, "station": 0.03, "out": 0.014 + 1e-5 * (1 + number % 9)}
        line.send("stroke", gesture="d", words="", acts=[act])
    kinds = []
    while len(kinds) < 1000:
        kinds.append(line.until("kept", "stale")["kind"])
    assert kinds.count("kept") == 1  # the others were drawn on a text that was gone
    line.close()
    again = served.line("small.toml")
    assert again.opened["steps"] == 1
    again.close()


def test_a_window_that_vanishes_while_it_is_told_leaves_no_trouble(serve, capfd):
    served = serve()
    for _ in range(3):
        line = served.line("small.toml")
        for number in range(4):
            act = {"act": "point", "curve": "back", "place": 3, "station": 0.03, "out": 0.014 + 1e-4 * number}
            line.send("stroke", gesture="d", words="", acts=[act])
        line.socket.socket.close()
    line = served.line("small.toml")
    told = [line.lift(millimetres)["kind"] for millimetres in (17, 18)]
    assert "kept" in told  # a stroke of a vanished window may still come before the first
    line.close()
    assert "Traceback" not in capfd.readouterr().err


def test_two_windows_on_one_design_notice_each_other(serve):
    served = serve()
    one, other = served.line("small.toml"), served.line("small.toml")
    assert one.lift(15)["kind"] == "kept"
    state = other.until("state")
    assert state["stamp"] == one.stamp != other.stamp
    stale = other.lift(16)
    assert stale["kind"] == "stale"
    assert other.stamp == one.stamp  # the window is told what there is now
    assert other.lift(16)["kind"] == "kept"
    one.stamp = one.until("state")["stamp"]
    assert one.do("undo")["steps"] == 1
    one.close()
    other.close()


def test_a_file_changed_by_another_program_is_told(serve):
    served = serve()
    line = served.line("small.toml")
    (served.folder / "small.toml").write_text("# by hand\n" + (served.folder / "small.toml").read_text())
    assert line.until("state")["fileChanged"]
    assert line.lift(15)["kind"] == "kept"
    refused = line.do("save")
    assert refused["kind"] == "refused"
    taken = line.do("take file")
    assert (taken["kind"], taken["saved"], taken["fileChanged"]) == ("kept", True, False)
    assert line.do("undo")["kind"] == "kept"
    assert line.do("save", over=True)["saved"]
    line.close()


def test_each_window_has_its_own_units(serve):
    served = serve()
    metric, inch = served.line("small.toml"), served.line("small.toml")
    inch.send("units", shop="inch")
    while (answer := inch.until("answer"))["shop"] != "inch":
        pass
    assert any(row["unit"] == "in" for section in answer["places"]["drawing"]["sections"] for row in section["rows"])
    assert metric.until("answer")["shop"] == "metric"
    metric.close()
    inch.close()


KILLED = """
import sys
from pathlib import Path
from gudgeon.web.server import workbench
bench = workbench(Path(sys.argv[1]), port=0, network=False)
print(bench.address, flush=True)
bench.run(browser=False)
"""


@pytest.mark.skipif(os.name != "posix", reason="ended by a signal")
@pytest.mark.parametrize("strokes", [1, 40, 83])
def test_an_end_without_warning_in_mid_drag_loses_nothing_that_was_kept(tmp_path, small, window, strokes):
    file = tmp_path / "small.toml"
    file.write_text(small, newline="")
    running = subprocess.Popen([sys.executable, "-c", KILLED, str(file)], stdout=subprocess.PIPE, text=True)
    try:
        assert running.stdout is not None
        line = window(re.findall(r"http://([^/]+)/", running.stdout.readline())[0], "small.toml")
        stamps = [line.stamp]
        for number in range(strokes):
            assert line.lift(14.1 + 0.1 * (number % 50), gesture="drag")["kind"] == "kept"
            stamps.append(line.stamp)
        line.send("stroke", gesture="drag", words="", acts=[
            {"act": "point", "curve": "back", "place": 3, "station": 0.03, "out": 0.02}])  # fmt: skip
    finally:
        running.send_signal(signal.SIGKILL)
        running.communicate(timeout=20)
    line.close()
    after = Desk(file)
    text = after.state.text
    assert after.state.stamp == stamps[-1] or '"30 mm: 20 mm"' in text  # the last one was never said to be kept
    assert file.read_text() == small
    assert after.undo(after.state.stamp).text == small  # the drag is one step
    after.close()


def test_a_port_that_is_taken_is_refused_and_the_usual_one_moves_on(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    first = workbench(None, port=0, network=False)
    own = first.listening.getsockname()[1]
    with pytest.raises(Refusal) as refusal:
        workbench(None, port=own, network=False)
    assert f"{own} is taken" in str(refusal.value)
    first.listening.close()
    usual, following = workbench(None, port=None, network=False), workbench(None, port=None, network=False)
    assert usual.listening.getsockname()[1] != following.listening.getsockname()[1]
    for bench in (usual, following):
        assert bench.listening.getsockname()[0] == "127.0.0.1"
        bench.listening.close()


def test_a_design_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(Refusal, match="cannot be opened"):
        workbench(tmp_path / "none.toml", port=0, network=False)


def test_on_the_network_nothing_is_answered_without_the_token(tmp_path, small, monkeypatch, run_bench):
    (tmp_path / "small.toml").write_text(small)
    monkeypatch.setattr("gudgeon.web.server.local_address", lambda: "127.0.0.1")
    bench = workbench(tmp_path / "small.toml", port=0, network=True)
    token = re.findall(r"token=([a-z0-9-]+)", bench.address)[0]
    assert token in bench.words
    assert scan_code(bench.address) in bench.words
    served = run_bench(bench)
    asked = served.ask("/")
    assert (asked.status, b"Token" in asked.read()) == (403, True)
    for path in PAGES[1:]:
        assert served.ask(path).status == 403
        assert served.ask(path, Cookie="gudgeon=wrong").status == 403
        assert served.ask(path, Cookie=f"gudgeon={token}").status == 200
    assert served.ask("/?token=wrong").status == 403
    entered = served.ask(f"/?file=small.toml&token={token}")
    assert (entered.status, entered.headers["location"]) == (303, "/?file=small.toml")
    assert "HttpOnly; SameSite=Strict" in entered.headers["set-cookie"]
    assert served.ask("/", Host=served.host.replace("127.0.0.1", "localhost"), Origin="").status == 421
    with (
        pytest.raises(InvalidStatus),
        connect(f"ws://{served.host}/line?file=small.toml", origin=f"http://{served.host}"),
    ):
        pass
    line = served.line("small.toml", additional_headers={"Cookie": f"gudgeon={token}"})
    assert line.lift(15)["kind"] == "kept"
    line.close()


@pytest.mark.parametrize(("client", "status"), [("192.168.1.9", 200), ("10.0.0.3", 200), ("127.0.0.1", 200),
                                                ("8.8.8.8", 421), ("nonsense", 421)])  # fmt: skip
def test_askers_from_afar_are_not_answered(client, status):
    async def app(scope, receive, send):
        await send({"type": "http.response.start", "status": 200, "headers": []})
        await send({"type": "http.response.body", "body": b""})

    async def ask():
        sent = []

        async def send(message):
            sent.append(message)

        scope = {"type": "http", "method": "GET", "path": "/", "query_string": b"", "client": (client, 5),
                 "headers": [(b"host", b"here:1")]}  # fmt: skip
        await Guard(app, ["here:1"])(scope, None, send)
        return sent[0]["status"]

    assert awaited(ask()) == status


def test_tokens_are_not_guessed():
    tokens = {new_token() for _ in range(50)}
    assert len(tokens) == 50
    assert all(re.fullmatch(r"([a-hjkmnp-z2-9]{4}-){3}[a-hjkmnp-z2-9]{4}", token) for token in tokens)


def test_a_machine_without_a_local_network_is_told(monkeypatch):
    class Way:
        address = "203.0.113.9"

        def __init__(self, *_):
            pass

        def __enter__(self):
            return self

        def __exit__(self, *_):
            return None

        def connect(self, _):
            if not self.address:
                raise OSError(101, "Network is unreachable")

        def getsockname(self):
            return (self.address, 5)

    monkeypatch.setattr("gudgeon.web.lan.socket.socket", Way)
    for Way.address in ("", "127.0.0.1", "8.8.8.8"):
        with pytest.raises(Refusal, match="network"):
            local_address()
    Way.address = "192.168.1.7"
    assert local_address() == "192.168.1.7"
