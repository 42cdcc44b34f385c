"""The site file's tables of water: source, pump, need, tank, and pipes of the user's own."""

import datetime
from collections.abc import Iterable
from typing import Annotated, Literal, Self

from pydantic import Field, Strict, model_validator

from planner.site import quantity
from planner.site.table import Label, Table
from planner.site.value import (
    Fill,
    FlowSeason,
    MeasuredDelivery,
    OwnPipe,
    PoweredPump,
    Ram,
    RamMake,
    Source,
    Tank,
)

CurvePoint = Annotated[tuple[quantity.CurveFlow, quantity.Head], Strict(strict=False)]
FillPair = Annotated[tuple[quantity.Bucket, quantity.FillTime], Strict(strict=False)]
FactorPair = Annotated[tuple[quantity.Share, quantity.Share], Strict(strict=False)]
Users = Annotated[float, Field(ge=0.0, le=1e6)]  # people, animals, square metres

LEAST_FLOW, MOST_FLOW = 0.01e-3 / 60.0, 1.0  # m³/s, as of a flow that is written
ROUNDING = 1e-9


def refuse_odd_timings(timings: Iterable[tuple[float, float]]) -> None:
    """Fillings of a bucket must be a flow that can be.

    Raises
    ------
    ValueError
        One is beyond the limits of a flow that is written.
    """
    for volume, seconds in timings:
        if not LEAST_FLOW <= volume / seconds <= MOST_FLOW:
            msg = (
                f"timings: {volume * 1e3:g} L in {seconds:g} s can't be right; it must be a "
                "flow of 0.01 L/min to 1000 L/s"
            )
            raise ValueError(msg)


class SourceTable(Table):
    """The spring or creek."""

    flow: quantity.Flow | None = Field(default=None, description="as measured")
    timings: list[FillPair] | None = Field(
        default=None,
        min_length=1,
        max_length=1000,
        description="instead of flow: [what the bucket holds, time it took to fill] each time",
    )
    measured: datetime.date | None = Field(default=None, description="when, such as 2026-08-20")
    season: FlowSeason | None = Field(default=None, description="season of that measurement")
    season_factor: FactorPair | None = Field(
        default=None,
        description="dry-season flow as a share of a wet reading: [lowest, highest]",
    )
    share_left: quantity.Share = Field(default=0.3, description="share that stays in the stream")

    @model_validator(mode="after")
    def _measured_once(self) -> Self:
        if self.timings is not None and self.flow is not None:
            msg = "the flow is the mean of the timings; give either flow or timings"
            raise ValueError(msg)
        refuse_odd_timings(self.timings or ())
        if self.season_factor is not None and self.season_factor[0] > self.season_factor[1]:
            msg = "season_factor is out of order; write the lowest first, such as [0.3, 0.7]"
            raise ValueError(msg)
        return self

    def value(self) -> Source:
        """The source that is meant."""
        return Source(
            flow=self.flow,
            measured=self.measured,
            season=self.season,
            share_left=self.share_left,
            timings=tuple(Fill(volume, seconds) for volume, seconds in self.timings or ()),
            season_factor=self.season_factor,
        )


class MeasuredTable(Table):
    """What a ram was measured to deliver."""

    drive_flow: quantity.Flow = Field(
        description="all the water into the drive pipe", examples=['"22 L/min"']
    )
    fall: quantity.Fall = Field(
        description="from the water at the drive pipe's inlet to the ram", examples=['"4.8 m"']
    )
    lift: quantity.Lift = Field(
        description="from the ram to the delivery's end, its friction added", examples=['"33 m"']
    )
    delivered: quantity.Flow = Field(
        description="flow at the delivery's end", examples=['"2.3 L/min"']
    )

    @model_validator(mode="after")
    def _no_energy_made(self) -> Self:
        if self.lift <= self.fall:
            msg = (
                f"a lift of {self.lift:g} m is not above the fall of {self.fall:g} m; give both "
                "as heights above the ram"
            )
            raise ValueError(msg)
        if self.delivered * self.lift > self.drive_flow * self.fall * (1.0 + ROUNDING):
            most = self.drive_flow * self.fall / self.lift * 60_000.0
            msg = (
                f"delivered = {self.delivered * 60_000.0:g} L/min is more than the fall can lift; "
                f"measure again, {most:.3g} L/min is the most that it could be"
            )
            raise ValueError(msg)
        return self


class PumpTable(Table):
    """What lifts the water."""

    kind: Literal["ram", "powered"] = Field(
        default="ram", description="a hydraulic ram, or with power"
    )
    make: RamMake = Field(default="commercial", description="of a ram")
    closing_velocity: quantity.ClosingVelocity | None = Field(
        default=None,
        description="of a ram: speed in the drive pipe at which the waste valve shuts",
    )
    measured: list[MeasuredTable] = Field(
        default_factory=list, max_length=100, description="of a ram: what it was seen to deliver"
    )
    curve: list[CurvePoint] | None = Field(
        default=None,
        min_length=2,
        max_length=100,
        description="of a powered pump: [flow, head] from small flow to large",
    )
    hours_per_day: float = Field(default=24.0, gt=0.0, le=24.0, description="a powered pump runs")

    @model_validator(mode="after")
    def _curve_falls(self) -> Self:
        if self.kind == "powered" and self.curve is None:
            msg = (
                'a powered pump needs its curve; add curve = [["0 L/min", "40 m"], '
                '["30 L/min", "20 m"]]'
            )
            raise ValueError(msg)
        if self.kind == "ram" and self.curve is not None:
            msg = 'a ram has no curve; write kind = "powered" or leave the curve out'
            raise ValueError(msg)
        pairs = list(zip(self.curve or (), (self.curve or ())[1:], strict=False))
        if any(after[0] <= before[0] or after[1] > before[1] for before, after in pairs):
            msg = "the curve is out of order; flow must rise and head must not rise down the list"
            raise ValueError(msg)
        return self

    def ram(self) -> Ram:
        """The ram that is meant."""
        measured = tuple(MeasuredDelivery(**dict(one)) for one in self.measured)
        return Ram(self.make, self.closing_velocity, measured)

    def powered(self) -> PoweredPump | None:
        """The powered pump that is meant, if one is."""
        if self.kind == "ram" or self.curve is None:
            return None
        return PoweredPump(tuple(self.curve), self.hours_per_day)


class NeedTable(Table):
    """Water needed."""

    per_day: quantity.PerDay | None = Field(
        default=None, description="all uses together; where given, it stands before the counts"
    )
    count: dict[Label, Users] = Field(
        default_factory=dict,
        max_length=100,
        description="how many people, animals or square metres of garden, by kind",
        examples=["{person_village = 4, sheep = 30}"],
    )
    each: dict[Label, quantity.Each] = Field(
        default_factory=dict,
        max_length=100,
        description="water for one of a kind, in place of the published figure",
        examples=['{sheep = "6 L/day"}'],
    )


class WaterTable(Table):
    """The water itself."""

    temperature: quantity.Temperature = Field(default=10.0, description="of the water")


class TankTable(Table):
    """The tank."""

    volume: quantity.TankVolume | None = Field(default=None, description="what it holds")
    base: quantity.TankBase | None = Field(default=None, description="area that it stands on")
    stand: quantity.Stand = Field(default=0.0, description="height of its stand")
    days: int = Field(default=14, ge=1, le=366, description="dry days it is followed over")

    def value(self) -> Tank:
        """The tank that is meant."""
        return Tank(self.volume, self.base, self.stand, self.days)


class OwnPipeTable(Table):
    """A pipe that the user adds to those known."""

    standard: Label = Field(description="name of the kind", examples=['"my coils"'])
    size: Label = Field(description="trade size, with its unit", examples=['"25 mm"'])
    bore: quantity.Bore = Field(description="true inside diameter", examples=['"20.4 mm"'])
    outside: quantity.Outside = Field(description="outside diameter", examples=['"25 mm"'])
    rating: quantity.Rating = Field(description="pressure it bears", examples=['"100 m"'])
    roughness: quantity.Roughness = Field(default=1e-5, description="of the wall inside")
    bend_radius: quantity.BendRadius | None = Field(
        default=None, description="least radius it may be bent to by hand"
    )
    coil: quantity.Coil | None = Field(default=None, description="length of one coil or stick")

    @model_validator(mode="after")
    def _has_a_wall(self) -> Self:
        if self.bore >= self.outside:
            msg = (
                f"the bore of {self.bore * 1e3:g} mm leaves no wall in a pipe of "
                f"{self.outside * 1e3:g} mm outside; give a smaller bore"
            )
            raise ValueError(msg)
        return self

    def value(self) -> OwnPipe:
        """The catalogue row that is meant."""
        return OwnPipe(**dict(self))
