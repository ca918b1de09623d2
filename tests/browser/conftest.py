"""A workbench as the maker starts it, a Chromium, and windows that ask nobody but the workbench."""

import itertools
import os
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from browser_ready import AXE, WANTED, chromium
from hands import Window
from playwright.sync_api import Browser, sync_playwright

ROOT = Path(__file__).parents[2]
QUIET = ("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
         "--disable-component-update", "--disable-sync")  # fmt: skip


def _wanting(words: str) -> None:
    """Skip, but in CI fail: there these tests cannot be left out."""
    if os.environ.get("CI"):
        pytest.fail(words)
    pytest.skip(words)


@dataclass
class Shop:
    """A folder, and `gudgeon open` running in it."""

    folder: Path
    address: str
    running: subprocess.Popen[str]
    _numbers: Iterator[int] = field(default_factory=itertools.count)

    def put(self, text: str) -> str:
        """A design file of its own in the folder; its name."""
        name = f"lure-{next(self._numbers)}.toml"
        (self.folder / name).write_text(text, encoding="utf-8", newline="")
        return name

    def example(self, name: str) -> str:
        """A copy of an example in the folder; its name."""
        return self.put((ROOT / "examples" / f"{name}.toml").read_text(encoding="utf-8"))


Start = Callable[..., Shop]
Windows = Callable[..., Window]


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """This machine's Chromium."""
    path = chromium()
    if path is None:
        _wanting(WANTED)
    with sync_playwright() as player:
        started = player.chromium.launch(executable_path=path, args=QUIET)
        yield started
        started.close()


@pytest.fixture(scope="session")
def open_shop() -> Iterator[Start]:
    """Start the workbench in a folder, with words after `gudgeon open` or none."""
    running = []

    def start(folder: Path, *words: str) -> Shop:
        command = [sys.executable, "-m", "gudgeon.cli.main", "open", *words, "--no-browser", "--port", "0"]
        one = subprocess.Popen(command, cwd=folder, stdout=subprocess.PIPE, text=True, encoding="utf-8")
        running.append(one)
        assert one.stdout is not None
        return Shop(folder, re.findall(r"http://[\d.:]+/", one.stdout.readline())[0], one)

    yield start
    for one in running:
        one.terminate()
    for one in running:
        one.communicate(timeout=20)


@pytest.fixture(scope="session")
def shop(open_shop: Start, tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """One workbench for all tests that bring a design of their own."""
    return open_shop(tmp_path_factory.mktemp("shop"))


@pytest.fixture
def windows(browser: Browser) -> Iterator[Windows]:
    """Open windows on a workbench; when the test is over they asked nobody else and nothing in them failed."""
    opened: list[Window] = []

    def new(shop: Shop, size: tuple[int, int] = (1440, 900), **more: Any) -> Window:
        viewport = {"width": size[0], "height": size[1]}
        context = browser.new_context(viewport=viewport, accept_downloads=True, reduced_motion="reduce", **more)
        opened.append(Window(context.new_page(), shop.address))
        return opened[-1]

    yield new
    for window in opened:
        window.page.context.close()
    assert [url for window in opened for url in window.strangers()] == []
    assert [fault for window in opened for fault in window.faults] == []


@pytest.fixture
def window(windows: Windows, shop: Shop) -> Window:
    """One window on the shared workbench."""
    return windows(shop)


@pytest.fixture(scope="session")
def axe() -> str:
    """The source of axe-core."""
    if not AXE.exists():
        _wanting("axe-core is not among the page's packages; python tests/browser/browser_ready.py brings it.")
    return AXE.read_text(encoding="utf-8")
