"""A pipe that runs part full: how deep the water runs, and where along a line it does."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from fluids.geometry import A_partial_circle
from fluids.open_flow import V_Manning
from scipy.optimize import brentq, minimize_scalar

from planner.errors import OutsideRange
from planner.hydraulics.domain import (
    MOST_BORE,
    MOST_FLOW,
    MOST_HEAD,
    FloatArray,
    between,
    positive,
)
from planner.hydraulics.friction import NEW_PLASTIC, ROUGHEST, darcy_loss
from planner.hydraulics.full_flow import pipe_flow
from planner.hydraulics.water import viscosity

DROPS = 1e-12  # m³/s, a drop in a day: no flow
THINNEST = 1e-6  # of the bore; no shallower film is sought
LEVEL_ROUNDING = 1e-9  # m
MOST_POINTS = 1_000_000


def manning_flow(depth: float, bore: float, slope: float, *, n: float = 0.009) -> float:
    """Flow in a round pipe at a depth and slope, by Manning [m³/s].

    V = R^(2/3) sqrt(S) / n. Kept beside `depth_of_flow`, whose law is that of the full pipe: in
    a small smooth pipe Manning's n is no constant (new plastic 0.0075 to 0.010 as the water slows).

    Parameters
    ----------
    depth : float
        Of the water at the middle [m], 0..bore.
    bore : float
        Inside diameter [m], above 0.
    slope : float
        Drop over length along the pipe, 0..1.
    n : float
        Roughness [s/m^(1/3)], above 0, at most 0.2: plastic 0.009 to 0.011,
        joints and deposits included.

    Raises
    ------
    OutsideRange
        A value is NaN or outside its range; the message names it.

    References
    ----------
    Chow, Open-Channel Hydraulics, 1959; `fluids.open_flow.V_Manning`.

    Examples
    --------
    >>> round(manning_flow(0.025, 0.05, 0.01) / manning_flow(0.05, 0.05, 0.01), 6)
    0.5
    """
    d = float(positive("bore", bore, MOST_BORE))
    deep = float(between("depth", depth, 0.0, d))
    steep = float(between("slope", slope, 0.0, 1.0))
    rough = float(positive("n", n, 0.2))
    if deep == 0.0 or steep == 0.0:
        return 0.0
    section, hydraulic_bore = _wetted(deep, d)
    return section * float(V_Manning(hydraulic_bore / 4.0, steep, rough))


def slope_flow(
    slope: float, bore: float, roughness: float = NEW_PLASTIC, temperature: float = 20.0
) -> float:
    """What a pipe carries at a slope just full, under no pressure [m³/s].

    Parameters
    ----------
    slope : float
        Drop over length along the pipe, -1..1; level or rising it carries nothing.
    bore, roughness, temperature : float
        As for `friction_loss`.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.

    Examples
    --------
    >>> round(slope_flow(0.01, 0.05) * 60000)  # litres a minute
    77
    """
    steep = float(between("slope", slope, -1.0, 1.0))
    return pipe_flow(steep, bore, 1.0, roughness, temperature)


def depth_of_flow(
    flow: float,
    bore: float,
    slope: float,
    roughness: float = NEW_PLASTIC,
    temperature: float = 20.0,
) -> float:
    """Depth at which a flow runs in a round pipe of even slope [m]; the bore where it fills it.

    Darcy-Weisbach with four times the hydraulic radius for the bore, so that it meets the law of
    the full pipe. Of the two depths near the top that carry the same flow, the lesser.

    Parameters
    ----------
    flow : float
        [m³/s], 0 or more.
    bore : float
        Inside diameter [m], above 0.
    slope : float
        Drop over length along the pipe, above 0, at most 1.
    roughness, temperature : float
        As for `friction_loss`.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.

    Examples
    --------
    >>> half = slope_flow(0.01, 0.05) / 2
    >>> round(depth_of_flow(half, 0.05, 0.01), 4)
    0.025
    """
    q = float(between("flow", flow, 0.0, MOST_FLOW))
    d = float(positive("bore", bore, MOST_BORE))
    steep = float(positive("slope", slope, 1.0))
    rough = float(between("roughness", roughness, 0.0, ROUGHEST * d))
    nu = float(np.asarray(viscosity(temperature)))
    if q < DROPS:
        return 0.0

    def excess(share: float) -> float:
        return float(np.log(_slope_needed(q, share * d, d, rough, nu) / steep))

    best = float(minimize_scalar(excess, bounds=(0.7, 1.0), method="bounded").x)
    if excess(best) > 0.0:
        return d
    if excess(THINNEST) <= 0.0:
        return THINNEST * d
    return d * float(brentq(excess, THINNEST, best, xtol=1e-12))


@dataclass(frozen=True, slots=True)
class PartFull:
    """A stretch of a line in which water runs with air above it.

    Attributes
    ----------
    start, end : float
        Chainage along the pipe [m].
    least_depth, most_depth : float
        Of the water in it, over the bore, 0..1.
    fastest : float
        Highest mean speed of the water in it [m/s].
    """

    start: float
    end: float
    least_depth: float
    most_depth: float
    fastest: float


def running_level(
    chainage: npt.ArrayLike,
    pipe: npt.ArrayLike,
    flow: float,
    bore: npt.ArrayLike,
    *,
    end_level: float | None = None,
    roughness: npt.ArrayLike = NEW_PLASTIC,
    temperature: float = 20.0,
) -> FloatArray:
    """Level to which water stands along a line that a given flow runs down [m].

    From the end up the pipe stands full as far as friction holds the water back, never below the
    pipe itself: where it falls more steeply than the friction, water runs with air above it. The
    pipe is taken as open to the air at those stretches; a bore's own height is left out.

    Parameters
    ----------
    chainage : (n,) array
        Distance along the pipe [m], rising, n from 2 to a million.
    pipe : (n,) array
        Level of the pipe there [m].
    flow : float
        [m³/s], 0 or more.
    bore, roughness : float or (n - 1,) array
        Inside diameter and roughness [m] of the line, or of each piece between two chainages.
    end_level : float or None
        Water over the end [m]; None, or one below the pipe's end: it runs out freely.
    temperature : float
        Of the water [°C], 0..60.

    Returns
    -------
    (n,) array
        The first is the level that the source must have for the line to take that flow.

    Raises
    ------
    OutsideRange
        A value is NaN or absurd, lengths differ, or the chainage does not rise.

    Examples
    --------
    >>> running_level([0.0, 50.0, 100.0], [10.0, 4.0, 5.0], 0.0, 0.03).tolist()
    [10.0, 5.0, 5.0]
    """
    s, z, tail = _line(chainage, pipe, end_level)
    lost = _lost(s, flow, bore, roughness, temperature)
    return np.asarray(_highest_from(z + lost, tail + lost[-1]) - lost)


def line_capacity(
    chainage: npt.ArrayLike,
    pipe: npt.ArrayLike,
    start_level: float,
    bore: npt.ArrayLike,
    *,
    end_level: float | None = None,
    roughness: npt.ArrayLike = NEW_PLASTIC,
    temperature: float = 20.0,
) -> float:
    """Most that a line takes from a level without drawing on a crest's suction [m³/s].

    The least of what its stretches from the start to each point carry; nothing where the pipe, or
    the water over its end, stands at or above the start level.

    Parameters
    ----------
    chainage, pipe, bore, roughness, end_level, temperature
        As for `running_level`.
    start_level : float
        Level of the water the line starts from [m].

    Raises
    ------
    OutsideRange
        As for `running_level`.

    Examples
    --------
    >>> round(line_capacity([0.0, 100.0], [100.0, 95.0], 100.0, 0.0204) * 60000, 1)
    16.9
    """
    s, z, tail = _line(chainage, pipe, end_level)
    start = float(between("start_level", start_level, -MOST_HEAD, MOST_HEAD))
    head = start - np.append(z[:-1], tail)
    _lost(s, 0.0, bore, roughness, temperature)  # refuses an unusable pipe even with no head
    if head[0] < -LEVEL_ROUNDING or np.any(head[1:] <= 0.0):
        return 0.0

    def spare(flow: float) -> float:
        lost = _lost(s, flow, bore, roughness, temperature)
        return float(np.min(head[1:] - lost[1:]))

    wide = float(np.max(bore))
    most = pipe_flow(float(np.max(head)), wide, float(np.min(np.diff(s))), 0.0, temperature)
    most = min(2.0 * most, MOST_FLOW)
    return float(brentq(spare, 0.0, most, xtol=1e-18, rtol=1e-12)) if spare(most) < 0 else most


def part_full_stretches(
    chainage: npt.ArrayLike,
    pipe: npt.ArrayLike,
    flow: float,
    bore: npt.ArrayLike,
    *,
    end_level: float | None = None,
    roughness: npt.ArrayLike = NEW_PLASTIC,
    temperature: float = 20.0,
) -> tuple[PartFull, ...]:
    """Where along a line a given flow runs part full, in order from its start.

    Parameters, errors and the law are those of `running_level`. A flow of 0 leaves the stretches
    that drain empty: depth 0, speed 0.

    Examples
    --------
    >>> got = part_full_stretches([0.0, 50.0, 100.0], [10.0, 4.0, 5.0], 2e-4, 0.03)
    >>> [(round(one.start), round(one.end)) for one in got]
    [(0, 39)]
    """
    s, z, tail = _line(chainage, pipe, end_level)
    lost = _lost(s, flow, bore, roughness, temperature)
    stand = z + lost
    below = _highest_from(stand, tail + lost[-1])
    d, rough = (np.broadcast_to(v, s.size - 1) for v in (bore, roughness))
    found: list[PartFull] = []
    for k in np.flatnonzero(stand[:-1] > below[1:] + LEVEL_ROUNDING):
        share = (stand[k] - below[k + 1]) / (stand[k] - stand[k + 1])
        slope = float((z[k] - z[k + 1]) / (s[k + 1] - s[k]))
        depth = depth_of_flow(flow, float(d[k]), slope, float(rough[k]), temperature) / float(d[k])
        end = float(s[k] + share * (s[k + 1] - s[k]))
        piece = PartFull(float(s[k]), end, depth, depth, _speed(flow, depth, float(d[k])))
        found[-1:] = _joined(found[-1:], piece)
    return tuple(found)


def _joined(last: list[PartFull], piece: PartFull) -> list[PartFull]:
    if not last or last[0].end < piece.start:
        return [*last, piece]
    before = last[0]
    return [
        PartFull(
            before.start,
            piece.end,
            min(before.least_depth, piece.least_depth),
            max(before.most_depth, piece.most_depth),
            max(before.fastest, piece.fastest),
        )
    ]


def _wetted(depth: float, bore: float) -> tuple[float, float]:
    """Section of the water, and the bore of a full pipe with the same hydraulic radius."""
    section = float(A_partial_circle(bore, depth))
    perimeter = bore * float(np.arccos(1.0 - 2.0 * depth / bore))
    return section, 4.0 * section / perimeter


def _slope_needed(flow: float, depth: float, bore: float, roughness: float, nu: float) -> float:
    """Slope that carries a flow at a depth: friction over a metre of the pipe of like radius."""
    section, like = _wetted(depth, bore)
    through = flow * np.pi / 4.0 * like**2 / section
    rough = min(roughness, ROUGHEST * like)
    return float(darcy_loss(*map(np.float64, (through, like, 1.0, rough, nu))))


def _speed(flow: float, share: float, bore: float) -> float:
    return flow / _wetted(share * bore, bore)[0] if share > 0.0 else 0.0


def _highest_from(stand: FloatArray, tail: float) -> FloatArray:
    """Highest stand from each point to the end, where water stands at `tail`."""
    backwards = np.append(stand[:-1], tail)[::-1]
    return np.asarray(np.maximum.accumulate(backwards)[::-1])


def _line(
    chainage: npt.ArrayLike, pipe: npt.ArrayLike, end_level: float | None
) -> tuple[FloatArray, FloatArray, float]:
    """The line's chainage and level, and the level of the water at its end."""
    s = between("chainage", chainage, -1e9, 1e9)
    z = between("pipe", pipe, -MOST_HEAD, MOST_HEAD)
    if s.ndim != 1 or not 2 <= s.size <= MOST_POINTS or np.any(np.diff(s) <= 0):
        msg = f"chainage must be 2 to {MOST_POINTS} distances along the pipe, each above the last"
        raise OutsideRange(msg)
    if z.shape != s.shape:
        msg = f"pipe must have a level for each of the {s.size} chainages, got {z.size}"
        raise OutsideRange(msg)
    tail = float(z[-1])
    if end_level is not None:
        tail = max(tail, float(between("end_level", end_level, -MOST_HEAD, MOST_HEAD)))
    return s, z, tail


def _lost(
    s: FloatArray,
    flow: float,
    bore: npt.ArrayLike,
    roughness: npt.ArrayLike,
    temperature: float,
) -> FloatArray:
    """Friction of the full pipe from the start to each chainage [m]."""
    q = between("flow", flow, 0.0, MOST_FLOW)
    d = positive("bore", bore, MOST_BORE)
    rough = between("roughness", roughness, 0.0)
    for name, value in (("bore", d), ("roughness", rough)):
        if value.shape not in {(), (s.size - 1,)}:
            msg = f"{name} must be one number or one for each of {s.size - 1} pieces of the line"
            raise OutsideRange(msg)
    if np.any(rough > ROUGHEST * d):
        msg = f"roughness must be at most {ROUGHEST:g} of the bore, got {np.max(rough / d):g} of it"
        raise OutsideRange(msg)
    each = darcy_loss(q, d, np.diff(s), rough, np.asarray(viscosity(temperature)))
    return np.concatenate(([0.0], np.cumsum(each)))
