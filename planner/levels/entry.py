"""One row of a file of readings, and the quantities in its cells."""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass

from planner.errors import InputError, UnitError
from planner.levels.header import Header
from planner.levels.names import StationNames
from planner.levels.table import Table
from planner.levels.value import Row
from planner.units.convert import factor
from planner.units.parse import LENGTHS, parse, quoted

FRACTION_STEP = 0.0016  # m, 1/16 inch: to what a length written with a fraction is read
SYMBOLS = {
    "meter": "m",
    "centimeter": "cm",
    "millimeter": "mm",
    "kilometer": "km",
    "inch": "in",
    "foot": "ft",
    "yard": "yd",
    "mile": "mi",
}

_FEET_INCHES = re.compile(
    r"(?P<sign>[+-]?)\s*(?P<feet>[0-9]{1,5})\s*(?:['′’]|ft\.?|foot|feet)[\s-]*"
    r"(?P<inches>[0-9]{1,3}(?:[.,][0-9]{1,9}|(?:[ -][0-9]{1,3})?/[0-9]{1,3})?)"
    r"\s*(?:[\"″”]|''|in\.?|inch|inches)?",
    re.IGNORECASE,
)
_BARE = re.compile(r"[+−-]?\s*[0-9.,\s/½¼¾⅛⅜⅝⅞]+")
_BEHIND = re.compile(r"[^0-9½¼¾⅛⅜⅝⅞]*$")
_DECIMALS = re.compile(r"[0-9]+(?:[.,](?P<places>[0-9]*))?")


@dataclass(frozen=True, slots=True)
class Written:
    """A length as it was written.

    Attributes
    ----------
    value : float
        [m]
    step : float
        The last place to which it was written [m].
    text : str
    unit : str
        By pint's name.
    """

    value: float
    step: float
    text: str
    unit: str

    @property
    def shown(self) -> str:
        """Its text as in a message, with its unit if it was written without."""
        return quoted(self.text)[1:-1] + (f" {self._symbol}" if _BARE.fullmatch(self.text) else "")

    def like(self, value: float) -> str:
        """Another length [m] as text, in the same unit and to the same place."""
        size = factor(self.unit, "meter")
        places = min(max(round(-math.log10(self.step / size)), 0), 4)
        return f"{value / size:.{places}f} {self._symbol}"

    @property
    def _symbol(self) -> str:
        return SYMBOLS.get(self.unit, self.unit)


@dataclass(frozen=True, slots=True)
class Entry:
    """A row: where it stands, its cells that are filled, by column, and the columns' units."""

    row: Row
    cells: dict[str, str]
    units: dict[str, str]
    decimal_comma: bool

    def station(self, names: StationNames, column: str = "station") -> str:
        """The station a cell names.

        Raises
        ------
        InputError
            The cell is empty or its name is too long.
        """
        if column not in self.cells:
            msg = f"{self.row} names no station in column {column}; write its name"
            raise InputError(msg)
        return names.find(self.cells[column], self.row)

    def length(self, column: str) -> Written | None:
        """The length in a cell; None if it is empty.

        Raises
        ------
        InputError
            It is no length.
        """
        text = self.cells.get(column)
        if text is None:
            return None
        try:
            return _length(self.plain(text), self.units[column], text)
        except UnitError as error:
            raise self.wrong(column, error.message) from error

    def number(self, column: str, text: str) -> float:
        """A bare number, for quantities that are no lengths.

        Raises
        ------
        InputError
            It is no finite number.
        """
        try:
            value = float(self.plain(text).replace("−", "-"))
        except ValueError as error:
            raise self.wrong(column, f"{quoted(text)} is no number") from error
        if not math.isfinite(value):
            raise self.wrong(column, f"{quoted(text)} is no finite number")
        return value

    def place(self) -> tuple[float, float] | None:
        """Longitude and latitude of the row [degrees]; None if it tells none.

        Raises
        ------
        InputError
            Only one of them is there, or one is no place on the Earth.
        """
        told = [column for column in ("lon", "lat") if column in self.cells]
        if not told:
            return None
        if len(told) == 1:
            missing = "lat" if told == ["lon"] else "lon"
            raise self.wrong(missing, f"it is empty beside a {told[0]}; fill in both or none")
        lon, lat = (self.number(column, self.cells[column]) for column in told)
        if abs(lon) > 180.0 or abs(lat) > 90.0:
            what = f"lon {lon:.8g}, lat {lat:.8g} is no place on the Earth; write degrees"
            raise self.wrong("lon", what)
        return lon, lat

    def wrong(self, column: str, what: str) -> InputError:
        """An error that names the row and the column."""
        return InputError(f"{self.row}, column {column}: {what}")

    def plain(self, text: str) -> str:
        """A number's text with a decimal point, where a comma can be one.

        Raises
        ------
        UnitError
            It can be read in two ways.
        """
        if not self.decimal_comma or "," not in text:
            return text
        if "." in text or text.count(",") > 1:
            msg = f"{quoted(text)} can be read in two ways; write one decimal comma and no points"
            raise UnitError(msg)
        return text.replace(",", ".")


def entries(table: Table, header: Header, unit: str) -> Iterator[Entry]:
    """The rows of a table by what their columns mean; lengths without a unit are in `unit`."""
    bare = {"m": "meter", "ft": "foot"}[unit]
    known = [(i, column) for i, column in enumerate(header.columns) if column is not None]
    units = {column.name: column.unit or bare for _, column in known}
    for row, cells in table.lines:
        filled = {column.name: cells[i] for i, column in known if cells[i]}
        yield Entry(row, filled, units, table.decimal_comma)


def _length(plain: str, unit: str, text: str) -> Written:
    both = _FEET_INCHES.fullmatch(plain)
    if both is not None:
        inches = both["inches"]
        if parse(f"{inches} in", "length") >= parse("1 ft", "length"):
            msg = f"{quoted(text)} has 12 inches or more beside the feet; write fewer"
            raise UnitError(msg)
        size = parse(f"{both['feet']} ft", "length") + parse(f"{inches} in", "length")
        value = -size if both["sign"] == "-" else size
        return Written(value, _step(inches, "inch"), text, "foot")
    if _BARE.fullmatch(plain):
        if unit not in SYMBOLS:
            msg = f"{quoted(text)} stands under a unit that is none of length"
            raise UnitError(msg)
        return Written(parse(f"{plain} {SYMBOLS[unit]}", "length"), _step(plain, unit), text, unit)
    value = parse(plain, "length")
    behind = " ".join(_BEHIND.findall(plain)[0].replace(".", "").split())
    own = LENGTHS.get(behind.casefold(), "meter")
    return Written(value, _step(plain, own), text, own)


def _step(plain: str, unit: str) -> float:
    """One in the last decimal place of a number [m]."""
    found = _DECIMALS.search(plain)
    if found is None or "/" in plain:
        return FRACTION_STEP
    return float(10.0 ** -len(found["places"] or "")) * factor(unit, "meter")
