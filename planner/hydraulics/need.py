"""Water needed: people, animals and garden, by season, day and hour.

The figures stand in `need.csv` beside this file, in litres a day for each person, animal or
square metre, with their sources; any of them gives way to the user's own.
"""

import csv
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Literal, cast, get_args

import numpy as np
import numpy.typing as npt

from planner.band import Band
from planner.errors import OutsideRange
from planner.hydraulics.domain import FloatArray, between, positive

Group = Literal["people", "animals", "garden"]

LITRE = 1e-3  # m³
MOST_USERS = 1e6  # people, animals, square metres
MOST_EACH = 1.0  # m³/day for one of them
DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
MINUTE = 60.0  # s

# How far into summer each month stands, 0 winter to 1 summer, north of the tropics; the south
# has them half a year on. Low confidence: a setting for the user's climate.
NORTHERN_SUMMER = (0.0, 0.0, 0.1, 0.3, 0.6, 0.9, 1.0, 1.0, 0.7, 0.3, 0.1, 0.0)
SOUTHERN_SUMMER = NORTHERN_SUMMER[6:] + NORTHERN_SUMMER[:6]

# Parts of a day's water drawn in each hour, from midnight. Low confidence: habits differ; the
# user's own patterns replace them.
PEOPLE_HOURS = (0, 0, 0, 0, 0, 1, 3, 3, 2, 1, 1, 1, 2, 1, 1, 1, 1, 2, 3, 3, 2, 1, 0, 0)
GRAZING_HOURS = (0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 0, 0, 0, 0)
HERD_HOURS = (0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0)
EVENING_HOURS = (0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 0, 0, 0, 0)

Hours = Sequence[float]
Patterns = Mapping[Group, Hours]
PATTERNS: Patterns = {
    "people": PEOPLE_HOURS,
    "animals": GRAZING_HOURS,
    "garden": EVENING_HOURS,
}


@dataclass(frozen=True, slots=True)
class Use:
    """Water for one person, one animal or one square metre.

    Attributes
    ----------
    group : {"people", "animals", "garden"}
    label : str
        What one of them is.
    winter, summer : (float, float)
        Lowest and highest figure of the season [m³/day], 0 or more.
    source : str
        Where the figures come from.
    confidence : str
        "high", "medium" or "low".

    Raises
    ------
    OutsideRange
        A figure is NaN, negative, absurd or not in order, or the group is unknown.
    """

    group: Group
    label: str
    winter: tuple[float, float]
    summer: tuple[float, float]
    source: str = "the user's own"
    confidence: str = "high"

    def __post_init__(self) -> None:
        if self.group not in get_args(Group):
            msg = f"group must be people, animals or garden, got {self.group!r:.60}"
            raise OutsideRange(msg)
        for name in ("winter", "summer"):
            pair = between(f"{name} need", getattr(self, name), 0.0, MOST_EACH)
            if pair.shape != (2,) or pair[0] > pair[1]:
                msg = f"{name} need must be a lowest and a highest figure, got {pair.tolist()}"
                raise OutsideRange(msg)


@cache
def published_uses() -> Mapping[str, Use]:
    """The published figures by key, e.g. "person_village", "sheep", "garden" [m³/day].

    To replace or add one: `{**published_uses(), "sheep": Use(...)}`.

    Examples
    --------
    >>> published_uses()["sheep"].summer
    (0.014, 0.014)
    """
    text = files("planner.hydraulics").joinpath("need.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(text.splitlines())
    return MappingProxyType({row["key"]: _use(row) for row in rows})


def daily_need(
    counts: Mapping[str, float],
    summer: float = 1.0,
    *,
    uses: Mapping[str, Use] | None = None,
    spread: float = 0.1,
) -> Band:
    """Water needed on a day [m³/day].

    Parameters
    ----------
    counts : mapping
        How many of each use: people, head, square metres; 0 to a million.
    summer : float
        How far into summer, 0 (winter) to 1 (summer); between them the figures go straight.
    uses : mapping or None
        Figures by key; None: `published_uses()`.
    spread : float
        Share by which households and herds differ from any table, 0..1; widens the published
        range on both sides. Low confidence.

    Returns
    -------
    Band
        Expected is the middle of the published range.

    Raises
    ------
    OutsideRange
        A count is NaN, negative or absurd, or a use is unknown.

    Examples
    --------
    >>> round(daily_need({"person_village": 60}).expected, 6)  # 60 x 40 l
    2.4
    """
    return _sum(need_by_group(counts, summer, uses=uses, spread=spread).values())


def need_by_group(
    counts: Mapping[str, float],
    summer: float = 1.0,
    *,
    uses: Mapping[str, Use] | None = None,
    spread: float = 0.1,
) -> dict[Group, Band]:
    """Water needed on a day by people, animals and garden [m³/day]; as `daily_need`.

    Examples
    --------
    >>> got = need_by_group({"person_village": 5, "garden": 100}, 1.0)
    >>> [(group, round(band.expected, 3)) for group, band in got.items()]
    [('people', 0.2), ('animals', 0.0), ('garden', 0.36)]
    """
    table = published_uses() if uses is None else uses
    warm = float(between("summer", summer, 0.0, 1.0))
    wide = float(between("spread", spread, 0.0, 1.0))
    total = {group: [0.0, 0.0] for group in get_args(Group)}
    for key, count in counts.items():
        if key not in table:
            msg = f"need has no figure for {key!r:.60}; known are {', '.join(sorted(table))}"
            raise OutsideRange(msg)
        many = float(between(f"number of {key}", count, 0.0, MOST_USERS))
        use = table[key]
        for k in (0, 1):
            each = use.winter[k] + warm * (use.summer[k] - use.winter[k])
            total[use.group][k] += many * each
    return {
        group: Band(low * (1.0 - wide), (low + high) / 2.0, high * (1.0 + wide))
        for group, (low, high) in total.items()
    }


def monthly_need(
    counts: Mapping[str, float],
    summer: Sequence[float] = NORTHERN_SUMMER,
    *,
    uses: Mapping[str, Use] | None = None,
    spread: float = 0.1,
) -> tuple[Band, ...]:
    """Water needed on a day of each month, January first [m³/day].

    Parameters
    ----------
    summer : sequence of 12 floats
        How far into summer each month stands, 0..1.
    counts, uses, spread
        As for `daily_need`.

    Raises
    ------
    OutsideRange
        As for `daily_need`, or the months aren't twelve.

    Examples
    --------
    >>> [round(month.expected, 2) for month in monthly_need({"garden": 100})][5:9]
    [0.32, 0.36, 0.36, 0.25]
    """
    if len(summer) != len(DAYS):
        msg = f"summer must have 12 months, got {len(summer)}"
        raise OutsideRange(msg)
    return tuple(daily_need(counts, warm, uses=uses, spread=spread) for warm in summer)


def hourly_need(
    counts: Mapping[str, float],
    summer: float = 1.0,
    *,
    uses: Mapping[str, Use] | None = None,
    spread: float = 0.1,
    patterns: Patterns = PATTERNS,
) -> Band:
    """Water needed in each hour of a day, from midnight [m³ in the hour].

    Parameters
    ----------
    patterns : mapping
        24 parts for each group, whatever their sum; `HERD_HOURS` for stock that comes together,
        `GRAZING_HOURS` for stock that comes as it likes.
    counts, summer, uses, spread
        As for `daily_need`.

    Returns
    -------
    Band
        Of (24,) arrays; each sums up to the day's need.

    Raises
    ------
    OutsideRange
        As for `daily_need`, or a pattern isn't 24 parts, 0 or more, not all 0.

    Examples
    --------
    >>> hourly_need({"garden": 100}).expected[17:21].round(2).tolist()
    [0.0, 0.18, 0.18, 0.0]
    """
    groups = need_by_group(counts, summer, uses=uses, spread=spread)
    parts = {group: _shares(group, patterns) for group in groups}
    return _sum(
        Band(band.low * parts[group], band.expected * parts[group], band.high * parts[group])
        for group, band in groups.items()
    )


def hourly_year(
    counts: Mapping[str, float],
    summer: Sequence[float] = NORTHERN_SUMMER,
    *,
    uses: Mapping[str, Use] | None = None,
    spread: float = 0.1,
    patterns: Patterns = PATTERNS,
) -> Band:
    """Water needed in each hour of a year of 365 days, from the first of January.

    Parameters and errors as for `monthly_need` and `hourly_need`.

    Returns
    -------
    Band
        Of (8760,) arrays [m³ in the hour].

    Examples
    --------
    >>> float(hourly_year({"person_village": 60}).expected.sum().round(6))  # 365 days of 2.4 m³
    876.0
    """
    if len(summer) != len(DAYS):
        msg = f"summer must have 12 months, got {len(summer)}"
        raise OutsideRange(msg)
    months = [
        hourly_need(counts, warm, uses=uses, spread=spread, patterns=patterns) for warm in summer
    ]
    return Band(*(_repeat(months, edge) for edge in ("low", "expected", "high")))


def herd_flow(volume: float, *, minutes: float = 20.0) -> float:
    """Flow a trough needs where the herd drinks together [m³/s].

    Parameters
    ----------
    volume : float
        That the herd drinks at one visit [m³], 0 or more.
    minutes : float
        In which it drinks, above 0: about 20, a farm news note says.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd.

    Examples
    --------
    >>> herd_flow(1.2)  # 1200 l in 20 minutes: 1 l/s
    0.001
    """
    drunk = float(between("volume", volume, 0.0, MOST_USERS * MOST_EACH))
    return drunk / (float(positive("minutes", minutes, 1440.0)) * MINUTE)


def _use(row: Mapping[str, str]) -> Use:
    winter_low, winter_high, summer_low, summer_high = (
        float(row[name]) * LITRE
        for name in ("winter_low", "winter_high", "summer_low", "summer_high")
    )
    return Use(
        group=cast("Group", row["group"]),
        label=row["label"],
        winter=(winter_low, winter_high),
        summer=(summer_low, summer_high),
        source=row["source"],
        confidence=row["confidence"],
    )


def _shares(group: Group, patterns: Patterns) -> FloatArray:
    parts = between(f"hours of {group}", patterns.get(group, ()), 0.0, 1e9)
    if parts.shape != (24,) or parts.sum() == 0.0:
        msg = f"hours of {group} must be 24 parts of a day, 0 or more and not all 0"
        raise OutsideRange(msg)
    return np.asarray(parts / parts.sum())


def _repeat(months: Sequence[Band], edge: str) -> npt.NDArray[np.float64]:
    """The year's hours of one edge: each month's day as often as the month has days."""
    days = zip(months, DAYS, strict=True)
    return np.concatenate([np.tile(getattr(month, edge), count) for month, count in days])


def _sum(bands: Iterable[Band]) -> Band:
    every = list(bands)
    return Band(*(sum(getattr(b, edge) for b in every) for edge in ("low", "expected", "high")))
