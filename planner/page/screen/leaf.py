"""`Leaf`: what the column shows of one chosen thing: its facts and the rows of its form."""

from dataclasses import dataclass

from planner.live.value import LevelsView, PlanView
from planner.page.screen.area_form import area_rows
from planner.page.screen.asked import Choice, Desk
from planner.page.screen.line_form import line_rows
from planner.page.screen.point_form import point_rows
from planner.page.screen.row import Row
from planner.page.screen.site_form import site_rows
from planner.page.screen.words import AREA_MEANS


@dataclass(frozen=True, slots=True)
class Leaf:
    """Kind and title, figures that can't be changed here, fields, and whether it can go."""

    kind: str
    title: str
    facts: tuple[tuple[str, str], ...] = ()
    rows: tuple[Row, ...] = ()
    removable: bool = False


def leaf_of(choice: Choice, view: PlanView, desk: Desk) -> Leaf | None:
    """The leaf of what is chosen; None where it is not in the view (any more)."""
    made = {"point": _point, "area": _area, "line": _line, "site": _site}[choice.kind]
    return made(choice, view, desk)


def levels_leaf(levels: LevelsView) -> Leaf:
    """What lies between two places."""
    facts = (
        ("Distance on the level", levels["distance"]),
        ("Fall", levels["fall"]),
        ("Grade", levels["grade"]),
        ("First place", levels["first"]),
        ("Second place", levels["second"]),
    )
    return Leaf("Between two places", levels["odds"], facts)


def _site(_: Choice, view: PlanView, desk: Desk) -> Leaf:
    return Leaf("Site", view["title"], rows=tuple(site_rows(view, desk)))


def _point(choice: Choice, view: PlanView, desk: Desk) -> Leaf | None:
    point = next((one for one in view["points"] if one["name"] == choice.name), None)
    if point is None:
        return None
    by_program = ", set by the program: move it to hold it" if point["by_program"] else ""
    return Leaf(
        point["word"] + by_program,
        point["name"],
        (("Ground", point["ground"]), ("Water", point["level"])),
        tuple(point_rows(point, view["settings"], desk)),
        removable=not by_program,
    )


def _area(choice: Choice, view: PlanView, desk: Desk) -> Leaf | None:
    area = next((one for one in view["areas"] if one["index"] == choice.index), None)
    if area is None:
        return None
    means = AREA_MEANS.get(area["role"], area["label"])  # type: ignore[call-overload]
    rows = tuple(area_rows(area, desk))
    return Leaf(f"Area: {means}", area["name"], rows=rows, removable=True)


def _line(choice: Choice, view: PlanView, desk: Desk) -> Leaf | None:
    line = next((one for one in view["lines"] if one["name"] == choice.name), None)
    if line is None:
        return None
    return Leaf(
        f"Pipe and laying of each {line['role']} line",
        line["title"],
        (("Length along the slope", line["length"]),),
        tuple(line_rows(line["role"], view["settings"], desk)),
    )
