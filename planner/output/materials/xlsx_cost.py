"""The sheet of cost: sums by group, by line and structure, in all, and what has no price."""

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any

from planner.output.materials.cost import Priced
from planner.output.materials.gather import GROUPS
from planner.output.materials.value import Group
from planner.output.materials.xlsx_by_line import BY_LINE, GROUP, PLACE, SHARE
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

MONEY = "Cost"
MEASURED: tuple[Group, ...] = ("earthwork", "land")  # needs no price; it may have one


def write_cost(book: Any, styles: Styles, priced: Priced, last: int) -> None:
    """Sums over the sheet of uses, whose last row is `last`; beside each, what has no price."""
    currency = "" if priced.prices is None else priced.prices.currency
    columns = (
        Column("By group", 60),
        Column(f"Cost, {currency}" if currency else "Cost", 14),
        Column("Uses without a price", 14),
    )
    sheet = new_sheet(book, styles, MONEY, f"{priced.materials.title}: cost", columns)
    groups, places = _unpriced(priced)
    names = [group for group in GROUPS if group in groups]
    costs = {str(group): cost for group, cost in priced.by_group().items()}
    row = _table(sheet, styles, (HEADER + 1, last), GROUP, (names, costs, groups))
    put(sheet, row + 2, 0, "By line and structure", styles.head)
    kept = list(places)
    row = _table(sheet, styles, (row + 3, last), PLACE, (kept, priced.by_place(), places))
    _remarks(sheet, styles, priced, row + 2)


def _unpriced(priced: Priced) -> tuple[Counter[str], Counter[str]]:
    """How many uses have no price, by group and by place; 0 where all have one."""
    groups, places = Counter[str](), Counter[str]()
    for item, cost in zip(priced.materials.items, priced.costs, strict=True):
        if item.article.kind != "tool":
            lacks = int(cost is None and item.article.group not in MEASURED)
            for use in item.uses:
                groups[item.article.group] += lacks
                places[use.place] += lacks
    return groups, places


def _table(
    sheet: Any,
    styles: Styles,
    rows: tuple[int, int],
    column: int,
    sums: tuple[Sequence[str], Mapping[str, float], Mapping[str, int]],
) -> int:
    """Cost and count of the uses that have each name in a column of their sheet; returns its end.

    Parameters
    ----------
    rows : (int, int)
        The first row here, and the last of the sheet of uses.
    """
    (first, last), (names, costs, counts) = rows, sums
    wanted, shares, groups = (span(HEADER + 1, last, at, BY_LINE) for at in (column, SHARE, GROUP))
    bought = ",".join(f'--({groups}<>"{group}")' for group in MEASURED)
    for row, name in enumerate(names, start=first):
        put(sheet, row, 0, name, styles.text)
        ours = f"--({wanted}={cell(row, 0)})"
        cost = round(costs.get(name, 0.0), 6)
        formula(sheet, (row, 1), f"=SUMPRODUCT({ours},{shares})", cost, styles.two)
        count = f'=SUMPRODUCT({ours},--({shares}=""),{bought})'
        formula(sheet, (row, 2), count, counts[name], styles.whole)
    end = first + len(names)
    put(sheet, end, 0, "Total of what has a price", styles.sum_text)
    for at, values, style in ((1, costs, styles.sum_two), (2, counts, styles.sum_whole)):
        total = round(sum(values.values()), 6)
        formula(sheet, (end, at), f"=SUM({span(first, end - 1, at)})", total, style)
    return end


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
