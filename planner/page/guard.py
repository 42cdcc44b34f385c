"""`Guard`: stands before the whole page, http and websocket, and lets in what `Gate` lets in."""

from contextlib import suppress
from http import HTTPStatus
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import ClientDisconnect
from starlette.responses import JSONResponse, PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from planner.page.gate import METHODS, NO_KEY, Asked, Gate
from planner.page.headers import ALWAYS, OTHER, with_nonce

SMALL = 1 << 20  # bytes of a request
UPLOAD = "/upload"
TOO_LARGE = "This is more than headfall takes in one piece."


class Guard:
    """ASGI middleware round everything.

    Parameters
    ----------
    app : ASGI application
    gate : Gate
    large : dict of str to int
        Paths that take more than 1 MB, and how many bytes they take.
    """

    def __init__(self, app: ASGIApp, gate: Gate, large: dict[str, int] | None = None) -> None:
        self.app = app  # under this name the server is found through it
        self._gate = gate
        self._large = large or {}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, refuse or pass on."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        asked = Asked(scope["type"], scope.get("method", "GET"), headers)
        if asked.kind == "websocket":
            if self._gate.refused(asked):
                await send({"type": "websocket.close", "code": 4403})
                return
            await self.app(scope, receive, send)
            return
        sealed = _Sealed(send, headers.get("host", ""))
        answer = self._answer(scope, asked)
        if answer is not None:
            await answer(scope, receive, sealed)
            return
        limit = self._large.get(scope["path"], SMALL)
        with suppress(ClientDisconnect):  # or cut off here: nobody waits for an answer
            await self.app(scope, _Counted(receive, sealed, scope, limit), sealed)

    def _answer(self, scope: Scope, asked: Asked) -> Response | None:
        """What is answered here, None where the request is passed on."""
        why = self._gate.refused_anyone(asked)
        if why is not None:
            return _plain(why, HTTPStatus.FORBIDDEN)
        if asked.method not in METHODS:
            return _plain("headfall answers GET and POST.", HTTPStatus.METHOD_NOT_ALLOWED)
        tokens = parse_qs(scope["query_string"].decode("latin-1")).get("token", [])
        if scope["path"] == "/" and tokens:
            return self._entered(tokens[0])
        why = self._gate.refused(asked)
        if why is not None:
            return _plain(why, HTTPStatus.FORBIDDEN)
        length = asked.headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > self._large.get(scope["path"], SMALL):
            return _too_large(scope)
        return None

    def _entered(self, token: str) -> Response:
        """The cookie for the token, and the page without it in its address."""
        if not self._gate.fits(token):
            return _plain(NO_KEY, HTTPStatus.FORBIDDEN)
        answer = RedirectResponse("/", HTTPStatus.SEE_OTHER)
        answer.set_cookie(
            self._gate.cookie_name, self._gate.cookie, path="/", httponly=True, samesite="strict"
        )
        return answer


def _plain(text: str, status: HTTPStatus) -> Response:
    return PlainTextResponse(text + "\n", status, {"cache-control": "no-store"})


def _too_large(scope: Scope) -> Response:
    """For a script that sends files as it reads their answers, else as text."""
    status = HTTPStatus.REQUEST_ENTITY_TOO_LARGE
    if scope["path"] == UPLOAD:
        return JSONResponse({"error": TOO_LARGE}, status)
    return _plain(TOO_LARGE, status)


class _Counted:
    """Receives a request's body up to a limit; past it the request is answered, then gone."""

    def __init__(self, receive: Receive, send: "_Sealed", scope: Scope, limit: int) -> None:
        self._receive, self._send, self._scope, self._left = receive, send, scope, limit

    async def __call__(self) -> Message:
        message = await self._receive()
        self._left -= len(message.get("body", b""))
        if self._left >= 0:
            return message
        if not self._send.begun:
            await _too_large(self._scope)(self._scope, self._receive, self._send)
        self._send.shut = True
        return {"type": "http.disconnect"}


class _Sealed:
    """Sends an answer with the headers all have; of a page, with its scripts marked."""

    def __init__(self, send: Send, host: str) -> None:
        self.begun = False
        self.shut = False  # nothing more is sent
        self._send, self._host = send, host
        self._page: Message | None = None  # the start of a page, held until all of it is there
        self._parts: list[bytes] = []

    async def __call__(self, message: Message) -> None:
        if self.shut:
            return
        if message["type"] == "http.response.start":
            await self._start(message)
        elif message["type"] == "http.response.body" and self._page is not None:
            self._parts.append(message.get("body", b""))
            if not message.get("more_body", False):
                await self._send_page(self._page)
        else:
            await self._send(message)

    async def _start(self, message: Message) -> None:
        self.begun = True
        headers = MutableHeaders(scope=message)
        for name in [key for key in headers if key.startswith("access-control-")]:
            del headers[name]
        headers.update(ALWAYS)
        if headers.get("x-nicegui-content") == "page":
            self._page = message
            return
        headers.setdefault("content-security-policy", OTHER)
        await self._send(message)

    async def _send_page(self, start: Message) -> None:
        html, policy = with_nonce(b"".join(self._parts), self._host)
        headers = MutableHeaders(scope=start)
        headers["content-security-policy"] = policy
        headers["content-length"] = str(len(html))
        self._page = None
        await self._send(start)
        await self._send({"type": "http.response.body", "body": html})
