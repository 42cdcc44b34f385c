"""The form of the site as a whole."""

from planner.live.value import PlanView
from planner.page.screen.asked import Desk
from planner.page.screen.point_form import need_row
from planner.page.screen.row import Row, site_value
from planner.page.screen.words import DATA_KINDS, SEASONS, UNITS


def site_rows(view: PlanView, desk: Desk) -> list[Row]:
    """Title, units, need, season, and how far the levels can be trusted."""
    said = view["settings"]
    return [
        Row(
            "title",
            "Title",
            view["title"],
            site_value(desk, "title"),
            "Stands on every sheet.",
            wide=True,
        ),
        Row(
            "units",
            "Units",
            view["units"],
            site_value(desk, "units"),
            kind="choice",
            options=UNITS,
        ),
        need_row(said, desk),
        Row(
            "season",
            "Water runs",
            said.get("use.season", "") or "all-year",
            site_value(desk, "use", "season"),
            kind="choice",
            options=SEASONS,
        ),
        Row(
            "frost",
            "Frost goes down to",
            said.get("use.frost_depth", ""),
            site_value(desk, "use", "frost_depth"),
            "Buried pipe lies below it.",
            "0.6 m",
        ),
        Row(
            "kind",
            "Elevation data is from",
            said.get("elevation.kind", ""),
            site_value(desk, "elevation", "kind"),
            kind="choice",
            options=DATA_KINDS,
        ),
        Row(
            "error",
            "A height in it is good to ±",
            said.get("elevation.standard_error", ""),
            site_value(desk, "elevation", "standard_error"),
            "From the data's own papers; how sure the fall is hangs on it.",
            "0.10 m",
        ),
    ]
