"""What sheets of the workbook have in common: letters, widths, headers, and cells by kind."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from xlsxwriter.utility import xl_rowcol_to_cell

from planner.site.value import Units

HEADER = 2  # row of the header, from 0; above it the title
LONGEST = 32_000  # characters of a cell
PAPERS: dict[Units, int] = {"metric": 9, "us": 1}  # A4 and Letter, as the file format numbers them


@dataclass(frozen=True, slots=True)
class Styles:
    """Formats of one workbook, by what a cell holds, and the paper it is printed on."""

    paper: int
    title: Any
    head: Any
    text: Any
    whole: Any
    price: Any
    one: Any
    two: Any
    sum_text: Any
    sum_whole: Any
    sum_one: Any
    sum_two: Any

    @classmethod
    def of(cls, book: Any, units: Units) -> "Styles":
        """Those of a new workbook."""
        top = {"valign": "top"}
        bold = {"bold": True, "top": 1}
        return cls(
            paper=PAPERS[units],
            title=book.add_format({"bold": True, "font_size": 14}),
            head=book.add_format({"bold": True, "bottom": 1, "text_wrap": True, **top}),
            text=book.add_format({"text_wrap": True, **top}),
            whole=book.add_format({"num_format": "#,##0", **top}),
            price=book.add_format({"num_format": "#,##0.00##", **top}),
            one=book.add_format({"num_format": "#,##0.0", **top}),
            two=book.add_format({"num_format": "#,##0.00", **top}),
            sum_text=book.add_format(bold),
            sum_whole=book.add_format({"num_format": "#,##0", **bold}),
            sum_one=book.add_format({"num_format": "#,##0.0", **bold}),
            sum_two=book.add_format({"num_format": "#,##0.00", **bold}),
        )


@dataclass(frozen=True, slots=True)
class Column:
    """A column's header and its width in characters."""

    head: str
    width: float


def new_sheet(book: Any, styles: Styles, name: str, title: str, columns: Sequence[Column]) -> Any:
    """A sheet with its title, its header frozen, set to print on the width of one page."""
    sheet = book.add_worksheet(name)
    sheet.write_string(0, 0, title[:LONGEST], styles.title)
    head(sheet, styles, HEADER, columns)
    for at, column in enumerate(columns):
        sheet.set_column(at, at, column.width)
    sheet.freeze_panes(HEADER + 1, 0)
    sheet.repeat_rows(HEADER)
    sheet.set_landscape()
    sheet.set_paper(styles.paper)
    sheet.fit_to_pages(1, 0)
    return sheet


def head(sheet: Any, styles: Styles, row: int, columns: Sequence[Column]) -> None:
    """A row of column heads."""
    for at, column in enumerate(columns):
        sheet.write_string(row, at, column.head, styles.head)


def put(sheet: Any, row: int, column: int, value: str | float, style: Any) -> None:
    """Text as text, whatever it begins with, and numbers as numbers."""
    if isinstance(value, str):
        sheet.write_string(row, column, value[:LONGEST], style)
    else:
        sheet.write_number(row, column, value, style)


def formula(sheet: Any, at: tuple[int, int], text: str, value: float | str, style: Any) -> None:
    """A formula with its value, for readers that don't compute."""
    sheet.write_formula(*at, text, style, value)


def cell(row: int, column: int) -> str:
    """A1 for row 0, column 0."""
    return str(xl_rowcol_to_cell(row, column))


def span(first: int, last: int, column: int, sheet: str = "") -> str:
    """A column's cells from one row to another, both with, as they stand in a formula."""
    rows = (xl_rowcol_to_cell(row, column, row_abs=True, col_abs=True) for row in (first, last))
    return (f"'{sheet}'!" if sheet else "") + ":".join(rows)


def sum_under(sheet: Any, styles: Styles, first: int, last: int, column: int, value: float) -> int:
    """A sum under a column, where it has rows; returns the row it stands in."""
    if last < first:
        return last
    for other in range(column):
        put(sheet, last + 1, other, "Total" if other == 0 else "", styles.sum_text)
    text = f"=SUM({span(first, last, column)})"
    formula(sheet, (last + 1, column), text, round(value, 6), styles.sum_two)
    return last + 1
