"""What every test keeps to: a check against a published number says which work, and where in it."""

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
