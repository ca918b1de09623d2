"""A process's own end of the lines it is asked in; see `behind`."""

import gc
import os
import signal
import sys
import threading
from collections.abc import Callable


def only_said() -> Callable[[str], None]:
    """Says a line to the workbench; from here on whatever else is printed does not get between the lines."""
    out = os.fdopen(os.dup(sys.stdout.fileno()), "w", encoding="ascii")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())

    def say(line: str) -> None:
        try:
            out.write(f"{line}\n")
            out.flush()
        except OSError:
            os._exit(0)  # the workbench is gone

    return say


def stay(hear: Callable[[str], None], work: Callable[[], None], *, behind: int) -> None:
    """Hear and work until nobody can ask any more.

    hear   : takes a line in, at once
    work   : does the next of what was asked, when there is something
    behind : steps by which everything else goes first
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the workbench ends it
    if hasattr(os, "nice"):
        os.nice(behind)

    def listen() -> None:
        for line in sys.stdin:
            hear(line)
        os._exit(0)  # the workbench is gone; what is under way is of no use to anybody

    threading.Thread(target=listen, daemon=True).start()
    while True:
        work()


def settled() -> None:
    """What is there now stays: it is no longer looked through for what could be let go, and what comes less often."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 20, 50)
