"""How quickly the workbench answers a hand, in this machine's Chromium: python -m benchmarks.workbench

A stroke's time runs from the movement of the mouse, in the page, to the figures that stand on it for that stroke. The
example lure is drawn on; half the strokes go up and half down, by enough that its weight shows it.
"""

import gzip
import json
import os
import re
import runpy
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from statistics import median, quantiles
from urllib.parse import urlsplit

from playwright.sync_api import Browser, Page, sync_playwright
from websockets.sync.client import connect

ROOT = Path(__file__).parents[1]
LURE = ROOT / "examples" / "lanternmere.toml"
PAGE = ROOT / "src" / "gudgeon" / "web" / "static"
READY = runpy.run_path(str(ROOT / "tests" / "browser" / "browser_ready.py"))
FLAGS = ("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking")

STROKES = 120
OPENED = 7  # windows
THOUSANDS = 2  # of strokes, of which the first thousand warms the server up
AN_HOUR = 60 * 60 * 30  # strokes: what a hand that never rests sends at 30 a second

STROKE = """async (by) => {
  const paper = document.querySelector('svg.paper'), answers = document.querySelector('#answers');
  const box = paper.getBoundingClientRect(), handle = document.querySelector('[data-key="back.6"]');
  const [x, y] = handle.getAttribute('transform').match(/-?[\\d.]+/g).map(Number);
  const at = (kind, dy) => paper.dispatchEvent(new PointerEvent(kind,
    {pointerId: 1, pointerType: 'mouse', button: 0, clientX: box.left + x, clientY: box.top + y + dy, bubbles: true}));
  const weight = document.querySelector('.glance [data-row="whole.mass"] .now'), before = weight.textContent;
  const found = {};
  const start = performance.now();
  const done = new Promise((go) => {
    const look = () => {
      const now = performance.now() - start;
      if (found.weight === undefined && weight.textContent !== before) found.weight = now;
      if (answers.getAttribute('aria-busy') === 'false') { found.all = now; watch.disconnect(); go(); }
    };
    const watch = new MutationObserver(look);
    watch.observe(answers, {attributes: true, childList: true, subtree: true, characterData: true});
    setTimeout(() => { watch.disconnect(); go(); }, 5000);
  });
  at('pointerdown', 0);
  at('pointermove', by);
  await done;
  at('pointerup', by);
  return found;
}"""

DRAG = """async (seconds) => {
  const paper = document.querySelector('svg.paper'), box = paper.getBoundingClientRect();
  const handle = document.querySelector('[data-key="back.6"]');
  const [x, y] = handle.getAttribute('transform').match(/-?[\\d.]+/g).map(Number);
  const at = (kind, dy) => paper.dispatchEvent(new PointerEvent(kind,
    {pointerId: 1, pointerType: 'mouse', button: 0, clientX: box.left + x, clientY: box.top + y + dy, bubbles: true}));
  let answered = 0;
  const watch = new MutationObserver(() => { answered += 1; });
  watch.observe(document.querySelector('.glance [data-row="whole.mass"] .now'), {childList: true});
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


def times(words: str, milliseconds: list[float], most: float) -> Told:
    """A line of times: median and 95th of a hundred, which is held against the claim."""
    high = quantiles(milliseconds, n=20)[-1]
    return Told(words, f"{median(milliseconds):.0f} ms", f"{high:.0f} ms", f"{most:.0f} ms", high <= most)


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
    page.goto(address, wait_until="commit")
    page.wait_for_selector('#answers[aria-busy="false"] .sentence:not(:empty)')
    return page, float(page.evaluate("performance.now()"))


def strokes(page: Page) -> tuple[list[float], list[float]]:
    """Milliseconds from a stroke to the first new figures, and to all of them; the first few are not counted."""
    moves = [(-1) ** count * (12.0 + 0.13 * count % 5.0) for count in range(STROKES + 10)]  # px
    found = [page.evaluate(STROKE, by) for by in moves][10:]
    lost = sum("all" not in one or "weight" not in one for one in found)
    if lost:
        raise SystemExit(f"{lost} of {STROKES} strokes were not answered within 5 s")
    return [one["weight"] for one in found], [one["all"] for one in found]


def resident(process: int) -> float:
    """Megabytes of memory that a process holds."""
    words = Path(f"/proc/{process}/status").read_text(encoding="ascii")
    return int(re.findall(r"VmRSS:\s+(\d+) kB", words)[0]) / 1000.0


def dragged(address: str, process: int) -> tuple[float, float]:
    """Megabytes of the server after some thousand strokes, and how many more an hour of dragging would bring."""
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
            if number % 500 == 499:
                held.append(resident(process))
    growth = (held[-1] - held[1]) / (1000 * (THOUSANDS - 1))
    return held[-1], max(0.0, growth) * AN_HOUR


def packed() -> int:
    """Bytes of the page as it would travel, gzipped; the licences of what it is made of do not."""
    return sum(len(gzip.compress(path.read_bytes())) for path in PAGE.iterdir() if not path.name.endswith(".txt"))


def measured(browser: Browser, folder: Path) -> Iterator[Told]:
    """Every line, as it is known."""
    with workbench(folder) as (address, process):
        _, first = opened(browser, address)
        yield Told("first page of all: lure and answers", f"{first:.0f} ms", "", "", None)
        windows = [opened(browser, address) for _ in range(OPENED)]
        yield times("a page: lure and answers", [took for _, took in windows], 1500.0)
        page, _ = windows[-1]
        for other, _ in windows[:-1]:
            other.context.close()
        weights, everything = strokes(page)
        yield times("stroke to weights, float line and ballast", weights, 33.0)
        yield times("stroke to clashes and strength", everything, 250.0)
        yield Told("new answers a second while dragging", f"{page.evaluate(DRAG, 4.0):.0f}", "", "", None)
        page.context.close()
        size = packed()
        yield Told("the page, gzipped", f"{size / 1000:.0f} kB", "", "1000 kB", size <= 1_000_000)
        if os.name == "posix" and Path("/proc/self/status").exists():
            now, more = dragged(address, process)
            yield Told(f"server after {THOUSANDS} thousand strokes", f"{now:.0f} MB", "", "", None)
            yield Told(f"the same, scaled to an hour: {AN_HOUR // 1000} thousand", f"{now + more:.0f} MB", "", "300 MB",
                       now + more <= 300.0)  # fmt: skip


def main() -> None:
    """Measure, and print the table."""
    path = READY["chromium"]()
    if path is None:
        raise SystemExit(READY["WANTED"])
    print(f"{'':52}{'median':>10}{'p95':>10}{'claimed':>10}")
    with sync_playwright() as player, tempfile.TemporaryDirectory() as folder:
        browser = player.chromium.launch(executable_path=path, args=FLAGS)
        for line in measured(browser, Path(folder)):
            print(line, flush=True)
        browser.close()


if __name__ == "__main__":
    main()
