"""Coroutines run to their end."""

import asyncio
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from typing import Any


def awaited(work: Coroutine[Any, Any, Any]) -> Any:
    """What a coroutine returns, in a thread of its own: in this one the browser's tests may have a loop."""
    with ThreadPoolExecutor(1) as pool:
        return pool.submit(asyncio.run, work).result()
