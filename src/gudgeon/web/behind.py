"""A process of its own beside the workbench, for what takes longer: started, asked in lines, listened to, ended."""

import asyncio
import contextlib
import json
import subprocess
import sys
import threading
from collections.abc import Callable
from typing import Any, Generic, TypeVar

Said = TypeVar("Said")


class Behind(Generic[Said]):
    """One process. Used from the loop it was made in."""

    def __init__(self, module: str, read: Callable[[str], Said],
                 hear: Callable[["Behind[Said]", Said | None], None]) -> None:  # fmt: skip
        """Start it.

        module : what it runs
        read   : makes of a line what it says
        hear   : told what it says, in the loop; None when it is gone
        """
        self._read, self._hear = read, hear
        self._loop = asyncio.get_running_loop()
        self._process = subprocess.Popen(
            [sys.executable, "-P", "-m", module], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
            encoding="ascii", creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
        )  # fmt: skip
        self._listener = threading.Thread(target=self._listen, daemon=True)
        self._listener.start()

    def ask(self, job: dict[str, Any]) -> None:
        """Give it a job; nothing where it is gone, which it tells itself."""
        assert self._process.stdin is not None
        with contextlib.suppress(OSError, ValueError):
            self._process.stdin.write(f"{json.dumps(job)}\n")
            self._process.stdin.flush()

    def end(self) -> None:
        """End it at once, whatever it does."""
        self._process.kill()
        self._process.wait()
        self._listener.join(timeout=5.0)
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe is not None:
                with contextlib.suppress(OSError):
                    pipe.close()

    def _listen(self) -> None:
        assert self._process.stdout is not None
        with contextlib.suppress(ValueError):  # a line cut off where it was ended
            for line in self._process.stdout:
                self._post(self._read(line))
        self._post(None)

    def _post(self, said: Said | None) -> None:
        with contextlib.suppress(RuntimeError):  # the loop is closed: nobody is left to hear it
            self._loop.call_soon_threadsafe(self._hear, self, said)
