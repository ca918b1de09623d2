"""What the page asks for: itself, the folder's designs, new ones, files to take away, and its line to a design."""

import asyncio
import contextlib
import json
import re
from importlib.resources import files
from pathlib import Path
from typing import Any
from urllib.parse import quote

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response
from starlette.routing import Mount, Route, WebSocketRoute
from starlette.staticfiles import StaticFiles
from starlette.websockets import WebSocket, WebSocketDisconnect

from gudgeon.design.file import LARGEST
from gudgeon.errors import BadDesign, Fault, Refusal
from gudgeon.web.answering import Answering
from gudgeon.web.calls import refused, vocabulary
from gudgeon.web.log_routes import log_routes
from gudgeon.web.requests import body_of, refusing
from gudgeon.web.room import Room, Window
from gudgeon.web.shelf import Shelf, form_outlines
from gudgeon.web.solid_told import solid_told
from gudgeon.web.telling import Drawing
from gudgeon.web.traced import trace_routes

_SHORT = 10_000  # bytes of a request that brings no file


def built_page() -> Path:
    """The folder the page was built into.

    raises : Refusal when it was not
    """
    folder = Path(str(files("gudgeon.web") / "static"))
    if not (folder / "index.html").is_file():
        words = "it is built when gudgeon is installed: pip install . (or pip install -e .) in gudgeon's folder"
        raise Refusal("the page is not there", [Fault("the page", words)])
    return folder


def application(shelf: Shelf, shop: Path) -> Starlette:
    """Everything the page asks for, behind no guard yet.

    shop   : folder of the shop's log, whether there is one yet or not
    raises : Refusal when the page was not built
    """
    folder, asked = built_page(), _Asked(shelf)

    async def page(request: Request) -> Response:
        del request
        return FileResponse(folder / "index.html")

    return Starlette(routes=[
        Route("/", page),
        Route("/api/shelf", refusing(asked.shelf)),
        Route("/api/begin", refusing(asked.begin), methods=["POST"]),
        Route("/api/bring", refusing(asked.bring), methods=["POST"]),
        Route("/api/take/{what}", refusing(asked.take)),
        Route("/api/motion", refusing(asked.motion)),
        Route("/api/solid", refusing(asked.solid)),
        *log_routes(shelf, shop),
        *trace_routes(shelf),
        WebSocketRoute("/line", asked.line),
        Mount("/static", StaticFiles(directory=folder)),
    ])  # fmt: skip


class _Asked:
    """The answers that need the shop's folder."""

    def __init__(self, shelf: Shelf) -> None:
        self._shelf = shelf
        self._answers = Answering()
        shelf.closing.callback(self._answers.close)
        self._rooms: dict[str, Room] = {}
        self._forms: list[Any] = []

    async def shelf(self, request: Request) -> Response:
        """What lies in the folder, the forms to start from, and every key of a design."""
        del request
        self._forms = self._forms or await asyncio.to_thread(form_outlines)
        return JSONResponse({"folder": self._shelf.folder.name, "designs": self._shelf.names(), **vocabulary(),
                             "forms": self._forms})  # fmt: skip

    async def begin(self, request: Request) -> Response:
        """A new design of a body form."""
        asked = _object(await body_of(request, _SHORT))
        name = await asyncio.to_thread(self._shelf.begin_form, *(asked[key] for key in
                                                                 ("file", "form", "length", "units")))  # fmt: skip
        return JSONResponse({"file": name})

    async def bring(self, request: Request) -> Response:
        """A design file from elsewhere, put into the folder."""
        content, file = await body_of(request, LARGEST), request.query_params.get("file", "")
        if not file.endswith(".toml"):
            words = "a design's name ends in .toml"
            raise BadDesign("this file was not taken", [Fault(file[:80] or "the file", words)])
        try:
            text = content.decode("utf-8")
        except UnicodeDecodeError:
            raise BadDesign("this file was not taken", [Fault("the file", "it is not plain text in UTF-8")]) from None
        return JSONResponse({"file": self._shelf.begin(file, text)})

    async def take(self, request: Request) -> Response:
        """Papers, a shape or the design, to be saved by the browser."""
        from gudgeon.web.taking import taken  # loads what papers are set with, when some are taken

        asked = dict(request.query_params)
        file = asked.get("file", "")
        desk = await asyncio.to_thread(self._shelf.desk, file)
        made = await asyncio.to_thread(taken, request.path_params["what"], desk.state, file, asked)
        name = f"attachment; filename*=UTF-8''{quote(made.name, safe='')}"
        return Response(made.content, media_type=made.media, headers={"content-disposition": name})

    async def motion(self, request: Request) -> Response:
        """The lure's motion in a drawing's tow at one of its speeds."""
        asked = request.query_params
        speed = asked.get("speed", "")
        room = await self._room(asked.get("file", ""))
        told = room.tows.motion(asked.get("stamp", ""), int(speed) if re.fullmatch(r"\d{1,3}", speed) else -1)
        return Response(told, media_type="application/json")

    async def solid(self, request: Request) -> Response:
        """What lies on a desk in three dimensions, with all that is cut and put in."""
        desk = await asyncio.to_thread(self._shelf.desk, request.query_params.get("file", ""))
        drawing = Drawing.on(desk.state, desk.path.name)
        content = await asyncio.to_thread(solid_told, drawing, whole=True)
        return Response(content, media_type="application/octet-stream")

    async def line(self, socket: WebSocket) -> None:
        """A window's line to a design."""
        await socket.accept()
        try:
            room = await self._room(socket.query_params.get("file", ""))
        except Refusal as refusal:
            with contextlib.suppress(WebSocketDisconnect, RuntimeError):
                await socket.send_text(json.dumps({"kind": "closed", **refused(refusal)}))
                await socket.close(4404)
            return
        window = Window(socket)
        room.enter(window)
        others = [asyncio.create_task(window.sending()), asyncio.create_task(room.watching())]
        try:
            while (text := await _next(socket)) is not None:
                await room.heard(window, text)
        finally:
            room.leave(window)
            for task in others:
                task.cancel()
            await asyncio.gather(*others, return_exceptions=True)

    async def _room(self, name: str) -> Room:
        desk = await asyncio.to_thread(self._shelf.desk, name)
        if name not in self._rooms:
            self._rooms[name] = Room(desk, self._answers)
            self._shelf.closing.callback(self._rooms[name].tows.close)
        return self._rooms[name]


async def _next(socket: WebSocket) -> str | None:
    """The next text of a window; None when it is closed, found closed, or sends bytes instead."""
    try:
        return await socket.receive_text()
    except (WebSocketDisconnect, RuntimeError, KeyError):
        return None


def _object(body: bytes) -> dict[str, str]:
    """What a request says, words by name; raises BadDesign when it says something else."""
    try:
        found = json.loads(body)
    except (ValueError, RecursionError):
        found = None
    words = {key: found.get(key, "") for key in ("file", "form", "length", "units")} if isinstance(found, dict) else {}
    if not words or not all(isinstance(value, str) and len(value) <= 200 for value in words.values()):
        raise BadDesign("nothing was begun", [Fault("the page", "file, form, length and units are words")])
    return words
