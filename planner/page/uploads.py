"""`Uploads`: files sent by the page, in a passing folder until they are taken in."""

import secrets
import shutil
import tempfile
from collections.abc import AsyncIterator
from pathlib import Path

from planner.errors import InputError
from planner.page.arrivals import safe_name

LARGEST = 1 << 30  # bytes of one file: elevation data come large
AT_ONCE = 2 << 30  # bytes of all that were not taken in yet
SPARE = 200 << 20  # bytes that stay free on the disk
FILES = 200


class Uploads:
    """Takes files in pieces, each under a ticket that only who sent it knows.

    Nothing of them is read here: what is in a file is a worker's to find out.
    """

    def __init__(self) -> None:
        self._folder = Path(tempfile.mkdtemp(prefix="headfall-uploads-"))  # for this user alone
        self._files: dict[str, Path] = {}
        self._sizes: dict[str, int] = {}

    async def take(self, name: str, pieces: AsyncIterator[bytes]) -> str:
        """Write a file's pieces; its ticket.

        Raises
        ------
        InputError
            It is too large, the disk has no room for it, or too many are waiting.
        """
        if len(self._files) >= FILES:
            msg = f"more than {FILES} files are waiting; go on with those first"
            raise InputError(msg)
        ticket = secrets.token_urlsafe(16)
        path = self._folder / ticket / safe_name(name)
        path.parent.mkdir()
        self._files[ticket], self._sizes[ticket] = path, 0
        try:
            with path.open("xb") as file:
                async for piece in pieces:
                    self._sizes[ticket] += len(piece)
                    self._refuse_too_much(ticket, name)
                    file.write(piece)
        except OSError as error:
            self.drop(ticket)
            msg = f"{safe_name(name)} can't be taken in: {error.strerror or 'the disk refuses'}"
            raise InputError(msg) from error
        except BaseException:
            self.drop(ticket)
            raise
        return ticket

    def path(self, ticket: str) -> Path:
        """Where the file of a ticket lies.

        Raises
        ------
        InputError
            There is none.
        """
        if ticket not in self._files:
            msg = "the file that was sent is not here any more; send it again"
            raise InputError(msg)
        return self._files[ticket]

    def drop(self, ticket: str) -> None:
        """Take the file of a ticket away."""
        if self._files.pop(ticket, None) is not None:
            del self._sizes[ticket]
            shutil.rmtree(self._folder / ticket, ignore_errors=True)

    def close(self) -> None:
        """Take all away."""
        self._files.clear()
        self._sizes.clear()
        shutil.rmtree(self._folder, ignore_errors=True)

    def _refuse_too_much(self, ticket: str, name: str) -> None:
        if self._sizes[ticket] > LARGEST:
            msg = f"{safe_name(name)} has more than 1 GB; cut it to the area of the site"
            raise InputError(msg)
        room = shutil.disk_usage(self._folder).free > SPARE
        if not room or sum(self._sizes.values()) > AT_ONCE:
            msg = f"there is no room for {safe_name(name)} in {self._folder.parent}; free some"
            raise InputError(msg)
