"""What has to be carried: coils, sticks and other weighed goods, in loads that people can bear."""

import math

from planner.output.materials.value import Carried, Item

SAME = 1e-9  # of a load


def carriers_of(mass: float, load: float) -> int:
    """How many carry one piece, each with a load at most [kg].

    Examples
    --------
    >>> carriers_of(32.6, 25.0)
    2
    """
    return math.ceil(mass / load - SAME)


def loads_of(items: tuple[Item, ...], load: float) -> tuple[Carried, ...]:
    """Loads of everything whose mass is known.

    A coil or stick is carried whole, by as many as bear it together; several light ones go at
    once; what can be portioned goes in loads of what one bears.

    Parameters
    ----------
    items : tuple of Item
    load : float
        What one person carries in one trip [kg], above 0.
    """
    found = []
    for item in items:
        article, mass = item.article, item.mass
        if mass is None or article.mass is None:
            continue
        if article.unit in ("m³", "kg", "m"):
            count = math.ceil(mass / load - SAME)
            found.append(Carried(article.words, count, mass / count, 1))
        else:
            carriers = carriers_of(article.mass, load)
            together = max(1, math.floor(load / article.mass + SAME))
            count = round(item.quantity)
            found.append(Carried(article.words, count, article.mass, carriers, together))
    return tuple(found)


def unweighed(items: tuple[Item, ...]) -> tuple[str, ...]:
    """Bought goods whose mass is not known."""
    return tuple(
        item.article.words
        for item in items
        if item.article.kind == "buy" and item.article.mass is None
    )
