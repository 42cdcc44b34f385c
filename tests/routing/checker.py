"""An independent checker of routes: it knows the definition in DESIGN.md and none of the program.

Given the ground, the rule and a route it samples the bilinear ground itself, and re-adds all that
was paid. The band: with z the ground less the least cover and t the slack, a pipe whose grades all
lie in [a, b] exists if and only if for all runs r1 < r2

    z2 >= z1 - t1 + a (r2 - r1)     and     z2 - t2 <= z1 + b (r2 - r1).

A line with vents is laid as rising pieces, and falling pieces with the grades [-b, -a]; its high
points are the rising-to-falling joints of the laying that has fewest.
"""

from dataclasses import dataclass, field

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

SKIN = 1e-6  # m; rounding of levels
QUARTER = 0.25  # of a cell


@dataclass(frozen=True, eq=False)
class Job:
    """What was asked for."""

    z: np.ndarray
    cell: tuple[float, float]
    origin: tuple[float, float]
    start: tuple[float, float]
    end: tuple[float, float]
    lowest: float = -np.inf
    highest: float = np.inf
    slack: float | np.ndarray = 0.0
    vent_cost: float | None = None
    cost: np.ndarray | None = None
    begins: str = "open"
    dig_cost: float = 0.0
    side_slope: float = np.inf
    way: tuple[tuple[float, float], ...] = field(default=())

    @property
    def factor(self):
        return np.ones(self.z.shape) if self.cost is None else self.cost

    @property
    def shut(self):
        """Closed and void cells."""
        return ~np.isfinite(self.z) | ~np.isfinite(self.factor)


@dataclass(frozen=True, eq=False)
class Track:
    """Samples along a route, a quarter of a cell apart at most, its vertices among them."""

    xy: np.ndarray
    row: np.ndarray
    col: np.ndarray
    run: np.ndarray
    top: np.ndarray
    bottom: np.ndarray


def job_of(terrain, start, end, rule, cost=None, **more):
    """A job from the values that `find_route` takes."""
    return Job(
        z=np.asarray(terrain.z),
        cell=terrain.cell,
        origin=terrain.origin,
        start=start,
        end=end,
        lowest=-np.inf if rule.lowest is None else rule.lowest,
        highest=np.inf if rule.highest is None else rule.highest,
        vent_cost=rule.vent_cost,
        cost=cost,
        **{"slack": rule.slack, **more},
    )


def faults(job, route):
    """All that is wrong with a route, in words; empty if nothing is."""
    track = track_of(job, np.asarray(route.line.coords))
    found = [*_ends(job, route), *_shut(job, track)]
    if found:
        return found
    return [*_band(job, track), *_slope_across(job, track), *_money(job, track, route)]


def track_of(job, vertices):
    row, col = _position(job, vertices)
    pieces = np.maximum(np.ceil(np.hypot(np.diff(row), np.diff(col)) / QUARTER - 1e-9), 1)
    along = np.concatenate(
        [i + np.arange(n) / n for i, n in enumerate(pieces.astype(int))] + [[len(pieces)]]
    )
    whole = np.arange(len(vertices))
    xy = np.column_stack([np.interp(along, whole, vertices[:, k]) for k in (0, 1)])
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(xy, axis=0).T))])
    row, col = _position(job, xy)
    z = np.where(job.shut, np.nan, job.z)
    top, bottom = bilinear(z, row, col), bilinear(z - job.slack, row, col)
    return Track(xy, row, col, run, top, bottom)


def _position(job, xy):
    """Fractional rows and columns, whole at cell centres."""
    row = (job.origin[1] - xy[:, 1]) / job.cell[1] - 0.5
    col = (xy[:, 0] - job.origin[0]) / job.cell[0] - 0.5
    near = np.round(row), np.round(col)
    return (
        np.where(np.abs(row - near[0]) < 1e-7, near[0], row),
        np.where(np.abs(col - near[1]) < 1e-7, near[1], col),
    )


def bilinear(z, row, col):
    """Between four centres; in the outer half cell between the two of the edge; NaN off the grid.

    A corner counts only where its weight is not zero.
    """
    rows, cols = z.shape
    off = (row < -0.5 - 1e-9) | (row > rows - 0.5 + 1e-9)
    off |= (col < -0.5 - 1e-9) | (col > cols - 0.5 + 1e-9)
    row, col = np.clip(row, 0, rows - 1), np.clip(col, 0, cols - 1)
    r0, c0 = np.floor(row).astype(int), np.floor(col).astype(int)
    r1, c1 = np.minimum(r0 + 1, rows - 1), np.minimum(c0 + 1, cols - 1)
    fr, fc = row - r0, col - c0
    level = np.where(off, np.nan, 0.0)
    for r, wr in ((r0, 1 - fr), (r1, fr)):
        for c, wc in ((c0, 1 - fc), (c1, fc)):
            weight = wr * wc
            level += np.where(weight > 0, weight * np.where(weight > 0, z[r, c], 0.0), 0.0)
    return level


def _ends(job, route):
    vertices = list(route.line.coords)
    for word, want, got in (("start", job.start, vertices[0]), ("end", job.end, vertices[-1])):
        if tuple(got) != tuple(want):
            yield f"the {word} is {got}, not {want}"
    line = np.asarray(vertices)
    places = [line[0], *map(np.asarray, job.way), line[-1]]
    for place in places[1:-1]:
        if np.min(np.hypot(*(line - place).T)) > SKIN:
            yield f"the line does not pass {place}"


def _shut(job, track):
    if not np.all(np.isfinite(track.top)):
        k = int(np.argmax(~np.isfinite(track.top)))
        yield f"at {track.xy[k]} the line lies on or against closed or void cells"
    rows, cols, _ = crossed(job, track)
    if np.any(job.shut[rows, cols]):
        yield "the line crosses a closed or void cell"


def crossed(job, track):
    """Row, column, (share of its step, step) of each piece between borders of cells, exactly."""
    pieces = []
    for k in range(len(track.run) - 1):
        cuts = [0.0, 1.0]
        for line in (track.row, track.col):
            a, b = line[k], line[k + 1]
            if a != b:
                borders = np.arange(np.ceil(min(a, b) - 0.5), np.floor(max(a, b) - 0.5) + 1) + 0.5
                cuts += [(border - a) / (b - a) for border in borders]
        at = np.unique(np.clip(cuts, 0.0, 1.0))
        middle = (at[1:] + at[:-1]) / 2
        keep = np.diff(at) > 1e-9
        row = track.row[k] + middle * (track.row[k + 1] - track.row[k])
        col = track.col[k] + middle * (track.col[k + 1] - track.col[k])
        pieces.append(np.column_stack([row, col, np.diff(at), np.full(middle.size, k)])[keep])
    row, col, share, step = np.concatenate(pieces).T
    rows, cols = (
        np.clip(np.floor(at + 0.5).astype(int), 0, n - 1)
        for at, n in ((row, job.z.shape[0]), (col, job.z.shape[1]))
    )
    return rows, cols, np.column_stack([share, step])


def rises_between(track, lowest, highest, skin=SKIN):
    """Whether a pipe with grades in [lowest, highest] exists in the band, all pairs of samples."""
    run, top, bottom = track.run, track.top, track.bottom
    if np.isfinite(lowest):
        floor = np.maximum.accumulate(bottom - lowest * run)
        if np.any(top - lowest * run < floor - skin):
            return False
    if np.isfinite(highest):
        ceiling = np.minimum.accumulate(top - highest * run)
        if np.any(bottom - highest * run > ceiling + skin):
            return False
    return bool(np.all(bottom <= top + skin))


def fewest_vents(track, lowest, begins="open", skin=SKIN):
    """Least number of high points of pieces that rise or fall by `lowest`, or None.

    `low[k]`: the lowest level of a pipe with k high points that is rising; all levels from there
    up to the ground can be had. `high[k]`: the same, the other way up, of one that is falling.
    """
    most = 80
    top, bottom = track.top + skin / 2, track.bottom - skin / 2
    low, high = np.full(most, np.inf), np.full(most, -np.inf)
    low[0] = bottom[0]
    high[1 if begins == "closed" else 0] = top[0]
    for i, step in enumerate(np.diff(track.run)):
        rising, falling = np.isfinite(low), np.isfinite(high)
        from_low = np.minimum(low, np.where(falling, bottom[i], np.inf))
        joint = np.concatenate([[False], rising[:-1]])
        from_high = np.maximum(high, np.where(joint, top[i], -np.inf))
        low = np.maximum(from_low + lowest * step, bottom[i + 1])
        high = np.minimum(from_high - lowest * step, top[i + 1])
        low[~(low <= top[i + 1])] = np.inf
        high[~(high >= bottom[i + 1])] = -np.inf
    able = np.flatnonzero(np.isfinite(low) | np.isfinite(high))
    return int(able[0]) if able.size else None


def _band(job, track):
    if job.vent_cost is None:
        if not rises_between(track, job.lowest, job.highest):
            yield f"no pipe with grades from {job.lowest} to {job.highest} fits the band"
    elif np.isinf(job.highest) and fewest_vents(track, job.lowest, job.begins) is None:
        yield f"no pieces that rise or fall by {job.lowest} fit the band"


def _slope_across(job, track):
    if np.isinf(job.side_slope):
        return
    across = slope_across(job, track)
    if np.nanmax(across) > job.side_slope + 1e-6:
        yield f"the ground across the line is as steep as {np.nanmax(across):.3f}"


def slope_across(job, track):
    """Slope of the ground across each step [rise over run], from differences across two cells."""
    z = np.asarray(job.z)
    east = _differences(z, job.cell[0])
    north = -_differences(z.T, job.cell[1]).T
    middle = (track.row[1:] + track.row[:-1]) / 2, (track.col[1:] + track.col[:-1]) / 2
    dx, dy = (np.diff(track.xy, axis=0) / np.diff(track.run)[:, None]).T
    return np.abs(bilinear(east, *middle) * dy - bilinear(north, *middle) * dx)


def _differences(z, width):
    """Along the second axis, one-sided at the borders."""
    if z.shape[1] < 2:
        return np.zeros(z.shape)
    slope = np.empty(z.shape)
    slope[:, 1:-1] = (z[:, 2:] - z[:, :-2]) / (2 * width)
    slope[:, 0], slope[:, -1] = (z[:, 1] - z[:, 0]) / width, (z[:, -1] - z[:, -2]) / width
    return slope


def _money(job, track, route):
    steps = np.hypot(np.diff(track.run), np.diff(track.top))
    if abs(route.length - steps.sum()) > 1e-6 * steps.sum():
        yield f"the length is {steps.sum():.6f}, not {route.length:.6f}"
    price, doubt, mean = ground_price(job, track, steps)
    vents, digging = 0.0, 0.0
    if job.vent_cost is not None and job.dig_cost == 0 and np.isinf(job.highest):
        fewest = fewest_vents(track, job.lowest, job.begins)
        if route.vents != fewest:
            yield f"the line has {fewest} high points, not {route.vents}"
        vents = job.vent_cost * (fewest or 0)
    elif job.dig_cost > 0:
        digging, most = least_works(job, track, mean)
        doubt += most
    total = price + vents + digging
    if not total - doubt - SKIN * total <= route.cost <= total + doubt + SKIN * total:
        yield f"the cost is {total:.6f} give or take {doubt:.6f}, not {route.cost:.6f}"


def ground_price(job, track, steps):
    """Sum of factor times length by the cells crossed, its doubt, and each step's mean factor.

    The doubt is what pricing each step by a single one of its cells can change.
    """
    rows, cols, piece = crossed(job, track)
    factor, step = job.factor[rows, cols], piece[:, 1].astype(int)
    mean = np.bincount(step, factor * piece[:, 0], len(steps))
    low, high = np.full(len(steps), np.inf), np.zeros(len(steps))
    np.minimum.at(low, step, factor)
    np.maximum.at(high, step, factor)
    return float(mean @ steps), float((high - low) @ steps), mean


def least_works(job, track, mean):
    """Least price of digging and vents along the line, and how far the solver may be off it.

    A mixed-integer programme: extra depths, and for each step whether it rises; solved by HiGHS.

    Parameters
    ----------
    mean : (n - 1,) ndarray
        Factor of each step.
    """
    n, steps = len(track.run), np.diff(track.run)
    vented = job.vent_cost is not None
    depth, up, vent = np.arange(n), n + np.arange(n - 1), 2 * n - 1 + np.arange(n - 1)
    count = 3 * n - 2 if vented else n
    price, whole = np.zeros(count), np.zeros(count)
    priced = job.dig_cost * mean * steps / 2  # trapezoids
    price[:n] = np.append(priced, 0) + np.append(0, priced)
    most = np.ones(count)
    most[:n] = track.top - track.bottom + SKIN
    rows = _Rows(count)
    for k, step in enumerate(steps):
        shallower = [(depth[k], 1.0), (depth[k + 1], -1.0)]  # how much the pipe rises more than z
        ground = track.top[k + 1] - track.top[k]
        if not vented:
            rows.add(shallower, job.lowest * step - ground, job.highest * step - ground)
            continue
        least, low, high = job.lowest * step, -most[k + 1] + ground, most[k] + ground
        rows.add([*shallower, (up[k], low - least)], low - ground, np.inf)  # up: rises by `least`
        rows.add([*shallower, (up[k], -least - high)], -np.inf, -least - ground)  # else falls
        if k:
            rows.add([(vent[k], 1.0), (up[k - 1], -1.0), (up[k], 1.0)], 0.0, np.inf)
    if vented:
        price[vent], whole[up] = job.vent_cost, 1
    if vented and job.begins == "closed":
        rows.add([(vent[0], 1.0), (up[0], 1.0)], 1.0, np.inf)
    found = milp(
        price,
        constraints=rows.constraint(),
        bounds=Bounds(np.zeros(count), most),
        integrality=whole,
        options={"mip_rel_gap": 1e-6, "time_limit": 20.0},
    )
    if found.x is None:
        return np.inf, 0.0
    bound = found.fun if found.mip_dual_bound is None else found.mip_dual_bound
    return float(found.fun), float(found.fun - bound + SKIN * price[:n].sum())


class _Rows:
    """Rows of a linear constraint, added one by one."""

    def __init__(self, columns):
        self.columns, self.entries, self.low, self.high = columns, [], [], []

    def add(self, terms, low, high):
        self.entries += [(len(self.low), column, weight) for column, weight in terms]
        self.low.append(low)
        self.high.append(high)

    def constraint(self):
        row, column, weight = zip(*self.entries, strict=True)
        shape = len(self.low), self.columns
        return LinearConstraint(
            coo_array((weight, (row, column)), shape).tocsr(), self.low, self.high
        )
