"""What the materials cost at the user's prices, and what has no price."""

from dataclasses import dataclass
from itertools import pairwise

from planner.errors import InputError
from planner.output.materials.price_units import amount_in
from planner.output.materials.prices import Price, PriceList, key
from planner.output.materials.value import Group, Item, Materials
from planner.units.parse import quoted

SAME_COST = 0.005  # of the currency


@dataclass(frozen=True, slots=True)
class Cost:
    """What an item costs: the price it was found by, and how much of the price's unit it is."""

    price: Price
    amount: float

    @property
    def total(self) -> float:
        """In the list's currency."""
        return self.price.price * self.amount


@dataclass(frozen=True, slots=True)
class Priced:
    """Materials with prices.

    Attributes
    ----------
    materials : Materials
    prices : PriceList or None
        None: the site names no list; all prices are blanks to fill in.
    costs : tuple of Cost or None
        One for each item; None where it has no price.
    unpriced : tuple of Item
        What is to be bought or done and has no price; never counted as free.
    unused : tuple of Price
        Prices of the list that belong to nothing here.
    """

    materials: Materials
    prices: PriceList | None
    costs: tuple[Cost | None, ...]
    unpriced: tuple[Item, ...]
    unused: tuple[Price, ...]

    @property
    def total(self) -> float:
        """Of all that has a price."""
        return sum(cost.total for cost in self.costs if cost is not None)

    def by_group(self) -> dict[Group, float]:
        """Cost of what has a price in each group, in the order of the list."""
        found: dict[Group, float] = {}
        for item, cost in zip(self.materials.items, self.costs, strict=True):
            if cost is not None:
                group = item.article.group
                found[group] = found.get(group, 0.0) + cost.total
        return found

    def by_place(self) -> dict[str, float]:
        """Cost of what has a price for each line and structure; shared items by their amounts."""
        found: dict[str, float] = {}
        for item, cost in zip(self.materials.items, self.costs, strict=True):
            total = 0.0 if cost is None else cost.total
            for use in () if cost is None else item.uses:
                share = use.amount / item.used
                found[use.place] = found.get(use.place, 0.0) + total * share
        return found


def priced(materials: Materials, prices: PriceList | None) -> Priced:
    """Materials with the prices of a list.

    An item is found by its code, its words, or a pipe's size and class.

    Raises
    ------
    InputError
        A price's unit does not fit what it is for; two prices of one item differ; or both the
        trench by volume and its digging by the day are priced, which would count it twice.
    """
    if prices is None:
        blank = (None,) * len(materials.items)
        return Priced(materials, None, blank, _wanted(materials, blank), ())
    by_key: dict[str, list[Price]] = {}
    for price in prices.prices:
        by_key.setdefault(key(price.item), []).append(price)
    costs = tuple(_cost(item, by_key, prices.file) for item in materials.items)
    _refuse_double(materials, costs, prices.file)
    known = {name for item in materials.items for name in _names(item)}
    unused = tuple(price for price in prices.prices if key(price.item) not in known)
    return Priced(materials, prices, costs, _wanted(materials, costs), unused)


def _names(item: Item) -> tuple[str, ...]:
    article = item.article
    return tuple({key(text) for text in (article.code, article.words, *article.labels)})


def _cost(item: Item, by_key: dict[str, list[Price]], file: str) -> Cost | None:
    found = [price for name in sorted(_names(item)) for price in by_key.get(name, ())]
    costs = [_at(item, price, file) for price in found]
    for one, other in pairwise(costs):
        if abs(one.total - other.total) > SAME_COST:
            lines = f"lines {one.price.line} and {other.price.line}"
            msg = f"{file}, {lines}: two prices for {quoted(item.article.words)}; keep one"
            raise InputError(msg)
    return costs[0] if costs else None


def _at(item: Item, price: Price, file: str) -> Cost:
    amount = amount_in(item, price.unit)
    if amount is None:
        unit = item.article.unit
        per = unit if item.article.pack is None else f"{unit} or m"
        msg = (
            f"{file}, line {price.line}: {quoted(price.item)} is priced per {price.unit}, "
            f"and can't be counted so; give a price per {per}"
        )
        raise InputError(msg)
    return Cost(price, amount)


def _wanted(materials: Materials, costs: tuple[Cost | None, ...]) -> tuple[Item, ...]:
    """Items to buy or do that have no price; digging has one where all of its trench has."""
    pairs = list(zip(materials.items, costs, strict=True))
    trench = [(item, cost) for item, cost in pairs if _is_trench(item)]
    dug = {item.article.ground for item, cost in trench if cost is not None}
    dug -= {item.article.ground for item, cost in trench if cost is None}
    return tuple(
        item
        for item, cost in pairs
        if cost is None
        and item.article.kind in ("buy", "work")
        and (item.article.ground is None or item.article.ground not in dug)
    )


def _is_trench(item: Item) -> bool:
    return item.article.ground is not None and item.article.kind == "measure"


def _refuse_double(materials: Materials, costs: tuple[Cost | None, ...], file: str) -> None:
    """Refuse prices for the trench of one ground both by volume and by the day."""
    pairs = list(zip(materials.items, costs, strict=True))
    lines = {item.article.ground: c.price.line for item, c in pairs if c and _is_trench(item)}
    for item, cost in pairs:
        ground = item.article.ground
        if cost is not None and ground in lines and not _is_trench(item):
            msg = (
                f"{file}, lines {lines[ground]} and {cost.price.line}: the trench is priced by "
                "volume and its digging by the day, which counts it twice; keep one"
            )
            raise InputError(msg)
