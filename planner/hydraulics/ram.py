"""What a hydraulic ram delivers, as published figures have it: a band, not a promise.

How the figures were made (tests/hydraulics/test_ram_fit.py makes them again from the tables)
------------------------------------------------------------------------------------------------
R is the ratio lift/fall, H the fall [m]. Rankine's efficiency, which counts the lift from the
source's level and only the wasted water as spent, is the one that stays put as R nears 1:

    eta_R = FLOOR + (plateau(H) - FLOOR) / (1 + (R / HALF)^STEEPNESS)
    plateau(H) = BEST (1 - LOSS exp(-H / FALL_SCALE))

a plateau that low falls do not reach, and that gives way to a floor as R passes some 20.
D'Aubuisson's, eta = q h / (Q H), follows: eta = eta_R R / (R - 1 + eta_R); with eta_R < 1 it
can't break q h <= Q H. The six numbers are the least squares of the logarithms on the 125 cells
of the trade's table of litres a day (UN/ITDG notes; 53 read for its misprint 43 at fall 4 m, lift
60 m). 93 % of the cells lie within 10 % of the formula, all within 19 %, rms 5.6 %; the table
itself is uneven (0.50 at fall 3 m, R 26.7; 0.40 at 4 and 5 m, R 25), so that no smooth surface does
much better.

The band's low end is what ordinary installations gave in the field ("Das Wasser", 1913, R 2 to
7: the least-squares power law, lowered by 5 % to lie under all six figures), carried on to higher
R; its high end is what the best test rams gave (Eytelwein, 1804, R 2 to 21: 1.12 - 0.2 √(R - 1)).
Neither comes closer to the expected value than LEAST_BELOW and LEAST_ABOVE, by which the band
takes in every cell of the table.
"""

import warnings
from collections.abc import Callable

import numpy as np
import numpy.typing as npt

from planner.band import Band
from planner.errors import OutsideRange, OutsideRangeWarning
from planner.hydraulics.domain import MOST_FLOW, MOST_HEAD, FloatArray, plain, positive

BEST = 0.600
LOSS = 0.701
FALL_SCALE = 1.415  # m
FLOOR = 0.344
HALF = 22.67
STEEPNESS = 6.56

FIELD_FACTOR, FIELD_POWER = 0.977, -0.555
TEST_RAM_BASE, TEST_RAM_SLOPE = 1.12, 0.2
LEAST_BELOW, LEAST_ABOVE = 0.05, 0.10

# Home-made rams: half of a commercial one's (USAID: 0.33 against 0.66) where nothing is tested;
# found anywhere from 0.2 to 0.65.
HOME_LOW, HOME_EXPECTED, HOME_MOST = 0.30, 0.5, 0.65

# What the tables cover, ends included.
RATIO_LEAST, RATIO_MOST = 2.0, 125.0 / 3.0
FALL_LEAST, FALL_MOST = 1.0, 20.0  # m
COVERED = (
    f"fall must be {FALL_LEAST:g}..{FALL_MOST:g} m and lift "
    f"{RATIO_LEAST:g}..{RATIO_MOST:.1f} times it"
)
COVERED_MEASURED = f"lift must be above the fall and at most {RATIO_MOST:.1f} times it"
EDGE = 1e-9  # share by which rounding may carry a value over an end

Edges = tuple[FloatArray, FloatArray, FloatArray]


def ram_yield(
    drive_flow: npt.ArrayLike,
    fall: npt.ArrayLike,
    lift: npt.ArrayLike,
    kind: str = "commercial",
    *,
    efficiency: Band | None = None,
) -> Band:
    """Water a ram delivers [m³/s], as low, expected and high: eta Q H / h.

    Parameters
    ----------
    drive_flow : float or array
        All the water that enters the drive pipe [m³/s], above 0. The arguments broadcast.
    fall : float or array
        From the water level at the drive pipe's inlet to the waste valve [m], above 0; published
        from 1 to 20 m.
    lift : float or array
        Level above the ram plus the delivery line's friction [m], above 0; published from 2 to 41
        times the fall.
    kind : {"commercial", "home-made"}
        Home-made rams give half, and vary more.
    efficiency : Band or None
        Of this very ram as it was measured (`measured_efficiency`), scalars above 0, at most 1:
        it stands in for the published one, whatever the kind. Then any fall will do, and any lift
        above it, up to 41 times.

    Returns
    -------
    Band
        Scalars, or arrays of the broadcast shape; NaN where fall or ratio is outside what is
        published, with one `OutsideRangeWarning` per call.

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd, or the kind is unknown; the message names it.

    Examples
    --------
    >>> band = ram_yield(20.0 / 60000, 3.0, 30.0)
    >>> [round(q * 86.4e6) for q in (band.low, band.expected, band.high)]
    [784, 1655, 1943]
    """
    q, h_fall, h_lift = np.broadcast_arrays(
        positive("drive_flow", drive_flow, MOST_FLOW),
        positive("fall", fall, MOST_HEAD),
        positive("lift", lift, MOST_HEAD),
    )
    low, expected, high = _edges(h_lift / h_fall, h_fall, kind, efficiency)
    missing = int(np.count_nonzero(np.isnan(expected)))
    if missing:
        wanted = COVERED if efficiency is None else COVERED_MEASURED
        msg = f"no published ram covers {missing} of {q.size} cases: {wanted}"
        warnings.warn(msg, OutsideRangeWarning, stacklevel=2)
    driven = q * h_fall / h_lift
    return Band(plain(driven * low), plain(driven * expected), plain(driven * high))


def efficiency(
    ratio: npt.ArrayLike,
    fall: npt.ArrayLike,
    kind: str = "commercial",
    *,
    measured: Band | None = None,
) -> Band:
    """D'Aubuisson's efficiency q h / (Q H) by ratio (lift over fall) and fall [m].

    NaN, without a warning, outside 2..41.7 and 1..20 m. Where one was measured at this very ram
    it is that one, with NaN outside ratios of 1..41.7.

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd, or the kind is unknown.

    Examples
    --------
    >>> round(efficiency(8.0, 6.0).expected, 2)
    0.63
    """
    r, h = np.broadcast_arrays(positive("ratio", ratio), positive("fall", fall, MOST_HEAD))
    low, expected, high = _edges(r, h, kind, measured)
    return Band(plain(low), plain(expected), plain(high))


def _edges(ratio: FloatArray, fall: FloatArray, kind: str, measured: Band | None) -> Edges:
    if kind not in _BANDS:
        msg = f"kind of ram must be one of {', '.join(_BANDS)}, got {kind!r:.40}"
        raise OutsideRange(msg)
    if measured is not None:
        return _measured(ratio, measured)
    known = _within(ratio, RATIO_LEAST, RATIO_MOST) & _within(fall, FALL_LEAST, FALL_MOST)
    r = np.where(known, ratio, RATIO_LEAST)  # any value of the range: it is overwritten below
    expected = _expected(r, np.where(known, fall, FALL_LEAST))
    low, middle, high = (np.where(known, edge, np.nan) for edge in _BANDS[kind](r, expected))
    return low, middle, high


def _measured(ratio: FloatArray, measured: Band) -> Edges:
    known = (ratio > 1.0) & _within(ratio, 1.0, RATIO_MOST)
    low, middle, high = (
        np.where(known, float(positive(f"{edge} efficiency", getattr(measured, edge), 1.0)), np.nan)
        for edge in ("low", "expected", "high")
    )
    return low, middle, high


def _within(value: FloatArray, least: float, most: float) -> npt.NDArray[np.bool_]:
    return (value >= least * (1.0 - EDGE)) & (value <= most * (1.0 + EDGE))


def _expected(ratio: FloatArray, fall: FloatArray) -> FloatArray:
    plateau = BEST * (1.0 - LOSS * np.exp(-fall / FALL_SCALE))
    rankine = FLOOR + (plateau - FLOOR) / (1.0 + (ratio / HALF) ** STEEPNESS)
    return np.asarray(rankine * ratio / (ratio - 1.0 + rankine))


def _commercial(ratio: FloatArray, expected: FloatArray) -> Edges:
    field = FIELD_FACTOR * ratio**FIELD_POWER
    test_ram = TEST_RAM_BASE - TEST_RAM_SLOPE * np.sqrt(ratio - 1.0)
    low = np.minimum(field, expected - LEAST_BELOW)
    return low, expected, np.maximum(test_ram, expected + LEAST_ABOVE)


def _home_made(_ratio: FloatArray, commercial: FloatArray) -> Edges:
    high = np.minimum(commercial, HOME_MOST)
    return HOME_LOW * commercial, HOME_EXPECTED * commercial, high


_BANDS: dict[str, Callable[[FloatArray, FloatArray], Edges]] = {
    "commercial": _commercial,
    "home-made": _home_made,
}
