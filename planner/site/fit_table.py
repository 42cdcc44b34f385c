"""The site file's [[fit]]: vents and washouts that are decided."""

from typing import Annotated, get_args

from pydantic import AfterValidator, Field

from planner.site.field_table import LineName, Note
from planner.site.fit import Fit, FittingKind
from planner.site.table import Table
from planner.site.value import LineRole
from planner.units.parse import quoted

ROLES: tuple[str, ...] = get_args(LineRole)


def _of_a_role(name: str) -> str:
    if name.partition("-")[0] not in ROLES:
        msg = (
            f"{quoted(name)} is no line of a plan; give its role ({', '.join(ROLES)}) or its name, "
            "such as distribution-trough"
        )
        raise ValueError(msg)
    return name


def _on_earth(at: list[float]) -> list[float]:
    lon, lat = at
    if not (abs(lon) <= 180.0 and abs(lat) <= 90.0):
        msg = f"[{lon:g}, {lat:g}] is no place on earth; give longitude and latitude in degrees"
        raise ValueError(msg)
    return at


class FitTable(Table):
    """A vent or a washout that is decided, so that the plan no longer asks for it."""

    line: Annotated[LineName, AfterValidator(_of_a_role)] = Field(
        description="the line's role, or its name as on the plan", examples=['"delivery"']
    )
    kind: FittingKind = Field(description="what is fitted", examples=['"vent"'])
    at: Annotated[list[float], Field(min_length=2, max_length=2), AfterValidator(_on_earth)] = (
        Field(description="longitude, latitude", examples=["[11.2041, 47.3012]"])
    )
    note: Note = Field(default="", description="a word on it")

    def value(self) -> Fit:
        """The fitting that is meant."""
        return Fit(self.line, self.kind, (self.at[0], self.at[1]), self.note)
