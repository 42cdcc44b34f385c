"""What a source gives: flow by bucket and watch, its lowest of the year, and what may be taken."""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt
from scipy.special import stdtrit

from planner.band import Band
from planner.errors import OutsideRange
from planner.hydraulics.domain import MOST_FLOW, FloatArray, between, positive

Season = Literal["dry", "wet"]
Basis = Literal["dry reading", "wet reading", "wet reading, reduced"]

SHORTEST = 1.0  # s; a fill quicker than that can't be timed by hand
LONGEST = 86400.0  # s
MOST_VOLUME = 10.0  # m³, a tank filled by the watch; beyond, a slip of unit
MOST_TIMINGS = 1000
SURE = 0.9  # share of readings that the band holds

# Share of a wet-season reading that is left at the end of the dry season. Low confidence: field
# practice without a published series; a user who knows his spring states his own.
DRY_SHARES = {"shallow": Band(0.3, 0.5, 0.7), "deep": Band(0.7, 0.8, 0.9)}


@dataclass(frozen=True, slots=True, eq=False)
class BucketFlow:
    """Flow measured by filling a container.

    Attributes
    ----------
    flow : Band
        Mean, with the error of the bucket, of the watch and of the readings' scatter [m³/s].
    spread : float
        Standard deviation of the readings over their mean; NaN for one reading alone.
    readings : int
        How many fills were timed; three or more are usual.
    """

    flow: Band
    spread: float
    readings: int


def bucket_flow(
    volume: npt.ArrayLike,
    seconds: npt.ArrayLike,
    *,
    bucket_error: float = 0.03,
    watch_error: float = 0.5,
) -> BucketFlow:
    """Flow from the times in which a container fills.

    The half-width of the band joins what all readings share (the bucket's mark, the hand on the
    watch) with their own scatter (Student's t on the mean, 90 %).

    Parameters
    ----------
    volume : float or (n,) array
        What the container holds [m³], above 0, at most 10; one for all fills or one each.
    seconds : float or (n,) array
        Time of each fill [s], 1 s..1 day.
    bucket_error : float
        Share by which the container's mark may be wrong, 0..0.5. Medium confidence.
    watch_error : float
        Slip of starting and stopping the watch [s], 0..10. With the first it makes 3 to 6 % of a
        fill of 10 s or more, the 3 to 5 % of practice. Medium confidence.

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd, a fill is too quick to time, or the volumes don't
        match the times.

    References
    ----------
    Mine-reclamation field form: at least three timings; 3 to 5 % where a fill takes over 10 s.

    Examples
    --------
    >>> got = bucket_flow(0.020, [196.0, 204.0, 200.0])
    >>> round(got.flow.expected * 1e3, 4), got.readings
    (0.1, 3)
    """
    times, volumes = _fills(volume, seconds)
    bucket = float(between("bucket_error", bucket_error, 0.0, 0.5))
    watch = float(between("watch_error", watch_error, 0.0, 10.0))
    flows = volumes / times
    mean, count = float(flows.mean()), flows.size
    shared = math.hypot(bucket, watch / float(times.mean())) * mean
    if count == 1:
        deviation, scatter = math.nan, 0.0
    else:
        deviation = float(flows.std(ddof=1))
        scatter = float(stdtrit(count - 1, (1 + SURE) / 2)) * deviation / math.sqrt(count)
    half = math.hypot(shared, scatter)
    return BucketFlow(Band(max(mean - half, 0.0), mean, mean + half), deviation / mean, count)


def fill_seconds(volume: float, flow: float) -> float:
    """Time in which a flow [m³/s] fills a container [m³], in s.

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd.

    Examples
    --------
    >>> fill_seconds(0.020, 1e-4)  # 0.1 l/s into a 20 l can: just over 3 minutes
    200.0
    """
    return float(positive("volume", volume, 1e6) / positive("flow", flow, MOST_FLOW))


@dataclass(frozen=True, slots=True, eq=False)
class LowestFlow:
    """Flow of the source at its lowest [m³/s], and what that figure stands on."""

    flow: Band
    basis: Basis

    @property
    def for_design(self) -> bool:
        """Whether it was measured in the dry season; a wet-season reading is not for design."""
        return self.basis == "dry reading"


def lowest_flow(reading: Band, season: Season | None, factor: Band | None = None) -> LowestFlow:
    """Flow of the source at the end of the dry season.

    Parameters
    ----------
    reading : Band
        Flow as measured [m³/s], 0 or more.
    season : {"dry", "wet"} or None
        When it was measured; not stated counts as wet.
    factor : Band or None
        Share of a wet-season reading left at the end of the dry season, above 0, at most 1: the
        user's own, or `DRY_SHARES` of his kind of spring. A dry reading needs none.

    Returns
    -------
    LowestFlow
        A dry reading as it is; a wet one times its factor, or bare where none is stated. Only
        the first is for design.

    Raises
    ------
    OutsideRange
        The flow is NaN or negative, the factor outside 0..1, or given for a dry reading.

    Examples
    --------
    >>> got = lowest_flow(Band(0.9e-3, 1e-3, 1.1e-3), "wet", DRY_SHARES["shallow"])
    >>> round(got.flow.low * 1e3, 2), got.basis, got.for_design
    (0.27, 'wet reading, reduced', False)
    """
    _check("reading", reading, 0.0, MOST_FLOW)
    if season == "dry":
        if factor is not None:
            msg = "factor belongs to a wet-season reading; this one is from the dry season"
            raise OutsideRange(msg)
        return LowestFlow(reading, "dry reading")
    if factor is None:
        return LowestFlow(reading, "wet reading")
    positive("factor", factor.low)
    _check("factor", factor, 0.0, 1.0)
    return LowestFlow(_product(reading, factor), "wet reading, reduced")


def design_flow(lowest: Band, share_left: float = 0.3, *, safe_share: float = 0.8) -> Band:
    """Flow that a scheme may count on [m³/s]: what may be taken, and what is safely there.

    Parameters
    ----------
    lowest : Band
        Flow of the source at its lowest [m³/s], 0 or more.
    share_left : float
        Share that stays in the stream, 0..1; 0.3 to 0.5 of the lowest flow is usual, more in a
        small stream (medium confidence).
    safe_share : float
        Share of the measured lowest flow to count on, above 0, at most 1; 0.7 to 0.9 is usual, a
        drier year being to come (medium confidence).

    Returns
    -------
    Band
        The flow times the lesser of `1 - share_left` and `safe_share`.

    Raises
    ------
    OutsideRange
        A value is NaN or outside its range.

    Examples
    --------
    >>> round(design_flow(Band.exact(1e-3), 0.4).expected * 1e3, 3)
    0.6
    """
    _check("lowest", lowest, 0.0, MOST_FLOW)
    left = float(between("share_left", share_left, 0.0, 1.0))
    safe = float(positive("safe_share", safe_share, 1.0))
    return lowest.times(min(1.0 - left, safe))


def stream_share_left(source_flow: float, taken: float) -> float:
    """Share of the source's flow that stays in the stream, 0..1; 0 where all is asked for.

    Between source and ram all the drive water is taken; below the ram only what is delivered,
    as the rest comes back.

    Parameters
    ----------
    source_flow, taken : float
        [m³/s], the first above 0, the second 0 or more.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd, or the source gives nothing.

    Examples
    --------
    >>> stream_share_left(1e-3, 2.5e-4)
    0.75
    """
    whole = float(positive("source_flow", source_flow, MOST_FLOW))
    gone = float(between("taken", taken, 0.0, MOST_FLOW))
    return max(1.0 - gone / whole, 0.0)


def _fills(volume: npt.ArrayLike, seconds: npt.ArrayLike) -> tuple[FloatArray, FloatArray]:
    times = np.atleast_1d(between("seconds", seconds, SHORTEST, LONGEST))
    volumes = np.atleast_1d(positive("volume", volume, MOST_VOLUME))
    if times.ndim != 1 or not 1 <= times.size <= MOST_TIMINGS:
        msg = f"seconds must hold 1 to {MOST_TIMINGS} fills, got an array of {times.shape}"
        raise OutsideRange(msg)
    if volumes.shape not in {(1,), times.shape}:
        msg = f"volume must be one for all, or one for each of {times.size} fills"
        raise OutsideRange(msg)
    return times, np.broadcast_to(volumes, times.shape)


def _check(name: str, band: Band, least: float, most: float) -> None:
    for edge in ("low", "expected", "high"):
        between(f"{edge} {name}", getattr(band, edge), least, most)


def _product(one: Band, other: Band) -> Band:
    return Band(one.low * other.low, one.expected * other.expected, one.high * other.high)
