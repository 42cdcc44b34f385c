"""A line's stakes as rows of figures, with the names they have in every file."""

from itertools import pairwise

from planner.output.rounding import DEGREE, METRE, number
from planner.output.stakes.clean import one_line
from planner.output.stakes.value import StakedLine

Cell = str | int | float | None

COLUMNS = (
    "name", "line", "number", "reasons", "remark", "chainage_m", "run_m", "lon", "lat", "x_m",
    "y_m", "ground_m", "pipe_m", "depth_m", "back_m", "bearing", "rise_m", "ground_rise_m",
    "grade_after", "findings",
)  # fmt: skip
LENGTHS = ("chainage", "run", "ground", "pipe", "depth", "back", "rise", "ground_rise")
BEARING = 1  # decimals of a degree
GRADE = 5


def rows(staked: StakedLine) -> list[dict[str, Cell]]:
    """The stakes of a line, each with a cell for each of `COLUMNS`, in SI; None: not known."""
    return [
        {column: cells[column] for column in COLUMNS}
        for stake, metres in zip(staked.stakes, lengths(staked, 1.0, METRE), strict=True)
        for cells in [
            {
                "name": stake.name,
                "line": stake.line,
                "number": stake.number,
                "reasons": ", ".join(stake.reasons),
                "remark": one_line(stake.remark),
                "lon": number(stake.lonlat[0], DEGREE),
                "lat": number(stake.lonlat[1], DEGREE),
                "x_m": number(stake.xy[0], METRE),
                "y_m": number(stake.xy[1], METRE),
                "bearing": number(stake.bearing, BEARING),
                "grade_after": number(stake.grade_after, GRADE),
                "findings": ", ".join(map(str, stake.findings)),
                **{f"{name}_m": value for name, value in metres.items()},
            }
        ]
    ]


def lengths(staked: StakedLine, unit: float, decimals: int) -> list[dict[str, float | None]]:
    """`LENGTHS` of each stake in a unit of so many metres, rounded; None: not known.

    Depths, distances and rises are those between the figures as they are rounded, so that a
    column of rises adds up to the levels beside it, to the last digit.
    """
    held: list[dict[str, float | None]] = [
        {
            "chainage": number(stake.chainage_m / unit, decimals),
            "run": number(stake.run_m / unit, decimals),
            "ground": number(stake.ground_m / unit, decimals),
            "pipe": number(stake.pipe_m / unit, decimals),
        }
        for stake in staked.stakes
    ]
    for before, here in pairwise([held[0], *held]):
        here["depth"] = _less(here["ground"], here["pipe"], decimals)
        here["back"] = _less(here["run"], before["run"], decimals)
        here["rise"] = _less(here["pipe"], before["pipe"], decimals)
        here["ground_rise"] = _less(here["ground"], before["ground"], decimals)
    return held


def _less(value: float | None, other: float | None, decimals: int) -> float | None:
    return None if value is None or other is None else number(value - other, decimals)
