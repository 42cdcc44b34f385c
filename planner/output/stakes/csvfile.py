"""`stakes.csv`: every stake of a plan as a table, to be taken to the field and read back."""

import csv
import io
from collections.abc import Sequence
from pathlib import Path

from planner.output.stakes.table import COLUMNS, LENGTHS, Cell, lengths, rows
from planner.output.stakes.value import StakedLine
from planner.record.value import Plan
from planner.wording.quantity import FOOT

FEET_DECIMALS = 2
FORMULA = ("=", "+", "-", "@")
DECIMALS = {"lon": 8, "lat": 8, "bearing": 1, "grade_after": 5}


def write_stakes_csv(plan: Plan, staked: Sequence[StakedLine], path: Path) -> None:
    """Write the stakes as CSV, in UTF-8 with a byte order mark, which spreadsheets look for.

    Parameters
    ----------
    plan : Plan
        Where it shows US units, columns in feet stand behind those in metres: `chainage_ft` ...
    staked : sequence of StakedLine
    path : Path
        Columns `planner.output.stakes.table.COLUMNS`; cells that are not known are empty. No cell
        of text begins as a formula does.
    """
    us = plan.site.units == "us"
    feet = [f"{name}_ft" for name in LENGTHS] if us else []
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow([*COLUMNS, *feet])
    for line in staked:
        others = lengths(line, FOOT, FEET_DECIMALS)
        for row, other in zip(rows(line), others, strict=True):
            cells = [_cell(value, DECIMALS.get(name, 3)) for name, value in row.items()]
            cells += [_cell(other[name], FEET_DECIMALS) for name in LENGTHS if us]
            writer.writerow(cells)
    path.write_bytes(text.getvalue().encode("utf-8-sig"))


def _cell(value: Cell, decimals: int) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        return f"'{value}" if value.startswith(FORMULA) else value
    return str(value) if isinstance(value, int) else f"{value:.{decimals}f}"
