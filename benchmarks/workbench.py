"""How quickly the workbench answers a hand, in this machine's Chromium: python -m benchmarks.workbench

A stroke's time runs from the browser's own stamp on a movement of the mouse, or on a key, to just after the picture in
which the page shows what came of it; both are read in the page. The example lure is drawn on; half the strokes go up,
half down, by enough that its weight shows it. Solids count as shown once their pixels can be read back.
"""

import gzip
import json
import os
import re
import runpy
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from statistics import linear_regression, median, quantiles
from urllib.parse import urlsplit

from playwright.sync_api import Browser, Page, sync_playwright
from websockets.sync.client import connect

ROOT = Path(__file__).parents[1]
LURE = ROOT / "examples" / "lanternmere.toml"
PAGE = ROOT / "src" / "gudgeon" / "web" / "static"
READY = runpy.run_path(str(ROOT / "tests" / "browser" / "browser_ready.py"))
FLAGS = ("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking")

STROKES, FOLDS, WARMING = 120, 40, 10  # of the hand, of a solid; those that are not counted
WATCHED = 5.0  # s of the swim
OPENED = 20  # windows
THOUSANDS, WARM = 8, 2  # of strokes, the first of which warm the server up
LOOKED = 500  # strokes between looks at its memory
AN_HOUR = 60 * 60 * 30  # strokes: what a hand that never rests sends at 30 a second

TIMED = """([kind, wanted]) => {
  const value = ([selector, name]) => {
    const node = document.querySelector(selector);
    return node === null ? null : name === '' ? node.textContent : node.getAttribute(name);
  };
  const solid = document.querySelector('.solid:not([hidden]) canvas');
  const shown = () => new Promise((done) => requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      solid?.getContext('webgl2')?.readPixels(0, 0, 1, 1, 6408, 5121, new Uint8Array(4));
      done(performance.now());
    };
    port2.postMessage(0);
  }));
  window.timed = new Promise((done) => {
    addEventListener(kind, function begin(event) {
      if (kind === 'pointermove' && event.buttons !== 1) return;
      removeEventListener(kind, begin, true);
      const before = Object.fromEntries(Object.entries(wanted).map(([name, where]) => [name, value(where)]));
      const found = {}, begun = new Set();
      const watch = new MutationObserver(() => {
        for (const [name, where] of Object.entries(wanted)) {
          const now = value(where);
          if (begun.has(name) || (where.length > 2 ? now !== where[2] : now === before[name])) continue;
          begun.add(name);
          shown().then((at) => {
            found[name] = at - event.timeStamp;
            if (Object.keys(found).length === Object.keys(wanted).length) { watch.disconnect(); done(found); }
          });
        }
      });
      watch.observe(document.body, { attributes: true, childList: true, subtree: true, characterData: true });
      setTimeout(() => { watch.disconnect(); done(found); }, 5000);
    }, true);
  });
}"""
LINE = """(() => {
  const { send } = WebSocket.prototype, { set } = Object.getOwnPropertyDescriptor(WebSocket.prototype, 'onmessage');
  window.line = { sent: 0, came: 0 };
  WebSocket.prototype.send = function (told) {
    window.line.sent = performance.now();
    send.call(this, told);
  };
  Object.defineProperty(WebSocket.prototype, 'onmessage', { set(hear) {
    set.call(this, (event) => {
      if (String(event.data).startsWith('{"kind": "weights"')) window.line.came = performance.now();
      hear(event);
    });
  } });
})()"""
"""When a stroke was last sent to the workbench, and when weights last came: the rest of its time is the browser's."""

PLACE = """() => {
  const box = document.querySelector('svg.paper').getBoundingClientRect();
  const place = document.querySelector('[data-key="back.6"]').getAttribute('transform');
  const [x, y] = place.match(/-?[\\d.]+/g).map(Number);
  return [box.left + x, box.top + y];
}"""
FIGURES = {"weights": [".glance [data-row='whole.mass'] .now", ""], "all": ["#answers", "aria-busy", "false"]}
SOLID = {"solid": [".solid", "data-stamp"]}
FOLDED = {"solid": [".fold input", "aria-valuetext"]}
"""What a stroke is to change on the page: a node, its attribute or its words, what they are to be."""

PLAYED = """(seconds) => new Promise((done) => {
  const pen = document.querySelector('.playing canvas').getContext('2d'), clear = pen.clearRect.bind(pen), at = [];
  pen.clearRect = (...room) => { at.push(performance.now()); clear(...room); };
  setTimeout(() => { delete pen.clearRect; done(at); }, 1000 * seconds);
})"""

DRAG = """async (seconds) => {
  const paper = document.querySelector('svg.paper'), box = paper.getBoundingClientRect();
  const handle = document.querySelector('[data-key="back.6"]');
  const [x, y] = handle.getAttribute('transform').match(/-?[\\d.]+/g).map(Number);
  const at = (kind, dy) => paper.dispatchEvent(new PointerEvent(kind,
    {pointerId: 1, pointerType: 'mouse', button: 0, clientX: box.left + x, clientY: box.top + y + dy, bubbles: true}));
  let answered = 0;
  const watch = new MutationObserver(() => { answered += 1; });
  watch.observe(document.querySelector('.water line'), {attributes: true});
  at('pointerdown', 0);
  const end = performance.now() + 1000 * seconds;
  for (let count = 0; performance.now() < end; count += 1) {
    at('pointermove', -30 * Math.abs(Math.sin(count / 9)));
    await new Promise(requestAnimationFrame);
  }
  at('pointermove', 0);
  at('pointerup', 0);
  watch.disconnect();
  return answered / seconds;
}"""


@dataclass(frozen=True)
class Told:
    """One line: what was measured and what is claimed, both as they are read."""

    words: str
    middle: str
    worst: str
    claimed: str
    is_met: bool | None

    def __str__(self) -> str:
        verdict = "" if self.is_met is None else "met" if self.is_met else "MISSED"
        return f"{self.words:52}{self.middle:>10}{self.worst:>10}{self.claimed:>10}  {verdict}"


def times(words: str, milliseconds: list[float], most: float | None = None) -> Told:
    """A line of times: median and 95th of a hundred, which is held against the claim where there is one."""
    high = quantiles(milliseconds, n=20)[-1]
    claimed, is_met = ("", None) if most is None else (f"{most:.0f} ms", high <= most)
    return Told(words, f"{median(milliseconds):.0f} ms", f"{high:.0f} ms", claimed, is_met)


@contextmanager
def workbench(folder: Path) -> Iterator[tuple[str, int]]:
    """A workbench with the lure open: its address and its process."""
    (folder / "lure.toml").write_bytes(LURE.read_bytes())
    command = [sys.executable, "-m", "gudgeon.cli.main", "open", "lure.toml", "--no-browser", "--port", "0"]
    running = subprocess.Popen(command, cwd=folder, stdout=subprocess.PIPE, text=True)
    assert running.stdout is not None
    try:
        yield re.findall(r"http://\S+", running.stdout.readline())[0], running.pid
    finally:
        running.terminate()
        running.wait()


def opened(browser: Browser, address: str) -> tuple[Page, float]:
    """A window that shows drawing and answers, and the milliseconds that took."""
    page = browser.new_context(viewport={"width": 1440, "height": 900}).new_page()
    page.add_init_script(LINE)
    page.goto(address, wait_until="commit")
    page.wait_for_selector('#answers[aria-busy="false"] .sentence:not(:empty)')
    return page, float(page.evaluate("performance.now()"))


def timed(page: Page, kind: str, wanted: dict[str, list[str]], move: Callable[[], object]) -> dict[str, float]:
    """Milliseconds from a movement to all that it changes."""
    page.wait_for_timeout(60.0)  # the page rests
    page.evaluate(TIMED, [kind, wanted])
    move()
    found: dict[str, float] = page.evaluate("window.timed")
    if found.keys() != wanted.keys():
        raise SystemExit(f"a stroke was not answered within 5 s: {', '.join(wanted.keys() - found.keys())}")
    return found


def strokes(page: Page) -> list[dict[str, float]]:
    """Milliseconds from a stroke to the first new figures, to all of them, and of the first those that the workbench
    took; the first few strokes are not counted."""
    found = []
    for count in range(STROKES + WARMING):
        x, y = page.evaluate(PLACE)
        page.mouse.move(x, y)
        page.mouse.down()
        by = (-1) ** count * (12.0 + 3.0 * (count % 5))  # px; so that no drawing comes again soon, to be remembered
        found.append(timed(page, "pointermove", FIGURES, lambda x=x, y=y + by: page.mouse.move(x, y)))  # type: ignore[misc]
        found[-1]["workbench"] = page.evaluate("window.line.came - window.line.sent")
        page.mouse.up()
    return found[WARMING:]


def solids(page: Page) -> Iterator[Told]:
    """A stroke and a slider to the lure redrawn as solids, where this browser can."""
    if not page.evaluate("document.createElement('canvas').getContext('webgl2') !== null"):
        yield Told("the lure as solids: this browser has no WebGL", "", "", "100 ms", None)
        return
    page.locator('[data-key="back.6"]').focus()
    page.get_by_role("button", name="Solid").click()
    height, fold = page.locator("#h-out"), page.locator(".fold input").first
    rested = '.solid[data-whole="true"][aria-busy="false"]'
    page.wait_for_selector(rested)
    drawn = []
    for count in range(FOLDS):
        height.fill(f"{17.0 + 0.1 * (count % 7)} mm")
        drawn.append(timed(page, "keydown", SOLID, lambda: height.press("Enter"))["solid"])
        page.wait_for_selector(rested)
    yield times("stroke to a redrawn solid", drawn[WARMING:], 100.0)
    fold.focus()
    keys = [("ArrowRight", "ArrowLeft")[count % 2] for count in range(FOLDS)]
    folded = [timed(page, "keydown", FOLDED, lambda key=key: page.keyboard.press(key)) for key in keys]  # type: ignore[misc]
    yield times("slider to a redrawn solid", [one["solid"] for one in folded[WARMING:]], 100.0)
    page.get_by_role("button", name="Solid").click()


def played(page: Page) -> Told:
    """Pictures a second of the swim as it is played, and as its slowest twentieth would be."""
    page.get_by_role("tab", name="Tow").click()
    page.wait_for_selector(".playing canvas:not([hidden])", timeout=120_000)
    at = page.evaluate(PLAYED, WATCHED)
    rate, slow = len(at) / WATCHED, quantiles([after - before for before, after in pairwise(at)], n=20)[-1]
    return Told("swim playback, pictures a second", f"{rate:.0f}", f"{1e3 / slow:.0f}", "30", rate >= 30.0)


def resident(process: int) -> float:
    """Megabytes of memory that a process and those it started hold."""
    there = Path(f"/proc/{process}")
    words = (there / "status").read_text(encoding="ascii")
    started = [int(one) for task in there.glob("task/*/children") for one in task.read_text(encoding="ascii").split()]
    return int(re.findall(r"VmRSS:\s+(\d+) kB", words)[0]) / 1000.0 + sum(map(resident, started))


def dragged(address: str, process: int) -> tuple[float, float]:
    """Megabytes of the server after some thousand strokes, and how many more an hour would bring, by a straight line
    through them: each look is off by a megabyte or so."""
    host, held = urlsplit(address).netloc, []
    with connect(f"ws://{host}/line?file=lure.toml", origin=f"http://{host}", max_size=None) as line:
        stamp = json.loads(line.recv())["stamp"]
        for number in range(1000 * THOUSANDS):
            out = 0.0175 + 1e-5 * (number % 300)
            act = {"act": "point", "curve": "back", "place": 6, "station": 0.07, "out": out}
            line.send(json.dumps({"kind": "stroke", "number": number, "stamp": stamp, "gesture": f"g{number // 200}",
                                  "words": "back", "acts": [act]}))  # fmt: skip
            while (told := json.loads(line.recv()))["kind"] != "kept" or told["number"] != number:
                if told["kind"] in ("refused", "stale"):
                    raise SystemExit(f"stroke {number} was not kept: {told}")
            stamp = told["stamp"]
            if number % LOOKED == LOOKED - 1:
                held.append(resident(process))
    steady = held[1000 * WARM // LOOKED :]
    growth = linear_regression(range(len(steady)), steady).slope / LOOKED
    return held[-1], max(0.0, growth) * AN_HOUR


def packed() -> int:
    """Bytes of the page as it would travel, gzipped; the licences of what it is made of do not."""
    return sum(len(gzip.compress(path.read_bytes())) for path in PAGE.iterdir() if not path.name.endswith(".txt"))


def measured(browser: Browser, folder: Path) -> Iterator[Told]:
    """Every line, as it is known."""
    with workbench(folder) as (address, process):
        page, first = opened(browser, address)
        page.context.close()
        yield Told("first page of all: lure and answers", f"{first:.0f} ms", "", "", None)
        took = []
        for _ in range(OPENED):
            page, milliseconds = opened(browser, address)
            page.context.close()
            took.append(milliseconds)
        yield times("a page: lure and answers", took, 1500.0)
        page, _ = opened(browser, address)
        drawn = strokes(page)
        yield times("stroke to weights, float line and ballast", [one["weights"] for one in drawn], 33.0)
        yield times("  of that, from the stroke sent to its weights come", [one["workbench"] for one in drawn])
        yield times("stroke to clashes and strength", [one["all"] for one in drawn], 250.0)
        yield Told("new float lines a second while dragging", f"{page.evaluate(DRAG, 4.0):.0f}", "", "", None)
        page.wait_for_selector('#answers[aria-busy="false"]')
        yield from solids(page)
        page.context.close()
        size = packed()
        yield Told("the page, gzipped", f"{size / 1000:.0f} kB", "", "1000 kB", size <= 1_000_000)
        if os.name == "posix" and Path("/proc/self/status").exists():
            now, more = dragged(address, process)
            yield Told(f"server after {THOUSANDS} thousand strokes", f"{now:.0f} MB", "", "", None)
            yield Told(f"the same, scaled to an hour: {AN_HOUR // 1000} thousand", f"{now + more:.0f} MB", "", "300 MB",
                       now + more <= 300.0)  # fmt: skip
        page, _ = opened(browser, address)
        yield played(page)
        if os.name == "posix" and Path("/proc/self/status").exists():
            yield Told("the same while the tow is looked at", f"{resident(process):.0f} MB", "", "", None)


def main() -> None:
    """Measure, and print the table."""
    path = READY["chromium"]()
    if path is None:
        raise SystemExit(READY["WANTED"])
    if hasattr(os, "getloadavg"):
        print(f"{os.getloadavg()[0]:.1f} others at work on {os.cpu_count()} processors as it begins")
    print(f"{'':52}{'median':>10}{'p95':>10}{'claimed':>10}")
    with sync_playwright() as player, tempfile.TemporaryDirectory() as folder:
        browser = player.chromium.launch(executable_path=path, args=FLAGS)
        for line in measured(browser, Path(folder)):
            print(line, flush=True)
        browser.close()


if __name__ == "__main__":
    main()
