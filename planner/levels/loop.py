"""Ways through the legs of a survey that come back to where they began."""

from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from planner.levels.leg import Leg, Run

Loop = list[tuple[Leg, float]]  # legs with the direction they are gone, the closing one first


@dataclass
class Net:
    """Stations and the legs that first led to each; `group` tells which of them hang together."""

    legs: dict[str, list[tuple[str, Leg, float]]] = field(default_factory=dict)
    group: dict[str, str] = field(default_factory=dict)

    def root(self, station: str) -> str:
        """The station by which all that hang together are known."""
        here = self.group.setdefault(station, station)
        while here != self.group[here]:
            self.group[here] = self.group[self.group[here]]
            here = self.group[here]
        return here

    def join(self, leg: Leg) -> bool:
        """Take in a leg that leads to something new; False if its ends hang together already."""
        start, end = leg.difference.start, leg.difference.end
        if self.root(start) == self.root(end):
            return False
        self.group[self.root(end)] = self.root(start)
        self.legs.setdefault(start, []).append((end, leg, 1.0))
        self.legs.setdefault(end, []).append((start, leg, -1.0))
        return True

    def way(self, start: str, end: str) -> Loop:
        """The legs from one station to another, each with the direction it is gone."""
        came: dict[str, tuple[str, Leg, float]] = {}
        seen, waiting = {start}, deque([start])
        while end not in seen:
            here = waiting.popleft()
            for there, leg, sign in self.legs.get(here, []):
                if there not in seen:
                    seen.add(there)
                    came[there] = (here, leg, sign)
                    waiting.append(there)
        found: Loop = []
        while end != start:
            end, leg, sign = came[end]
            found.append((leg, sign))
        return found[::-1]


def loops_of(legs: Iterable[Leg]) -> Iterator[Loop]:
    """One loop for each leg that leads to what other legs have led to before, by those."""
    net = Net()
    for leg in legs:
        if not net.join(leg):
            way = net.way(leg.difference.start, leg.difference.end)
            yield [(leg, 1.0), *((other, -sign) for other, sign in way)]


def rounds_of(legs: Iterable[Leg]) -> Iterator[Loop]:
    """The way of the instrument from a station through its set-ups until it is sighted again.

    Where a run comes back over its own stations, loops of its legs are short; these are long.
    """
    by_run: dict[Run, dict[int, list[Leg]]] = {}
    for leg in legs:
        if leg.setup:
            by_run.setdefault(leg.run, {}).setdefault(leg.setup, []).append(leg)
    for setups in by_run.values():
        chain = [own[-1] for own in setups.values()]  # the fore sights
        first: dict[str, Loop] = {chain[0].difference.start: []}  # how to come back from there
        at = {chain[0].difference.start: 0}
        for index, own in enumerate(setups.values()):
            for leg in own:
                end = leg.difference.end
                if end in first:
                    between = [(fore, 1.0) for fore in chain[at[end] : index]]
                    yield [(leg, 1.0), *between, *first[end]]
                else:
                    is_fore = leg is chain[index]
                    first[end] = [] if is_fore else [(leg, -1.0)]
                    at[end] = index + is_fore
