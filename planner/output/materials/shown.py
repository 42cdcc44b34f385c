"""Amounts in the site's units, as numbers with the unit's sign."""

from planner.output.materials.price_units import FOOT, POUND
from planner.output.materials.value import Item, Unit
from planner.site.value import Units

YARD3 = (3.0 * FOOT) ** 3  # m³, as earth is counted where feet are
DECIMALS = 6  # of a number in a file: finer than any is known, and the same on every machine


def shown(amount: float, unit: Unit, units: Units) -> tuple[float, str]:
    """An amount [SI] as a number and its unit's sign.

    Examples
    --------
    >>> shown(30.48, "m", "us"), shown(2.0, "coil", "us"), shown(1.0, "m³", "metric")
    ((100.0, 'ft'), (2.0, 'coil'), (1.0, 'm³'))
    """
    if units == "us" and unit == "m":
        return round(amount / FOOT, DECIMALS), "ft"
    if units == "us" and unit == "m³":
        return round(amount / YARD3, DECIMALS), "yd³"
    if units == "us" and unit == "kg":
        return round(amount / POUND, DECIMALS), "lb"
    return round(amount, DECIMALS), unit


def use_unit(item: Item) -> Unit:
    """The unit that the amounts of an item's uses are in."""
    return item.article.unit if item.article.pack is None else "m"


def uses_text(item: Item, units: Units) -> str:
    """What an item is for, place by place, with how much.

    Examples
    --------
    >>> from planner.output.materials.value import Article, Use
    >>> tape = Article("tape", "laying and marking", "buy", "Tape", "roll", pack=100.0)
    >>> uses_text(Item(tape, 3.0, (Use("delivery", 206.7, ""), Use("supply", 90.0, ""))), "metric")
    'delivery 206.7 m; supply 90 m'
    """
    unit, by_place = use_unit(item), dict[str, float]()
    for use in item.uses:
        by_place[use.place] = by_place.get(use.place, 0.0) + use.amount
    told = []
    for place, amount in by_place.items():
        number, sign = shown(amount, unit, units)
        count = f"{number:.2f}" if unit in ("m³", "day") else f"{number:.1f}".removesuffix(".0")
        told.append(f"{place} {count}" + ("" if unit in ("piece", "set", "can") else f" {sign}"))
    return "; ".join(told)


def reasons_text(item: Item) -> str:
    """How an item's number came about: the note on it, then why each place needs what it does.

    A reason that holds for all places stands once.
    """
    reasons = dict.fromkeys(use.why for use in item.uses if use.why)
    if len(reasons) > 1:
        reasons = dict.fromkeys(f"{use.place}: {use.why}" for use in item.uses if use.why)
    return "; ".join(filter(None, (item.note, *reasons)))
