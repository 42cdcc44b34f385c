"""The page's own routes: the picture of the ground, the papers written, files sent by the page."""

from functools import partial
from http import HTTPStatus
from pathlib import Path
from typing import Protocol

from nicegui import app as nicegui_app
from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect, Request
from starlette.responses import FileResponse, JSONResponse, PlainTextResponse, Response
from starlette.routing import Route

from planner.errors import InputError
from planner.page.guard import UPLOAD
from planner.page.headers import PAPER
from planner.page.uploads import LARGEST, Uploads
from planner.site.draft import Draft

LARGE = {UPLOAD: LARGEST}
SHOWN = {".html": PAPER, ".svg": PAPER}  # those that could hold scripts
INLINE = (".html", ".svg", ".pdf", ".json", ".csv", ".geojson", ".txt", ".toml")
PLAN = "plan"  # the folder of papers beside the site file


class _Open(Protocol):
    @property
    def draft(self) -> Draft: ...


class Shown(Protocol):
    """What is served: the picture of the ground as PNG, and the papers of the site that is open."""

    picture: bytes

    @property
    def session(self) -> _Open | None:
        """The site that is open."""


def routes(shown: Shown, uploads: Uploads) -> list[Route]:
    """The routes; who may ask is the guard's to say."""
    nicegui_app.state.uploads = uploads
    return [
        Route("/ground.png", partial(_ground, shown)),
        Route("/papers/{name}", partial(_paper, shown)),
        Route(UPLOAD, partial(_upload, uploads), methods=["POST"]),
    ]


def arrived(ticket: str) -> Path:
    """Where a file lies that the page sent; `left` when it is done with.

    Raises
    ------
    InputError
        No such file arrived.
    """
    uploads: Uploads = nicegui_app.state.uploads
    return uploads.path(ticket)


def left(ticket: str) -> None:
    """Take a file away that the page sent."""
    uploads: Uploads = nicegui_app.state.uploads
    uploads.drop(ticket)


async def _ground(shown: Shown, request: Request) -> Response:
    del request
    if not shown.picture:
        return _nothing("no ground is read yet")
    # The address changes with the picture.
    kept = {"cache-control": "private, max-age=86400, immutable"}
    return Response(shown.picture, media_type="image/png", headers=kept)


async def _paper(shown: Shown, request: Request) -> Response:
    session = shown.session
    if session is None:
        return _nothing("no site is open")
    found = await run_in_threadpool(_within, session.draft.folder / PLAN, request.path_params)
    if found is None:
        return _nothing("no such paper is written")
    ending = found.suffix.lower()
    headers = {"cache-control": "no-store"}
    if ending in SHOWN:
        headers["content-security-policy"] = SHOWN[ending]
    if ending == ".pdf":
        headers["content-security-policy"] = "frame-ancestors 'none'"  # the viewer brings its own
    way = "inline" if ending in INLINE else "attachment"
    return FileResponse(found, headers=headers, filename=found.name, content_disposition_type=way)


def _within(folder: Path, asked: dict[str, str]) -> Path | None:
    """The file of that name in the folder itself, no link out of it."""
    name = asked["name"]
    if name in ("", ".", "..") or any(mark in name for mark in "/\\:\0") or name.startswith("."):
        return None
    path = (folder / name).resolve()
    inside = path.parent == folder.resolve()
    return path if inside and path.is_file() else None


async def _upload(uploads: Uploads, request: Request) -> Response:
    name = request.query_params.get("name", "file")[:200]
    try:
        ticket = await uploads.take(name, request.stream())
    except InputError as error:
        return JSONResponse({"error": str(error)}, HTTPStatus.UNPROCESSABLE_ENTITY)
    except ClientDisconnect:
        return Response(status_code=HTTPStatus.BAD_REQUEST)
    return JSONResponse({"ticket": ticket, "name": name})


def _nothing(why: str) -> Response:
    return PlainTextResponse(f"{why}\n", HTTPStatus.NOT_FOUND)
