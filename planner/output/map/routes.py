"""Other routes of the lines, drawn thin and dashed, and in words what they trade."""

from dataclasses import dataclass

import numpy as np
from shapely import LineString, distance, line_interpolate_point

from planner.output.look import ROLES, RoleLook
from planner.profile.value import FloatArray
from planner.record.value import Plan
from planner.site.value import LineRole
from planner.terrain.frame import to_lonlat
from planner.wording.choices import (
    LETTERS,
    Trade,
    choice_sentence,
    shortfall,
    trades,
    weightiest,
)

WEIGHT = 1.5  # pt
DASH = (3.6, 2.4)  # line widths, unlike any role's own
PLACES = 60  # tried along a route for its label
MOST_CHOICES = 6  # of one line in the list


@dataclass(frozen=True, eq=False, slots=True)
class SceneRoute:
    """An alternative of a line: its letter, its bends and its label's place [lon, lat]."""

    line: str
    letter: str
    role: LineRole
    look: RoleLook
    course: FloatArray
    label_at: tuple[float, float]

    @property
    def label(self) -> str:
        """The role's letters and its own, so that colour is not needed to tell lines apart."""
        return f"{self.look.letters} {self.letter}"


@dataclass(frozen=True, slots=True)
class RouteTable:
    """What the routes of one line trade, and why there are fewer than were asked for."""

    line: str
    look: RoleLook
    rows: tuple[Trade, ...]
    short: str


@dataclass(frozen=True, slots=True)
class ChoiceRow:
    """What was chosen at one place of a line, in a sentence."""

    line: str
    look: RoleLook
    chainage: float
    text: str


def scene_routes(plan: Plan) -> tuple[SceneRoute, ...]:
    """Every alternative of every line."""
    return tuple(
        SceneRoute(
            line=line.name,
            letter=letter,
            role=line.role,
            look=ROLES[line.role],
            course=to_lonlat(plan.terrain, np.array(other.line.coords)),
            label_at=_label_place(plan, other.line),
        )
        for line in plan.lines
        if line.alternatives is not None
        for letter, other in zip(LETTERS, line.alternatives.found, strict=False)
    )


def _label_place(plan: Plan, route: LineString) -> tuple[float, float]:
    """Longitude, latitude of the place on a route farthest from all other lines and routes."""
    drawn = [line.path for line in plan.lines]
    drawn += [o.line for line in plan.lines if line.alternatives for o in line.alternatives.found]
    others = [line for line in drawn if line is not route]
    share = np.linspace(0.0, 1.0, PLACES)
    spots = line_interpolate_point(route, share, normalized=True)
    away = np.min([distance(spots, other) for other in others], axis=0)
    best = spots[int(np.argmax(away))]
    lon, lat = to_lonlat(plan.terrain, [(best.x, best.y)])[0].tolist()
    return lon, lat


def route_tables(plan: Plan) -> tuple[RouteTable, ...]:
    """A table for each line whose alternatives were asked for."""
    return tuple(
        RouteTable(
            line=line.name,
            look=ROLES[line.role],
            rows=tuple(trades(line.figures, line.alternatives.found, plan.site.units)),
            short=shortfall(line.alternatives.asked, len(line.alternatives.found)),
        )
        for line in plan.lines
        if line.alternatives is not None and line.figures is not None
    )


def choice_rows(plan: Plan) -> tuple[ChoiceRow, ...]:
    """The choices of the lines, the weightiest of each, in the order of the line."""
    return tuple(
        ChoiceRow(
            line.name,
            ROLES[line.role],
            choice.chainage_m,
            choice_sentence(choice, plan.site.units),
        )
        for line in plan.lines
        for choice in weightiest(line.choices, MOST_CHOICES)
    )
