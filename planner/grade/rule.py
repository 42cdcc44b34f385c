"""`GradeRule`: which grades a pipe may have, and how far it may leave the ground."""

import math
from dataclasses import dataclass

from planner.errors import OutsideRange

STEEPEST = 100.0  # rise over run that no pipe on a terrain reaches; larger numbers are mistakes


@dataclass(frozen=True, slots=True)
class GradeRule:
    """The grades a pipe may have, along the direction of travel.

    Grades are rise over horizontal run, negative = falling. With z the ground less the least
    cover and t = `slack`, a pipe that keeps the rule exists on a line if and only if for all
    runs r1 < r2 along it

        z2 >= z1 - t + lowest * (r2 - r1)   and   z2 - t <= z1 + highest * (r2 - r1).

    Parameters
    ----------
    lowest, highest : float or None
        Least and greatest grade; None: no limit on that side.
    slack : float
        Deepest trench less least cover [m], 0 or more.
    vent_cost : float or None
        When given, pieces that fall by at least `lowest` are allowed as well, and each joint from
        rising to falling costs this many metres of pipe. Needs `lowest` > 0.

    Raises
    ------
    OutsideRange
        A value is NaN, negative where it can't be, or the limits exclude one another.

    Examples
    --------
    A line that rises by at least 0.5 % in a trench whose depth may vary by 0.4 m:

    >>> GradeRule(lowest=0.005, slack=0.4).vents_allowed
    False
    """

    lowest: float | None = None
    highest: float | None = None
    slack: float = 0.0
    vent_cost: float | None = None

    def __post_init__(self) -> None:
        for name in ("lowest", "highest"):
            grade = getattr(self, name)
            if grade is not None and not abs(grade) <= STEEPEST:
                msg = f"the {name} grade is {grade}; it must be a number such as 0.005 for 0.5 %"
                raise OutsideRange(msg)
        if self.lowest is not None and self.highest is not None and self.lowest > self.highest:
            msg = f"the lowest grade {self.lowest} is above the highest {self.highest}"
            raise OutsideRange(msg)
        if not 0.0 <= self.slack < math.inf:
            msg = f"the slack is {self.slack}; it must be 0 m or more"
            raise OutsideRange(msg)
        if self.vent_cost is not None:
            if not 0.0 <= self.vent_cost < math.inf:
                msg = f"the vent cost is {self.vent_cost}; it must be 0 m of pipe or more"
                raise OutsideRange(msg)
            if self.lowest is None or self.lowest <= 0.0:
                msg = "a vent cost needs a lowest grade above 0, the least grade of each piece"
                raise OutsideRange(msg)

    @property
    def vents_allowed(self) -> bool:
        """Whether the line may also fall, at the price of vents."""
        return self.vent_cost is not None

    @property
    def rising(self) -> tuple[float, float]:
        """Lowest and highest grade of a piece along the rule, infinite where there is no limit."""
        low = -math.inf if self.lowest is None else self.lowest
        high = math.inf if self.highest is None else self.highest
        return low, high

    @property
    def falling(self) -> tuple[float, float]:
        """The mirror of `rising`: the grades of a falling piece, where vents are allowed."""
        low, high = self.rising
        return -high, -low
