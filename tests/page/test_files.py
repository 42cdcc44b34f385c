"""The page's own routes: the ground, the papers, files sent."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from nicegui import app as nicegui_app
from starlette.applications import Starlette

from planner.errors import InputError
from planner.page.files import arrived, left, routes
from planner.page.uploads import Uploads
from planner.site.draft import Draft
from tests.page.asgi import ask


@dataclass
class Open:
    draft: Draft


@dataclass
class Shown:
    picture: bytes = b""
    session: Open | None = None


@pytest.fixture
def shown(tmp_path: Path) -> Shown:
    (tmp_path / "site" / "plan").mkdir(parents=True)
    return Shown(b"\x89PNG", Open(Draft(tmp_path / "site", "a.toml", "")))


@pytest.fixture
def app(shown: Shown) -> Starlette:
    return Starlette(routes=routes(shown, Uploads()))


def write(shown: Shown, name: str, content: bytes = b"paper") -> Path:
    assert shown.session is not None
    path = shown.session.draft.folder / "plan" / name
    path.write_bytes(content)
    return path


def test_the_ground(shown: Shown, app: Starlette) -> None:
    answer = ask(app, "/ground.png?1")
    assert (answer.status, answer.headers["content-type"], answer.body) == (
        200,
        "image/png",
        b"\x89PNG",
    )
    shown.picture = b""
    assert ask(app, "/ground.png").status == 404


@pytest.mark.parametrize(
    ("name", "way"),
    [("map.html", "inline"), ("profiles.pdf", "inline"), ("plan.gpkg", "attachment")],
)
def test_a_paper(shown: Shown, app: Starlette, name: str, way: str) -> None:
    write(shown, name)
    answer = ask(app, f"/papers/{name}")
    assert (answer.status, answer.body) == (200, b"paper")
    assert answer.headers["content-disposition"].startswith(f"{way};")
    assert answer.headers["cache-control"] == "no-store"


@pytest.mark.parametrize("name", ["map.html", "profile-delivery.svg", "FIELD.HTML"])
def test_a_paper_with_scripts_is_shown_as_from_nowhere(
    shown: Shown, app: Starlette, name: str
) -> None:
    write(shown, name)
    policy = ask(app, f"/papers/{name}").headers["content-security-policy"]
    assert policy.startswith("sandbox ")
    assert "allow-same-origin" not in policy
    assert "default-src 'none'" in policy


@pytest.mark.parametrize(
    "name",
    [
        "..",
        ".",
        "../a.toml",
        "..%2fa.toml",
        "..\\a.toml",
        "%2e%2e",
        "/etc/passwd",
        ".hidden",
        "sub",
        "link",
        "no-such.pdf",
        "a\0b",
        "C:x",
    ],
)
def test_nothing_but_the_papers_themselves(shown: Shown, app: Starlette, name: str) -> None:
    assert shown.session is not None
    folder = shown.session.draft.folder
    (folder / "a.toml").write_text("secret")
    (folder / "plan" / "sub").mkdir()
    write(shown, ".hidden")
    (folder / "plan" / "link").symlink_to(folder / "a.toml")
    assert ask(app, f"/papers/{name}").status == 404


def test_no_site_no_papers(shown: Shown, app: Starlette) -> None:
    shown.session = None
    assert ask(app, "/papers/map.html").status == 404


def test_a_file_sent_is_found_by_its_ticket(app: Starlette) -> None:
    told = ask(app, "/upload?name=walk%20one.gpx", "POST", {}, [b"<gpx", b"/>"]).json()
    assert told["name"] == "walk one.gpx"
    path = arrived(told["ticket"])
    assert (path.name, path.read_bytes()) == ("walk-one.gpx", b"<gpx/>")
    left(told["ticket"])
    with pytest.raises(InputError):
        arrived(told["ticket"])


def test_a_file_refused_is_told_as_one_sentence(
    app: Starlette, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("planner.page.uploads.LARGEST", 3)
    answer = ask(app, "/upload?name=a.tif", "POST", {}, b"1234")
    assert answer.status == 422
    assert answer.json() == {"error": "a.tif has more than 1 GB; cut it to the area of the site"}


@pytest.fixture(autouse=True)
def _cleared() -> Iterator[None]:
    yield
    nicegui_app.state.uploads.close()
