"""`PriceList`: the user's prices, read from a table that is not trusted."""

import re
from dataclasses import dataclass
from pathlib import Path

from planner.errors import InputError
from planner.output.materials.price_units import UNITS
from planner.site.csv_table import CsvRow, CsvTable, csv_table
from planner.units.parse import quoted

MOST_BYTES = 2_000_000
MOST_TEXT = 200  # characters of a cell
MOST_PRICE = 1e9
COLUMNS = {
    "item": ("item", "article", "code", "name", "words"),
    "unit": ("unit",),
    "per": ("per",),
    "price": ("price", "unit price"),
    "currency": ("currency",),
}
TWO_WAYS = re.compile(r"[1-9]\d{0,2}[.,]\d{3}", re.ASCII)  # thousands or decimals
# Shapes of a number, with the signs that part its thousands, and that before its decimals.
SHAPES = tuple(
    (re.compile(shape, re.ASCII), parts, decimals)
    for shape, parts, decimals in (
        (r"\d{1,12}(\.\d{1,6})?", "", "."),
        (r"\d{1,12},\d{1,6}", "", ","),
        (r"\d{1,3}(,\d{3})+\.\d{1,6}", ",", "."),
        (r"\d{1,3}(\.\d{3})+,\d{1,6}", ".", ","),
        (r"\d{1,3}([ '\u2019\u00a0\u202f]\d{3})+(\.\d{1,6})?", " '\u2019\u00a0\u202f", "."),
        (r"\d{1,3}([ '\u2019\u00a0\u202f]\d{3})+,\d{1,6}", " '\u2019\u00a0\u202f", ","),
    )
)


@dataclass(frozen=True, slots=True)
class Price:
    """One price: for what, per which unit, how much, and on which line of the file it stands."""

    item: str
    unit: str
    price: float
    line: int


@dataclass(frozen=True, slots=True)
class PriceList:
    """The prices of a file, all in one currency ("" where none is said)."""

    file: str
    currency: str
    prices: tuple[Price, ...]


def key(text: str) -> str:
    """What makes two names the same: letters' case and spaces don't count."""
    return " ".join(text.casefold().split())


def read_prices(path: Path, currency: str = "") -> PriceList:
    """The price list in a CSV file.

    Its first row names the columns, parted by commas, semicolons or tabs::

        item;unit;price;currency
        pipe-1-in-astm-d2239-sidr-15-100-psi-91-4-m;coil;129,50;EUR
        Ball valve, 1 in ASTM D2239;piece;11.20;EUR

    `item` (or article, code, name, words) is a code of the materials list, its words, or a pipe's
    size and class as the plan prints them. `unit` (or `per`, which goes before it) is m, ft, 100 m,
    coil, stick, roll, piece, pair, m³, kg, day or hour, and what else `price_units.UNITS` lists.
    `price` is a plain number with a point or a comma before its decimals. `currency` may be left
    out. A row without a price is passed over, so that a list written by this program can be filled
    in by and by.

    Parameters
    ----------
    path : Path
    currency : str
        As the site file has it; the list's must be the same where both are told.

    Raises
    ------
    InputError
        The file is missing, too large or no table; a column lacks; a price is no number; a unit
        is not known; two rows price the same differently; currencies are mixed.
    """
    table = csv_table(_content(path), path.name, keep="the price list")
    columns = {wanted: _column(table, names) for wanted, names in COLUMNS.items()}
    for wanted in ("item", "unit", "price"):
        if columns[wanted] is None and not (wanted == "unit" and columns["per"]):
            said = quoted(", ".join(table.columns))
            msg = f"{path.name} has the columns {said}; it needs item, unit and price"
            raise InputError(msg)
    rows = [row for row in table.rows if _said(table, row, columns["price"])]
    prices = tuple(_price(table, row, columns) for row in rows)
    _refuse_twice(path.name, prices)
    return PriceList(path.name, _currency(table, rows, columns["currency"], currency), prices)


def _content(path: Path) -> bytes:
    """What stands in a file, which is no device or pipe that never ends."""
    try:
        there = path.is_file()
        content = b""
        if there:
            with path.open("rb") as file:
                content = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "no such path"
        msg = f"the price list {quoted(path.name)} can't be read: {reason}"
        raise InputError(msg) from error
    if not there:
        msg = f"the price list {quoted(path.name)} can't be read: there is no such file"
        raise InputError(msg)
    if len(content) > MOST_BYTES:
        msg = f"{path.name} is too large for a price list; keep it under {MOST_BYTES // 10**6} MB"
        raise InputError(msg)
    return content


def _column(table: CsvTable, names: tuple[str, ...]) -> str | None:
    return next((name for name in names if name in table.columns), None)


def _said(table: CsvTable, row: CsvRow, column: str | None) -> str:
    text = "" if column is None else row.said(column)
    if len(text) > MOST_TEXT:
        msg = f"{table.name}, line {row.line}: {quoted(text)} is too long for a price list"
        raise InputError(msg)
    return text


def _price(table: CsvTable, row: CsvRow, columns: dict[str, str | None]) -> Price:
    place = f"{table.name}, line {row.line}"
    item, price = (_said(table, row, columns[name]) for name in ("item", "price"))
    unit = _said(table, row, columns["per"]) or _said(table, row, columns["unit"])
    if not item:
        msg = f"{place}: a price of {quoted(price)} stands there for nothing; name the item"
        raise InputError(msg)
    if key(unit) not in UNITS:
        msg = f"{place}: {quoted(unit)} is no unit known here; write m, coil, piece, m³, kg or day"
        raise InputError(msg)
    return Price(item.removeprefix("'"), key(unit), _number(price, place), row.line)


def _number(text: str, place: str) -> float:
    """A price, with decimal point or comma; what could be read two ways is refused."""
    if TWO_WAYS.fullmatch(text):
        whole, decimals = re.split("[.,]", text)
        msg = f"{place}: {quoted(text)} can be read in two ways; write {whole}{decimals} or "
        msg += f"{whole}.{decimals}0"
        raise InputError(msg)
    for shape, parts, sign in SHAPES:
        if shape.fullmatch(text):
            number = float(text.translate({ord(part): None for part in parts}).replace(sign, "."))
            if number <= MOST_PRICE:
                return number
    msg = f"{place}: {quoted(text)} is no price; write a plain number such as 12.50"
    raise InputError(msg)


def _refuse_twice(file: str, prices: tuple[Price, ...]) -> None:
    seen: dict[tuple[str, str], Price] = {}
    for price in prices:
        before = seen.setdefault((key(price.item), price.unit), price)
        if before.price != price.price:
            msg = (
                f"{file}, lines {before.line} and {price.line}: {quoted(price.item)} has two "
                f"prices, {before.price:g} and {price.price:g}; keep one"
            )
            raise InputError(msg)


def _currency(table: CsvTable, rows: list[CsvRow], column: str | None, site: str) -> str:
    said = {key(site): ("the site file", site)} if site else {}
    for row in rows:
        text = _said(table, row, column)
        if text:
            said.setdefault(key(text), (f"line {row.line}", text))
    if len(said) > 1:
        (one_at, one), (other_at, other) = list(said.values())[:2]
        msg = (
            f"{table.name}: prices in {quoted(one)} ({one_at}) and {quoted(other)} ({other_at}) "
            "can't be added; give all in one currency"
        )
        raise InputError(msg)
    return next((text for _, text in said.values()), "")
