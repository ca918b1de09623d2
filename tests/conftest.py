"""What every test keeps to: a check against a published number says which work, and where in it."""

import gc
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("untimed", deadline=None)  # how quick a thing is, benchmarks tell
settings.load_profile("untimed")

PUBLISHED = Path(__file__).parent / "published"


def _names_its_source(item: pytest.Item) -> bool:
    mark = item.get_closest_marker("source")
    if mark is None or len(mark.args) != 1 or set(mark.kwargs) != {"where"}:
        return False
    return all(isinstance(words, str) and words.strip() for words in (mark.args[0], mark.kwargs["where"]))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Stops the run when a test in published/ does not name its source."""
    nameless = [item.nodeid for item in items if PUBLISHED in item.path.parents and not _names_its_source(item)]
    if nameless:
        raise pytest.UsageError(
            "these tests in published/ must say where their number stands, "
            f'@pytest.mark.source("the work", where="page or table"): {", ".join(nameless)}'
        )


def pytest_collection_finish() -> None:
    """What all tests have loaded stays to the end, and is no more looked over whenever room is made."""
    gc.collect()
    gc.freeze()


@pytest.fixture(scope="session", autouse=True)
def _commands_are_built_once() -> None:
    """Typer's runner builds every command anew for each one it runs, which takes longer than most of them do."""
    runner = sys.modules.get("typer.testing")
    if hasattr(runner, "_get_command"):
        runner._get_command = cache(runner._get_command)


@pytest.fixture(scope="module", autouse=True)
def _what_a_module_keeps_is_let_go(request: pytest.FixtureRequest) -> Iterator[None]:
    """The lures and read papers that a module's own functions remember, of 100 MB each, go with its last test."""
    yield
    for one in vars(request.module).values():
        if hasattr(one, "cache_clear") and one.__module__ == request.module.__name__:
            one.cache_clear()
