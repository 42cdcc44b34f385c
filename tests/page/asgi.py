"""Asks an ASGI app in memory, as a browser at its address would."""

import asyncio
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from starlette.types import ASGIApp, Message, Scope

from tests.loops import run

HOST = "127.0.0.1:8123"
ORIGIN = {"origin": f"http://{HOST}"}


@dataclass(frozen=True, slots=True)
class Answer:
    """What came back."""

    status: int
    headers: dict[str, str]
    body: bytes

    @property
    def text(self) -> str:
        """The body as text."""
        return self.body.decode()

    def json(self) -> Any:
        """The body as JSON."""
        return json.loads(self.body)


def ask(
    app: ASGIApp,
    path: str = "/",
    method: str = "GET",
    headers: dict[str, str] | None = None,
    body: bytes | Iterable[bytes] = b"",
) -> Answer:
    """One request; a body given in pieces does not tell its length."""
    given = {"host": HOST} | (headers or {})
    if isinstance(body, bytes):
        given = {"content-length": str(len(body))} | given
    pieces = iter([body] if isinstance(body, bytes) else body)
    sent = run(_asked(app, {**_scope("http", path, given), "method": method}, pieces))
    start = next(one for one in sent if one["type"] == "http.response.start")
    assert sent.count(start) == 1
    told = {name.decode(): value.decode() for name, value in start["headers"]}
    return Answer(start["status"], told, b"".join(one.get("body", b"") for one in sent))


def connect(app: ASGIApp, path: str, headers: dict[str, str] | None = None) -> list[Message]:
    """What an app sends to a socket that is opened."""
    scope = _scope("websocket", path, {"host": HOST} | (headers or {}))
    sent: list[Message] = []

    async def receive() -> Message:
        return {"type": "websocket.connect"}

    async def send(message: Message) -> None:
        sent.append(message)

    run(_run(app, scope, receive, send))
    return sent


def _scope(kind: str, path: str, headers: dict[str, str]) -> Scope:
    plain, _, query = path.partition("?")
    return {
        "type": kind,
        "path": plain,
        "raw_path": plain.encode(),
        "query_string": query.encode(),
        "root_path": "",
        "scheme": "http",
        "http_version": "1.1",
        "headers": [(name.encode(), value.encode()) for name, value in headers.items()],
        "client": ("127.0.0.1", 50_000),
        "server": ("127.0.0.1", 8123),
    }


async def _asked(app: ASGIApp, scope: Scope, pieces: Iterator[bytes]) -> list[Message]:
    sent: list[Message] = []
    whole = False  # the body was received to its end

    async def receive() -> Message:
        nonlocal whole
        if whole:  # a browser says no more, and waits for the answer
            await asyncio.Event().wait()
        piece = next(pieces, None)
        whole = piece is None
        return {"type": "http.request", "body": piece or b"", "more_body": not whole}

    async def send(message: Message) -> None:
        sent.append(message)

    await _run(app, scope, receive, send)
    return sent


async def _run(app: ASGIApp, scope: Scope, receive: Any, send: Any) -> None:
    await asyncio.wait_for(app(scope, receive, send), 10)
