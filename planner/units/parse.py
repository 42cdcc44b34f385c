"""Text with a unit to SI: a number, then one unit of a closed list; nothing is evaluated."""

import math
import re
from typing import Literal

from planner.errors import UnitError
from planner.units.convert import convert
from planner.units.show import Quantity, show

GallonName = Literal["us", "imperial"]
Kind = Literal[
    "length",
    "area",
    "flow",
    "volume",
    "volume_per_day",
    "pressure_head",
    "ratio",
    "temperature",
    "time",
    "speed",
    "digging",
    "dig_rate",
    "lay_rate",
    "mass",
]

LONGEST_TEXT = 60  # characters; no quantity needs more


def _spellings(table: dict[str, str]) -> dict[str, str]:
    """Spelling -> pint unit, from pint unit -> spellings parted by commas."""
    return {word: unit for unit, words in table.items() for word in words.split(",")}


LENGTHS = _spellings(
    {
        "meter": "m,metre,metres,meter,meters",
        "centimeter": "cm,centimetre,centimetres,centimeter,centimeters",
        "millimeter": "mm,millimetre,millimetres,millimeter,millimeters",
        "kilometer": "km,kilometre,kilometres,kilometer,kilometers",
        "inch": 'in,inch,inches,",″,”',
        "foot": "ft,foot,feet,',′,’",
        "yard": "yd,yard,yards",
        "mile": "mi,mile,miles",
    }
)
AREAS = _spellings(
    {
        "meter**2": "m2,square metre,square metres,square meter,square meters,sq m",
        "foot**2": "ft2,square foot,square feet,sq ft",
    }
)
GALLON = "gallon of whom"  # until it is known whose
GALLONS: dict[str, str] = {"us": "gallon", "imperial": "imperial_gallon"}
VOLUMES = _spellings(
    {
        "liter": "l,litre,litres,liter,liters",
        "meter**3": "m3,cubic metre,cubic metres,cubic meter,cubic meters,cu m",
        "foot**3": "ft3,cubic foot,cubic feet,cu ft",
        "yard**3": "yd3,cubic yard,cubic yards,cu yd",
        GALLON: "gal,gals,gallon,gallons",
    }
)
TIMES = _spellings(
    {
        "second": "s,sec,second,seconds",
        "minute": "min,mins,minute,minutes",
        "hour": "h,hr,hrs,hour,hours",
        "day": "d,day,days",
    }
)
FLOW_NAMES = {
    "lpm": "l/min",
    "lps": "l/s",
    "gpm": "gal/min",
    "gph": "gal/h",
    "gpd": "gal/day",
    "cfs": "ft3/s",
}
HEADS = _spellings(
    {
        "metre_of_water": "m,metre,metres,meter,meters,m of water,m of head,m head",
        "foot_of_water": "ft,foot,feet,ft of water,ft of head,ft head",
        "psi": "psi",
        "kilopascal": "kpa",
        "megapascal": "mpa",
        "pascal": "pa",
        "bar": "bar,bars",
    }
)
RATIOS = _spellings({"percent": "%,per cent,percent", "permille": "‰,mm/m,per mille"})
TEMPERATURES = _spellings({"degC": "°c,c,celsius,deg c", "degF": "°f,f,fahrenheit,deg f"})
SPEEDS = _spellings(
    {
        "meter/second": "m/s,metres per second,meters per second",
        "foot/second": "ft/s,feet per second,fps",
    }
)

DIGGINGS = _spellings(
    {
        "meter/meter**2": "m/m2,m per m2,metre per square metre,meter per square meter",
        "foot/foot**2": "ft/ft2,ft per ft2,ft per sq ft,foot per square foot",
    }
)
DIG_RATES = {  # what is dug in a day
    f"{word}{per}": f"{unit}/day"
    for word, unit in VOLUMES.items()
    if unit not in ("liter", GALLON)
    for per in ("/day", "/d", " a day", " per day")
}
LAY_RATES = {  # how far a line gets in a day
    f"{word}{per}": f"{LENGTHS[word]}/day"
    for word in ("m", "metres", "meters", "ft", "feet", "yd", "yards", "km")
    for per in ("/day", "/d", " a day", " per day")
}
MASSES = _spellings(
    {
        "kilogram": "kg,kilogram,kilograms,kilo,kilos",
        "pound": "lb,lbs,pound,pounds",
    }
)

TARGETS: dict[Kind, tuple[str, str]] = {  # pint unit of the result, its symbol in a site file
    "length": ("meter", "m"),
    "area": ("meter**2", "m2"),
    "flow": ("meter**3/second", "m3/s"),
    "volume": ("meter**3", "m3"),
    "volume_per_day": ("meter**3/day", "m3/day"),
    "pressure_head": ("metre_of_water", "m"),
    "ratio": ("dimensionless", ""),
    "temperature": ("degC", "°C"),
    "time": ("second", "s"),
    "speed": ("meter/second", "m/s"),
    "digging": ("meter/meter**2", "m/m2"),
    "dig_rate": ("meter**3/day", "m3/day"),
    "lay_rate": ("meter/day", "m/day"),
    "mass": ("kilogram", "kg"),
}
EXAMPLES: dict[Kind, str] = {
    "length": '"7.5 ft", "2.3 m" or "3/4 in"',
    "area": '"2.5 m2" or "27 sq ft"',
    "flow": '"12 L/min", "0.4 L/s" or "5 US gpm"',
    "volume": '"1500 L", "2 m3" or "400 US gal"',
    "volume_per_day": '"1500 L/day" or "400 US gal/day"',
    "pressure_head": '"60 m", "6 bar" or "100 psi"',
    "ratio": '"0.5 %", "1 in 200" or "0.005"',
    "temperature": '"12 °C" or "54 °F"',
    "time": '"6 h" or "20 min"',
    "speed": '"0.8 m/s" or "2.6 ft/s"',
    "digging": '"1 m/m2" or "0.3 ft/ft2"',
    "dig_rate": '"2 m3/day" or "2.5 cu yd/day"',
    "lay_rate": '"60 m/day" or "200 ft/day"',
    "mass": '"25 kg" or "55 lb"',
}

_DECIMAL = r"(?:[0-9]{1,30}(?:\.[0-9]{0,30})?|\.[0-9]{1,30})(?:[eE][+-]?[0-9]{1,3})?"
_NUMBER = re.compile(
    rf"(?P<sign>[+-]?)\s*(?:(?:(?P<whole>[0-9]{{1,6}})[ -])?(?P<over>[0-9]{{1,6}})/"
    rf"(?P<under>[0-9]{{1,6}})|(?P<decimal>{_DECIMAL}))(?P<unit>.*)"
)
_COMMAS = re.compile(r"[0-9]+(?:,[0-9]*)+(?:\.[0-9]+)?")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]+)?")
_ONE_IN = re.compile(rf"1\s*(?:in|:)\s*(?P<run>{_DECIMAL})")
_GALLON_WORDS = re.compile(
    r"(?P<before>us|usa|imp|imperial|uk)?\s*(?P<word>gallons?|gals?)"
    r"\s*\(?(?P<after>us|usa|imp|imperial|uk)?\)?"
)
_GALLON_FLOW = re.compile(r"(?P<whose>(?:us|imp|imperial|uk)?)\s*(?P<name>gp[mhd])")
_FRACTIONS = str.maketrans(
    {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
    | {"−": "-", "³": "3", "²": "2", "\u00a0": " ", "\u202f": " ", "⁄": "/"}
)


def parse(text: str | float, kind: Kind, *, gallon: GallonName | None = None) -> float:
    """A quantity in SI from the text that a person wrote.

    Parameters
    ----------
    text : str or float
        A number ("7.5", "3/4", "1 1/2") and a unit; a bare number is taken for a ratio alone.
    kind : str
        length [m], area [m²], flow [m³/s], volume [m³], volume_per_day [m³/day; a volume is one
        a day], pressure_head [m of water], ratio [1], temperature [°C], time [s], speed [m/s],
        digging [m of pipe per m² of trench section], dig_rate [m³/day], lay_rate [m/day],
        mass [kg].
    gallon : {"us", "imperial"}, optional
        What a gallon is where the text does not say.

    Returns
    -------
    float
        Finite; of either sign.

    Raises
    ------
    UnitError
        No unit, an unknown or an unfitting one, a gallon of whom is not said, a comma that could
        be read in two ways, no finite number.

    Examples
    --------
    >>> parse("7.5 ft", "length")
    2.286
    >>> parse("1 in 200", "ratio")
    0.005
    """
    written = str(text)
    if len(written) > LONGEST_TEXT:
        msg = f"{quoted(written)} is too long for a quantity; write one such as {EXAMPLES[kind]}"
        raise UnitError(msg)
    plain = " ".join(written.translate(_FRACTIONS).split())
    one_in = _ONE_IN.fullmatch(plain) if kind == "ratio" else None
    if one_in is not None:
        return _finite(1.0 / (float(one_in["run"]) or math.nan), written, kind)
    number, unit = _number_and_unit(plain, written, kind)
    value = _in_target(number, unit, kind, gallon, written)
    return _finite(value, written, kind)


def exact_text(value: float, kind: Kind) -> str:
    """The text that `parse` reads back as exactly this value, in SI."""
    return f"{value!r} {TARGETS[kind][1]}".strip()


def quoted(text: object) -> str:
    """A user's value as it is shown in a message: one line, short, control characters spelt."""
    short = str(text)
    if len(short) > 40:
        short = short[:37] + "..."
    return '"' + "".join(c if c.isprintable() else " " for c in short) + '"'


def _number_and_unit(plain: str, written: str, kind: Kind) -> tuple[float, str]:
    match = _NUMBER.fullmatch(_without_commas(plain, written))
    if match is None:
        msg = f"{quoted(written)} is not a number with a unit; write one such as {EXAMPLES[kind]}"
        raise UnitError(msg)
    if match["decimal"]:
        size = float(match["decimal"])
    else:
        under = int(match["under"])
        size = int(match["whole"] or 0) + (int(match["over"]) / under if under else math.inf)
    unit = match["unit"].strip().casefold()
    return (-size if match["sign"] == "-" else size), unit.replace(".", "").replace(
        "^3", "3"
    ).replace("^2", "2")


def _without_commas(plain: str, written: str) -> str:
    found = _COMMAS.search(plain)
    if found is None:
        return plain
    digits = found[0]
    without = digits.replace(",", "")
    if _THOUSANDS.fullmatch(digits) and (digits.count(",") > 1 or "." in digits):
        return plain.replace(digits, without)
    point = digits.replace(",", ".", 1)
    if _THOUSANDS.fullmatch(digits):
        msg = f"the comma in {quoted(written)} can be read in two ways; write {without} or {point}"
    else:
        msg = f"{quoted(written)} has a decimal comma; write it with a point, such as {point}"
    raise UnitError(msg)


def _in_target(
    number: float, unit: str, kind: Kind, gallon: GallonName | None, written: str
) -> float:
    if kind == "ratio" and unit == "":
        return number
    if unit == "":
        msg = f"{quoted(written)} has no unit; write it with one, such as {EXAMPLES[kind]}"
        raise UnitError(msg)
    found = _pint_unit(unit, kind)
    if found is None:
        msg = f"{quoted(written)} is no {_word(kind)}; write one such as {EXAMPLES[kind]}"
        raise UnitError(msg)
    if GALLON not in found:
        return convert(number, found, TARGETS[kind][0])
    us, imperial = (
        convert(number, found.replace(GALLON, size), TARGETS[kind][0]) for size in GALLONS.values()
    )
    if gallon is None:
        raise UnitError(_which_gallon(written, kind, us, imperial))
    return us if gallon == "us" else imperial


def _which_gallon(written: str, kind: Kind, us: float, imperial: float) -> str:
    quantities: dict[Kind, Quantity] = {"flow": "flow", "volume": "volume"}
    values = [
        show(value, quantities.get(kind, "per_day"), "metric", figures=3)
        for value in (us, imperial)
    ]
    return (
        f"{quoted(written)} does not say which gallon: it is {values[0]} in US gallons and "
        f"{values[1]} in imperial ones; write US or imp before it, or gallon = "
        '"us" or "imperial" at the top of the site file'
    )


def _pint_unit(unit: str, kind: Kind) -> str | None:
    plain = {
        "length": LENGTHS,
        "area": AREAS,
        "pressure_head": HEADS,
        "ratio": RATIOS,
        "temperature": TEMPERATURES,
        "time": TIMES,
        "speed": SPEEDS,
        "digging": DIGGINGS,
        "dig_rate": DIG_RATES,
        "lay_rate": LAY_RATES,
        "mass": MASSES,
    }
    if kind in plain:
        return plain[kind].get(unit)
    if kind == "volume":
        return _volume(unit)
    if kind == "volume_per_day" and (volume := _volume(unit)) is not None:
        return f"{volume}/day"
    return _flow(unit)


def _volume(unit: str) -> str | None:
    gallons = _GALLON_WORDS.fullmatch(unit)
    if gallons is None:
        return VOLUMES.get(unit)
    whose = gallons["before"] or gallons["after"]
    if whose is None:
        return GALLON
    return GALLONS["us" if whose.startswith("us") else "imperial"]


def _flow(unit: str) -> str | None:
    named = _GALLON_FLOW.fullmatch(unit)
    if named is not None:
        unit = f"{named['whose']} {FLOW_NAMES[named['name']]}".strip()
    unit = FLOW_NAMES.get(unit, unit).replace(" per ", "/").replace(" a ", "/")
    amount, slash, time = unit.partition("/")
    volume = _volume(amount.strip())
    if not slash or volume is None or time.strip() not in TIMES:
        return None
    return f"{volume}/{TIMES[time.strip()]}"


def _word(kind: Kind) -> str:
    words: dict[Kind, str] = {
        "volume_per_day": "volume a day",
        "pressure_head": "pressure or head",
        "digging": "price of digging",
        "dig_rate": "volume dug in a day",
        "lay_rate": "length laid in a day",
    }
    return words.get(kind, kind)


def _finite(value: float, written: str, kind: Kind) -> float:
    if not math.isfinite(value):
        msg = f"{quoted(written)} is no finite number; write one such as {EXAMPLES[kind]}"
        raise UnitError(msg)
    return value
