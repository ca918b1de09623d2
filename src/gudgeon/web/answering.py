"""The answers that take long: what meets what in the wood, strength, papers. Worked out in a process of their own.

While that process is not there, being started or gone, the workbench itself works them out.
"""

import asyncio
import contextlib
from collections.abc import Collection

from gudgeon.report.rows import Shop
from gudgeon.web.behind import Behind
from gudgeon.web.telling import Drawing, answer_texts

_MODULE = "gudgeon.web.answer_process"


class Answering:
    """One process for all designs of a workbench. Used from one loop."""

    def __init__(self) -> None:
        self.is_ready = False  # whether answers are worked out without the workbench being held up
        self._behind: Behind[list[str]] | None = None
        self._asked: dict[str, asyncio.Future[dict[str, str] | None]] = {}
        self._number = 0

    def rouse(self) -> None:
        """Have the process there in a second or so; somebody draws."""
        self._behind = self._behind or Behind(_MODULE, lambda line: line.rstrip("\n").split("\t"), self._heard)

    async def answer(self, drawing: Drawing, shops: Collection[Shop]) -> dict[str, str]:
        """What the windows are told of a drawing, by the names of their shops."""
        found = await self._asked_behind(drawing, shops) if self.is_ready and self._behind is not None else None
        return await asyncio.to_thread(answer_texts, drawing, shops) if found is None else found

    def close(self) -> None:
        """End the process."""
        behind, self._behind, self.is_ready = self._behind, None, False
        if behind is not None:
            behind.end()
        for future in self._asked.values():
            if not future.done():
                with contextlib.suppress(RuntimeError):  # the loop is closed: nobody waits any more
                    future.get_loop().call_soon_threadsafe(_given_up, future)

    async def _asked_behind(self, drawing: Drawing, shops: Collection[Shop]) -> dict[str, str] | None:
        assert self._behind is not None
        self._number += 1
        job, future = str(self._number), asyncio.get_running_loop().create_future()
        self._asked[job] = future
        self._behind.ask({"job": self._number, "drawing": drawing.as_json(), "shops": [shop.value for shop in shops]})
        try:
            found: dict[str, str] | None = await future
        finally:
            del self._asked[job]
        return found

    def _heard(self, behind: Behind[list[str]], said: list[str] | None) -> None:
        """What the process says; None when it is gone."""
        if behind is not self._behind:
            return
        if said is None:
            self.close()
        elif said == ["ready"]:
            self.is_ready = True
        elif (future := self._asked.get(said[0])) is not None and not future.done():
            future.set_result(dict(zip(said[1::2], said[2::2], strict=True)))


def _given_up(future: asyncio.Future[dict[str, str] | None]) -> None:
    if not future.done():
        future.set_result(None)
