"""Pegs of a line in order, from a CSV: a plan's stake list, or one noted in the field."""

from planner.errors import SketchError
from planner.site.csv_table import CsvRow, CsvTable, csv_table
from planner.site.csvfile import DEGREES, coordinate_columns, coordinates
from planner.units.parse import quoted

MOST_NAMED = 5  # lines told in a message


def stakes_of_line(content: bytes, file: str, name: str | None) -> list[tuple[float, float]]:
    """Longitude, latitude of the pegs of one line, in order.

    Parameters
    ----------
    content : bytes
        A table with the columns lon and lat; `line` tells the line of each peg. Pegs stand in the
        order of their `number`, else of their `chainage_m`, else of the file.
    file : str
        Its name, for messages.
    name : str or None
        Of the line; where only one line is there it is that one, whatever it is called.

    Raises
    ------
    SketchError
        It is no such table, holds other lines, or numbers a peg twice.
    """
    table = csv_table(content, file, "the stakes")
    axes = coordinate_columns(table, DEGREES, "lon and lat, and a line for each stake")
    rows = _of_line(table, name)
    if table.delimiter != ",":
        rows = [_with_points(row, (*axes, "chainage_m")) for row in rows]
    rows = _in_order(rows, file)
    return [coordinates(row, axes, f"{file} line {row.line}") for row in rows]


def none_called(file: str, name: str | None, names: list[str]) -> str:
    """The message on a file of several lines of which none is the wanted one."""
    told = ", ".join(quoted(one) for one in names[:MOST_NAMED])
    more = "" if len(names) <= MOST_NAMED else f" and {len(names) - MOST_NAMED} more"
    wanted = "" if name is None else f", none of them called {quoted(name)}"
    remedy = "keep one line in the file" if name is None else "name the line so, or keep it alone"
    return f"{file} holds several lines{wanted} ({told}{more}); {remedy}"


def _of_line(table: CsvTable, name: str | None) -> list[CsvRow]:
    lines = list(dict.fromkeys(row.said("line") for row in table.rows))
    if len(lines) == 1:
        return list(table.rows)
    rows = [row for row in table.rows if name and row.said("line").casefold() == name.casefold()]
    if not rows and table.rows:
        raise SketchError(none_called(table.name, name, lines))
    return rows


def _with_points(row: CsvRow, columns: tuple[str, ...]) -> CsvRow:
    """The row with the decimal commas that a spreadsheet gave its numbers made points."""
    numbers = {name: row.said(name).replace(",", ".") for name in columns if row.said(name)}
    return CsvRow(row.line, row.cells | numbers)


def _in_order(rows: list[CsvRow], file: str) -> list[CsvRow]:
    if any(row.said("number") for row in rows):
        return _by_number(rows, file)
    if any(row.said("chainage_m") for row in rows):
        return sorted(rows, key=lambda row: _chainage(row, file))
    return rows


def _chainage(row: CsvRow, file: str) -> float:
    try:
        return float(row.said("chainage_m"))
    except ValueError as error:
        msg = (
            f"{file} line {row.line}: the stake's chainage_m is {quoted(row.said('chainage_m'))}; "
            "write it in metres for each stake, or for none"
        )
        raise SketchError(msg) from error


def _by_number(rows: list[CsvRow], file: str) -> list[CsvRow]:
    numbers: dict[int, CsvRow] = {}
    for row in rows:
        place = f"{file} line {row.line}"
        try:
            number = int(row.said("number"))
        except ValueError as error:
            msg = (
                f"{place}: the stake's number is {quoted(row.said('number'))}; write a whole "
                "number for each stake, or none at all"
            )
            raise SketchError(msg) from error
        other = numbers.setdefault(number, row)
        if other is not row:
            msg = (
                f"{place}: the line has a stake number {number} already, on line {other.line}; "
                "number each once, in order"
            )
            raise SketchError(msg)
    return [numbers[number] for number in sorted(numbers)]
