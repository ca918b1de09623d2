"""The shop's log for the page: asked, entered into, taken away. One folder, named when the workbench was started."""

import asyncio
import json
import shutil
import tempfile
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from typing import Any
from urllib.parse import quote

from starlette.background import BackgroundTask
from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response
from starlette.routing import Route

from gudgeon.answers.log_views import found_by_stamp
from gudgeon.answers.record_card import record_card
from gudgeon.errors import BadShop, Fault
from gudgeon.report.record_sheets import record_sheets
from gudgeon.report.rows import Shop
from gudgeon.shop.backups import back_up
from gudgeon.shop.database import FILE_NAME
from gudgeon.shop.log import Log
from gudgeon.web import log_entering, log_making, log_photos, log_runs, log_told
from gudgeon.web.calls import Json
from gudgeon.web.requests import body_of, refusing
from gudgeon.web.shelf import Shelf

_LARGEST = 60_000  # bytes of an entry


def log_routes(shelf: Shelf, folder: Path) -> list[Route]:
    """Everything the page asks of the shop's log.

    folder : of the shop, whether there is a log in it yet or not
    """
    asked = _AskedOfLog(shelf, folder.absolute())
    told = {"lures": asked.lures, "lure": asked.lure, "sums": asked.sums, "of": asked.pattern, "find": asked.find,
            "newest": asked.newest, "picture": asked.picture, "runs": asked.runs, "run": asked.run,
            "made": asked.made}  # fmt: skip
    entered = {"start": asked.start, "begin": asked.begin, "enter": asked.enter, "correct": asked.correct,
               "photo": asked.photo, "add": asked.add}  # fmt: skip
    taken = {"card": asked.card, "backup": asked.backup, "pattern": asked.design, "photo": asked.whole_photo}
    return [
        *(Route(f"/api/log/{name}", refusing(answer)) for name, answer in told.items()),
        *(Route(f"/api/log/{name}", refusing(answer), methods=["POST"]) for name, answer in entered.items()),
        *(Route(f"/api/log/take/{name}", refusing(answer)) for name, answer in taken.items()),
    ]


class _AskedOfLog:
    """The answers; each opens the log for itself and briefly, so that no other window and no terminal is shut out."""

    def __init__(self, shelf: Shelf, folder: Path) -> None:
        self._shelf = shelf
        self._folder = folder

    # --- told ---

    async def lures(self, request: Request) -> Response:
        """Lures, the highest number first; whether there is a log at all."""
        before, shop = _number(request, "before"), _shop(request)
        return await self._told(lambda log: log_told.lures_told(log, shop, before))

    async def lure(self, request: Request) -> Response:
        """One lure."""
        number, shop = _needed(request, "number"), _shop(request)
        return await self._told(lambda log: log_told.lure_told(log, number, shop))

    async def sums(self, request: Request) -> Response:
        """What is still missing in one lure, which takes longer."""
        number, shop = _needed(request, "number"), _shop(request)
        return await self._told(lambda log: log_told.sums_told(log, number, shop))

    async def pattern(self, request: Request) -> Response:
        """The pattern and the lures of a design of the folder, as it is drawn now."""
        file, text = await self._drawn(request.query_params.get("file", ""))
        return await self._told(lambda log: log_told.pattern_told(log, text, file))

    async def find(self, request: Request) -> Response:
        """Whose a stamp is."""
        stamp, shop = _stamp(request), _shop(request)
        return await self._told(lambda log: log_told.found_told(log, stamp, shop))

    async def runs(self, request: Request) -> Response:
        """The runs there are, and what more lures can be begun of."""
        del request
        return await self._told(log_runs.runs_told)

    async def run(self, request: Request) -> Response:
        """How far one run has come."""
        version, run, shop = _number(request, "version"), _number(request, "run"), _shop(request)
        asked = dict(request.query_params)
        return await self._told(lambda log: log_runs.run_told(log, asked, version, run, shop))

    async def made(self, request: Request) -> Response:
        """Boards and stock."""
        shop = _shop(request)
        return await self._told(lambda log: log_making.made_told(log, shop))

    async def newest(self, request: Request) -> Response:
        """The number of the last entry, to know whether another window or the terminal entered something."""
        del request
        return await self._told(lambda log: {"newest": log_told.newest_entry(log)})

    async def picture(self, request: Request) -> Response:
        """The picture of an entry, small."""
        content = await asyncio.to_thread(log_photos.photo_shown, self._folder, _needed(request, "entry"))
        return Response(content, media_type="image/jpeg")

    async def _told(self, ask: Callable[[Log], Json]) -> Response:
        """What is told of the log; that there is none yet, where there is none."""

        def look() -> Json:
            if not (self._folder / FILE_NAME).is_file():
                return {"there": False, "folder": self._folder.name}
            with Log.look(self._folder) as log:
                return {"there": True, "folder": self._folder.name, **ask(log)}

        return JSONResponse(await asyncio.to_thread(look))

    # --- entered ---

    async def start(self, request: Request) -> Response:
        """The log of the folder, begun."""
        await _object(request)
        return JSONResponse(await asyncio.to_thread(log_entering.begun, self._folder))

    async def begin(self, request: Request) -> Response:
        """Lures of a design of the folder, or of a version that the log has, begun."""
        asked = await _object(request)
        text = None if "pattern" in asked else (await self._drawn(str(asked.get("file", ""))))[1]
        return JSONResponse(await asyncio.to_thread(log_entering.lures_begun, self._folder, text, asked))

    async def enter(self, request: Request) -> Response:
        """One entry about a lure."""
        asked = await _object(request)
        return JSONResponse(await asyncio.to_thread(log_entering.entered, self._folder, asked, _shop(request)))

    async def correct(self, request: Request) -> Response:
        """An entry in the place of a wrong one."""
        asked = await _object(request)
        return JSONResponse(await asyncio.to_thread(log_entering.corrected, self._folder, asked, _shop(request)))

    async def add(self, request: Request) -> Response:
        """A board, or stock."""
        asked = await _object(request)
        return JSONResponse(await asyncio.to_thread(log_making.made_entered, self._folder, asked, _shop(request)))

    async def photo(self, request: Request) -> Response:
        """A picture of a lure, copied in and entered; what is told of it stands in the address."""
        from gudgeon.answers.picture import LARGEST_PICTURE

        lure, shop, asked = _needed(request, "lure"), _shop(request), dict(request.query_params)
        content = await body_of(request, LARGEST_PICTURE, "save the picture smaller")
        return JSONResponse(await asyncio.to_thread(log_photos.photo_entered, self._folder, content, lure, asked, shop))

    # --- taken away ---

    async def card(self, request: Request) -> Response:
        """The record card of a lure."""
        number, shop = _needed(request, "number"), _shop(request)
        is_letter = request.query_params.get("paper") == "Letter"

        def made() -> bytes:
            with Log.look(self._folder) as log:
                found = record_card(log, number)
            return record_sheets(found, shop=shop, paper="Letter" if is_letter else "A4", date=date.today())

        return _file(f"lure-{number}.pdf", "application/pdf", await asyncio.to_thread(made))

    async def design(self, request: Request) -> Response:
        """The text of the design that a stamp is of."""
        stamp = _stamp(request)

        def found() -> list[str]:
            with Log.look(self._folder) as log:
                return [one.design for one in found_by_stamp(log, stamp)]

        texts = await asyncio.to_thread(found)
        if len(texts) != 1:
            raise BadShop("no design can be told by this", [Fault(stamp, f"{len(texts)} designs have that stamp")])
        return _file(f"{stamp}.toml", "application/toml", texts[0].encode())

    async def whole_photo(self, request: Request) -> Response:
        """The picture of an entry, as it came."""
        name, media, content = await asyncio.to_thread(log_photos.photo_taken, self._folder, _needed(request, "entry"))
        return _file(name, media, content)

    async def backup(self, request: Request) -> Response:
        """The log and its pictures in one file."""
        del request
        room = Path(await asyncio.to_thread(tempfile.mkdtemp, prefix="gudgeon-"))
        packed = room / "shop.zip"

        def pack() -> None:
            try:
                with Log.look(self._folder) as log:
                    back_up(log, packed)
            except BaseException:
                shutil.rmtree(room, ignore_errors=True)
                raise

        await asyncio.to_thread(pack)
        return FileResponse(packed, media_type="application/zip", headers=_named(f"shop-{date.today()}.zip"),
                            background=BackgroundTask(shutil.rmtree, room, ignore_errors=True))  # fmt: skip

    async def _drawn(self, file: str) -> tuple[str, str]:
        """The name of a design of the folder, and its text as it lies on the desk; raises BadDesign."""
        desk = await asyncio.to_thread(self._shelf.desk, file)
        return desk.path.name, desk.state.text


def _shop(request: Request) -> Shop:
    return Shop.INCH if request.query_params.get("units") == "inch" else Shop.METRIC


def _number(request: Request, key: str) -> int | None:
    words = request.query_params.get(key, "")
    if not words:
        return None
    if not (words.isascii() and words.isdecimal() and len(words) < 16):
        raise BadShop("this cannot be shown", [Fault(key, f"'{words[:20]}' is no number of the log")])
    return int(words)


def _needed(request: Request, key: str) -> int:
    number = _number(request, key)
    if number is None:
        raise BadShop("this cannot be shown", [Fault(key, "its number is needed")])
    return number


def _stamp(request: Request) -> str:
    words = request.query_params.get("stamp", "").strip()
    if not (words.isascii() and words.isalnum() and len(words) <= 64):
        raise BadShop("nothing can be found by this", [Fault("the stamp", f"'{words[:20]}' is no stamp; it has eight "
                                                                          "figures and letters")])  # fmt: skip
    return words


async def _object(request: Request) -> Mapping[str, Any]:
    """What a request says; raises BadShop when it is no object."""
    try:
        found = json.loads(await body_of(request, _LARGEST))
    except (ValueError, RecursionError):
        found = None
    if not isinstance(found, dict):
        raise BadShop("nothing was entered", [Fault("the page", "what it sent could not be read")])
    return found


def _file(name: str, media: str, content: bytes) -> Response:
    return Response(content, media_type=media, headers=_named(name))


def _named(name: str) -> dict[str, str]:
    return {"content-disposition": f"attachment; filename*=UTF-8''{quote(name, safe='')}"}
