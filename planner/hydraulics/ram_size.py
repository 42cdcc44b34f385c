"""Which ram for a flow: one, several side by side, or one above the other; named by its bore.

Sizes of rams are named here by the bore of their drive pipe. Makers' lists (German, British and
a home-made ram's) agree on the mean speed of all the water in it, some 0.15 to 0.5 m/s; the size
wanted is the one nearest to the middle of that, sqrt(0.15 * 0.5) = 0.27 m/s.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np

from planner.band import Band
from planner.errors import OutsideRange
from planner.hydraulics.domain import MOST_BORE, MOST_FLOW, MOST_HEAD, FloatArray, plain, positive
from planner.hydraulics.friction import area
from planner.hydraulics.limits import (
    DRIVE_VELOCITY,
    FALL_NORMAL,
    LIFT_LARGE_RAM,
    LIFT_SMALL_RAM,
    RATIO_GOOD,
    RATIO_RUNS,
)
from planner.hydraulics.ram import FALL_LEAST, RATIO_LEAST, efficiency

# Nominal bores in which pipe is sold, m.
BORES = (0.020, 0.025, 0.032, 0.040, 0.050, 0.065, 0.080, 0.100, 0.125, 0.150)
SLOW, FAST = float(DRIVE_VELOCITY.low or 0.0), float(DRIVE_VELOCITY.high or math.inf)
HIGHEST_FALL = float(FALL_NORMAL.high or math.inf)
GOOD_RATIO, LAST_RATIO = float(RATIO_GOOD.high or 0.0), float(RATIO_RUNS.high or 0.0)
MOST_BORES = 1000
MOST_RAMS = 20  # side by side; beyond, it is another kind of works
TRIED = 400  # heights of the tank between two stages

Caution = Literal[
    "ratio above good running",  # over 15
    "ratio above the last that runs",  # over 20
    "not published",  # no figures for such a fall or ratio: the delivery is NaN
    "lift above makers' lists",
    "second ram starved",
]


class Size(NamedTuple):
    """Bore of a drive pipe [m], and the mean speed of the water in it [m/s]."""

    bore: float
    velocity: float


@dataclass(frozen=True, slots=True)
class SecondStage:
    """A ram driven by what another lifted to a tank between.

    Attributes
    ----------
    tank_lift : float
        Level of that tank above the first ram [m].
    fall, lift : float
        Of the second ram [m]; it stands `fall` below the tank.
    drive_flow : float
        What the first is expected to give it [m³/s].
    size : Size or None
        None where that is too little for any bore.
    """

    tank_lift: float
    fall: float
    lift: float
    drive_flow: float
    size: Size | None


@dataclass(frozen=True, slots=True, eq=False)
class RamOption:
    """One way to lift the water.

    Attributes
    ----------
    arrangement : {"single", "parallel", "stages"}
    count : int
        Rams side by side that share the source.
    size : Size
        Of each of them.
    neighbours : tuple of Size
        The next smaller and the next larger bore, where there is one.
    delivered : Band
        All together [m³/s]; NaN where nothing is published.
    second : SecondStage or None
    cautions : tuple of str
    """

    arrangement: Literal["single", "parallel", "stages"]
    count: int
    size: Size
    neighbours: tuple[Size, ...]
    delivered: Band
    second: SecondStage | None
    cautions: tuple[Caution, ...]


def recommend_rams(
    flow: float,
    fall: float,
    lift: float,
    *,
    bores: Sequence[float] = BORES,
    velocity: tuple[float, float] = (SLOW, FAST),
    kind: str = "commercial",
    measured: Band | None = None,
) -> tuple[RamOption, ...]:
    """Rams that would use a flow, with what each arrangement is expected to deliver.

    Parameters
    ----------
    flow : float
        All the water there is to drive them [m³/s], above 0.
    fall, lift : float
        As for `ram_yield` [m], the lift above the fall.
    bores : sequence of float
        Of drive pipes that can be had [m], rising, one to 1000.
    velocity : (float, float)
        Least and most mean speed in a drive pipe [m/s].
    kind, measured
        As for `efficiency`.

    Returns
    -------
    tuple of RamOption
        One ram where one takes it; as few as can, two at least, side by side (one can rest when
        the source is low); two stages where the lift is more than 20 times the fall, the pipe
        from the tank between to the second ram taken to lose nothing. Empty where
        the flow is too little for the smallest bore, or for 20 rams too much.

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd, or out of order; the message names it.

    Examples
    --------
    >>> single, pair = recommend_rams(40 / 60000, 2.4, 24.0)
    >>> single.size.bore, pair.count, pair.size.bore, round(single.delivered.expected * 86400, 2)
    (0.05, 2, 0.04, 3.16)
    """
    q = float(positive("flow", flow, MOST_FLOW))
    down = float(positive("fall", fall, MOST_HEAD))
    up = float(positive("lift", lift, MOST_HEAD))
    if up <= down:
        msg = f"lift must be above the fall of {down:g} m, got {up:g}: no ram is needed"
        raise OutsideRange(msg)
    wide = _rising("bores", bores, MOST_BORE)
    _rising("velocity", velocity, 100.0)
    single = size_of(q, wide, velocity)
    delivered = _lifted(q, efficiency(up / down, down, kind, measured=measured), up / down)
    options = []
    counts = [1] if single else []
    pair = next((n for n in range(2, MOST_RAMS + 1) if size_of(q / n, wide, velocity)), None)
    for count in [*counts, *([pair] if pair else [])]:
        size = size_of(q / count, wide, velocity)
        if size is not None:
            options.append(_level(count, size, q / count, wide, delivered, (down, up)))
    if options and up / down > LAST_RATIO:
        staged = _staged(q, down, up, kind, measured)
        options += [] if staged is None else [_stages(options[0], staged, wide, velocity)]
    return tuple(options)


def size_of(flow: float, bores: FloatArray, velocity: tuple[float, float]) -> Size | None:
    """Bore in which a flow runs nearest to the middle of the speeds, as a ratio; None if outside.

    Examples
    --------
    >>> size_of(6e-4, np.array([0.04, 0.05, 0.065]), (0.15, 0.5)).bore
    0.05
    """
    speeds = flow / area(bores)
    near = np.abs(np.log(speeds / math.sqrt(velocity[0] * velocity[1])))
    best = int(np.argmin(near))
    speed = float(speeds[best])
    inside = velocity[0] <= speed <= velocity[1]
    return Size(float(bores[best]), speed) if inside else None


def _level(
    count: int, size: Size, flow: float, bores: FloatArray, delivered: Band,
    heads: tuple[float, float],
) -> RamOption:  # fmt: skip
    at = int(np.flatnonzero(bores == size.bore)[0])
    beside = [k for k in (at - 1, at + 1) if 0 <= k < len(bores)]
    neighbours = tuple(Size(float(bores[k]), float(flow / area(bores[k]))) for k in beside)
    return RamOption(
        "single" if count == 1 else "parallel",
        count,
        size,
        neighbours,
        delivered,
        None,
        _cautions(size.bore, *heads, delivered),
    )


def _cautions(bore: float, fall: float, lift: float, delivered: Band) -> tuple[Caution, ...]:
    found: list[Caution] = []
    if lift / fall > LAST_RATIO:
        found.append("ratio above the last that runs")
    elif lift / fall > GOOD_RATIO:
        found.append("ratio above good running")
    if np.isnan(delivered.expected):
        found.append("not published")
    # The list goes down from its small rams (to 38 mm) to its large ones (101 mm on).
    most = np.interp(bore, [0.038, 0.101], [LIFT_SMALL_RAM.high or 0.0, LIFT_LARGE_RAM.high or 0.0])
    if lift > most:
        found.append("lift above makers' lists")
    return tuple(found)


class _Staged(NamedTuple):
    tank_lift: float
    fall: float
    lift: float
    between: float  # what the first gives the second, expected [m³/s]
    delivered: Band


def _staged(
    flow: float, fall: float, lift: float, kind: str, measured: Band | None
) -> _Staged | None:
    """The height of a tank between two rams from which most is delivered; None if none will do.

    The second ram stands as far below that tank as rams are usually fed, but not below the first.
    """
    tank = np.linspace(RATIO_LEAST, GOOD_RATIO, TRIED) * fall
    second = np.minimum(tank, HIGHEST_FALL)
    ratio = (lift - tank + second) / second
    good = (ratio >= RATIO_LEAST) & (ratio <= GOOD_RATIO) & (second >= FALL_LEAST)
    if not np.any(good):
        return None
    tank, second, ratio = tank[good], second[good], ratio[good]
    first = _lifted(flow, efficiency(tank / fall, fall, kind, measured=measured), tank / fall)
    share = _lifted(1.0, efficiency(ratio, second, kind), ratio)
    expected = np.asarray(first.expected * share.expected)
    if np.all(np.isnan(expected)):
        return None
    best = int(np.nanargmax(expected))
    edges = (
        float(np.asarray(getattr(first, e) * getattr(share, e))[best])
        for e in ("low", "expected", "high")
    )
    drop = float(second[best])
    between = float(np.asarray(first.expected)[best])
    return _Staged(float(tank[best]), drop, float(ratio[best]) * drop, between, Band(*edges))


def _stages(
    base: RamOption, staged: _Staged, bores: FloatArray, velocity: tuple[float, float]
) -> RamOption:
    size = size_of(staged.between, bores, velocity)
    cautions: tuple[Caution, ...] = () if size else ("second ram starved",)
    second = SecondStage(staged.tank_lift, staged.fall, staged.lift, staged.between, size)
    return RamOption(
        "stages", base.count, base.size, base.neighbours, staged.delivered, second, cautions
    )


def _lifted(flow: float, eta: Band, ratio: float | FloatArray) -> Band:
    edges = (eta.low, eta.expected, eta.high)
    return Band(*(plain(np.asarray(flow * np.asarray(edge) / ratio)) for edge in edges))


def _rising(name: str, values: Sequence[float], most: float) -> FloatArray:
    if not 1 <= len(values) <= MOST_BORES:
        msg = f"{name} must be 1 to {MOST_BORES} values, got {len(values)}"
        raise OutsideRange(msg)
    found = positive(name, values, most)
    if found.ndim != 1 or np.any(np.diff(found) <= 0):
        msg = f"{name} must rise from each value to the next"
        raise OutsideRange(msg)
    return found
