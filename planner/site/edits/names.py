"""Names that are free: of points in a sketch, of files in a folder."""

import re
from collections.abc import Collection, Iterator
from pathlib import Path

from planner.errors import SiteError
from planner.site.words import LONGEST_NAME, clean_text

MOST_TRIES = 10_000


def free_name(wanted: str, taken: Collection[str]) -> str:
    """A name that no other has, whatever its case: with a number where it is needed.

    Examples
    --------
    >>> free_name("Tank", ["tank", "Tank 2"])
    'Tank 3'
    """
    known = {name.casefold() for name in taken}
    return next(name for name in _numbered(wanted, " ") if name.casefold() not in known)


def free_file(folder: Path, stem: str, ending: str) -> str:
    """The name of a file that is not in the folder yet.

    Raises
    ------
    SiteError
        So many of that name are there that none is free.
    """
    for number, name in enumerate(_numbered(stem, "-")):
        if not (folder / f"{name}{ending}").exists():
            return f"{name}{ending}"
        if number >= MOST_TRIES:
            break
    msg = f"{folder} holds too many files called {stem}; move some away"
    raise SiteError(msg)


def file_stem(text: str) -> str:
    """A text as the stem of a file's name, safe everywhere.

    Examples
    --------
    >>> file_stem("Grüner Grund (1 m)"), file_stem("..")
    ('Grüner-Grund-1-m', 'site')
    """
    stem = re.sub(r"[^\w.-]+", "-", clean_text(text)).strip("-. ")
    return stem[:LONGEST_NAME].rstrip("-. ") or "site"


def _numbered(wanted: str, between: str) -> Iterator[str]:
    yield wanted
    number = 2
    while True:
        tail = f"{between}{number}"
        yield wanted[: LONGEST_NAME - len(tail)].rstrip() + tail
        number += 1
