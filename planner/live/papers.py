"""All papers of a site, as `headfall plan` writes them; for a process of its own."""

from collections.abc import Callable
from pathlib import Path


def write_papers(site_path: Path, folder: Path, say: Callable[[str], None]) -> Path:
    """Plan a saved site and write map, sheets, field files and materials.

    The libraries load here, so that who only names this function stays light.

    Parameters
    ----------
    site_path : Path
        The site file.
    folder : Path
        Made if it is missing; an earlier plan in it is replaced, whole or not at all.
    say : function
        Told what is being done.

    Returns
    -------
    Path
        The folder, absolute.

    Raises
    ------
    InputError
        The site can't be planned.
    OutputError
        The folder holds something else than an earlier plan, or can't be written.
    """
    from planner.output.folder import write_plan_folder  # noqa: PLC0415
    from planner.output.free import free_for_plan  # noqa: PLC0415
    from planner.output.materials.prices import read_prices  # noqa: PLC0415
    from planner.plan import make_plan  # noqa: PLC0415
    from planner.site.read import read_site  # noqa: PLC0415

    site = read_site(site_path)
    folder = free_for_plan(folder, site.folder, site.files)
    if site.rates.prices is not None:  # a slip in it is told before the work
        read_prices(site.rates.prices, site.rates.currency)
    plan = make_plan(site, say=say)
    say("drawing the map and the sheets")
    return write_plan_folder(plan, folder)
