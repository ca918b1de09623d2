"""Requests of the page: what they bring, taken in up to a limit; refusals told in their place."""

from collections.abc import Awaitable, Callable

from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from gudgeon.errors import BadDesign, Fault, Refusal
from gudgeon.web.calls import refused

Endpoint = Callable[[Request], Awaitable[Response]]


def refusing(answer: Endpoint) -> Endpoint:
    """An endpoint whose refusals are told to the page."""

    async def told(request: Request) -> Response:
        try:
            return await answer(request)
        except Refusal as refusal:
            ended = {"connection": "close"} if request.method == "POST" else {}  # no more of what it brings is taken in
            return JSONResponse({"refused": refused(refusal)}, status_code=422, headers=ended)

    return told


async def body_of(request: Request, most: int, way_out: str = "a design is a short text. Is it another file?") -> bytes:
    """What a request brings, given up as soon as it is more than `most` bytes; raises BadDesign then."""
    parts, size = [], 0
    async for part in request.stream():
        size += len(part)
        if size > most:
            words = f"it is larger than {most // 1000} kB; {way_out}"
            raise BadDesign("this file was not taken", [Fault("the file", words)])
        parts.append(part)
    return b"".join(parts)
