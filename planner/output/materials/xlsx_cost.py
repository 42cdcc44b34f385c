"""Sheets of cost: every use by line and structure, then sums by group, by place and in all."""

from typing import Any

from planner.output.materials.cost import Priced
from planner.output.materials.gather import GROUPS
from planner.output.materials.shown import shown, use_unit
from planner.output.materials.value import Item
from planner.output.materials.xlsx_items import COST, ORDER, WORK, Where
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

BY_LINE, MONEY = "By line", "Cost"


def write_by_line(book: Any, styles: Styles, priced: Priced, where: Where) -> int:
    """Every use of every item, with its share of the cost; returns the last row."""
    columns = (
        Column("Line or structure", 26),
        Column("Item", 52),
        Column("Amount", 10),
        Column("Unit", 8),
        Column("Of all", 10),
        Column("Cost", 12),
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
        formula(sheet, (row, 5), text, found, styles.two)
        put(sheet, row, 6, use.why, styles.text)
    return HEADER + len(uses)


def _used(item: Item, priced: Priced) -> float:
    return shown(item.used, use_unit(item), priced.materials.units)[0]


def _place_order(priced: Priced) -> dict[str, int]:
    """Lines and structures, numbered as first met in the list."""
    found = dict.fromkeys(use.place for item in priced.materials.items for use in item.uses)
    return {place: number for number, place in enumerate(found)}


def write_cost(book: Any, styles: Styles, priced: Priced, where: Where, last: int) -> None:
    """Sums by group and by line or structure, the total, and what has no price."""
    currency = "" if priced.prices is None else priced.prices.currency
    columns = (Column("By group", 60), Column(f"Cost, {currency}" if currency else "Cost", 14))
    sheet = new_sheet(book, styles, MONEY, f"{priced.materials.title}: cost", columns)
    row = HEADER
    groups = priced.by_group()
    present = {item.article.group for item in priced.materials.items if item.article.kind != "tool"}
    for group in (group for group in GROUPS if group in present):
        row += 1
        put(sheet, row, 0, group, styles.text)
        text = "=" + "+".join(_where_equal(name, rows, cell(row, 0)) for name, rows in _rows(where))
        formula(sheet, (row, 1), text, round(groups.get(group, 0.0), 6), styles.two)
    row = _total(sheet, styles, priced, HEADER + 1, row)
    put(sheet, row + 2, 0, "By line and structure", styles.head)
    first = row + 3
    places = priced.by_place()
    kept = dict.fromkeys(
        use.place
        for item in priced.materials.items
        if item.article.kind != "tool"
        for use in item.uses
    )
    for row, place in enumerate(kept, start=first):
        put(sheet, row, 0, place, styles.text)
        ours = f"--({span(HEADER + 1, last, 0, BY_LINE)}={cell(row, 0)})"
        text = f"=SUMPRODUCT({ours},{span(HEADER + 1, last, 5, BY_LINE)})"
        formula(sheet, (row, 1), text, round(places.get(place, 0.0), 6), styles.two)
    row = _total(sheet, styles, priced, first, first + len(kept) - 1)
    _remarks(sheet, styles, priced, row + 2)


def _rows(where: Where) -> list[tuple[str, list[int]]]:
    """The sheets of items with the rows their items stand in."""
    found = [
        (name, [row for sheet, row in where.values() if sheet == name]) for name in (ORDER, WORK)
    ]
    return [(name, rows) for name, rows in found if rows]


def _where_equal(name: str, rows: list[int], wanted: str) -> str:
    """The cost of those rows of a sheet whose first cell is what is wanted."""
    groups, costs = (span(min(rows), max(rows), column, name) for column in (0, COST))
    return f"SUMPRODUCT(--({groups}={wanted}),{costs})"


def _total(sheet: Any, styles: Styles, priced: Priced, first: int, last: int) -> int:
    put(sheet, last + 1, 0, "Total of what has a price", styles.sum_text)
    text = f"=SUM({span(first, last, 1)})"
    formula(sheet, (last + 1, 1), text, round(priced.total, 6), styles.sum_two)
    return last + 1


def _remarks(sheet: Any, styles: Styles, priced: Priced, row: int) -> None:
    """What is not in the total, prices that belong to nothing here, and the list's notes."""
    if priced.prices is None:
        told = "No price list is named: prices written into the other sheets are added up here."
        blocks = [("Prices", [told])]
    else:
        unpriced = [item.article.words for item in priced.unpriced]
        unused = [f"line {price.line}: {price.item}" for price in priced.unused]
        blocks = [("No price, not in the total", unpriced)]
        blocks.append((f"In {priced.prices.file}, for nothing here", unused))
    blocks.append(("Notes", list(priced.materials.notes)))
    for title, texts in blocks:
        put(sheet, row, 0, title if texts else f"{title}: none", styles.head)
        for text in texts:
            row += 1
            put(sheet, row, 0, text, styles.text)
        row += 2
