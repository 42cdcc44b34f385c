"""The sheet of every use of every article, by line and structure, with its share of the cost."""

from typing import Any

from planner.output.materials.cost import Priced
from planner.output.materials.shown import shown, use_unit
from planner.output.materials.value import Item
from planner.output.materials.xlsx_items import COST, Where
from planner.output.materials.xlsx_style import (
    HEADER,
    Column,
    Styles,
    cell,
    formula,
    new_sheet,
    put,
)

BY_LINE = "By line"
PLACE, SHARE, GROUP = 0, 5, 6  # columns


def write_by_line(book: Any, styles: Styles, priced: Priced, where: Where) -> int:
    """Every use of every item, with its share of the cost; returns the last row."""
    columns = (
        Column("Line or structure", 26),
        Column("Item", 52),
        Column("Amount", 10),
        Column("Unit", 8),
        Column("Of all", 10),
        Column("Cost", 12),
        Column("Group", 18),
        Column("How counted", 60),
    )
    title = f"{priced.materials.title}: by line and structure"
    sheet = new_sheet(book, styles, BY_LINE, title, columns)
    uses = [
        (use, item, cost)
        for item, cost in zip(priced.materials.items, priced.costs, strict=True)
        for use in item.uses
        if item.article.kind != "tool"
    ]
    order = _place_order(priced)
    uses.sort(key=lambda row: order[row[0].place])
    for row, (use, item, cost) in enumerate(uses, start=HEADER + 1):
        amount, unit = shown(use.amount, use_unit(item), priced.materials.units)
        whole = _used(item, priced)
        values: tuple[str | float, ...] = (use.place, item.article.words, amount, unit, whole)
        for column, value in enumerate(values):
            put(sheet, row, column, value, styles.text if isinstance(value, str) else styles.two)
        name, at = where[item.article.code]
        of_item = f"'{name}'!{cell(at, COST)}"
        share = f"{cell(row, 2)}/{cell(row, 4)}"
        found = "" if cost is None else round(cost.total * use.amount / item.used, 6)
        text = f'=IF({of_item}="","",{of_item}*{share})'
        formula(sheet, (row, SHARE), text, found, styles.two)
        put(sheet, row, GROUP, item.article.group, styles.text)
        put(sheet, row, 7, use.why, styles.text)
    return HEADER + len(uses)


def _used(item: Item, priced: Priced) -> float:
    return shown(item.used, use_unit(item), priced.materials.units)[0]


def _place_order(priced: Priced) -> dict[str, int]:
    """Lines and structures, numbered as first met in the list."""
    found = dict.fromkeys(use.place for item in priced.materials.items for use in item.uses)
    return {place: number for number, place in enumerate(found)}
