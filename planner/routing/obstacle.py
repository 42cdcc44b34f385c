"""Why there is no route: what blocks, where the nearest miss lies, and by how much it misses."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy import ndimage

from planner.errors import NoRoute, Obstacle
from planner.grade.rule import GradeRule
from planner.profile.along import samples_along
from planner.routing.ground import Ground, band_at
from planner.routing.shortfall import Shortfall, shortfall
from planner.routing.window import window
from planner.terrain.sample import cell_centre, cell_of
from planner.terrain.value import BoolArray

Place = tuple[float, float]
PART = 0.25  # of a cell, between samples
SAME_PLACE = 1e-6  # m
MUCH = 1e6  # m; more is no height on Earth
_STANDS: dict[Obstacle, str] = {
    "edge": "lies outside the elevation data",
    "void": "lies on a hole in the elevation data",
    "closed": "stands in or against a closed area",
}


@dataclass(frozen=True, slots=True)
class _Ends:
    """The two ends of a line, or of a leg of it, and what they are called."""

    start: Place
    end: Place
    names: tuple[str, str]


def why_blocked(
    ground: Ground,
    rule: GradeRule,
    start: Place,
    end: Place,
    near: Place | None = None,
    names: tuple[str, str] = ("start", "end"),
) -> NoRoute:
    """The reason why no pipe leads from start to end.

    Parameters
    ----------
    ground : Ground
    rule : GradeRule
        Its slack and vent cost don't count, but the band of the ground.
    start, end : (float, float)
        x, y [m] of the ends of the line, or of a leg of it.
    near : (float, float) or None
        The place reached that lies nearest to the end, if the search tells one; for a rule that
        makes the line rise, or fall, the nearest miss is found without it.
    names : (str, str)
        What the two ends are called.

    Returns
    -------
    NoRoute
        To be raised.
    """
    ends = _Ends((float(start[0]), float(start[1])), (float(end[0]), float(end[1])), names)
    if near is not None:
        near = float(near[0]), float(near[1])
    blocked = (
        no_standing(ground, (ends.start, ends.end), ends.names)
        or _no_length(ends)
        or _cut_off(ground, ends)
        or _no_fall(ground, rule, ends)
        or _too_low(ground, rule, ends)
        or _too_steep(ground, rule, ends, near)
    )
    if blocked.obstacle == "grade" and _whole_metres(ground, ends):
        blocked.message += (
            "; the elevations are whole metres, so a slope is a stair here: finer data may do"
        )
    return blocked


def hopeless(
    ground: Ground, rule: GradeRule, places: Sequence[Place], names: Sequence[str]
) -> NoRoute | None:
    """What can be told before any search: ends that can't be stood on, or levels without a fall.

    Parameters
    ----------
    ground : Ground
    rule : GradeRule
    places : sequence of (float, float)
        x, y [m] of the start, of the points the line must pass, and of its end, finite.
    names : sequence of str
        What each place is called.
    """
    legs = (
        _Ends(here, there, called)
        for (here, there), called in zip(pairwise(places), pairwise(names), strict=True)
    )
    return no_standing(ground, places, names) or next(
        filter(None, (_no_fall(ground, rule, ends) for ends in legs)), None
    )


def no_standing(ground: Ground, places: Sequence[Place], names: Sequence[str]) -> NoRoute | None:
    """The reason why a line can't begin, pass or end where it should; None if it can.

    Parameters
    ----------
    ground : Ground
    places : sequence of (float, float)
        x, y [m], finite.
    names : sequence of str
        What each place is called.
    """
    found = [
        (f"the {name} of the line at {_at(place)}", what, place)
        for name, place in zip(names, places, strict=True)
        if (what := _stood_on(ground, place)) is not None
    ]
    if not found:
        return None
    _, what, where = found[0]
    subjects = [subject for subject, other, _ in found if other == what]
    verb = _STANDS[what] if len(subjects) == 1 else _STANDS[what].replace("s ", " ", 1)
    return NoRoute(
        f"{' and '.join(subjects)} {verb}",
        obstacle=what,
        where=where,
        shortfall=0.0 if what == "closed" else None,
    )


def _stood_on(ground: Ground, place: Place) -> Obstacle | None:
    """What a place lies on that is no open ground."""
    if np.isfinite(band_at(ground, np.array([place]))[0][0]):
        return None
    cell = cell_of(ground.terrain, *place)
    if cell is None:
        return "edge"
    return "closed" if np.isfinite(ground.terrain.z[cell]) else "void"


def _no_length(ends: _Ends) -> NoRoute | None:
    if _metres(ends.start, ends.end) > SAME_PLACE:
        return None
    names = " and its ".join(ends.names)
    msg = f"the line has no length: its {names} are the same point, {_at(ends.start)}"
    return NoRoute(msg, obstacle="grade", where=ends.start, shortfall=0.0)


def _cut_off(ground: Ground, ends: _Ends) -> NoRoute | None:
    """Ends in different parts of the open ground."""
    a, b = cell_of(ground.terrain, *ends.start), cell_of(ground.terrain, *ends.end)
    if a is None or b is None:
        return None
    parts, _ = ndimage.label(ground.open_cells)
    if parts[a] == parts[b]:
        return None
    known, _ = ndimage.label(np.isfinite(ground.terrain.z))
    wide, where = _gap(ground, parts == parts[a], parts == parts[b], b)
    if known[a] == known[b]:
        msg = f"closed areas cut the start off from the end; the gap is {wide:.0f} m wide"
        return NoRoute(f"{msg} at {_at(where)}", obstacle="closed", where=where, shortfall=wide)
    msg = f"a hole in the elevation data cuts the start off from the end; it is {wide:.0f} m wide"
    return NoRoute(f"{msg} at {_at(where)}", obstacle="void", where=where, shortfall=wide)


def _gap(
    ground: Ground, here: BoolArray, there: BoolArray, end: tuple[int, int]
) -> tuple[float, Place]:
    """Width of what parts two pieces of land, and the spot on the start's where it is narrowest."""
    terrain = ground.terrain
    across = ndimage.distance_transform_edt(~there, sampling=terrain.cell[::-1])
    across = np.where(here, across, np.inf)
    narrow = float(np.min(across))
    # Along a wall the gap is equally narrow everywhere: name the spot nearest to the end.
    rows, cols = np.nonzero(across <= narrow + min(terrain.cell))
    x, y = cell_centre(terrain, rows, cols)
    end_x, end_y = cell_centre(terrain, *end)
    best = int(np.argmin(np.hypot(x - end_x, y - end_y)))
    return narrow, (float(x[best]), float(y[best]))


def _no_fall(ground: Ground, rule: GradeRule, ends: _Ends) -> NoRoute | None:
    """Ends whose levels leave no fall (or rise) even along the straight line between them."""
    if rule.vents_allowed:
        return None
    top, bottom = band_at(ground, np.array([ends.start, ends.end]))
    metres = float(np.hypot(ends.end[0] - ends.start[0], ends.end[1] - ends.start[1]))
    low, high = rule.rising
    start, end = ends.names
    if high < 0.0 and (short := float(bottom[1] - (top[0] + high * metres))) > 0.0:
        msg = (
            f"the {end} lies too high: {_level(short)} short of fall from the {start} for a pipe "
            f"that falls by {-high:.1%} over the {metres:.0f} m between them"
        )
        return NoRoute(msg, obstacle="fall", where=ends.end, shortfall=short)
    if low > 0.0 and (short := float(bottom[0] + low * metres - top[1])) > 0.0:
        msg = (
            f"the {end} lies too low: {_level(short)} short of rise from the {start} for a pipe "
            f"that rises by {low:.1%} over the {metres:.0f} m between them"
        )
        return NoRoute(msg, obstacle="fall", where=ends.end, shortfall=short)
    return None


def _too_low(ground: Ground, rule: GradeRule, ends: _Ends) -> NoRoute | None:
    """Land between the ends that a line that only rises, or only falls, comes short of passing."""
    low, high = rule.rising
    if rule.vents_allowed:
        return None
    for grade, lower, upper, word in (
        (low, ends.start, ends.end, "rise"),
        (-high, ends.end, ends.start, "fall"),
    ):
        short = shortfall(ground, lower, upper, grade) if grade >= 0.0 else None
        if short is not None:
            return _short_of(word, short, ends, grade)
    return None


def _short_of(word: str, short: Shortfall, ends: _Ends, grade: float) -> NoRoute:
    msg = (
        f"no way over the land keeps the grade of this line, a {word} of {grade:.1%} or more: it "
        f"comes out {_level(short.level)} short of {word} at {_at(short.where)}, "
        f"{_metres(short.where, ends.end):.0f} m from its {ends.names[1]}"
    )
    if short.edge is not None:
        msg += (
            f"; the land reached ends at the edge of the elevation data at {_at(short.edge)}, "
            "and more data there may open a way"
        )
    return NoRoute(msg, obstacle="grade", where=short.where, shortfall=short.level, edge=short.edge)


def _too_steep(ground: Ground, rule: GradeRule, ends: _Ends, near: Place | None) -> NoRoute:
    """Land that is too steep, too flat or too uneven for the rule, however it is crossed."""
    where = ends.start if near is None else near
    left = _metres(where, ends.end)
    what = "too flat for pieces that" if rule.vents_allowed else "too steep for a pipe that"
    msg = (
        f"the land is {what} {_grades(rule)}: the nearest place reached, {_at(where)}, is "
        f"{left:.0f} m from its {ends.names[1]}"
    )
    if np.isfinite(ground.side_slope):
        msg += f", where the ground may slope by {ground.side_slope:.0%} at most across the trench"
    short = _missing_ahead(ground, rule, where, ends.end)
    if short is not None:
        msg += f"; straight on from there it is {_level(short)} short of level"
    return NoRoute(msg, obstacle="grade", where=where, shortfall=short)


def _whole_metres(ground: Ground, ends: _Ends) -> bool:
    """Whether the levels between two ends have no decimals, and are not all the same."""
    levels = window(ground, ends.start, ends.end).terrain.z
    known = levels[np.isfinite(levels)]
    return bool(np.all(known == np.round(known)) and np.ptp(known) > 0.0)


def _grades(rule: GradeRule) -> str:
    low, high = rule.rising
    if rule.vents_allowed:
        return f"rise or fall by {low:.1%} or more"
    if np.isinf(low) and np.isinf(high):
        return "follows it"
    if np.isinf(high):
        return f"has a grade of {low:.1%} or more"
    if np.isinf(low):
        return f"has a grade of {high:.1%} or less"
    return f"keeps to grades from {low:.1%} to {high:.1%}"


def _missing_ahead(ground: Ground, rule: GradeRule, here: Place, there: Place) -> float | None:
    """Extra depth [m] of trench on the straight way to a place; None if it is not that."""
    if rule.vents_allowed or here == there:
        return None
    xy, run = samples_along(np.array([here, there]), PART * min(ground.terrain.cell))
    top, bottom = band_at(ground, xy)
    if not np.all(np.isfinite(top)):
        return None
    low, high = rule.rising
    short = [0.0]
    if np.isfinite(low):
        short.append(float(np.max(np.maximum.accumulate(bottom - low * run) - (top - low * run))))
    if np.isfinite(high):
        lid = np.minimum.accumulate(top - high * run)
        short.append(float(np.max(bottom - high * run - lid)))
    return max(short) or None


def _metres(here: Place, there: Place) -> float:
    return float(np.hypot(there[0] - here[0], there[1] - here[1]))


def _at(place: Place) -> str:
    x, y = (f"{round(at, 1):.10g}" for at in place)
    return f"x {x}, y {y}"


def _level(metres: float) -> str:
    return f"{metres:.2f} m" if metres < MUCH else f"{metres:.3g} m"
