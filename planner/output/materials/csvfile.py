"""The list as CSV: one row an article, ready for prices to be filled in and read back."""

import csv
from pathlib import Path

from planner.output.materials.cost import Cost, Priced
from planner.output.materials.shown import reasons_text, shown, uses_text
from planner.output.materials.value import Item

# A table program takes a cell that begins so for a formula; the apostrophe before it says text.
FORMULA = ("=", "+", "-", "@", "\t", "\r")


def write_materials_csv(materials: Priced, path: Path) -> None:
    """Write the materials list.

    One row for each article: what and how much, for which line or structure, how the number came
    about; its price where the site's price list has one, else a blank; the list's notes in rows of
    the group "note". Columns for freight, for
    weight where it is not known, and for what the owner supplies are blank. Parted by commas,
    decimals by a point, UTF-8 with a byte order mark, without which table programs garble signs
    such as m³. `read_prices` reads the file back once prices stand in it.

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
    units = materials.materials.units
    weight = f"weight_{'kg' if units == 'metric' else 'lb'}"
    head = ["group", "code", "item", "quantity", "unit", "for", weight, "price", "per", "amount"]
    head += ["cost", "currency", "freight", "owner_supplies", "how_counted"]
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        table = csv.writer(file)
        table.writerow(head)
        for item, cost in zip(materials.materials.items, materials.costs, strict=True):
            table.writerow(_row(materials, item, cost))
        for note in materials.materials.notes:
            table.writerow(["note", "", plain(note), *[""] * (len(head) - 3)])


def _row(materials: Priced, item: Item, cost: Cost | None) -> list[str]:
    units, article = materials.materials.units, item.article
    number, unit = shown(item.quantity, article.unit, units)
    mass = "" if item.mass is None else _number(shown(item.mass, "kg", units)[0])
    currency = "" if materials.prices is None else materials.prices.currency
    priced = ["", unit, _number(number), "", currency]
    if cost is not None:
        price, per, amount = cost.price.price, cost.price.unit, cost.amount
        priced = [_number(price), per, _number(amount), _number(cost.total), currency]
    return [
        article.group,
        article.code,
        plain(article.words),
        _number(number),
        unit,
        plain(uses_text(item, units)),
        mass,
        *map(plain, priced),
        "",
        "",
        plain(reasons_text(item)),
    ]


def plain(text: str) -> str:
    """Text that no table program takes for a formula.

    Examples
    --------
    >>> plain("=1+1"), plain("Tank")
    ("'=1+1", 'Tank')
    """
    return f"'{text}" if text.startswith(FORMULA) else text


def _number(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".") if value else "0"
