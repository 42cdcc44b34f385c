"""Why there is no route: what blocks, where the nearest miss lies, and by how much it misses."""

import numpy as np
import numpy.typing as npt
from scipy import ndimage

from planner.errors import NoRoute
from planner.grade.rule import GradeRule
from planner.routing.ground import Ground, band_at
from planner.terrain.sample import cell_centre, cell_of
from planner.terrain.value import BoolArray

Place = tuple[float, float]


def why_blocked(
    ground: Ground,
    rule: GradeRule,
    start: Place,
    end: Place,
    near: tuple[npt.ArrayLike, npt.ArrayLike] | None,
) -> NoRoute:
    """The reason why no pipe leads from start to end.

    Parameters
    ----------
    near : (x, y) or None
        The place reached that lies nearest to the end.
    """
    for word, place in (("start", start), ("end", end)):
        blocked = _standing(ground, word, place)
        if blocked is not None:
            return blocked
    return (
        _cut_off(ground, start, end)
        or (_no_fall(ground, rule, start, end) if not rule.vents_allowed else None)
        or _grade(start, end, near)
    )


def _standing(ground: Ground, word: str, place: Place) -> NoRoute | None:
    """An end that can't be stood on."""
    cell = cell_of(ground.terrain, *place)
    if cell is None:
        msg = f"the {word} of the line at {_at(place)} lies outside the elevation data"
        return NoRoute(msg, obstacle="edge", where=place)
    if np.isfinite(band_at(ground, np.array([place]))[0][0]):
        return None
    if np.isfinite(ground.terrain.z[cell]):
        msg = f"the {word} of the line at {_at(place)} lies in or against a closed area"
        return NoRoute(msg, obstacle="closed", where=place, shortfall=0.0)
    msg = f"the {word} of the line at {_at(place)} lies on a hole in the elevation data"
    return NoRoute(msg, obstacle="void", where=place)


def _cut_off(ground: Ground, start: Place, end: Place) -> NoRoute | None:
    """Ends in different parts of the open ground."""
    a, b = cell_of(ground.terrain, *start), cell_of(ground.terrain, *end)
    if a is None or b is None:
        return None
    if _joined(np.isfinite(ground.top), a, b):
        return None
    miss, where = _gap(ground, np.isfinite(ground.top), a, b)
    if _joined(np.isfinite(ground.terrain.z), a, b):
        msg = f"closed areas cut the start off from the end; the gap is {miss:.0f} m wide"
        return NoRoute(msg, obstacle="closed", where=where, shortfall=miss)
    msg = f"a hole in the elevation data cuts the start off from the end; it is {miss:.0f} m wide"
    return NoRoute(msg, obstacle="void", where=where, shortfall=miss)


def _joined(open_cells: BoolArray, a: tuple[int, int], b: tuple[int, int]) -> bool:
    parts, _ = ndimage.label(open_cells)
    return bool(parts[a] == parts[b] != 0)


def _gap(
    ground: Ground, open_cells: BoolArray, a: tuple[int, int], b: tuple[int, int]
) -> tuple[float, Place]:
    """Width of what parts two places, and the spot on the start's side where it is narrowest."""
    terrain = ground.terrain
    parts, _ = ndimage.label(open_cells)
    from_end = ndimage.distance_transform_edt(parts != parts[b], sampling=terrain.cell[::-1])
    from_end = np.where(parts == parts[a], from_end, np.inf)
    narrow = float(np.min(from_end))
    # Along a wall the gap is equally narrow everywhere: name the spot nearest to the end.
    rows, cols = np.nonzero(from_end <= narrow + min(terrain.cell))
    x, y = cell_centre(terrain, rows, cols)
    end_x, end_y = cell_centre(terrain, *b)
    best = int(np.argmin(np.hypot(x - end_x, y - end_y)))
    return narrow, (float(x[best]), float(y[best]))


def _no_fall(ground: Ground, rule: GradeRule, start: Place, end: Place) -> NoRoute | None:
    """Ends whose levels leave no fall (or rise) even along the straight line between them."""
    top, bottom = band_at(ground, np.array([start, end]))
    distance = float(np.hypot(end[0] - start[0], end[1] - start[1]))
    low, high = rule.rising
    if high < 0.0 and (short := bottom[1] - (top[0] + high * distance)) > 0.0:
        msg = (
            f"the end lies {short:.2f} m too high for a pipe that falls by {-high:.1%} over the "
            f"{distance:.0f} m between them"
        )
        return NoRoute(msg, obstacle="fall", where=end, shortfall=float(short))
    if low > 0.0 and (short := (bottom[0] + low * distance) - top[1]) > 0.0:
        msg = (
            f"the end lies {short:.2f} m too low for a pipe that rises by {low:.1%} over the "
            f"{distance:.0f} m between them"
        )
        return NoRoute(msg, obstacle="fall", where=end, shortfall=float(short))
    return None


def _grade(start: Place, end: Place, near: tuple[npt.ArrayLike, npt.ArrayLike] | None) -> NoRoute:
    where = start if near is None else (float(np.asarray(near[0])), float(np.asarray(near[1])))
    miss = float(np.hypot(end[0] - where[0], end[1] - where[1]))
    msg = (
        f"no way over the land keeps the grade of this line; the nearest place reached, "
        f"{_at(where)}, is {miss:.0f} m from its end"
    )
    return NoRoute(msg, obstacle="grade", where=where, shortfall=miss)


def _at(place: Place) -> str:
    return f"x {place[0]:.0f}, y {place[1]:.0f}"
