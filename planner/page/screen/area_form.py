"""The form of an area."""

from planner.live.value import AreaView
from planner.page.screen.asked import Desk
from planner.page.screen.row import Row, area_factor, area_value
from planner.page.screen.words import AREAS, GROUNDS


def area_rows(area: AreaView, desk: Desk) -> list[Row]:
    """Name, meaning, and what pipe and trench meet inside."""
    index = area["index"]
    rows = [
        Row("name", "Name", area["name"], area_value(desk, index, "name")),
        Row(
            "role",
            "Means",
            area["role"],
            area_value(desk, index, "role"),
            kind="choice",
            options=tuple(AREAS.items()),
        ),
    ]
    if area["role"] == "costly":
        rows.append(
            Row(
                "factor",
                "A length of pipe counts",
                f"{area['factor']:g}",
                area_factor(desk, index),
                "Times: 3 where it costs three times as much.",
                "3",
            )
        )
    if area["role"] in ("costly", "stay", "owner"):
        rows += [
            Row(
                "deepest",
                "Trench at most",
                area["deepest_trench"],
                area_value(desk, index, "deepest_trench"),
                "Where rock stops the spade.",
                "0.6 m",
            ),
            Row(
                "ground",
                "Digging",
                area["ground"],
                area_value(desk, index, "ground"),
                kind="choice",
                options=GROUNDS,
            ),
        ]
    return rows
