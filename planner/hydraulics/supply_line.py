"""The line from the source: what it could carry, what comes, and where it then runs part full."""

from dataclasses import dataclass

import numpy.typing as npt

from planner.hydraulics.domain import MOST_FLOW, between
from planner.hydraulics.friction import NEW_PLASTIC
from planner.hydraulics.part_full import PartFull, line_capacity, part_full_stretches


@dataclass(frozen=True, slots=True)
class SupplyLine:
    """A line at its source.

    Attributes
    ----------
    carries : float
        Most that the line takes from the source's level [m³/s].
    comes : float
        What the source gives [m³/s].
    part_full : tuple of PartFull
        Stretches with air above the water, in order from the source; none where it runs full.
    """

    carries: float
    comes: float
    part_full: tuple[PartFull, ...]

    @property
    def flow(self) -> float:
        """What runs [m³/s]: the lesser of the two."""
        return min(self.carries, self.comes)

    @property
    def left_over(self) -> float:
        """What comes and does not go in [m³/s]: it stays in the stream or overflows."""
        return self.comes - self.flow


def supply_line(
    chainage: npt.ArrayLike,
    pipe: npt.ArrayLike,
    source_level: float,
    comes: float,
    bore: npt.ArrayLike,
    *,
    end_level: float | None = None,
    roughness: npt.ArrayLike = NEW_PLASTIC,
    temperature: float = 20.0,
) -> SupplyLine:
    """What a line could carry from its source, beside what the source gives.

    Parameters
    ----------
    chainage : (n,) array
        Distance along the pipe [m], rising, n from 2 to a million.
    pipe : (n,) array
        Level of the pipe there [m].
    source_level : float
        Of the water at the line's mouth [m].
    comes : float
        What the source gives [m³/s], 0 or more.
    bore, roughness : float or (n - 1,) array
        Inside diameter and roughness [m] of the line, or of each piece between two chainages.
    end_level : float or None
        Water over the end [m]; None, or one below the pipe's end: it runs out freely.
    temperature : float
        Of the water [°C], 0..60.

    Raises
    ------
    OutsideRange
        A value is NaN or absurd, lengths differ, or the chainage does not rise.

    Examples
    --------
    >>> got = supply_line([0.0, 100.0], [100.0, 98.0], 100.0, 5e-4, 0.04)
    >>> round(got.carries * 1e3, 2), round(got.flow * 1e3, 2), len(got.part_full)
    (1.04, 0.5, 1)
    """
    given = float(between("comes", comes, 0.0, MOST_FLOW))
    carries = line_capacity(
        chainage,
        pipe,
        source_level,
        bore,
        end_level=end_level,
        roughness=roughness,
        temperature=temperature,
    )
    stretches = part_full_stretches(
        chainage,
        pipe,
        min(carries, given),
        bore,
        end_level=end_level,
        roughness=roughness,
        temperature=temperature,
    )
    return SupplyLine(carries, given, stretches)
