"""A CSV table as it was saved, untrusted: columns by lower-case name, rows by their line."""

import csv
import io
from dataclasses import dataclass
from itertools import islice

from planner.errors import SketchError

MOST_ROWS = 20_000


@dataclass(frozen=True, slots=True)
class CsvRow:
    """One row: the line of the file it ends on, from 1, and its cells by column."""

    line: int
    cells: dict[str, str]

    def said(self, column: str) -> str:
        """What stands in a column, "" where nothing does."""
        return self.cells.get(column, "")


@dataclass(frozen=True, slots=True)
class CsvTable:
    """The columns of a table, in lower case, its rows that are not blank, and what parts cells."""

    name: str
    columns: tuple[str, ...]
    rows: tuple[CsvRow, ...]
    delimiter: str


def csv_table(content: bytes, name: str, keep: str = "the sketch") -> CsvTable:
    """The table that a file's content holds; columns are parted by comma, semicolon or tab.

    Parameters
    ----------
    name : str
        The file's, for messages.
    keep : str
        Whose rows belong in it, for the message on one too long.

    Raises
    ------
    SketchError
        It is no table in UTF-8, or one of too many rows.
    """
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        msg = f"{name} is not written in UTF-8; save the table again as CSV in UTF-8"
        raise SketchError(msg) from error
    delimiter = max(",;\t", key=text.lstrip().partition("\n")[0].count)
    table = csv.reader(io.StringIO(text), delimiter=delimiter)
    try:
        filled = (
            (table.line_num, [cell.strip() for cell in row])
            for row in table
            if any(map(str.strip, row))
        )
        lines = list(islice(filled, MOST_ROWS + 2))
    except csv.Error as error:
        msg = f"{name}, line {table.line_num}: no row of a table ({error}); save it again as CSV"
        raise SketchError(msg) from error
    if not lines:
        msg = f"{name} holds no table; begin it with a row that names its columns"
        raise SketchError(msg)
    if len(lines) > MOST_ROWS + 1:
        msg = f"{name} has more than {MOST_ROWS} rows; keep those of {keep} alone"
        raise SketchError(msg)
    columns = tuple(cell.lower() for cell in lines[0][1])
    rows = (CsvRow(line, dict(zip(columns, cells, strict=False))) for line, cells in lines[1:])
    return CsvTable(name, columns, tuple(rows), delimiter)
