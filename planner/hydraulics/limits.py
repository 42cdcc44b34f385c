"""Published limits of rams and their pipes, each with where it comes from: for checks to cite.

They disagree, and are rules of practice rather than of physics: reasons to warn, not to refuse.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Limit:
    """A published range, ends included, in the unit of what it limits; None: open on that side."""

    low: float | None
    high: float | None
    source: str

    def holds(self, value: float) -> bool:
        """Whether the value lies inside; NaN does not."""
        above = self.low is None or value >= self.low
        below = self.high is None or value <= self.high
        return above and below and value == value  # noqa: PLR0124 - NaN is not itself


# Fall from drive tank to ram, m.
FALL_ANY = Limit(0.5, None, "USAID Water for the World RWS.4.D.5: consider a ram from 0.5 m")
FALL_TABLED = Limit(1.0, 20.0, "UN/ITDG table of litres a day")
FALL_SURE = Limit(2.0, None, "Warwick DTU ram papers: viable above about 2 m")
FALL_NORMAL = Limit(1.0, 15.0, "German waterworks text: 1 to 15 m; higher falls pound the valves")

# Lift over fall.
RATIO_NORMAL = Limit(3.0, 7.0, "German waterworks text: normal service; above 5 consider stages")
RATIO_GOOD = Limit(None, 15.0, "Austrian installer notes: 15 at most for good running")
RATIO_RUNS = Limit(None, 20.0, "Austrian installer notes: 20 still runs")
RATIO_TABLED = Limit(None, 125.0 / 3.0, "UN/ITDG table of litres a day, highest ratio")

# Lift above the ram, m.
LIFT_SMALL_RAM = Limit(None, 150.0, "British trade list used by FAO/ITDG: bore 32 and 38 mm")
LIFT_LARGE_RAM = Limit(None, 105.0, "British trade list used by FAO/ITDG: bore 101 and 127 mm")

# Drive pipe, length over fall.
DRIVE_LENGTH_TO_FALL = Limit(3.0, 7.0, "encyclopedia article on the hydraulic ram")
DRIVE_LENGTH_TO_FALL_USDA = Limit(5.0, 10.0, "USDA bulletin on country-home water; usually 7")
DRIVE_LENGTH_TO_FALL_AUSTRIA = Limit(3.0, 5.0, "Austrian installer notes; best 4")
DRIVE_LENGTH_TO_FALL_ANY = Limit(3.0, 12.0, "widest of the published ranges, 3 to 12 times")

# Drive pipe, length over bore.
DRIVE_LENGTH_TO_BORE = Limit(150.0, 1000.0, "Calvert")
DRIVE_LENGTH_TO_BORE_TIGHT = Limit(150.0, 500.0, "Calvert, as often tightened")

# Mean speed of all the drive water in the drive pipe, m/s.
DRIVE_VELOCITY = Limit(0.15, 0.5, "German and British makers' size lists, flow over bore")

# Share of the drive water that must be there for each part delivered.
SOURCE_TO_DELIVERED = Limit(7.0, None, "USAID Water for the World RWS.4.D.5")

# Mean speed in plastic pipe, m/s.
VELOCITY_PLASTIC = Limit(None, 1.5, "common limit for plastic pipe, 5 ft/s")
VELOCITY_ANY = Limit(None, 3.0, "handbooks' highest")
VELOCITY_CARRIES_SILT = Limit(0.3, None, "handbooks: 0.3 to 0.5 m/s carries silt")

# Pressure at a crest of a running line, m of water above the pipe.
CREST_RESIDUAL = Limit(5.0, None, "rural water handbooks: 5 to 10 m left at crests")
