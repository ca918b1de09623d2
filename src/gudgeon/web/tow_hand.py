"""The workbench's hold on the process that tows: started, asked, listened to, ended."""

import asyncio
import contextlib
import json
import subprocess
import sys
import threading
from collections.abc import Callable

from gudgeon.web.calls import Json

_MODULE = "gudgeon.web.tow_process"


class TowHand:
    """One process that tows. Used from the loop it was made in."""

    def __init__(self, hear: Callable[["TowHand", Json | None], None]) -> None:
        """Start it.

        hear : told what it says, in the loop; None when it is gone
        """
        self._hear = hear
        self._loop = asyncio.get_running_loop()
        self._process = subprocess.Popen(
            [sys.executable, "-P", "-m", _MODULE], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
            encoding="ascii", creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
        )  # fmt: skip
        self._listener = threading.Thread(target=self._listen, daemon=True)
        self._listener.start()

    def ask(self, job: Json) -> None:
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
                self._post(json.loads(line))
        self._post(None)

    def _post(self, message: Json | None) -> None:
        with contextlib.suppress(RuntimeError):  # the loop is closed: nobody is left to hear it
            self._loop.call_soon_threadsafe(self._hear, self, message)
