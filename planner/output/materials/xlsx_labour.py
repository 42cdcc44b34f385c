"""Parts of a sheet: person-days of work, and loads to carry."""

from typing import Any

from planner.output.materials.shown import shown
from planner.output.materials.value import Materials
from planner.output.materials.xlsx_style import (
    Column,
    Styles,
    cell,
    formula,
    head,
    put,
    sum_under,
)


def write_work(sheet: Any, styles: Styles, materials: Materials, top: int) -> int:
    """Person-days: so much, at so much a person and day."""
    names = ("Work", "Amount", "Unit", "A person and day", "Person-days")
    head(sheet, styles, top, [Column(name, 0) for name in names])
    first = top + 1
    for row, work in enumerate(materials.work, start=first):
        amount, sign = shown(work.amount, work.unit, materials.units)
        rate, _ = shown(work.rate, work.unit, materials.units)
        put(sheet, row, 0, work.words, styles.text)
        put(sheet, row, 1, amount, styles.two)
        put(sheet, row, 2, sign, styles.text)
        put(sheet, row, 3, rate, styles.two)
        text = f"={cell(row, 1)}/{cell(row, 3)}"
        formula(sheet, (row, 4), text, round(work.days, 6), styles.two)
    last = first + len(materials.work) - 1
    return sum_under(sheet, styles, first, last, 4, materials.days)


def write_loads(sheet: Any, styles: Styles, materials: Materials, top: int) -> int:
    """What is carried, by how many at a time, and ways up the hill."""
    kilos, sign = shown(materials.load, "kg", materials.units)
    names = ("Carried", "Pieces or loads", f"Each, {sign}", "Carriers", "At once", "Trips")
    head(sheet, styles, top, [Column(name, 0) for name in names])
    first = top + 1
    for row, load in enumerate(materials.carried, start=first):
        mass, _ = shown(load.mass, "kg", materials.units)
        put(sheet, row, 0, load.words, styles.text)
        put(sheet, row, 1, load.count, styles.whole)
        put(sheet, row, 2, mass, styles.one)
        put(sheet, row, 3, load.carriers, styles.whole)
        put(sheet, row, 4, load.together, styles.whole)
        text = f"=ROUNDUP({cell(row, 1)}/{cell(row, 4)},0)*{cell(row, 3)}"
        formula(sheet, (row, 5), text, load.trips, styles.whole)
    last = first + len(materials.carried) - 1
    row = sum_under(sheet, styles, first, last, 5, materials.trips)
    told = f"One person carries {kilos:,.0f} {sign} in one trip; pipe is weighed empty."
    if materials.unweighed:
        told += f" {len(materials.unweighed)} articles are not weighed: blanks in the sheet Order."
    put(sheet, row + 1, 0, told, styles.text)
    return row + 1
