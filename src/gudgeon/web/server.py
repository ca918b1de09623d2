"""The local server: where it listens, who may ask, and how it runs."""

import os
import socket
import sys
import threading
import webbrowser
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

import uvicorn

from gudgeon.design.file import LARGEST
from gudgeon.errors import Fault, Refusal
from gudgeon.shop.database import FILE_NAME
from gudgeon.web.beside import settled
from gudgeon.web.endpoints import application
from gudgeon.web.guard import App, Guard
from gudgeon.web.lan import local_address, new_token, scan_code
from gudgeon.web.shelf import Shelf

PORT = 8640
_TRIED = 20  # ports from the usual one on that are tried where it is taken
_LARGEST_MESSAGE = LARGEST + 200_000  # bytes through a window's line
_TURN = 0.001  # s that one thread works on while another waits
_KEPT = "Stop it with Ctrl+C; every stroke is kept."


@dataclass(frozen=True, eq=False)
class Workbench:
    """A server ready to run.

    address : what a browser opens
    words   : what the maker is told in the terminal
    """

    address: str
    words: str
    shelf: Shelf
    app: App
    listening: socket.socket

    def run(self, *, browser: bool) -> None:
        """Serve until it is stopped.

        browser : whether to open the page
        """
        server = self.server()
        if browser:
            threading.Thread(target=webbrowser.open, args=(self.address,), daemon=True).start()
        settled()
        sys.setswitchinterval(_TURN)
        try:
            server.run(sockets=[self.listening])
        finally:
            self.shelf.close()
            self.listening.close()

    def server(self) -> uvicorn.Server:
        """What serves it."""
        return uvicorn.Server(uvicorn.Config(
            self.app, http="h11", ws="websockets-sansio", loop="asyncio", log_level="warning", access_log=False,
            server_header=False, proxy_headers=False, ws_max_size=_LARGEST_MESSAGE,
            ws_per_message_deflate=False, timeout_graceful_shutdown=2,
            lifespan="off",
        ))  # fmt: skip


def workbench(file: Path | None, *, port: int | None, network: bool, shop: Path | None = None) -> Workbench:
    """A workbench for a design, or for the folder gudgeon was started in.

    file    : the design to open; None for none of the folder's in particular
    port    : of its own; None for the usual one, or the next that is free
    network : open to the local network, for those who have the token
    shop    : folder of the shop's log; None for `shop` beside the design, or where gudgeon was started
    raises  : Refusal when the page was not built, the design cannot be opened, or the port is taken
    """
    shelf = Shelf(Path.cwd() if file is None else file.parent)
    app = application(shelf, shop or _shop_of(shelf.folder))
    if file is not None:
        shelf.desk(file.name)
    host, token = (local_address(), new_token()) if network else ("127.0.0.1", "")
    listening = _listening(host, port)
    place = f"{host}:{listening.getsockname()[1]}"
    hosts = [place] if network else [place, place.replace(host, "localhost")]
    asked = [f"file={quote(file.name, safe='')}"] if file is not None else []
    asked += [f"token={token}"] if token else []
    address = f"http://{place}/{'?' * bool(asked)}{'&'.join(asked)}"
    words = _network_words(address, place, token) if network else f"The workbench is at {address}\n{_KEPT}"
    return Workbench(address, words, shelf, Guard(app, hosts, token), listening)


def _shop_of(folder: Path) -> Path:
    """The shop's folder where none was named: the one with a log in it, beside the designs before where one stands."""
    beside, here = folder / "shop", Path.cwd() / "shop"
    return here if (here / FILE_NAME).is_file() and not (beside / FILE_NAME).is_file() else beside


def _network_words(address: str, place: str, token: str) -> str:
    return (f"The workbench is open to your local network, for those who have its token. Scan this, or type both:\n\n"
            f"{scan_code(address)}\naddress  http://{place}\ntoken    {token}\n\nWhat passes is not encrypted: use a "
            f"network you trust. {_KEPT}")  # fmt: skip


def _listening(host: str, port: int | None) -> socket.socket:
    """A socket that listens; raises Refusal when the port asked for is taken."""
    for tried in [port] if port is not None else [*range(PORT, PORT + _TRIED), 0]:
        found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if os.name == "posix":  # elsewhere this would share a port with a stranger
            found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            found.bind((host, tried))
            found.listen(128)
        except (OSError, OverflowError):
            found.close()
        else:
            return found
    raise Refusal("the workbench cannot be opened", [Fault("--port", f"{port} is taken or not allowed; name another")])
