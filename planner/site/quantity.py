"""The kinds of values in a site file: text with a unit, read to SI within sensible limits."""

from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from planner.errors import UnitError
from planner.units.parse import EXAMPLES, Kind, parse, quoted


@dataclass(frozen=True, slots=True)
class Read:
    """Marks a field as a quantity; `least` and `most` are written as a user would write them.

    The validation's context may say under "gallon" what a bare gallon is.
    """

    kind: Kind
    least: str
    most: str

    def value(self, written: object, info: ValidationInfo) -> float:
        """The quantity in SI.

        Raises
        ------
        UnitError
            It can't be read, or lies beyond the limits.
        """
        gallon = (info.context or {}).get("gallon")
        value = parse(str(written), self.kind, gallon=gallon)
        if not parse(self.least, self.kind) <= value <= parse(self.most, self.kind):
            msg = f"{quoted(written)} can't be right; give {self.least} to {self.most}"
            raise UnitError(msg)
        return value

    def __get_pydantic_core_schema__(self, _: Any, __: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self.value)

    def __get_pydantic_json_schema__(
        self, _: CoreSchema, __: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        examples = [
            text.strip('" ') for text in EXAMPLES[self.kind].replace(" or ", ",").split(",")
        ]
        limits = f"{self.least} to {self.most}"
        kind: Any = ["string", "number"] if self.kind == "ratio" else "string"
        return {"type": kind, "examples": examples, "x-limits": limits}


# Limits catch slips of the pen (mm for m, a lost decimal point), not poor design.
Flow = Annotated[float, Read("flow", "0.01 L/min", "1000 L/s")]
CurveFlow = Annotated[float, Read("flow", "0 L/min", "1000 L/s")]
Each = Annotated[float, Read("volume_per_day", "0.01 L/day", "10 m3/day")]
PerDay = Annotated[float, Read("volume_per_day", "1 L/day", "100000 m3/day")]
Head = Annotated[float, Read("pressure_head", "0 m", "2000 m")]
Rating = Annotated[float, Read("pressure_head", "1 m", "5000 m")]
Share = Annotated[float, Read("ratio", "0 %", "100 %")]
Grade = Annotated[float, Read("ratio", "0.01 %", "50 %")]
Bore = Annotated[float, Read("length", "3 mm", "1000 mm")]
Roughness = Annotated[float, Read("length", "0 mm", "10 mm")]
Depth = Annotated[float, Read("length", "0 m", "6 m")]
Prop = Annotated[float, Read("length", "0 m", "5 m")]
Height = Annotated[float, Read("length", "-5 m", "30 m")]
HeightError = Annotated[float, Read("length", "1 mm", "100 m")]
Margin = Annotated[float, Read("length", "0 m", "20 km")]
Bucket = Annotated[float, Read("volume", "0.05 L", "10 m3")]
FillTime = Annotated[float, Read("time", "1 s", "1 day")]
Fall = Annotated[float, Read("length", "1 cm", "500 m")]
Lift = Annotated[float, Read("length", "1 cm", "2000 m")]
ClosingVelocity = Annotated[float, Read("speed", "0.05 m/s", "10 m/s")]
Temperature = Annotated[float, Read("temperature", "0 °C", "60 °C")]
TankVolume = Annotated[float, Read("volume", "1 L", "100000 m3")]
TankBase = Annotated[float, Read("area", "0.01 m2", "10000 m2")]
Stand = Annotated[float, Read("length", "0 m", "30 m")]
Outside = Annotated[float, Read("length", "4 mm", "1200 mm")]
BendRadius = Annotated[float, Read("length", "1 cm", "500 m")]
Coil = Annotated[float, Read("length", "0.5 m", "5 km")]
VentCost = Annotated[float, Read("length", "0 m", "10 km")]
DigCost = Annotated[float, Read("digging", "0 m/m2", "1000 m/m2")]
BendCost = Annotated[float, Read("length", "0 m", "1 km")]
Leg = Annotated[float, Read("length", "0 m", "100 m")]
CrossingCost = Annotated[float, Read("length", "0 m", "10 km")]
Steepness = Annotated[float, Read("ratio", "0.1 %", "500 %")]
Reach = Annotated[float, Read("length", "1 m", "10 km")]
LaidDepth = Annotated[float, Read("length", "-5 m", "6 m")]
StakeInterval = Annotated[float, Read("length", "0.5 m", "500 m")]
TrenchWidth = Annotated[float, Read("length", "5 cm", "5 m")]
Bedding = Annotated[float, Read("length", "0 m", "1 m")]
DigRate = Annotated[float, Read("dig_rate", "0.01 m3/day", "1000 m3/day")]
LayRate = Annotated[float, Read("lay_rate", "0.5 m/day", "20 km/day")]
Load = Annotated[float, Read("mass", "1 kg", "2000 kg")]
