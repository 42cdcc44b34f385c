"""`Held`: what is remembered from plan to plan, so that a change costs what it changes.

Nothing here alters a result: what is remembered is kept under all that it depends on, and only once
it is whole, so that a plan that was broken off leaves nothing half-made behind.
"""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import Literal, TypeVar, cast

T = TypeVar("T")
Kind = Literal[
    "ground", "survey", "streams", "lands", "chamber", "way", "weighed", "trench", "moving"
]

# How many of each kind are kept. Grids of a whole ground are large: of 4 million cells a land takes
# 64 MB at most; a line a few kB; what can be reached from one end some ten MB.
MOST: dict[Kind, int] = {
    "ground": 1,
    "survey": 2,
    "streams": 3,
    "lands": 3,
    "chamber": 50,
    "way": 500,
    "weighed": 200,
    "trench": 6,
    "moving": 8,
}
MOST_NUMBERED = 10  # large things themselves: a plan on measured ground has eight


class Held:
    """Results by kind and by all they depend on; the least lately used are forgotten.

    It serves one caller at a time, and any number of sites and grounds.
    """

    def __init__(self) -> None:
        self._kept: dict[Kind, OrderedDict[Hashable, object]] = {
            kind: OrderedDict() for kind in MOST
        }
        self._numbered: OrderedDict[int, tuple[object, int]] = OrderedDict()
        self._last = 0

    def recall(self, kind: Kind, key: Hashable, make: Callable[[], T]) -> T:
        """What was made under this key before, or what `make` makes now.

        Parameters
        ----------
        key : hashable
            All that the result depends on; large things by their `number`.
        make : function
            What it raises is raised here, and nothing is kept then.
        """
        kept = self._kept[kind]
        if key not in kept:
            kept[key] = make()
            while len(kept) > MOST[kind]:
                kept.popitem(last=False)
        kept.move_to_end(key)
        return cast("T", kept[key])

    def forget(self, kind: Kind, key: Hashable) -> None:
        """Let it be made anew."""
        self._kept[kind].pop(key, None)

    def number(self, thing: object) -> int:
        """A number for a large thing such as a terrain, the same for the same one.

        It is told apart by identity, so that comparing takes no time. No number is used twice.
        """
        if id(thing) not in self._numbered:
            self._last += 1
            self._numbered[id(thing)] = thing, self._last
            while len(self._numbered) > MOST_NUMBERED:
                self._numbered.popitem(last=False)
        self._numbered.move_to_end(id(thing))
        return self._numbered[id(thing)][1]
