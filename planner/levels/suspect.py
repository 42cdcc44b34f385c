"""Readings that can't be right: against one another, and against the elevation data."""

import math
from collections.abc import Iterable

import numpy as np
from scipy.stats import norm

from planner.errors import InputError
from planner.levels.adjust import Adjusted, Verdict, judge
from planner.levels.network import Network
from planner.levels.stations import Sited
from planner.levels.value import Difference, FloatArray
from planner.units.show import System, show

# Of one hundred surveys with no reading wrong, in so many the worst is taken for wrong. The share
# of one reading is this over their number.
# Lehmann, R., 2012: Improved critical values for extreme normalized and studentized residuals in
# Gauss-Markov models. Journal of Geodesy 86, 1137-1146.
FALSE_ALARM = 0.01
GROSS_W = 5.0  # standard errors (setting)
GROSS = 0.1  # m; less moves no pipe by more than a hand (setting)
# Against the elevation data, which themselves may be far off under trees and at banks (settings).
DATA_TOLD, LEAST_TOLD = 4.0, 1.0  # standard errors of them, m
DATA_GROSS, LEAST_GROSS = 10.0, 5.0
NEAR_ONE = 0.98  # of a reading's w: the station it leads to is to be named
SPREAD_OF_MEDIAN = 1.4826  # standard deviation over median size, of a normal distribution
ENOUGH = 6  # steps, to tell how far the data are off in general
MOST_ROWS = 4


def contradictions(net: Network, free: Adjusted, units: System) -> tuple[str, ...]:
    """A note on the reading that the others speak against, if there is one.

    Parameters
    ----------
    net : Network
    free : Adjusted
        Adjusted with nothing but the readings.
    units : {"metric", "us"}
        Of messages.

    Raises
    ------
    InputError
        It can't be right.
    """
    test = judge(net, free)
    worst = int(np.argmax(np.abs(test.w)))
    if abs(test.w[worst]) <= critical(int(np.count_nonzero(test.w))):
        return ()
    rival = _rival(net, free, worst)
    more = "more" if test.size[worst] > 0.0 else "less"
    told = (
        f"{net.read[worst].row}: {_said(net.read[worst], units)} is "
        f"{show(abs(float(test.size[worst])), 'level', units)} {more} than the other readings make "
        f"it, {net.read[rival].row} first of all"
    )
    if abs(test.w[worst]) > GROSS_W and abs(test.size[worst]) > GROSS:
        msg = f"{told}; they contradict each other: read both again and take the wrong one out"
        raise InputError(msg)
    return (f"{told}; both were used, each as sure as its kind is",)


def critical(count: int) -> float:
    """The size beyond which the largest of so many normal deviates is suspect."""
    return float(norm.isf(FALSE_ALARM / 2.0 / max(count, 1)))


def _rival(net: Network, free: Adjusted, worst: int) -> int:
    """The reading whose residual hangs together most with that of another."""
    column = free.covariance[:, net.end[worst]] - free.covariance[:, net.start[worst]]
    shared = np.abs(net.above(column))
    spread = np.sqrt(np.maximum(net.error**2 - net.variance_of(free.covariance), 0.0))
    hang = np.where(spread > 1e-6 * net.error, shared / np.maximum(spread, 1e-12), 0.0)
    hang[worst] = -1.0
    return int(np.argmax(hang))


def strays(
    net: Network,
    joint: Adjusted,
    sited: Sited,
    off: Verdict,
    errors: FloatArray,
    units: System,
) -> tuple[str, ...]:
    """A note on the station that stands farthest from the elevation data, if too far.

    Parameters
    ----------
    joint : Adjusted
        Readings and elevation data together.
    off : Verdict
        Of each station: its level less that of the ground bent to all others.
    errors : (n,) ndarray
        Standard errors of the elevation data there [m].
    units : {"metric", "us"}
        Of messages.

    Raises
    ------
    InputError
        A station or a reading is off by so much that it must be wrong.
    """
    readings = judge(net, joint)
    usual = _usual(net, joint, sited)
    by_station = int(np.argmax(np.abs(off.w)))
    by_reading = int(np.argmax(np.abs(readings.w)))
    if abs(off.w[by_station]) <= critical(len(off.w)):
        return ()
    sigma = max(float(errors[by_station]), usual)
    size = float(off.size[by_station])
    if abs(off.w[by_station]) >= NEAR_ONE * abs(readings.w[by_reading]):
        told = _of_station(net, int(sited.index[by_station]), size, units)
    else:
        size = float(readings.size[by_reading])
        told = _of_reading(net.read[by_reading], size, units)
    if abs(size) > max(DATA_GROSS * sigma, LEAST_GROSS):
        msg = f"{told}; a reading was misread, or a station stands elsewhere: look there first"
        raise InputError(msg)
    if abs(size) > max(DATA_TOLD * sigma, LEAST_TOLD):
        return (f"{told}; the ground was bent to it: look whether it was read right",)
    return ()


def _usual(net: Network, joint: Adjusted, sited: Sited) -> float:
    """How far levels stand off the elevation data in general, whatever one of them does [m].

    From the steps between one station and the next, of which one that is wrong moves two.
    """
    off = joint.level[sited.index] - sited.model
    group = net.group()[sited.index]
    steps = np.abs(np.diff(off))[np.diff(group) == 0]
    if steps.size < ENOUGH:
        return 0.0
    return SPREAD_OF_MEDIAN * float(np.median(steps)) / math.sqrt(2.0)


def _of_station(net: Network, number: int, size: float, units: System) -> str:
    rows = [
        str(one.row)
        for start, end, one in zip(net.start, net.end, net.read, strict=True)
        if number in (start, end)
    ]
    where = "above" if size > 0.0 else "below"
    return (
        f"{_rows(rows)}: {net.names[number]} stands {show(abs(size), 'length', units)} {where} the "
        "elevation data, by the levels of the other stations"
    )


def _of_reading(one: Difference, size: float, units: System) -> str:
    more = "more" if size > 0.0 else "less"
    return (
        f"{one.row}: {_said(one, units)} is {show(abs(size), 'length', units)} {more} than the "
        "elevation data on both sides of it make it"
    )


def _said(one: Difference, units: System) -> str:
    if one.method == "known":
        return f"the level of {one.end}"
    told = show(one.rise, "level", units, decimals=3)
    return f"the rise from {one.start} to {one.end} ({told})"


def _rows(rows: Iterable[str]) -> str:
    own = list(dict.fromkeys(rows))
    more = "" if len(own) <= MOST_ROWS else f" and {len(own) - MOST_ROWS} more"
    return ", ".join(own[:MOST_ROWS]) + more
