"""The list as a workbook: order, work, use by line, cost, cuts, earth and loads, owners, tools."""

import datetime
import io
from pathlib import Path

import xlsxwriter

from planner.output.materials.cost import Priced
from planner.output.materials.xlsx_by_line import write_by_line
from planner.output.materials.xlsx_cost import write_cost
from planner.output.materials.xlsx_cuts import write_cuts
from planner.output.materials.xlsx_items import write_order, write_tools, write_work
from planner.output.materials.xlsx_owners import write_owners
from planner.output.materials.xlsx_style import Styles
from planner.output.materials.xlsx_trench import write_trench

TEXT_ONLY = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
}


def write_materials_xlsx(materials: Priced, path: Path) -> None:
    """Write the materials as a workbook whose sums are formulas, with their values kept beside.

    Sheets: what a shop is to deliver; work, earth and land; every use by line and structure; cost
    by group and by line, with what has no price; what is cut from which coil; trench, bedding,
    days and loads; metres by owner; tools. Blank prices can be filled in: the sums follow. The
    same plan gives the same bytes.

    Parameters
    ----------
    materials : Priced
    path : Path
        Written over if it exists.

    Raises
    ------
    OSError
        The place can't be written.
    """
    # Made in memory: a workbook that can't be written to its end complains beside the error.
    content = io.BytesIO()
    with xlsxwriter.Workbook(content, TEXT_ONLY) as book:
        made = datetime.datetime.combine(materials.materials.made, datetime.time())
        book.set_properties({"title": materials.materials.title, "created": made})
        styles = Styles.of(book, materials.materials.units)
        order = write_order(book, styles, materials)
        work = write_work(book, styles, materials)
        by_line = write_by_line(book, styles, materials, {**order, **work})
        write_cost(book, styles, materials, by_line)
        write_cuts(book, styles, materials.materials)
        write_trench(book, styles, materials.materials)
        write_owners(book, styles, materials.materials)
        write_tools(book, styles, materials.materials)
    path.write_bytes(content.getvalue())
