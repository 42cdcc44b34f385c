"""`Fit`: a vent or a washout that the installer has decided to fit."""

from dataclasses import dataclass
from typing import Literal

FittingKind = Literal["vent", "washout"]


@dataclass(frozen=True, slots=True)
class Fit:
    """A fitting that is decided, before the line is laid.

    Attributes
    ----------
    line : str
        The line's name as on the plan, or its role.
    kind : {"vent", "washout"}
        Which kind of vent suits the pressure there, the plan tells.
    at : (float, float)
        Longitude and latitude [degrees], WGS 84.
    note : str
    """

    line: str
    kind: FittingKind
    at: tuple[float, float]
    note: str = ""

    @property
    def role(self) -> str:
        """The role that the line's name begins with."""
        return self.line.partition("-")[0]
