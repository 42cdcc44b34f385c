"""Sheets of items: what a shop delivers, what is worked or measured, what is taken along."""

from typing import Any

from planner.output.materials.cost import Cost, Priced
from planner.output.materials.shown import reasons_text, shown, uses_text
from planner.output.materials.value import Item, Kind, Materials
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

ORDER, WORK, TOOLS = "Order", "Work and land", "Take along"
WEIGHT, PRICE, AMOUNT, COST = 5, 6, 8, 9  # columns

Where = dict[str, tuple[str, int]]
"""Code of an item -> the sheet and row it stands in."""


def write_order(book: Any, styles: Styles, priced: Priced) -> Where:
    """Goods to buy, with blanks for what is not known; returns where each stands."""
    title = f"{priced.materials.title}: goods to order"
    return _items(book, styles, priced, ORDER, title, ("buy",))


def write_work(book: Any, styles: Styles, priced: Priced) -> Where:
    """Person-days, earth and land; returns where each stands."""
    title = f"{priced.materials.title}: work, earth and land"
    return _items(book, styles, priced, WORK, title, ("work", "measure"))


def _items(
    book: Any, styles: Styles, priced: Priced, name: str, title: str, kinds: tuple[Kind, ...]
) -> Where:
    sheet = new_sheet(book, styles, name, title, _columns(priced))
    where: Where = {}
    row = HEADER
    weight = 0.0
    for item, cost in zip(priced.materials.items, priced.costs, strict=True):
        if item.article.kind in kinds:
            row += 1
            where[item.article.code] = (name, row)
            weight += _row(sheet, styles, priced, item, cost, row)
    costs = [cost.total for item, cost in _with_costs(priced) if item.article.kind in kinds]
    _sums(sheet, styles, row, weight, sum(costs))
    return where


def _with_costs(priced: Priced) -> list[tuple[Item, Cost]]:
    pairs = zip(priced.materials.items, priced.costs, strict=True)
    return [(item, cost) for item, cost in pairs if cost is not None]


def _columns(priced: Priced) -> tuple[Column, ...]:
    sign = "kg" if priced.materials.units == "metric" else "lb"
    money = "" if priced.prices is None or not priced.prices.currency else priced.prices.currency
    return (
        Column("Group", 18),
        Column("Item", 52),
        Column("Code", 30),
        Column("Quantity", 10),
        Column("Unit", 8),
        Column(f"Weight, {sign}", 10),
        Column(f"Price{f', {money}' if money else ''}", 10),
        Column("Per", 8),
        Column("Amount", 10),
        Column(f"Cost{f', {money}' if money else ''}", 12),
        Column("Freight", 10),
        Column("Owner supplies", 10),
        Column("For", 44),
        Column("How counted", 60),
    )


def _row(
    sheet: Any, styles: Styles, priced: Priced, item: Item, cost: Cost | None, row: int
) -> float:
    """Write an item; returns its weight as shown, 0 where it is not known."""
    units, article = priced.materials.units, item.article
    number, unit = shown(item.quantity, article.unit, units)
    for column, text in ((0, article.group), (1, article.words), (2, article.code), (4, unit)):
        put(sheet, row, column, text, styles.text)
    put(sheet, row, 3, number, styles.two if article.unit in ("m", "m³", "day") else styles.whole)
    weight = 0.0 if item.mass is None else shown(item.mass, "kg", units)[0]
    if item.mass is not None:
        put(sheet, row, WEIGHT, weight, styles.one)
    _priced(sheet, styles, cost, (number, unit), row)
    put(sheet, row, 12, uses_text(item, units), styles.text)
    put(sheet, row, 13, reasons_text(item), styles.text)
    return weight


def _priced(
    sheet: Any, styles: Styles, cost: Cost | None, quantity: tuple[float, str], row: int
) -> None:
    """Price, its unit, how much that is, and the cost, which is empty until there is a price."""
    number, unit = quantity
    if cost is not None:
        put(sheet, row, PRICE, cost.price.price, styles.price)
        number, unit = round(cost.amount, 6), cost.price.unit
    put(sheet, row, PRICE + 1, unit, styles.text)
    put(sheet, row, AMOUNT, number, styles.two)
    price, amount = cell(row, PRICE), cell(row, AMOUNT)
    value = "" if cost is None else round(cost.total, 6)
    formula(sheet, (row, COST), f'=IF({price}="","",{price}*{amount})', value, styles.two)


def _sums(sheet: Any, styles: Styles, last: int, weight: float, cost: float) -> None:
    if last == HEADER:
        return
    row = last + 1
    for column in range(14):
        put(sheet, row, column, "Total" if column == 0 else "", styles.sum_text)
    for column, value, style in (
        (WEIGHT, weight, styles.sum_one),
        (COST, cost, styles.sum_two),
    ):
        if column == WEIGHT and not weight:
            continue
        text = f"=SUM({span(HEADER + 1, last, column)})"
        formula(sheet, (row, column), text, round(value, 6), style)


def write_tools(book: Any, styles: Styles, materials: Materials) -> None:
    """What to take along, with a box to tick."""
    columns = (Column("Take along", 80), Column("Packed", 10))
    sheet = new_sheet(book, styles, TOOLS, f"{materials.title}: take along", columns)
    tools = [item for item in materials.items if item.article.kind == "tool"]
    for row, item in enumerate(tools, start=HEADER + 1):
        put(sheet, row, 0, item.article.words, styles.text)
        put(sheet, row, 1, "☐", styles.text)
