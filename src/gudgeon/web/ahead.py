"""Work begun while the disk still takes a stroke in; what comes of it is told only once the stroke is kept."""

import contextlib
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from gudgeon.errors import Refusal

Work = Callable[[str, str], object]
"""What is done with a text and its file's name, and remembered by who does it."""


class Ahead:
    """Looks ahead at the strokes of one design."""

    def __init__(self, file: str) -> None:
        self._file = file
        self._newest = ""
        self._pool = ThreadPoolExecutor(1, thread_name_prefix="ahead")

    def do(self, work: Work, text: str) -> None:
        """Have it done, where the text is still the newest when its turn comes; does not wait for it."""
        self._newest = text
        with contextlib.suppress(RuntimeError):  # the workbench is being stopped
            self._pool.submit(self._do, work, text)

    def _do(self, work: Work, text: str) -> None:
        if text is self._newest:
            with contextlib.suppress(Refusal):  # told when it is asked for
                work(text, self._file)
