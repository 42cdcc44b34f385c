"""Land where the right choice is known, for a delivery laid from west to east along y = -30."""

from dataclasses import replace

import numpy as np
from shapely.geometry import LineString

from planner.routing.delivery import find_delivery
from planner.routing.task import Task, task_of
from planner.routing.way import Place, Way, laid_in_pieces
from planner.site.value import Laying
from tests.routing.ground import BURIED, Array, grid, land

START, END = (5.0, -30.0), (95.0, -30.0)
PRICED = replace(BURIED, dig_cost=1.0)


def ridge(height: float, *, at: float = 50.0, wide: float = 6.0, gap: float | None = None) -> Array:
    """A ridge across the whole land, with a gap `gap` metres south of the straight line."""
    x, y = grid()
    dyke = height * np.exp(-(((x - at) / wide) ** 2))
    return dyke if gap is None else dyke * (1.0 - np.exp(-(((y + 30.0 + gap) / 2.5) ** 2)))


def slope(grade: float) -> Array:
    x, _ = grid()
    return grade * x


def planned(
    z: Array, laying: Laying = PRICED, ends: tuple[Place, Place] = (START, END)
) -> tuple[Task, Way]:
    """The delivery its finder gives, and its task."""
    ground = land(z)
    way = find_delivery(ground, *ends, laying)
    return task_of("delivery", ground, ends, laying), way


def straight(z: Array, laying: Laying = PRICED) -> tuple[Task, Way]:
    """A line straight over everything, with its vents."""
    ground = land(z)
    laid = laid_in_pieces(ground, LineString([START, END]), laying, "closed")
    return task_of("delivery", ground, (START, END), laying), Way(laid, rule_kept=False)
