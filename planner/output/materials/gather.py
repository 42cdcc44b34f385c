"""`Need`: so much of an article for one place; needs of one article make one item of the list."""

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import get_args

from planner.output.materials.value import Article, Group, Item, Use

GROUPS: tuple[Group, ...] = get_args(Group)
SAME = 1e-9  # of a pack


@dataclass(frozen=True, slots=True)
class Need:
    """So much of an article for a line or structure, and why.

    `threads` and `glued` are the joints that each of it has to seal.
    """

    article: Article
    place: str
    amount: float
    why: str
    threads: int = 0
    glued: int = 0


def gather(needs: Iterable[Need]) -> tuple[Item, ...]:
    """One item for each article, as first met; uses of one place and reason joined.

    Where it comes in packs, an item's quantity is whole packs for all its uses together.
    """
    found: dict[Article, dict[tuple[str, str], float]] = {}
    for need in needs:
        if need.amount > 0.0:
            uses = found.setdefault(need.article, {})
            key = (need.place, need.why)
            uses[key] = uses.get(key, 0.0) + need.amount
    return tuple(_item(article, uses) for article, uses in found.items())


def _item(article: Article, found: dict[tuple[str, str], float]) -> Item:
    uses = tuple(Use(place, amount, why) for (place, why), amount in found.items())
    used = sum(use.amount for use in uses)
    if article.pack is None:
        return Item(article, used, uses)
    return Item(article, float(math.ceil(used / article.pack - SAME)), uses)


def listed(items: Iterable[Item]) -> tuple[Item, ...]:
    """Items by group; codes that two unlike articles share are told apart by a number."""
    seen: Counter[str] = Counter()
    told = []
    for item in sorted(items, key=lambda item: GROUPS.index(item.article.group)):
        code = item.article.code
        seen[code] += 1
        if seen[code] > 1:
            article = replace(item.article, code=f"{code}-{seen[code]}")
            item = replace(item, article=article)  # noqa: PLW2901 - the same item, renamed
        told.append(item)
    return tuple(told)
