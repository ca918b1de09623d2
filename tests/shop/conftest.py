"""A shop with a pattern and lures of it, and a clock that only moves when it is looked at."""

from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

import pytest

from gudgeon.shop.log import Log

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def clock() -> Callable[[], str]:
    seconds = count()
    return lambda: f"2026-05-03T10:{next(seconds) // 60:02d}:00+02:00"


@pytest.fixture
def glider() -> str:
    return (EXAMPLES / "glider.toml").read_text(encoding="utf-8")


@pytest.fixture
def log(tmp_path: Path, clock: Callable[[], str]) -> Iterator[Log]:
    """An empty log."""
    with Log.start(tmp_path / "shop", clock) as found:
        yield found


@pytest.fixture
def twelve(log: Log, glider: str) -> Log:
    """A log with twelve gliders begun, numbers 1 to 12."""
    log.add_lures(log.add_pattern(glider).name, 12)
    return log
