"""Who may ask: the page itself, from this machine, or over the local network with the token; how answers are fenced."""

import hmac
import ipaddress
from collections.abc import Awaitable, Callable, Iterable, MutableMapping
from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import parse_qs, quote

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

COOKIE = "gudgeon"
_ASK = (b"<!doctype html><html lang=en><meta charset=utf-8><meta name=viewport content='width=device-width'>"
        b"<title>Gudgeon</title><h1>Gudgeon</h1><p>This workbench is open to those who have its token. It stands in "
        b"the terminal that gudgeon was started from.<form><label>Token <input name=token autocomplete=off required>"
        b"</label> <button>Open</button></form>")  # fmt: skip


class Guard:
    """Lets through what may pass to the workbench behind it."""

    def __init__(self, app: App, hosts: Iterable[str], token: str = "") -> None:
        """Guard an app.

        hosts : what the Host of a request may be, "127.0.0.1:8640"
        token : without which nothing is answered; "" where none is asked for
        """
        self._app = app
        self._hosts = frozenset(hosts)
        self._token = token

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request or refuse it."""
        if scope["type"] not in ("http", "websocket"):
            await self._app(scope, receive, send)
            return
        headers = _headers(scope)
        host = headers.get("host", "")
        fenced = _fenced(send, host)
        if host not in self._hosts or not _is_near(scope):
            await _refuse(scope, fenced, 421, "This workbench is not served under that name.")
        elif not self._is_own(scope, headers):
            await _refuse(scope, fenced, 403, "Only the workbench's own page may ask for this.")
        elif self._token and not self._has_cookie(headers):
            await self._ask_token(scope, fenced)
        else:
            await self._app(scope, receive, fenced)

    def _is_own(self, scope: Scope, headers: dict[str, str]) -> bool:
        """Whether a request comes from the page: what changes or holds a line open must say so."""
        origin, site = headers.get("origin"), headers.get("sec-fetch-site", "same-origin")
        if origin is not None:
            return origin == f"http://{headers['host']}"
        if scope["type"] == "websocket" or scope["method"] not in ("GET", "HEAD"):
            return False
        return site in ("same-origin", "none") or not str(scope["path"]).startswith("/api/")

    def _has_cookie(self, headers: dict[str, str]) -> bool:
        jar: SimpleCookie = SimpleCookie()
        try:
            jar.load(headers.get("cookie", ""))
        except CookieError:
            return False
        given = jar[COOKIE].value if COOKIE in jar else ""
        return hmac.compare_digest(given.encode(), self._token.encode())

    async def _ask_token(self, scope: Scope, send: Send) -> None:
        """Take the token out of the address into a cookie, or ask for it."""
        asked = parse_qs(scope["query_string"].decode("latin-1"))
        given = asked.get("token", [""])[0].strip().lower()
        is_page = scope["type"] == "http" and scope["path"] == "/"
        if is_page and hmac.compare_digest(given.encode(), self._token.encode()):
            file = asked.get("file", [""])[0]
            cookie = f"{COOKIE}={self._token}; HttpOnly; SameSite=Strict; Path=/"
            where = f"/?file={quote(file, safe='')}" if file else "/"
            await _respond(send, 303, b"", [(b"location", where.encode("ascii")), (b"set-cookie", cookie.encode())])
        elif is_page:
            await _respond(send, 403, _ASK, [(b"content-type", b"text/html; charset=utf-8")])
        else:
            await _refuse(scope, send, 403, "The token of this workbench is missing.")


def _headers(scope: Scope) -> dict[str, str]:
    return {name.decode("latin-1").lower(): value.decode("latin-1") for name, value in scope["headers"]}


def _is_near(scope: Scope) -> bool:
    """Whether the asker is this machine or one of the local network."""
    client = scope.get("client")
    if not client:
        return True
    try:
        return ipaddress.ip_address(client[0]).is_private
    except ValueError:
        return False


def _fenced(send: Send, host: str) -> Send:
    """Send with the headers that keep the page to itself."""
    policy = (f"default-src 'self'; connect-src 'self' ws://{host}; object-src 'none'; base-uri 'none'; "
              "frame-ancestors 'none'; form-action 'self'")  # fmt: skip
    fence = [
        (b"content-security-policy", policy.encode("latin-1", "replace")), (b"x-content-type-options", b"nosniff"),
        (b"x-frame-options", b"DENY"), (b"referrer-policy", b"no-referrer"), (b"cache-control", b"no-store"),
        (b"cross-origin-opener-policy", b"same-origin"), (b"cross-origin-resource-policy", b"same-origin"),
        (b"permissions-policy", b"camera=(), geolocation=(), microphone=()"),
    ]  # fmt: skip

    async def fenced(message: Message) -> None:
        if message["type"] in ("http.response.start", "websocket.http.response.start"):
            own = {name for name, _ in fence}
            kept = [(name, value) for name, value in message.get("headers", []) if name.lower() not in own]
            message = {**message, "headers": [*kept, *fence]}
        await send(message)

    return fenced


async def _refuse(scope: Scope, send: Send, status: int, words: str) -> None:
    if scope["type"] == "websocket":
        await send({"type": "websocket.close", "code": 1008, "reason": words})
    else:
        await _respond(send, status, words.encode(), [(b"content-type", b"text/plain; charset=utf-8")])


async def _respond(send: Send, status: int, body: bytes, headers: list[tuple[bytes, bytes]]) -> None:
    size = [(b"content-length", str(len(body)).encode())]
    await send({"type": "http.response.start", "status": status, "headers": [*headers, *size]})
    await send({"type": "http.response.body", "body": body})
