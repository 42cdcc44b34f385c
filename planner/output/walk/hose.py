"""The hose level: a blank page for a water level, from stake to stake down the fall."""

from planner.output.print.page import Page
from planner.output.print.sheet import Sheet
from planner.output.print.table import blank, column_names, column_widths, named
from planner.output.print.type import paragraph
from planner.output.walk.form import signed

# As of the level book; the running height is for the walker alone.
COLUMNS: dict[str, float] = {
    "From": 94.0,
    "To": 94.0,
    "From reading": 72.0,
    "To reading": 72.0,
    "Rise": 56.0,
    "Running height": 66.0,
    "Remark": 0.0,
}
MOST_SHOTS = 44


def hose_form(page: Page, shots: list[tuple[str, str]], unit: str) -> Sheet:
    """The form, with the shots that tell the fall; arguments as of `level_book`."""
    widths = column_widths(COLUMNS, page.width)
    told = [
        "Water stands equally high at both ends. Read the scale on the ground at each end: the"
        " rise is the reading at From less the reading at To, minus where it falls.",
        "No air in the hose, no kink, the same water all along; let it come to rest. Walk it back"
        " and add up: it should come out at nothing.",
    ]
    if len(shots) > MOST_SHOTS:
        told.append(f"{len(shots) - MOST_SHOTS} more stakes are on the walk sheets; go on.")
    return Sheet(
        name=f"Hose or water level, all in {'metres' if unit == 'm' else 'feet and tenths'}",
        head=(*(paragraph(text) for text in told), signed(page.width, "By", "Date")),
        columns=column_names(tuple(COLUMNS), widths),
        rows=tuple(named(shot, widths) for shot in shots[:MOST_SHOTS]),
        spare=blank(widths),
        foot=(
            paragraph(
                "To bring it back: type the table as hose.csv, these columns in its first line"
                " (the rise may stay empty where both readings stand), and write in site.toml,"
                f' under [measured]: levels = ["hose.csv"], unit = "{unit}",'
                ' stakes = "stakes.csv". Then plan again.'
            ),
        ),
    )
