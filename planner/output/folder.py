"""A plan's folder: everything a plan writes, whole or not at all."""

import errno
import json
from pathlib import Path

from planner.errors import OutputError
from planner.output.map.make import write_map
from planner.output.plan_json import write_plan
from planner.output.replace import replacing
from planner.output.sheets.write import write_profiles
from planner.record.value import Plan
from planner.site.write import portable

OURS = frozenset({"site.toml", "plan.json", "map.html", "profiles.pdf"})

_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is full",
    errno.EROFS: "the disk is read-only",
    errno.EACCES: "you may not write there",
    errno.EPERM: "you may not write there",
    errno.EBUSY: "it is in use or a disk of its own; choose a new folder inside it",
    errno.ENAMETOOLONG: "the name is too long",
    errno.ENOTDIR: "part of its path is a file",
    errno.EEXIST: "part of its path is a file",
}


def write_plan_folder(plan: Plan, folder: str | Path) -> Path:
    """Write `site.toml`, `plan.json`, `map.html`, `profiles.pdf` and `profile-<name>.svg`.

    All is written beside the folder first and then moved into place: after a failure or an
    interrupt the folder is as it was. An earlier plan's folder is replaced; files in it that
    are not ours stay.

    Parameters
    ----------
    plan : Plan
    folder : path
        Made if it is missing, with its parents.

    Returns
    -------
    Path
        The folder, absolute.

    Raises
    ------
    OutputError
        The folder holds the site's own files, or something else than an earlier plan, or can't
        be written.
    """
    try:
        target = Path(folder).expanduser().resolve()
        earlier = _earlier(plan, target)
        with replacing(target, earlier.__contains__) as fresh:
            _write_all(plan, fresh, target)
    except OutputError:
        raise
    except OSError as error:
        msg = f"the plan's folder {folder} can't be written: {why_not(error)}"
        raise OutputError(msg) from error
    return target


def why_not(error: OSError) -> str:
    """Why the disk refused, in plain words."""
    return _REASONS.get(error.errno or 0, error.strerror or type(error).__name__)


def _write_all(plan: Plan, fresh: Path, target: Path) -> None:
    """Every file of the plan, into the new folder that will stand at `target`."""
    (fresh / "site.toml").write_text(portable(plan.site, target), encoding="utf-8")
    write_plan(plan, fresh / "plan.json")
    write_map(plan, fresh / "map.html")
    write_profiles(plan, fresh, paper="Letter" if plan.site.units == "us" else "A4")


def _earlier(plan: Plan, target: Path) -> frozenset[str]:
    """Names of an earlier plan's files in the folder.

    Raises
    ------
    OutputError
        The folder must not be replaced.
    """
    if plan.site.folder is not None and plan.site.folder.resolve() == target:
        msg = f"{target} holds the site file itself; choose another folder for the plan"
        raise OutputError(msg)
    if not target.exists():
        return frozenset()
    if not target.is_dir():
        msg = f"{target} is a file; choose another name for the plan's folder"
        raise OutputError(msg)
    if not any(target.iterdir()):
        return frozenset()
    names = _profile_names(target / "plan.json")
    if names is None and _holds_site(plan, target):
        return OURS
    if names is None:
        msg = f"{target} holds files but no plan of this program; choose an empty or new folder"
        raise OutputError(msg)
    return OURS | names


def _holds_site(plan: Plan, target: Path) -> bool:
    """Whether the site lies in a folder inside, as the demo's does: then the folder is its own."""
    return plan.site.folder is not None and target in plan.site.folder.resolve().parents


def _profile_names(file: Path) -> frozenset[str] | None:
    """Names of the SVG sheets an earlier plan wrote; None if the file is no plan of ours."""
    try:
        plan = json.loads(file.read_text(encoding="utf-8"))
        if not str(plan["made_by"]).startswith("headfall"):
            return None
        return frozenset(f"profile-{line['name']}.svg" for line in plan["lines"])
    except (FileNotFoundError, IsADirectoryError, ValueError, KeyError, TypeError, RecursionError):
        return None
