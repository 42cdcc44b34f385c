"""The sheet of trench, days of work and loads to carry."""

from typing import Any

from planner.output.materials.earthwork import CAUTION, GROUND_WORDS, depth_words
from planner.output.materials.shown import shown
from planner.output.materials.value import Materials, Unit
from planner.output.materials.xlsx_labour import write_loads, write_work
from planner.output.materials.xlsx_style import (
    HEADER,
    Column,
    Styles,
    cell,
    formula,
    new_sheet,
    put,
    span,
)

TRENCH = "Trench and labour"
SUMS: tuple[tuple[str, int, Unit], ...] = (
    ("length_m", 3, "m"),
    ("volume", 6, "m³"),
    ("bedding", 7, "m³"),
    ("pipe", 8, "m³"),
    ("backfill", 9, "m³"),
)


def write_trench(book: Any, styles: Styles, materials: Materials) -> None:
    """Trench by line, ground and depth; days of digging and laying; loads and trips."""
    long, earth = _signs(materials)
    columns = (
        Column("Line", 40),
        Column("Ground", 18),
        Column("Depth", 26),
        Column(f"Length on the level, {long}", 12),
        Column(f"Mean depth, {long}", 12),
        Column(f"Width, {long}", 10),
        Column(f"Trench, {earth}", 12),
        Column(f"Bedding, {earth}", 12),
        Column(f"Pipe, {earth}", 12),
        Column(f"Backfill, {earth}", 12),
    )
    title = f"{materials.title}: trench, labour and loads"
    sheet = new_sheet(book, styles, TRENCH, title, columns)
    last = _dug(sheet, styles, materials)
    last = write_work(sheet, styles, materials, last + 2)
    last = write_loads(sheet, styles, materials, last + 2)
    if any(dug.depth == 3 for dug in materials.trench):
        put(sheet, last + 2, 0, CAUTION, styles.head)


def _signs(materials: Materials) -> tuple[str, str]:
    return shown(0.0, "m", materials.units)[1], shown(0.0, "m³", materials.units)[1]


def _dug(sheet: Any, styles: Styles, materials: Materials) -> int:
    units = materials.units
    row = HEADER
    for row, dug in enumerate(materials.trench, start=HEADER + 1):
        texts = (dug.line, GROUND_WORDS[dug.ground], depth_words(dug.depth, units))
        for column, text in enumerate(texts):
            put(sheet, row, column, text, styles.text)
        sizes = (dug.length_m, dug.side_m2 / dug.length_m, materials.trench_width)
        for column, size in enumerate(sizes, start=3):
            put(sheet, row, column, shown(size, "m", units)[0], styles.two)
        text = f"={cell(row, 3)}*{cell(row, 4)}*{cell(row, 5)}"
        text += "" if units == "metric" else "/27"  # cubic feet in a cubic yard
        formula(sheet, (row, 6), text, shown(dug.volume, "m³", units)[0], styles.two)
        put(sheet, row, 7, shown(dug.bedding, "m³", units)[0], styles.two)
        put(sheet, row, 8, shown(dug.pipe, "m³", units)[0], styles.two)
        text = f"={cell(row, 6)}-{cell(row, 7)}-{cell(row, 8)}"
        formula(sheet, (row, 9), text, shown(dug.backfill, "m³", units)[0], styles.two)
    if row == HEADER:
        return row
    for column in range(10):
        put(sheet, row + 1, column, "" if column else "Total", styles.sum_text)
    for name, column, unit in SUMS:
        value = shown(sum(getattr(dug, name) for dug in materials.trench), unit, units)[0]
        text = f"=SUM({span(HEADER + 1, row, column)})"
        formula(sheet, (row + 1, column), text, value, styles.sum_two)
    return row + 1
