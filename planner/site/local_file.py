"""Paths in a site file: files of this machine, seen from the site file's folder."""

import os
from pathlib import Path

from planner.errors import SiteError
from planner.units.parse import quoted


def local_file(name: str, folder: Path, place: str, example: str = "dem.tif") -> Path:
    """The absolute path of a file that a site file names; whether it is there is not asked.

    The data libraries would fetch addresses, so these are refused.

    Raises
    ------
    SiteError
        It is an address, empty, or no path; the message begins with `place`.
    """
    address = "://" in name or name.replace("\\", "/").startswith("/vsi")
    if not name.strip() or "\0" in name or address:
        msg = (
            f"{place}: {quoted(name)} is not a file of this machine; give a path such as {example}"
        )
        raise SiteError(msg)
    try:
        return (folder / name).resolve()
    except (OSError, RuntimeError) as error:
        msg = (
            f"{place}: {quoted(name)} is not a path that can be followed; "
            f"give one such as {example}"
        )
        raise SiteError(msg) from error


def seen_from(folder: Path, file: Path) -> str:
    """The path of a file as it is written in a site file that lies in a folder."""
    try:
        return Path(os.path.relpath(file, folder)).as_posix()
    except ValueError:  # on another drive
        return file.as_posix()
