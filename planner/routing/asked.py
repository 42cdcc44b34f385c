"""`Asked`: what is asked of a line, as all searches and the pricing of it need it."""

from dataclasses import dataclass, replace

from planner.grade.laying import End
from planner.grade.rule import GradeRule
from planner.routing.band import Prices


@dataclass(frozen=True, slots=True)
class Asked:
    """The rule of a line, its prices and how its start is.

    Attributes
    ----------
    rule : GradeRule
        Its slack and vent cost don't count, but the band of the ground and `prices`.
    prices : Prices
    begins : {"open", "closed"}
        A line that falls away from a closed start pays for a vent there.
    """

    rule: GradeRule
    prices: Prices
    begins: End = "open"

    @property
    def unlimited(self) -> bool:
        """Whether any grade will do."""
        return self.rule.lowest is None and self.rule.highest is None

    def from_open(self) -> "Asked":
        """The same of a leg that sets out from a point on the way."""
        return replace(self, begins="open")
