"""The form of a line: its pipe and how it is laid, for all lines of its role."""

from planner.page.screen.asked import Desk
from planner.page.screen.row import Row, site_value
from planner.page.screen.words import LAID


def line_rows(role: str, settings: dict[str, str], desk: Desk) -> list[Row]:
    """Pipe, trench and grade; what stands empty is as is usual for the role."""
    laid = settings.get(f"lines.{role}.laid", "")
    asked = [*_PIPE, *(_ON_THE_GROUND if laid == "surface" else _IN_A_TRENCH), *_GRADE]
    rows = [
        Row(
            key,
            label,
            settings.get(f"lines.{role}.{key}", ""),
            site_value(desk, "lines", role, key),
            hint,
            example,
        )
        for key, label, hint, example in asked
    ]
    manner = Row(
        "laid",
        "Laid",
        laid,
        site_value(desk, "lines", role, "laid"),
        kind="choice",
        options=LAID,
    )
    rows.insert(len(_PIPE), manner)
    return rows


_PIPE = (
    ("pipe", "Pipe", "Size as printed on the pipe.", "1 in"),
    ("pressure_class", "Class", "As printed on the pipe.", "PN 10"),
    ("bore", "Bore, if no size is given", "True inside diameter.", "26.6 mm"),
)
_IN_A_TRENCH = (
    ("least_cover", "Cover at least", "Ground to pipe; below the frost.", "0.5 m"),
    ("deepest_trench", "Trench at most", "Ground to pipe.", "1.2 m"),
)
_ON_THE_GROUND = (
    ("propped", "Propped at most", "Above hollows, on stones or posts.", "0.3 m"),
    ("deepest_trench", "Dug in at most", "", "0.3 m"),
)
_GRADE = (
    ("least_grade", "Grade at least", "So that air moves along and out.", "0.5 %"),
    ("vent_cost", "A vent counts as", "In length of pipe, when routes are weighed.", "30 m"),
)
