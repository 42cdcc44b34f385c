"""Laying a pipe along a profile: its level, its high and low points, its flat stretches."""

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from planner.errors import TerrainError
from planner.grade.laying import Edge, End, Levels, extra_depth, falling_levels, pipe_levels
from planner.profile.along import chainage_of
from planner.profile.value import FloatArray, HighPoint, LowPoint, Profile, Stretch

SHORTEST_FLAT = 1.0  # m; shorter flat stretches are joints between pieces, not a place to look at


@dataclass(frozen=True, slots=True)
class Laid:
    """A profile with its pipe laid, and the points on it that hold air or water."""

    profile: Profile
    high_points: tuple[HighPoint, ...]
    low_points: tuple[LowPoint, ...]
    flats: tuple[Stretch, ...]


def high_points(
    profile: Profile, least: float, slack: npt.ArrayLike, start: End = "open", end: End = "open"
) -> list[HighPoint]:
    """High points of the laying with fewest of them: where air stays in the pipe.

    Parameters
    ----------
    profile : Profile
        Only its ground counts; the cover shifts all levels alike.
    least : float
        Least grade of every piece, rise over run, 0 or more.
    slack : float or (n,) array-like
        Deepest trench less least cover [m].
    start, end : {"open", "closed"}
        Air leaves through an open end; a delivery's start at the ram is closed.

    Raises
    ------
    TerrainError
        The profile crosses a hole in the elevation data.
    OutsideRange
        `least` or `slack` is NaN or negative.
    """
    laid = lay(profile, cover=0.0, slack=slack, least=least, start=start, end=end)
    return list(laid.high_points)


def lay(
    profile: Profile,
    *,
    cover: float,
    slack: npt.ArrayLike,
    least: float,
    start: End = "open",
    end: End = "open",
) -> Laid:
    """Lay a pipe with the fewest high points.

    Parameters
    ----------
    profile : Profile
    cover : float
        Least cover [m]; negative: on the surface, propped up to so much.
    slack : float or (n,) array-like
        Deepest trench less least cover [m].
    least : float
        Least grade of every piece.
    start, end : {"open", "closed"}

    Raises
    ------
    TerrainError
        The profile crosses a hole in the elevation data.
    """
    top, band = _band(profile, cover, slack)
    hugs: Edge = "bottom" if cover < 0.0 else "top"
    levels = pipe_levels(profile.run, top, band, least, start=start, end=end, hugs=hugs)
    laid = _with_pipe(profile, levels.level)
    turns = np.unique(np.concatenate([levels.highs, levels.lows, [0, profile.run.size - 1]]))
    return Laid(
        profile=laid,
        high_points=tuple(
            HighPoint(
                index=int(k),
                run_m=float(laid.run[k]),
                chainage_m=float(laid.chainage[k]),
                level_m=float(laid.pipe[k]),
                rise_m=_beside(laid.pipe, turns, int(k), 1.0),
                deeper_m=extra_depth(
                    levels, profile.run, top, band, least=least, high=int(k), start=start, end=end
                ),
            )
            for k in levels.highs
        ),
        low_points=tuple(
            LowPoint(
                index=int(k),
                run_m=float(laid.run[k]),
                chainage_m=float(laid.chainage[k]),
                level_m=float(laid.pipe[k]),
                sag_m=_beside(laid.pipe, turns, int(k), -1.0),
            )
            for k in levels.lows
        ),
        flats=_flats(laid, levels),
    )


def lay_falling(
    profile: Profile,
    *,
    cover: float,
    slack: npt.ArrayLike,
    least: float,
    greatest: float | None = None,
) -> Laid | None:
    """Lay a pipe that falls all the way, or None where the band holds none. See `lay`.

    `greatest` is the grade by which it falls at most; None: no limit.
    """
    top, band = _band(profile, cover, slack)
    level = falling_levels(profile.run, top, band, least, greatest)
    return None if level is None else Laid(_with_pipe(profile, level), (), (), ())


def lay_straight(profile: Profile) -> Laid:
    """Lay a rigid pipe straight from the first sample's ground to the last's."""
    share = profile.run / profile.run[-1]
    level = profile.ground[0] + share * (profile.ground[-1] - profile.ground[0])
    return Laid(_with_pipe(profile, level), (), (), ())


def _band(profile: Profile, cover: float, slack: npt.ArrayLike) -> tuple[FloatArray, FloatArray]:
    holes = np.flatnonzero(np.isnan(profile.ground))
    if holes.size:
        first, last = profile.chainage[holes[0]], profile.chainage[holes[-1]]
        msg = (
            f"the line crosses a hole in the elevation data between {first:.1f} m and {last:.1f} m "
            "along it; move the line or bring data that covers it"
        )
        raise TerrainError(msg)
    # A copy, so that a depth told once and one told sample by sample are compiled for alike.
    band = np.array(np.broadcast_to(np.asarray(slack, dtype=np.float64), profile.run.shape))
    return profile.ground - cover, band


def _with_pipe(profile: Profile, level: FloatArray) -> Profile:
    return replace(profile, pipe=level, chainage=chainage_of(profile.run, level))


def _beside(pipe: FloatArray, turns: npt.NDArray[np.int64], k: int, sign: float) -> float:
    """How far sample k stands above (sign 1) or below (-1) the nearer of its neighbours' levels."""
    i = int(np.searchsorted(turns, k))
    neighbours = [turns[j] for j in (i - 1, i + 1) if 0 <= j < turns.size]
    return float(min(sign * (pipe[k] - pipe[j]) for j in neighbours))


def _flats(laid: Profile, levels: Levels) -> tuple[Stretch, ...]:
    edges = np.diff(np.concatenate([[0], levels.flat.astype(np.int8), [0]]))
    begins, ends = np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)
    stretches = (
        Stretch(float(laid.chainage[b]), float(laid.chainage[e]))
        for b, e in zip(begins, ends, strict=True)
    )
    return tuple(s for s in stretches if s.end_m - s.start_m >= SHORTEST_FLAT)
