"""The sheet of metres by owner."""

from typing import Any

from planner.output.materials.shown import shown
from planner.output.materials.value import Materials
from planner.output.materials.xlsx_style import (
    HEADER,
    Column,
    Styles,
    cell,
    formula,
    new_sheet,
    put,
    span,
    sum_under,
)

OWNERS = "Owners"
NOBODY = "nobody listed"


def write_owners(book: Any, styles: Styles, materials: Materials) -> None:
    """Metres of each line on each owner's land, then by owner."""
    sign = shown(0.0, "m", materials.units)[1]
    columns = (Column("Line", 34), Column("Owner of the land", 40), Column(f"Pipe, {sign}", 14))
    sheet = new_sheet(book, styles, OWNERS, f"{materials.title}: pipe by owner", columns)
    row = HEADER
    for row, share in enumerate(materials.owned, start=HEADER + 1):
        put(sheet, row, 0, share.line, styles.text)
        put(sheet, row, 1, share.owner or NOBODY, styles.text)
        put(sheet, row, 2, shown(share.metres, "m", materials.units)[0], styles.one)
    if row == HEADER:
        return
    last = row
    metres: dict[str, float] = {}
    for share in materials.owned:
        owner = share.owner or NOBODY
        metres[owner] = metres.get(owner, 0.0) + share.metres
    row = sum_under(
        sheet, styles, HEADER + 1, last, 2, shown(sum(metres.values()), "m", materials.units)[0]
    )
    put(sheet, row + 2, 1, "By owner", styles.head)
    for at, (owner, value) in enumerate(metres.items(), start=row + 3):
        put(sheet, at, 1, owner, styles.text)
        ours = f"--({span(HEADER + 1, last, 1)}={cell(at, 1)})"
        text = f"=SUMPRODUCT({ours},{span(HEADER + 1, last, 2)})"
        formula(sheet, (at, 2), text, shown(value, "m", materials.units)[0], styles.one)
