"""Files written whole or not at all: made out of sight, then moved to their place."""

import os
import secrets
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path


@contextmanager
def replacing(folder: Path, ours: Callable[[str], bool]) -> Iterator[Path]:
    """A new folder to write in, whose files stand in `folder` when the block ends well.

    If the block raises, whatever it raises, `folder` is as it was and the new one is gone.
    A folder that is there already stays the same folder, so that whoever stands in it or looks
    at it still does; in it the new files replace those that are `ours`, and no other is touched.

    Parameters
    ----------
    folder : Path
        Absolute, without symbolic links; it may exist, its parents need not.
    ours : callable
        Whether the name of a file in the folder is one of an earlier result, and can go.

    Raises
    ------
    OSError
        The disk is full, the place can't be written, an old file can't be moved.
    """
    made = _make_parents(folder.parent)
    fresh = _out_of_sight(folder if folder.exists() else folder.parent, "part")
    try:
        fresh.mkdir()
        yield fresh
        _sync(fresh)
        if folder.exists():
            _move_in(fresh, folder, ours)
        else:
            fresh.rename(folder)
    except BaseException:
        shutil.rmtree(fresh, ignore_errors=True)
        for parent in made:
            with suppress(OSError):
                parent.rmdir()
        raise


def _make_parents(parent: Path) -> list[Path]:
    """Make the missing folders; returns them, innermost first."""
    missing = [path for path in (parent, *parent.parents) if not path.exists()]
    parent.mkdir(parents=True, exist_ok=True)
    return missing


def _out_of_sight(parent: Path, ending: str) -> Path:
    return parent / f".headfall-{secrets.token_hex(4)}.{ending}"


def _sync(folder: Path) -> None:
    """Wait until the files are on the disk, so that a power cut can't leave them empty."""
    for path in (*folder.iterdir(), folder):
        if path.is_dir() and os.name != "posix":
            continue
        number = os.open(path, os.O_RDONLY if os.name == "posix" else os.O_RDWR)
        try:
            os.fsync(number)
        finally:
            os.close(number)


def _move_in(fresh: Path, folder: Path, ours: Callable[[str], bool]) -> None:
    """Move the new files in and the old ones away; after a failure all are where they were."""
    new = sorted(path.name for path in fresh.iterdir())
    gone = [path for path in folder.iterdir() if ours(path.name) or path.name in new]
    old = _out_of_sight(folder, "old")
    moves = [(path, old / path.name) for path in gone if path.is_symlink() or not path.is_dir()]
    moves += [(fresh / name, folder / name) for name in new]
    old.mkdir()
    try:
        for start, end in moves:
            start.rename(end)
    except BaseException:
        for start, end in reversed(moves):
            if not os.path.lexists(start):
                end.rename(start)
        old.rmdir()
        raise
    shutil.rmtree(old, ignore_errors=True)
    fresh.rmdir()
