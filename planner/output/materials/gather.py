"""`Need`: so much of an article for one place; needs of one article make one item."""

import math
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
    """One item for each article, by group, then as first met; uses of one place and reason joined.

    Two articles that come to the same code though they are not alike are told apart by a number.
    """
    articles: dict[str, Article] = {}
    uses: dict[str, dict[tuple[str, str], float]] = {}
    for need in needs:
        if need.amount <= 0.0:
            continue
        code = _code(need.article, articles)
        articles[code] = replace(need.article, code=code)
        key = (need.place, need.why)
        of_it = uses.setdefault(code, {})
        of_it[key] = of_it.get(key, 0.0) + need.amount
    items = [_item(articles[code], found) for code, found in uses.items()]
    return tuple(sorted(items, key=lambda item: GROUPS.index(item.article.group)))


def _code(article: Article, known: dict[str, Article]) -> str:
    code, number = article.code, 1
    while code in known and replace(article, code=code) != known[code]:
        number += 1
        code = f"{article.code}-{number}"
    return code


def _item(article: Article, found: dict[tuple[str, str], float]) -> Item:
    uses = tuple(Use(place, amount, why) for (place, why), amount in found.items())
    used = sum(use.amount for use in uses)
    if article.pack is None:
        return Item(article, used, uses)
    return Item(article, float(math.ceil(used / article.pack - SAME)), uses)
