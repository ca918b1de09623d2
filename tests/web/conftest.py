"""A workbench that runs, in a folder of its own, and a line to it."""

import http.client
import json
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, ExitStack
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from websockets.sync.client import ClientConnection, connect

from gudgeon.web.server import Workbench, workbench

SMALL = """# a small floater
name = "Small floater"
length = "90 mm"

[outline]
back = [
  "0 mm: 0 mm",
  "10 mm: 9 mm",
  "30 mm: 14 mm",   # highest
  "60 mm: 9 mm",
  "90 mm: 3 mm",
]
side = ["0 mm: 0 mm", "10 mm: 7 mm", "30 mm: 10 mm", "60 mm: 7 mm", "90 mm: 2 mm"]

[wood]
species = "basswood"

[[hook]]
name = "belly hook"
size = "6"
at = "35 mm"

[[pocket]]
name = "belly"
at = "25 mm"
bore = "8 mm"

[water]
temperature = "15 C"

[aim]
does = "floats"
reserve = "20 %"
"""


@dataclass
class Answer:
    """What came back."""

    status: int
    headers: http.client.HTTPMessage
    content: bytes

    def read(self) -> bytes:
        return self.content


@dataclass
class Served:
    """A running workbench: asked over HTTP, drawn on over its line."""

    bench: Workbench
    folder: Path

    @property
    def host(self) -> str:
        return f"127.0.0.1:{self.bench.listening.getsockname()[1]}"

    def ask(self, path: str, *, method: str = "GET", body: Any = None, **headers: str) -> Answer:
        """One request; Host and Origin are the page's own unless others are given."""
        given = {name.replace("_", "-"): value for name, value in headers.items()}
        given = {"Host": self.host, "Origin": f"http://{self.host}"} | given
        line = http.client.HTTPConnection(self.host, timeout=20)
        line.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
        if body is not None and "Content-Length" not in given and "Transfer-Encoding" not in given:
            given["Content-Length"] = str(len(body))
        for name, value in given.items():
            if value:
                line.putheader(name, value)
        line.endheaders(body)
        found = line.getresponse()
        answer = Answer(found.status, found.headers, found.read())
        line.close()
        return answer

    def told(self, path: str, **more: Any) -> Any:
        """What a request is answered, as JSON."""
        return json.loads(self.ask(path, **more).read())

    def line(self, file: str, **more: Any) -> "Line":
        """A window's line to a design."""
        return Line(connect(f"ws://{self.host}/line?file={quote(file)}", origin=f"http://{self.host}",
                            max_size=None, **more))  # fmt: skip


class Line:
    """A window, spoken for by a test."""

    def __init__(self, calling: AbstractContextManager[ClientConnection]) -> None:
        self._open = ExitStack()
        self.woods = 0  # that came
        self.socket = self._open.enter_context(calling)
        self.opened = self.until("opened")
        self.stamp = self.opened.get("stamp", "")
        self.number = 0

    def until(self, *kinds: str) -> dict[str, Any]:
        """The next message of one of these kinds; others are passed over."""
        while True:
            told = self.socket.recv(timeout=20)
            if isinstance(told, bytes):
                self.woods += 1
                continue
            message: dict[str, Any] = json.loads(told)
            if message["kind"] in (*kinds, "closed"):
                return message

    def wood(self) -> bytes:
        """The next wood in three dimensions; texts are passed over."""
        while isinstance(told := self.socket.recv(timeout=20), str):
            pass
        self.woods += 1
        return told

    def send(self, kind: str, **more: Any) -> None:
        self.number += 1
        self.socket.send(json.dumps({"kind": kind, "number": self.number, "stamp": self.stamp, **more}))

    def do(self, kind: str, **more: Any) -> dict[str, Any]:
        """Send, and wait for what comes of it."""
        self.send(kind, **more)
        done = self.until("kept", "refused", "stale")
        while done.get("number") != self.number:
            done = self.until("kept", "refused", "stale")
        self.stamp = done.get("stamp", self.stamp)
        return done

    def draw(self, *acts: dict[str, Any], gesture: str = "", words: str = "a stroke") -> dict[str, Any]:
        return self.do("stroke", acts=list(acts), gesture=gesture, words=words)

    def lift(self, millimetres: float, gesture: str = "") -> dict[str, Any]:
        """Draw the back's third point to a height."""
        return self.draw({"act": "point", "curve": "back", "place": 3, "station": 0.03, "out": millimetres / 1000.0},
                         gesture=gesture)  # fmt: skip

    def close(self) -> None:
        self._open.close()


@pytest.fixture
def small() -> str:
    return SMALL


@pytest.fixture
def window() -> Callable[[str, str], Line]:
    """A window on a design of any workbench: host, file."""
    return lambda host, file: Line(connect(f"ws://{host}/line?file={quote(file)}", origin=f"http://{host}"))


@pytest.fixture
def run_bench(tmp_path: Path) -> Iterator[Callable[[Workbench], Served]]:
    """Run a workbench until the test is over."""
    stops: list[Callable[[], None]] = []

    def start(bench: Workbench) -> Served:
        server = bench.server()
        running = threading.Thread(target=server.run, kwargs={"sockets": [bench.listening]}, daemon=True)
        running.start()

        def stop() -> None:
            server.should_exit = server.force_exit = True
            running.join(timeout=10)
            bench.shelf.close()
            bench.listening.close()

        stops.append(stop)
        deadline = time.monotonic() + 10.0
        while not server.started and time.monotonic() < deadline:
            time.sleep(0.01)
        return Served(bench, tmp_path)

    yield start
    for stop in stops:
        stop()


@pytest.fixture
def serve(tmp_path: Path, run_bench: Callable[[Workbench], Served]) -> Callable[[], Served]:
    """Start a workbench over the test's own folder, which holds small.toml."""
    (tmp_path / "small.toml").write_text(SMALL, encoding="utf-8", newline="")
    return lambda: run_bench(workbench(tmp_path / "small.toml", port=0, network=False))
