"""Break-pressure tanks: where a gravity line must meet the air again to spare its pipe."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from planner.errors import OutsideRange
from planner.hydraulics.domain import MOST_HEAD, FloatArray, between, positive
from planner.hydraulics.samples import line_arrays

ROUNDING = 1e-9  # m
SHARE_STEP = 1e-3


@dataclass(frozen=True, eq=False, slots=True)
class BreakPressure:
    """Tanks along a line, and the levels they step the water down to.

    Attributes
    ----------
    tanks : tuple of int
        Samples at which they stand, in the order of the flow.
    static_level : (n,) ndarray
        Level with all outlets closed [m]; at a tank that of the stretch before it, which its
        inlet valve must shut against. NaN behind `blocked`.
    blocked : int or None
        First sample that no choice of tanks can serve: too much pressure, or too little level.
    """

    tanks: tuple[int, ...]
    static_level: FloatArray
    blocked: int | None

    def __post_init__(self) -> None:
        own = np.array(self.static_level, dtype=np.float64)
        own.flags.writeable = False
        object.__setattr__(self, "static_level", own)


def break_pressure_tanks(
    chainage: npt.ArrayLike,
    pipe: npt.ArrayLike,
    source_level: float,
    allowed: npt.ArrayLike,
    *,
    needed_level: npt.ArrayLike | None = None,
    friction: npt.ArrayLike | None = None,
    may_stand: npt.ArrayLike | None = None,
) -> BreakPressure:
    """The fewest break-pressure tanks that keep a gravity line's static head within its pipe.

    Tanks stand at samples, at the pipe's level. From each water reaches up to some sample, past
    which a pipe is over its rating or a place out of reach; the fewest are got by going, again
    and again, to that tank within reach from which the water reaches farthest.

    Parameters
    ----------
    chainage, pipe : (n,) array
        Distance along the pipe, strictly rising, and its level [m].
    source_level : float
        Water level at the start [m].
    allowed : float or (n,) array
        Static head the pipe may have [m], above 0: rating times temperature factor, less what is
        kept for surge.
    needed_level : float or (n,) array, optional
        Level the running water must have at each sample [m]; the pipe's own where not given. An
        outlet asks for its own level and the head wanted there.
    friction : (n,) array, optional
        Head lost from the start to each sample at the flow wanted [m], not falling; 0 where not
        given.
    may_stand : (n,) bool array, optional
        Where a tank can stand; anywhere where not given. Never at the first and last sample.

    Returns
    -------
    BreakPressure
        With no tanks where none is needed.

    Raises
    ------
    OutsideRange
        A value is NaN or absurd, or the shapes don't fit; the message says which.

    Examples
    --------
    >>> got = break_pressure_tanks([0, 50, 99, 150, 201], [100, 80, 60, 40, 20], 100.0, 60.0)
    >>> got.tanks, got.static_level.tolist()
    ((2,), [100.0, 100.0, 100.0, 60.0, 60.0])
    """
    s, z = line_arrays(chainage, pipe)
    top = float(between("source_level", source_level, -MOST_HEAD, MOST_HEAD))
    head = _each("allowed", positive("allowed", allowed, MOST_HEAD), s)
    wanted = z if needed_level is None else needed_level
    needed = np.maximum(
        z, _each("needed_level", between("needed_level", wanted, -MOST_HEAD, MOST_HEAD), s)
    )
    lost = _friction(np.zeros_like(z) if friction is None else friction, s)
    stand = np.ones(s.size, bool) if may_stand is None else np.asarray(may_stand, bool)
    if stand.shape != s.shape:
        msg = f"may_stand must be one for each of {s.size} samples, got {stand.shape}"
        raise OutsideRange(msg)

    def jumps(share: float) -> tuple[tuple[int, ...], int | None]:
        return _jumps(z, top, z + share * head, needed + lost, lost, stand)

    tanks, blocked = jumps(1.0)
    if tanks and blocked is None:
        tanks = _relieved(tanks, jumps)
    return BreakPressure(tanks, _steps(z, top, tanks, blocked), blocked)


def _relieved(
    tanks: tuple[int, ...], jumps: Callable[[float], tuple[tuple[int, ...], int | None]]
) -> tuple[int, ...]:
    """As few tanks, placed for the smallest share of the allowed head, to a thousandth."""
    least, most = 0.0, 1.0
    while most - least > SHARE_STEP:
        share = 0.5 * (least + most)
        found, blocked = jumps(share)
        if blocked is None and len(found) == len(tanks):
            tanks, most = found, share
        else:
            least = share
    return tanks


def _jumps(
    z: FloatArray,
    top: float,
    most: FloatArray,
    needed: FloatArray,
    lost: FloatArray,
    stand: npt.NDArray[np.bool_],
) -> tuple[tuple[int, ...], int | None]:
    """Places of the fewest tanks; where the line can't be served, the first such sample.

    A stretch fed from level S at sample i serves k if S <= most[k] and S >= needed[k] - lost[i],
    where needed holds the friction from the start.
    """
    tanks: list[int] = []
    reach, tried = _reach(0, top, most, needed - lost[0]), 0
    while reach < z.size - 1:
        farthest, at = reach, -1
        for i in range(tried + 1, reach + 1):
            if stand[i]:
                end = _reach(i, float(z[i]), most, needed - lost[i])
                farthest, at = (end, i) if end > farthest else (farthest, at)
        if at < 0:
            return tuple(tanks), reach + 1
        tanks.append(at)
        tried, reach = reach, farthest
    return tuple(tanks), None


def _reach(start: int, level: float, most: FloatArray, needed: FloatArray) -> int:
    """Last sample to which water from `level` at `start` can be led."""
    size, step = most.size, 64
    for first in range(start + 1, size, step):
        part = slice(first, min(first + step, size))
        bad = (level > most[part] + ROUNDING) | (level < needed[part] - ROUNDING)
        if bad.any():
            return first + int(np.argmax(bad)) - 1
    return size - 1


def _steps(z: FloatArray, top: float, tanks: tuple[int, ...], blocked: int | None) -> FloatArray:
    level = np.full(z.size, top)
    for tank in tanks:
        level[tank + 1 :] = z[tank]
    if blocked is not None:
        level[blocked:] = np.nan
    return level


def _friction(friction: npt.ArrayLike, like: FloatArray) -> FloatArray:
    lost = _each("friction", between("friction", friction, 0.0, MOST_HEAD), like)
    if np.any(np.diff(lost) < 0):
        msg = "friction must not fall from sample to sample"
        raise OutsideRange(msg)
    return lost


def _each(name: str, value: FloatArray, like: FloatArray) -> FloatArray:
    if value.shape not in {(), like.shape}:
        msg = f"{name} must be one number or one for each of {like.size} samples, got {value.shape}"
        raise OutsideRange(msg)
    return np.broadcast_to(value, like.shape)
