"""Weights worked out while the disk still takes the stroke in; they are told only once the stroke is kept."""

import contextlib
from concurrent.futures import ThreadPoolExecutor

from gudgeon.errors import Refusal
from gudgeon.web.calls import weigh


class Ahead:
    """Looks ahead at the strokes of one design."""

    def __init__(self, file: str) -> None:
        self._file = file
        self._newest = ""
        self._pool = ThreadPoolExecutor(1, thread_name_prefix="ahead")

    def weigh(self, text: str) -> None:
        """Have a text weighed, where it is still the newest when its turn comes; does not wait for it."""
        self._newest = text
        with contextlib.suppress(RuntimeError):  # the workbench is being stopped
            self._pool.submit(self._weigh, text)

    def _weigh(self, text: str) -> None:
        if text is self._newest:
            with contextlib.suppress(Refusal):  # told when it is asked for
                weigh(text, self._file)
