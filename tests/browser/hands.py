"""A maker's window on the workbench: hands on the page, and eyes on what it shows."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.parse import quote

from playwright.sync_api import Download, Locator, Page

Spot = tuple[float, float]
TIMEOUT = 20_000  # ms


def plain(text: str) -> str:
    """Words without the spaces and line ends that laying out puts between them."""
    return re.sub(r"\s+", "", text)


class Window:
    """One page of the workbench."""

    def __init__(self, page: Page, address: str) -> None:
        self.page = page
        self.address = address
        self.asked: list[str] = []
        self.faults: list[str] = []
        page.set_default_timeout(TIMEOUT)
        page.on("request", lambda request: self.asked.append(request.url))
        page.on("websocket", lambda socket: self.asked.append(socket.url))
        page.on("pageerror", lambda error: self.faults.append(f"{error}\n{error.stack}"))
        page.on("console", lambda said: self._heard(said.type, said.text))

    def _heard(self, kind: str, words: str) -> None:
        """The browser's own complaints; that the workbench refuses something is none."""
        if kind in ("error", "warning") and "status of 422" not in words:
            self.faults.append(words)

    def strangers(self) -> list[str]:
        """Whatever the page asked of another than the workbench."""
        own = self.address.removeprefix("http").rstrip("/")
        return [url for url in self.asked if not url.startswith((f"http{own}/", f"ws{own}/", "blob:", "data:"))]

    # --- places ---------------------------------------------------------------------------------------------------

    def open(self, file: str, place: str = "drawing") -> "Window":
        """A design on the desk, answered."""
        self.page.goto(f"{self.address}?file={quote(file)}#{place}")
        return self.settled()

    def settled(self) -> "Window":
        """Every stroke kept, and what is shown is of the last one."""
        self.page.wait_for_selector('#answers[aria-busy="false"]', state="attached")
        return self

    def go(self, place: str) -> None:
        """Choose a place by its tab."""
        self.page.get_by_role("tab", name=place).click()

    def press(self, name: str, *, tap: bool = False) -> None:
        """Press the button of that name."""
        button = self.page.get_by_role("button", name=name, exact=True)
        button.tap() if tap else button.click()

    # --- the drawing ----------------------------------------------------------------------------------------------

    def handle(self, key: str) -> Locator:
        """A point or part by its key: back.3, hook.1."""
        return self.page.locator(f'[data-key="{key}"]')

    def spot(self, key: str) -> Spot:
        """Where a handle stands on the screen [px]."""
        return self._inside(self.handle(key))

    def mark(self, number: int, view: int = 0) -> Spot:
        """Where the tip of a numbered mark stands on the screen [px]; view 0 from the side, 1 from above."""
        return self._inside(self.page.locator(".mark").filter(has_text=re.compile(f"^{number}$")).nth(view))

    def scale(self) -> float:
        """Pixels for a millimetre."""
        moved = self.page.locator("svg.paper > .lines").get_attribute("transform") or ""
        return float(moved.partition("scale(")[2].rstrip(")"))

    def drag(self, key: str, by: Spot, *, grab: Spot = (0.0, 0.0), steps: int = 6) -> None:
        """Take a handle, a little beside its middle, move the mouse by so much [px], and let go."""
        x, y = self.spot(key)
        self.page.mouse.move(x + grab[0], y + grab[1])
        self.page.mouse.down()
        self.page.mouse.move(x + grab[0] + by[0], y + grab[1] + by[1], steps=steps)
        self.page.mouse.up()

    def finger(self, key: str, by: Spot, steps: int = 6) -> None:
        """The same with a finger."""
        x, y = self.spot(key)
        line = self.page.context.new_cdp_session(self.page)

        def touch(kind: str, at: list[Spot]) -> None:
            points = [{"x": px, "y": py} for px, py in at]
            line.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

        touch("touchStart", [(x, y)])
        for step in range(1, steps + 1):
            touch("touchMove", [(x + by[0] * step / steps, y + by[1] * step / steps)])
        touch("touchEnd", [])
        line.detach()

    def tab_to(self, *, key: str = "", name: str = "", most: int = 150) -> None:
        """Go on with Tab until a handle, or what has that name, has the focus."""
        for _ in range(most):
            if self.page.evaluate(HAS_FOCUS, [key, name]):
                return
            self.page.keyboard.press("Tab")
        raise AssertionError(f"{key or name} is not reached with Tab")

    # --- what is shown --------------------------------------------------------------------------------------------

    def text(self) -> str:
        """The design as the workbench has it now."""
        file = self.page.evaluate("new URLSearchParams(location.search).get('file')")
        return self.page.request.get(f"{self.address}api/take/design?file={quote(file)}").text()

    def sentence(self) -> str:
        """The answer in one sentence."""
        return self.page.locator(".figures .sentence").inner_text().replace("\u00a0", " ")

    def rows(self) -> dict[str, list[str]]:
        """Every figure of the place by its row's name, as it stands there; also where its section is closed."""
        found: dict[str, list[str]] = self.page.evaluate(ROWS)
        return found

    def saved_papers(self, folder: Path, press: Callable[[], Any]) -> Path:
        """The PDF that comes of pressing the button for it."""
        with self.page.expect_download() as coming:
            press()
        download: Download = coming.value
        to = folder / download.suggested_filename
        download.save_as(to)
        return to

    def _inside(self, node: Locator) -> Spot:
        moved = re.findall(r"-?[\d.]+(?:e-?\d+)?", node.get_attribute("transform") or "")
        box = self.page.locator("svg.paper").bounding_box()
        assert box is not None
        return box["x"] + float(moved[0]), box["y"] + float(moved[1])


HAS_FOCUS = """([key, name]) => {
  const at = document.activeElement;
  if (key) return at?.getAttribute('data-key') === key;
  const label = at?.getAttribute('aria-label') ?? at?.labels?.[0]?.textContent ?? at?.textContent;
  return label?.trim() === name;
}"""
ROWS = """() => {
  const found = {};
  for (const row of document.querySelectorAll('#answers .sections tr')) {
    const words = row.querySelector('.now').textContent;
    (found[row.dataset.row] ??= []).push(words);
  }
  return found;
}"""
