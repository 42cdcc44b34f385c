"""A folder written whole or not at all: made beside its place, then moved into it."""

import os
import secrets
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path


@contextmanager
def replacing(folder: Path, ours: Callable[[str], bool]) -> Iterator[Path]:
    """A new folder to write in, which takes the place of `folder` when the block ends well.

    If the block raises, whatever it raises, `folder` is as it was and the new one is gone.
    What stands in the old folder under a name that is not `ours` is taken over into the new
    one, as hard links where the disk has them, so that large files cost nothing.

    Parameters
    ----------
    folder : Path
        Absolute, without symbolic links; it may exist, its parents need not.
    ours : callable
        Whether a name in the old folder is one of an earlier result, and can go.

    Raises
    ------
    OSError
        The disk is full, the place can't be written, the old folder can't be moved.
    """
    made = _make_parents(folder.parent)
    fresh = _beside(folder, "part")
    try:
        fresh.mkdir()
        yield fresh
        _take_over(folder, fresh, ours)
        _sync(fresh)
        _exchange(fresh, folder)
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


def _beside(folder: Path, ending: str) -> Path:
    return folder.parent / f".{folder.name[:60]}.{secrets.token_hex(4)}.{ending}"


def _take_over(old: Path, fresh: Path, ours: Callable[[str], bool]) -> None:
    if not old.exists():
        return
    for entry in old.iterdir():
        kept = fresh / entry.name
        if ours(entry.name) or kept.exists():
            continue
        if entry.is_dir() and not entry.is_symlink():
            shutil.copytree(entry, kept, symlinks=True, copy_function=_link)
        elif entry.is_symlink():
            kept.symlink_to(entry.readlink())
        else:
            _link(str(entry), str(kept))
    shutil.copymode(old, fresh)


def _link(source: str, target: str) -> None:
    try:
        os.link(source, target)
    except OSError:
        shutil.copy2(source, target)


def _sync(folder: Path) -> None:
    """Wait until the files are on the disk, so that a power cut can't leave them empty."""
    for path in (*folder.iterdir(), folder):
        if path.is_symlink() or (path.is_dir() and os.name != "posix"):
            continue
        number = os.open(path, os.O_RDONLY if os.name == "posix" else os.O_RDWR)
        try:
            os.fsync(number)
        finally:
            os.close(number)


def _exchange(fresh: Path, folder: Path) -> None:
    """Move `fresh` to `folder`; an old folder there is moved aside first, and back on failure."""
    if not folder.exists():
        fresh.rename(folder)
        return
    old = _beside(folder, "old")
    folder.rename(old)
    try:
        fresh.rename(folder)
    except BaseException:
        old.rename(folder)
        raise
    shutil.rmtree(old, ignore_errors=True)
