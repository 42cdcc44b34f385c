"""Whether a result may stand in a folder: asked before the work, and again before the writing."""

import errno
import json
import os
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from planner.errors import OutputError

FIRST_FILES = frozenset({"site.toml", "plan.json", "map.html", "profiles.pdf"})
FIELD_FILES = frozenset(
    {
        "walk.pdf",
        "owner.pdf",
        "stakes.csv",
        "stakes.gpx",
        "stakes.kml",
        "stakes.geojson",
        "plan.gpkg",
        "plan.dxf",
        "materials.csv",
        "materials.xlsx",
    }
)
PLAN_FILES = FIRST_FILES | FIELD_FILES
LINE_FILES = frozenset({"profile.json", "profile.svg"})

LOOP = "its path runs in a circle of links"
_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is full",
    errno.EFBIG: "a file would grow larger than the disk or your account allows",
    errno.EROFS: "the disk is read-only",
    errno.EACCES: "you may not write there, or a file in it is open",
    errno.EPERM: "you may not write there",
    errno.EBUSY: "it is in use",
    errno.ENAMETOOLONG: "the name is too long",
    errno.ELOOP: LOOP,
    errno.ENOENT: "no folder can be made there",
    errno.ENOTDIR: "part of its path is a file",
    errno.EEXIST: "part of its path is a file",
    errno.EISDIR: "a folder in it has the name of one of the files to be written",
}


def free_for_plan(folder: str | Path, site: Path | None, inputs: Iterable[Path] = ()) -> Path:
    """The folder, absolute, if a plan may stand in it: new, empty, or an earlier plan's.

    Parameters
    ----------
    folder : path
    site : Path or None
        The folder of the site file. A folder that holds nothing but it, as the demo's does, is
        free too.
    inputs : iterable of Path
        Files the plan is made from, absolute: none of them may be written over.

    Raises
    ------
    OutputError
        The folder holds the site's own files, or others than an earlier plan, or can't be used.
    """
    target = _absolute(folder)
    if site is not None and site.resolve() == target:
        msg = f"{target} holds the site file itself; choose another folder for the plan"
        raise OutputError(msg)
    held, earlier = _held(target), earlier_plan(target)
    if held and held != {site and site.resolve()} and earlier is None:
        msg = f"{target} holds files but no plan of this program; choose an empty or new folder"
        raise OutputError(msg)
    own = sorted({path.name for path in held} & (PLAN_FILES - (earlier or frozenset())))
    if own:
        msg = f"{target} holds a {own[0]} that is not of its plan; choose another folder"
        raise OutputError(msg)
    lost = next(
        (path for path in inputs if path.parent == target and path.name in PLAN_FILES), None
    )
    if lost is not None:
        msg = (
            f"the site reads {lost.name} from {target}, where the new plan would be written over "
            "it; copy it beside the site file and name it there, or choose another folder"
        )
        raise OutputError(msg)
    return target


def free_for_line(folder: str | Path) -> Path:
    """The folder, absolute, if a line's profile may stand in it: nothing else is written over.

    Raises
    ------
    OutputError
        The folder holds files of those names that are not of this program, or can't be used.
    """
    target = _absolute(folder)
    taken = {path.name for path in _held(target)} & LINE_FILES
    if (
        taken
        and not {"high_points", "profile", "length_m"} <= _read(target / "profile.json").keys()
    ):
        msg = (
            f"{target} holds a {min(taken)} that is not of this program; choose another folder "
            "with --out"
        )
        raise OutputError(msg)
    return target


def earlier_plan(folder: Path) -> frozenset[str] | None:
    """Names of the files that an earlier plan wrote into a folder; None if it holds none."""
    plan = _read(folder / "plan.json")
    if not str(plan.get("made_by")).startswith("headfall"):
        return None
    try:
        sheets = frozenset(f"profile-{line['name']}.svg" for line in plan["lines"])
    except (KeyError, TypeError):
        return None
    # Before stakes stood in the plan, its folder held the first files alone.
    return FIRST_FILES | sheets | (FIELD_FILES if "stakes" in plan else frozenset())


def why_not(error: OSError) -> str:
    """Why the disk refused, in plain words."""
    cause = error.__cause__ if isinstance(error.__cause__, OSError) else error
    return _REASONS.get(cause.errno or 0, cause.strerror or type(cause).__name__)


def _absolute(folder: str | Path) -> Path:
    try:
        target = Path(folder).expanduser().resolve()
        if not os.path.lexists(target) or target.exists():
            return target
        reason = LOOP
    except (OSError, RuntimeError) as error:
        reason = why_not(error) if isinstance(error, OSError) else LOOP
    msg = f"nothing can be written to {folder}: {reason}"
    raise OutputError(msg)


def _held(target: Path) -> set[Path]:
    """What a folder holds, but for what file managers hide in it."""
    try:
        if not target.exists():
            return set()
        return {path for path in target.iterdir() if not path.name.startswith(".")}
    except NotADirectoryError as error:
        msg = f"{target} is a file; choose another name for the folder"
        raise OutputError(msg) from error
    except OSError as error:
        msg = f"nothing can be written to {target}: {why_not(error)}"
        raise OutputError(msg) from error


def _read(file: Path) -> dict[str, Any]:
    """The object in a JSON file; empty where there is none to be read."""
    try:
        document = json.loads(file.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    return document if isinstance(document, dict) else {}
