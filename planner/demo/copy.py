"""Put the packaged demo site into a folder of the user's."""

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from importlib.resources import files
from pathlib import Path

from planner.errors import OutputError

SITE = "larch-hollow.toml"
FILES = (SITE, "larch-hollow-sketch.geojson", "larch-hollow-dem.tif")


@contextmanager
def demo_site(folder: Path) -> Iterator[Path]:
    """The demo's site file in a folder, taken away again if what is done with it fails.

    Raises
    ------
    OutputError
        The folder can't be made or written.
    """
    new = [path for path in (folder / name for name in FILES) if not path.exists()]
    missing = [path for path in (folder, *folder.parents) if not path.exists()]
    try:
        yield copy_demo(folder)
    except BaseException:
        for path in new:
            path.unlink(missing_ok=True)
        for path in missing:
            with suppress(OSError):
                path.rmdir()
        raise


def copy_demo(folder: Path) -> Path:
    """Copy the demo site into a folder, made if it is missing.

    Files that are there already stay as they are, so that what a user changed in the site file
    is planned the next time.

    Parameters
    ----------
    folder : Path

    Returns
    -------
    Path
        The site file in that folder.

    Raises
    ------
    OutputError
        The folder can't be made or written.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name in FILES:
            if not (folder / name).exists():
                _write_whole(folder / name, files("planner.demo").joinpath(name).read_bytes())
    except OSError as error:
        reason = error.strerror or "it can't be written"
        msg = f"the demo can't be put into {folder}: {reason}; choose another folder"
        raise OutputError(msg) from error
    return folder / SITE


def _write_whole(file: Path, content: bytes) -> None:
    """Write under a passing name, then rename: no half a file stays when this is interrupted."""
    passing = file.with_name(f".{file.name}.part")
    try:
        passing.write_bytes(content)
        passing.replace(file)
    finally:
        passing.unlink(missing_ok=True)
