"""Files sent by the page: taken in pieces, under tickets, with limits."""

import os
import stat
from collections.abc import AsyncIterator, Iterator
from typing import TYPE_CHECKING
from unittest import mock

import pytest

from planner.errors import InputError
from planner.page import uploads as uploads_file
from planner.page.uploads import Uploads
from tests.loops import run

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def uploads() -> Iterator[Uploads]:
    made = Uploads()
    yield made
    made.close()


async def pieces(*parts: bytes) -> AsyncIterator[bytes]:
    for part in parts:
        yield part


def take(uploads: Uploads, name: str, *parts: bytes) -> str:
    return run(uploads.take(name, pieces(*parts)))


def test_a_file_is_there_until_it_is_dropped(uploads: Uploads) -> None:
    ticket = take(uploads, "walk.gpx", b"<g", b"px/>")
    path = uploads.path(ticket)
    assert (path.name, path.read_bytes()) == ("walk.gpx", b"<gpx/>")
    uploads.drop(ticket)
    assert not path.exists()
    with pytest.raises(InputError, match="send it again"):
        uploads.path(ticket)
    uploads.drop(ticket)


@pytest.mark.parametrize(
    "name",
    ["../../etc/passwd", "/etc/passwd", "..", ".", "", "a\0b", "C:\\x.tif", "é" * 300, "-rf"],
)
def test_no_name_leads_out_of_the_folder(uploads: Uploads, name: str) -> None:
    path = uploads.path(take(uploads, name, b"a"))
    folder = path.parent.parent
    assert folder.name.startswith("headfall-uploads-")
    assert path.resolve().is_relative_to(folder.resolve())
    assert not path.name.startswith(("-", "."))


@pytest.mark.skipif(os.name != "posix", reason="modes are POSIX's")
def test_only_this_user_can_look(uploads: Uploads) -> None:
    folder = uploads.path(take(uploads, "a", b"a")).parent.parent
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_two_files_of_one_name_are_apart(uploads: Uploads) -> None:
    first, second = take(uploads, "a.gpx", b"1"), take(uploads, "a.gpx", b"2")
    assert uploads.path(first).read_bytes() == b"1"
    assert uploads.path(second).read_bytes() == b"2"


def test_limits(uploads: Uploads) -> None:
    with mock.patch.multiple(uploads_file, LARGEST=10, AT_ONCE=15, FILES=2):
        kept = take(uploads, "a", b"12345", b"67890")
        with pytest.raises(InputError, match="more than 1 GB"):
            take(uploads, "b", b"12345", b"678901")
        with pytest.raises(InputError, match="no room"):
            take(uploads, "b", b"123456")
        take(uploads, "b", b"12345")
        with pytest.raises(InputError, match="are waiting"):
            take(uploads, "c", b"1")
    # What was refused is gone.
    folder = uploads.path(kept).parent.parent
    assert len(list(folder.iterdir())) == 2


def test_the_disk_keeps_some_room(uploads: Uploads) -> None:
    with (
        mock.patch.object(uploads_file, "SPARE", 1 << 60),
        pytest.raises(InputError, match="no room"),
    ):
        take(uploads, "a", b"1")


def test_a_sender_who_goes_away_leaves_nothing(uploads: Uploads) -> None:
    async def broken() -> AsyncIterator[bytes]:
        yield b"half"
        raise ConnectionError

    whole = uploads.path(take(uploads, "a", b"1")).parent
    with pytest.raises(InputError):
        run(uploads.take("b", broken()))
    assert list(whole.parent.iterdir()) == [whole]


def test_closing_takes_all_away() -> None:
    uploads = Uploads()
    folder: Path = uploads.path(take(uploads, "a", b"1")).parent.parent
    uploads.close()
    assert not folder.exists()
    uploads.close()
