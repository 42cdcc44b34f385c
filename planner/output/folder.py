"""A plan's folder: everything a plan writes, whole or not at all."""

from pathlib import Path

from planner.errors import OutputError
from planner.output.field import write_field_files
from planner.output.free import PLAN_FILES, earlier_plan, free_for_plan, why_not
from planner.output.map.make import write_map
from planner.output.plan_json import write_plan
from planner.output.replace import replacing
from planner.output.sheets.write import write_profiles
from planner.output.stakes.make import stakes_of
from planner.record.value import Plan
from planner.site.write import portable


def write_plan_folder(plan: Plan, folder: str | Path) -> Path:
    """Write every file of a plan: its data, the map, printed papers, stakes and materials.

    All is written out of sight first and then moved into place: after a failure or an
    interrupt the folder is as it was. An earlier plan's files are replaced; others stay.

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
    target = free_for_plan(folder, plan.site.folder, plan.site.files)
    earlier = earlier_plan(target) or PLAN_FILES
    try:
        with replacing(target, earlier.__contains__) as fresh:
            _write_all(plan, fresh, target)
    except OSError as error:
        msg = f"the plan's folder {folder} can't be written: {why_not(error)}"
        raise OutputError(msg) from error
    return target


def _write_all(plan: Plan, fresh: Path, target: Path) -> None:
    """Every file of the plan, into the new folder that will stand at `target`."""
    staked = stakes_of(plan)
    (fresh / "site.toml").write_text(portable(plan.site, target), encoding="utf-8")
    write_plan(plan, fresh / "plan.json", staked)
    write_map(plan, fresh / "map.html")
    write_profiles(plan, fresh)
    write_field_files(plan, staked, fresh)
