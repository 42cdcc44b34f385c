"""`serve`: the page on this machine, from the first socket to the last tab."""

import asyncio
import os
import signal
import sys
import webbrowser
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from http import HTTPStatus
from pathlib import Path
from socket import socket
from types import FrameType

import uvicorn
from fastapi import FastAPI
from nicegui import app as nicegui_app
from nicegui import ui
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response

from planner.errors import HeadfallError, SiteError
from planner.page.files import LARGE, routes
from planner.page.gate import Gate
from planner.page.guard import SMALL, Guard
from planner.page.hub import Hub
from planner.page.listen import bound, is_loopback
from planner.page.screen.build import build
from planner.page.session import Session
from planner.page.telling import tell_plainly
from planner.page.uploads import Uploads
from planner.site.edits.open import open_draft
from planner.site.edits.start import draft_for_elevation
from planner.units.parse import quoted

# A drop; drawn here, so that nothing is fetched.
ICON = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32">'
    '<path fill="#1f4e8c" d="M16 3C16 3 6 15 6 21a10 10 0 0 0 20 0C26 15 16 3 16 3z"/></svg>'
)
RECONNECT = 10.0  # s that a tab may be away and find all as it was
HISTORY = 200  # messages kept for such a tab
ENDING = 2  # s that answers under way are waited for


def serve(path: Path | None, *, port: int | None, browser: bool, host: str = "127.0.0.1") -> None:
    """Serve the page until the process is told to end.

    Parameters
    ----------
    path : Path or None
        A site file, an elevation file, or None: the page begins with its start screen, and new
        sites are put into the current folder.
    port : int or None
        None: one that is free.
    browser : bool
        Whether to open the page in the user's browser.
    host : str
        The address listened at; another than the default can be reached from the network.

    Raises
    ------
    HeadfallError
        The site can't be opened, is open elsewhere, or the port is taken.
    """
    tell_plainly()
    with bound(host, port) as listener:
        session = None if path is None else _session(path)
        folder = Path.cwd() if session is None else session.draft.folder
        hub = Hub(session, folder)
        uploads = Uploads()
        try:
            _run(hub, uploads, listener, browser=browser)
        finally:
            uploads.close()
            if hub.session is not None:
                hub.session.close()


def _session(path: Path) -> Session:
    """The session of a site file, or of a new site round an elevation file."""
    if path.is_dir():
        msg = f"{quoted(path)} is a folder; give a site file or an elevation file in it"
        raise SiteError(msg)
    if path.suffix.lower() == ".toml":
        return Session(open_draft(path))
    return Session(draft_for_elevation(path), new=True)


def _run(hub: Hub, uploads: Uploads, listener: socket, *, browser: bool) -> None:
    host, port = listener.getsockname()[:2]
    gate = Gate(port, loopback=is_loopback(host))
    shown = f"[{host}]" if ":" in host else host
    address = f"http://{shown}:{port}/?token={gate.token}"
    failures: list[HeadfallError] = []

    @asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        _end_with_terminal(server)
        try:
            await hub.start()
        except HeadfallError as error:
            failures.append(error)
            raise
        _tell(address, open_it=browser, local=gate.loopback)
        try:
            yield
        finally:
            await hub.stop()

    app = FastAPI(lifespan=lifespan, docs_url=None, redoc_url=None, openapi_url=None)
    app.router.routes.extend(routes(hub, uploads))
    _mount(app, hub)
    server = _Server(_config(Guard(app, gate, LARGE)))
    try:
        server.run(sockets=[listener])
    except SystemExit:
        if failures:
            raise failures[0] from None
        raise


class _Server(uvicorn.Server):
    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """End, at once when asked twice; theirs would raise the signal again after the end."""
        del frame
        self.force_exit = self.should_exit and sig == signal.SIGINT
        self.should_exit = True


def _mount(app: FastAPI, hub: Hub) -> None:
    """The page, in the library's app under ours."""

    @ui.page("/", title="headfall")
    def _page() -> None:
        build(hub)

    for status, words in (
        (HTTPStatus.NOT_FOUND, "There is nothing here; the page is at /."),
        (HTTPStatus.INTERNAL_SERVER_ERROR, "A fault of the page itself; load it again."),
    ):
        nicegui_app.add_exception_handler(status, _says(words, status))
    ui.run_with(
        app,
        title="headfall",
        favicon=ICON,
        dark=None,
        language="en-US",
        reconnect_timeout=RECONNECT,
        message_history_length=HISTORY,
        gzip_middleware_factory=None,  # from this machine to itself
        tailwind=False,
        show_welcome_message=False,
    )


def _says(words: str, status: int) -> Callable[[Request, Exception], Response]:
    def answer(request: Request, error: Exception) -> Response:
        del request, error
        return PlainTextResponse(f"{words}\n", status)

    return answer


def _config(app: Guard) -> uvicorn.Config:
    return uvicorn.Config(
        app,
        loop="asyncio",
        ws="websockets-sansio",
        ws_max_size=SMALL,
        ws_per_message_deflate=False,
        lifespan="on",
        log_config=None,
        access_log=False,
        server_header=False,
        proxy_headers=False,
        timeout_graceful_shutdown=ENDING,
    )


def _end_with_terminal(server: uvicorn.Server) -> None:
    """End as if told to when the terminal is closed."""

    def end() -> None:
        server.should_exit = True

    if hasattr(signal, "SIGHUP"):
        asyncio.get_running_loop().add_signal_handler(signal.SIGHUP, end)


def _tell(address: str, *, open_it: bool, local: bool) -> None:
    """Print the address; open it where there is a screen."""
    print(f"The page: {address}", flush=True)  # noqa: T201 - what the command answers
    if not local:
        caution = (
            "headfall: whoever in that network learns the address can change the site, and the "
            "way there is not encrypted"
        )
        print(caution, file=sys.stderr, flush=True)  # noqa: T201
    if sys.stderr.isatty():
        print("It ends with Ctrl+C; every change is saved.", file=sys.stderr)  # noqa: T201
    if open_it and _screen():
        asyncio.get_running_loop().run_in_executor(None, webbrowser.open, address)


def _screen() -> bool:
    """Whether a browser has somewhere to show itself, other than in this terminal."""
    if sys.platform in ("win32", "darwin"):
        return True
    return any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER"))
