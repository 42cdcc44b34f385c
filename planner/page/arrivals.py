"""Files that arrive on the page: a name that is safe, a place that is free, moved there whole."""

import shutil
from pathlib import Path


def safe_name(name: str) -> str:
    """A file's name with letters, digits, dots, dashes and underscores alone, no folder in it."""
    plain = "".join(c if c.isascii() and (c.isalnum() or c in "._-") else "-" for c in name)
    return plain.rsplit("/", 1)[-1].lstrip(".-")[-100:] or "file"


def free_folder(within: Path, name: str) -> Path:
    """A folder that is not there yet, called after a name."""
    wanted = within / safe_name(name)
    count = 2
    while wanted.exists():
        wanted, count = within / f"{safe_name(name)}-{count}", count + 1
    return wanted


def free_file(path: Path) -> Path:
    """A file that is not there yet, called like this one."""
    wanted, count = path, 2
    while wanted.exists():
        wanted, count = path.with_name(f"{path.stem}-{count}{path.suffix}"), count + 1
    return wanted


def put(path: Path, target: Path) -> Path:
    """Copy under a passing name, then rename."""
    passing = target.with_name(f".{target.name}.part")
    try:
        shutil.copyfile(path, passing)
        passing.replace(target)
    finally:
        passing.unlink(missing_ok=True)
    return target
