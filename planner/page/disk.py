"""Texts of a site's files from and to the disk: whole or not at all."""

import os
import shutil
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from planner.errors import SketchError
from planner.site.draft import Draft
from planner.site.edits.text import plain
from planner.units.parse import quoted

SKETCH_ENDINGS = (".geojson", ".json")


def files_of(draft: Draft) -> dict[Path, str]:
    """What a draft has on disk, in the order of writing.

    The sketch comes first: the site file never names one that is not there.

    Raises
    ------
    SketchError
        The sketch would lie outside the site's folder, or be no GeoJSON file.
    """
    found: dict[Path, str] = {}
    if draft.sketch_name:
        path = draft.folder / draft.sketch_name
        inside = path.resolve().is_relative_to(draft.folder.resolve())
        if not inside or path.suffix.lower() not in SKETCH_ENDINGS:
            msg = (
                f"the sketch {quoted(draft.sketch_name)} can't be changed here: it must be a "
                ".geojson file in the site's own folder"
            )
            raise SketchError(msg)
        found[path] = draft.sketch
    found[draft.site_path] = draft.site
    return found


def text_on_disk(path: Path) -> str | None:
    """A file's text, None where there is no file; other bytes than UTF-8 are shown as such.

    Raises
    ------
    OSError
        It is there and can't be read.
    """
    try:
        return path.read_bytes().decode("utf-8", errors="backslashreplace")
    except FileNotFoundError:
        return None


def alike(first: str | None, second: str | None) -> bool:
    """Whether two texts are one, however their lines end."""
    if first is None or second is None:
        return first is second
    return plain(first) == plain(second)


def changed(files: Mapping[Path, str], known: Mapping[Path, str]) -> bool:
    """Whether one of the files holds something else than is known of it; a missing one does not.

    Raises
    ------
    OSError
        One can't be read.
    """
    found = {path: text_on_disk(path) for path in files}
    return any(text is not None and not alike(text, known.get(at)) for at, text in found.items())


def write_whole(path: Path, text: str) -> None:
    """Write under a passing name, wait for the disk, rename: never half a file.

    A link is followed, so that the file it names changes and it stays a link.

    Raises
    ------
    OSError
        The disk is full, or the place can't be written.
    """
    target = path.resolve()
    passing = target.with_name(f".{target.name}.part")
    passing.unlink(missing_ok=True)  # left by a process that was killed
    try:
        with passing.open("x", encoding="utf-8", newline="") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        with suppress(FileNotFoundError):
            shutil.copymode(target, passing)
        passing.replace(target)
    finally:
        passing.unlink(missing_ok=True)
    _sync_folder(target.parent)


def _sync_folder(folder: Path) -> None:
    """Wait until the new name is on the disk too, where the system can be asked."""
    if os.name != "posix":
        return
    number = os.open(folder, os.O_RDONLY)
    try:
        with suppress(OSError):  # some network disks can't
            os.fsync(number)
    finally:
        os.close(number)
