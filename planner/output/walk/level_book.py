"""The level book: a blank page for a builder's level, its stations named."""

from reportlab.platypus import Table

from planner.output.print.page import Page
from planner.output.print.sheet import Sheet
from planner.output.print.table import Cell, blank, column_names, column_widths, named, ruled
from planner.output.print.type import paragraph
from planner.output.walk.form import signed

# Column -> width [pt]; the remark takes what is left. `planner.levels.header` reads each of them.
COLUMNS: dict[str, float] = {
    "Station": 90.0,
    "Back": 46.0,
    "Inter": 46.0,
    "Fore": 46.0,
    "HI": 50.0,
    "Rise": 42.0,
    "Fall": 42.0,
    "Level": 52.0,
    "Dist": 40.0,
    "Remark": 0.0,
}
MOST_STATIONS = 40


def level_book(page: Page, stations: list[str], unit: str) -> Sheet:
    """The form, with the stations in the order in which they can be walked.

    Parameters
    ----------
    page : Page
    stations : list of str
        Names as the plan has them.
    unit : {"m", "ft"}
    """
    widths = column_widths(COLUMNS, page.width)
    rows: list[Table] = []
    for name in stations[:MOST_STATIONS]:
        rows += [named([name], widths), blank(widths)]
    if stations:
        rows.append(named([stations[0]], widths))
    return Sheet(
        name=f"Level book, all in {'metres' if unit == 'm' else 'feet and tenths'}",
        head=(*(paragraph(text) for text in _told(stations)), signed(page.width, "By", "Date")),
        columns=column_names(tuple(COLUMNS), widths),
        rows=tuple(rows),
        spare=blank(widths),
        foot=tuple(_foot(page.width, unit)),
    )


def _told(stations: list[str]) -> list[str]:
    told = [
        "Begin and end at the same station. Hold the staff on the water at the source, on the"
        " ground at stakes. Empty rows are for change points (TP 1, TP 2); keep both sights of a"
        " set-up about equally long.",
        "Book either rise and fall, or HI: the level of the instrument's line of sight.",
    ]
    if len(stations) > MOST_STATIONS:
        more = len(stations) - MOST_STATIONS
        told.append(f"{more} more stations are named on the walk sheets; go on with them.")
    return told


def _foot(width: float, unit: str) -> list[Table]:
    check: list[Cell] = [
        *(paragraph(text) for text in ("Σ back − Σ fore", "", "Σ rise − Σ fall", "")),
        *(paragraph(text) for text in ("last − first", "")),
    ]
    label, box = 106.0, (width - 3 * 106.0) / 3
    allowed = (
        "24 mm times the root of the kilometres"
        if unit == "m"
        else "0.1 ft times the root of the miles"
    )
    return [
        paragraph("Arithmetic check: all three are equal. Over a closed run each is its error."),
        ruled([check], (label, box) * 3),
        paragraph(f"Ordinary levelling closes within {allowed}; if it does not, read again."),
        paragraph(
            "To bring it back: type the table as levels.csv, these columns in its first line, and"
            f' write in site.toml, under [measured]: levels = ["levels.csv"], unit = "{unit}",'
            ' stakes = "stakes.csv". Then plan again.'
        ),
    ]
