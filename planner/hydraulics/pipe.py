"""`CataloguePipe`: one pipe as it is made and sold."""

import math
from dataclasses import dataclass
from typing import Literal

from planner.hydraulics.sizes import NominalSize

Material = Literal["PE", "PVC", "steel"]
Derating = Literal["PE US", "PE metric", "PVC", "steel"]
Form = Literal["coil", "stick"]
Confidence = Literal["high", "medium", "low"]


@dataclass(frozen=True, slots=True)
class CataloguePipe:
    """One pipe: its names, its true dimensions, and what it bears.

    Attributes
    ----------
    standard, family, grade, series, pressure_class : str
        Names in the trade: "ASTM D2239", "PE of controlled inside diameter", "PE4710", "SIDR 15",
        "125 psi". `series` and `pressure_class` are what is printed on the pipe.
    nominal : str
        Name of the size; `sizes` holds it as numbers, in each unit it goes by.
    ratio : float
        SIDR, SDR or DR; NaN where the standard has none.
    bore, outside : float
        Mean true inside and outside diameter, new [m].
    wall_least : float
        The wall its rating is made from [m].
    rating : float
        Head it bears for good at 20 °C (metric) or 23 °C (US) [m of water].
    derating : str
        Which table of `temperature_factor` holds.
    density : float
        Of the wall [kg/m³].
    roughness_new, roughness : float
        Absolute roughness new, and as one designs, with joints and some years [m].
    bend_radius : float
        Least radius it may be bent to by hand for good [m]; infinite: it is not bent.
    form, lengths : str, tuple of float
        Coils or sticks, and the usual lengths [m].
    confidence, source : str
        How sure dimensions and class are, and where they come from.
    """

    standard: str
    family: str
    material: Material
    grade: str
    nominal: str
    sizes: tuple[NominalSize, ...]
    series: str
    ratio: float
    pressure_class: str
    bore: float
    outside: float
    wall_least: float
    rating: float
    derating: Derating
    density: float
    roughness_new: float
    roughness: float
    bend_radius: float
    form: Form
    lengths: tuple[float, ...]
    confidence: Confidence
    source: str

    @property
    def wall(self) -> float:
        """Mean wall thickness [m], for wave speed and mass."""
        return (self.outside - self.bore) / 2.0

    @property
    def mass(self) -> float:
        """Mass of a metre of empty pipe [kg/m], from its dimensions; without zinc and sockets."""
        return math.pi / 4.0 * (self.outside**2 - self.bore**2) * self.density

    @property
    def contents(self) -> float:
        """Water in a metre of pipe [m³/m]."""
        return math.pi / 4.0 * self.bore**2
