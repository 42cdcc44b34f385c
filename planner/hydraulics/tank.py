"""The tank: storage hour by hour, the smallest that serves, its overflow and its weight."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from planner.errors import OutsideRange
from planner.hydraulics.domain import (
    MOST_BORE,
    MOST_FLOW,
    MOST_HEAD,
    FloatArray,
    between,
    positive,
)
from planner.hydraulics.friction import area
from planner.hydraulics.water import GRAVITY, density

HOURS = 24
MOST_HOURS = 24 * 366 * 100
MOST_VOLUME = 1e6  # m³
ROUNDING = 1e-9  # m³, no shortage


@dataclass(frozen=True, slots=True, eq=False)
class Storage:
    """A tank through a run of hours.

    Attributes
    ----------
    stored : (n + 1,) array
        Water in the tank before the first hour and after each [m³].
    shortage : (n,) array
        Need that was not met in each hour [m³].
    overflow : (n,) array
        Water that left by the overflow in each hour [m³].
    """

    stored: FloatArray
    shortage: FloatArray
    overflow: FloatArray

    @property
    def shortage_days(self) -> int:
        """Days on which the need was not wholly met."""
        return int(np.count_nonzero(np.add.reduceat(self.shortage, self._mornings) > ROUNDING))

    @property
    def missing(self) -> float:
        """All the need that was not met [m³]."""
        return float(self.shortage.sum())

    @property
    def spilt(self) -> float:
        """All the water that overflowed [m³]."""
        return float(self.overflow.sum())

    @property
    def lowest(self) -> float:
        """Least water in the tank [m³]."""
        return float(self.stored.min())

    @property
    def _mornings(self) -> npt.NDArray[np.int64]:
        return np.arange(0, self.shortage.size, HOURS)


def store(
    inflow: npt.ArrayLike, need: npt.ArrayLike, volume: float, *, start: float | None = None
) -> Storage:
    """A tank's water hour by hour; what comes in an hour serves the need of the same hour.

    Parameters
    ----------
    inflow, need : (n,) array
        Water in and water wanted in each hour [m³], 0 or more, n up to a hundred years;
        `by_the_hour` makes hours of days.
    volume : float
        Of the tank [m³], 0 or more.
    start : float or None
        Water in it at the start [m³], 0..volume; None: full.

    Returns
    -------
    Storage

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd, the runs differ in length, or the start is more than
        the tank holds.

    Examples
    --------
    >>> got = store([1.0, 1.0, 1.0], [0.0, 4.0, 0.0], 2.0)
    >>> got.stored.tolist(), got.shortage.tolist(), got.overflow.tolist()
    ([2.0, 2.0, 0.0, 1.0], [0.0, 1.0, 0.0], [1.0, 0.0, 0.0])
    """
    into, wanted = _runs(inflow, need)
    holds = float(between("volume", volume, 0.0, MOST_VOLUME))
    level = holds if start is None else float(between("start", start, 0.0, holds))
    stored = [level]
    beyond = []
    for gain in (into - wanted).tolist():
        free = level + gain
        level = min(max(free, 0.0), holds)
        stored.append(level)
        beyond.append(free - level)
    excess = np.asarray(beyond)
    return Storage(np.asarray(stored), np.maximum(-excess, 0.0), np.maximum(excess, 0.0))


def smallest_tank(inflow: npt.ArrayLike, need: npt.ArrayLike, *, reserve: float = 0.0) -> float:
    """Volume of the smallest tank that, full at the start, never runs short [m³].

    The largest deficit that gathers over any run of hours, max over i < j of the sum of need less
    inflow from i to j, plus a reserve. For a day that repeats, give it twice over: the worst run
    may cross midnight. Where the whole run needs more than comes, the figure grows with the run.

    Parameters
    ----------
    inflow, need : (n,) array
        As for `store`.
    reserve : float
        Kept for the unforeseen [m³], 0 or more.

    Raises
    ------
    OutsideRange
        As for `store`.

    Examples
    --------
    >>> smallest_tank([1.0, 1.0, 1.0], [0.0, 4.0, 0.0])
    3.0
    """
    into, wanted = _runs(inflow, need)
    kept = float(between("reserve", reserve, 0.0, MOST_VOLUME))
    owed = np.concatenate(([0.0], np.cumsum(wanted - into)))
    return float(np.max(owed - np.minimum.accumulate(owed))) + kept


def by_the_hour(daily: npt.ArrayLike) -> FloatArray:
    """Hours of days that run evenly: (d,) array [m³/day] to (24 d,) array [m³ in the hour].

    Raises
    ------
    OutsideRange
        A day is NaN, negative or absurd, or the days are no list.

    Examples
    --------
    >>> float(by_the_hour([24.0]).sum())
    24.0
    """
    days = between("daily", daily, 0.0, MOST_VOLUME)
    if days.ndim != 1 or not 1 <= days.size <= MOST_HOURS // HOURS:
        msg = f"daily must be a list of 1 to {MOST_HOURS // HOURS} days, got shape {days.shape}"
        raise OutsideRange(msg)
    return np.repeat(days / HOURS, HOURS)


def fill_time(volume: float, inflow: float, drawn: float = 0.0) -> float:
    """Time in which an empty tank fills [s]; infinite where as much is drawn as comes.

    Parameters
    ----------
    volume : float
        [m³], above 0.
    inflow, drawn : float
        Steady [m³/s], 0 or more.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd.

    Examples
    --------
    >>> fill_time(5.0, 1e-3) / 3600 < 1.4, fill_time(5.0, 1e-3, 1e-3)
    (True, inf)
    """
    holds = float(positive("volume", volume, MOST_VOLUME))
    gain = float(between("inflow", inflow, 0.0, MOST_FLOW))
    gain -= float(between("drawn", drawn, 0.0, MOST_FLOW))
    return holds / gain if gain > 0.0 else math.inf


# Speed heads lost at a sharp pipe mouth, and the one that leaves with the water.
OVERFLOW_LOSS = 1.5


def overflow_head(flow: float, bore: float, *, loss: float = OVERFLOW_LOSS) -> float:
    """Water over the middle of an overflow's mouth that drives a flow through it [m].

    The line below falls freely (a rule of its own), so that the mouth alone holds it back.

    Parameters
    ----------
    flow : float
        [m³/s], 0 or more.
    bore : float
        Inside diameter [m], above 0.
    loss : float
        Speed heads spent, 1 or more: mouth 0.5 and outlet 1; more for a screen or a bend.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd.

    Examples
    --------
    >>> round(overflow_head(1e-3, 0.04), 3)
    0.048
    """
    q = float(between("flow", flow, 0.0, MOST_FLOW))
    speed = q / float(area(positive("bore", bore, MOST_BORE)))
    return float(between("loss", loss, 1.0, 1000.0)) * speed**2 / (2.0 * GRAVITY)


def overflow_bore(
    inflow: float,
    inlet_bore: float,
    bores: Sequence[float],
    *,
    head: float = 0.1,
    loss: float = OVERFLOW_LOSS,
) -> float | None:
    """Smallest of the bores on offer that does for the overflow [m]; None where none does.

    It is wider than the inlet, one size up or more, and passes all that comes in.

    Parameters
    ----------
    inflow : float
        All that may come in [m³/s], 0 or more.
    inlet_bore : float
        Inside diameter of the inlet [m], above 0.
    bores : sequence of float
        Inside diameters to choose from [m], in any order.
    head : float
        Most that the water may stand over it [m], above 0; 0.1 is usual.
    loss : float
        As for `overflow_head`.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd.

    Examples
    --------
    >>> overflow_bore(1e-3, 0.0204, [0.0204, 0.026, 0.0326, 0.0408])
    0.0408
    """
    inlet = float(positive("inlet_bore", inlet_bore, MOST_BORE))
    most = float(positive("head", head, 100.0))
    offered = sorted(np.atleast_1d(positive("bores", bores, MOST_BORE)).tolist())
    wide = (d for d in offered if d > inlet and overflow_head(inflow, d, loss=loss) <= most)
    return next(wide, None)


@dataclass(frozen=True, slots=True)
class Load:
    """A full tank on its ground or stand.

    Attributes
    ----------
    mass : float
        Of water and shell [kg].
    weight : float
        [N].
    pressure : float
        Under the base [Pa].
    design_weight : float
        What a stand is to bear [N]: weight times the safety; wind and earthquake come besides.
    footing : float
        Least area of all footings together on unknown ground [m²].
    engineer : bool
        Whether an engineer is to design what carries it.
    """

    mass: float
    weight: float
    pressure: float
    design_weight: float
    footing: float
    engineer: bool


def tank_load(
    volume: float,
    base: float,
    *,
    stand: float = 0.0,
    shell_share: float = 0.05,
    safety: float = 1.5,
    bearing: float = 75e3,
    highest: float = 1.0,
    largest: float = 1.0,
) -> Load:
    """Weight of a full tank, pressure under it, and whether an engineer must see to its stand.

    Parameters
    ----------
    volume : float
        Of water when full to the brim [m³], above 0.
    base : float
        Diameter of its base [m], above 0.
    stand : float
        Height of the base above ground [m], 0 or more; 0: it stands on the ground.
    shell_share : float
        Mass of the shell over that of the water, 0..10: plastic 0.02 to 0.05, ferrocement or
        masonry up to 1. Low confidence.
    safety : float
        On the weight a stand bears, 1 or more. Medium confidence.
    bearing : float
        Pressure that unknown ground bears [Pa], above 0: 75 to 100 kPa. Medium confidence.
    highest, largest : float
        A stand above so many metres, or a tank above so many m³ on any stand, calls for an
        engineer. Medium confidence.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd.

    Examples
    --------
    >>> got = tank_load(5.0, 1.8, shell_share=0.0)
    >>> round(got.pressure / 1e3), got.engineer  # kPa
    (19, False)
    """
    holds = float(positive("volume", volume, MOST_VOLUME))
    section = float(area(positive("base", base, 1000.0)))
    height = float(between("stand", stand, 0.0, MOST_HEAD))
    shell = float(between("shell_share", shell_share, 0.0, 10.0))
    mass = holds * float(density(4.0)) * (1.0 + shell)
    weight = mass * GRAVITY
    design = weight * float(between("safety", safety, 1.0, 100.0))
    bears = float(positive("bearing", bearing, 1e8))
    pressure = weight / section
    tall = height > float(between("highest", highest, 0.0))
    heavy = height > 0.0 and holds > float(between("largest", largest, 0.0))
    engineer = tall or heavy or pressure > bears
    return Load(mass, weight, pressure, design, design / bears, engineer)


def _runs(inflow: npt.ArrayLike, need: npt.ArrayLike) -> tuple[FloatArray, FloatArray]:
    into = between("inflow", inflow, 0.0, MOST_VOLUME)
    wanted = between("need", need, 0.0, MOST_VOLUME)
    if into.ndim != 1 or not 1 <= into.size <= MOST_HOURS:
        msg = f"inflow must be a list of 1 to {MOST_HOURS} hours, got an array of {into.shape}"
        raise OutsideRange(msg)
    if wanted.shape != into.shape:
        msg = f"need must have as many hours as inflow, {into.size}, got {wanted.shape}"
        raise OutsideRange(msg)
    return into, wanted
