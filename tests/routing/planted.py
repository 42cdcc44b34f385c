"""Land where the right choice is known, for a delivery laid from west to east along y = -30."""

from dataclasses import replace

import numpy as np

from planner.routing.delivery import find_delivery
from planner.routing.task import Task, task_of
from planner.routing.way import Place, Way, laid_in_pieces, route
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


def vented(z: Array, laying: Laying = PRICED) -> tuple[Task, Way]:
    """The line that is cheapest where vents cost next to nothing: straight over everything."""
    ground = land(z)
    task = task_of("delivery", ground, (START, END), laying)
    line = route(ground, (START, END), laying, task.pricing(0.01).rule, begins="closed")
    return task, Way(laid_in_pieces(ground, line, laying, "closed"), rule_kept=False)
