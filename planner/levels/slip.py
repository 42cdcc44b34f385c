"""Which slip in one row explains that a run of levels does not close."""

import itertools
import math
import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner.levels.leg import Leg, Sight
from planner.levels.value import Row
from planner.units.convert import factor

MOST_TOLD = 3
SCATTER = 2.0  # a mended run misses by twice what is allowed once in a hundred times or less
LARGEST_JUMP = 9  # whole units
TENTHS_BELOW = 0.02  # m: where a run closes so well, whole tenths do not come by chance

MOST_CLEARING = 500  # loops that close, looked at to clear sights: enough, and soon done

Loop = list[tuple[Leg, float]]
Rows = Mapping[Row, tuple[Sight, ...]]

_PLAIN = re.compile(r"[0-9]+[.,][0-9]+")


@dataclass(frozen=True, slots=True)
class Slip:
    """A slip that may have been made, and by how much mending it would change the misclosure."""

    what: str
    change: float


def sights_by_row(legs: Iterable[Leg]) -> dict[Row, tuple[Sight, ...]]:
    """All sights that stand in each row, in the order they were read."""
    found: dict[Row, dict[Sight, None]] = {}
    for leg in legs:
        for sight in (leg.back, leg.fore):
            if sight is not None:
                found.setdefault(sight.row, {})[sight] = None
    return {row: tuple(sights) for row, sights in found.items()}


def weights(loop: Loop) -> dict[Sight, float]:
    """How often each sight counts in the misclosure of a loop, with its sign; none that cancel."""
    sums: dict[Sight, float] = {}
    for leg, sign in loop:
        sums[leg.back] = sums.get(leg.back, 0.0) + sign
        if leg.fore is not None:
            sums[leg.fore] = sums.get(leg.fore, 0.0) - sign
    return {sight: weight for sight, weight in sums.items() if weight}


def suspects(bad: Sequence[Loop], good: Sequence[Loop]) -> frozenset[Sight]:
    """The sights that count in every loop that misses, and in none of those that close."""
    held = [set(weights(loop)) for loop in bad]
    cleared = {sight for loop in good[:MOST_CLEARING] for sight in weights(loop)}
    return frozenset(set.intersection(*held) - cleared) if held else frozenset()


def exchanged(loop: Loop, misclosure: float, within: float, sights: Rows) -> str | None:
    """Which sights, exchanged or turned round, would make a run close; None if none.

    Parameters
    ----------
    sights : dict
        All sights of each row, for a row's two are exchanged even where one loop holds one.
    """
    held = weights(loop)
    slips = [*_exchanged(loop, held, sights), *_turned(held)]
    return _mended(slips, misclosure, SCATTER * within)


def explained(
    loop: Loop, misclosure: float, within: float, sights: Rows, blamed: Collection[Sight]
) -> str:
    """What would make a run close, the likeliest first; always something to do.

    Parameters
    ----------
    blamed : collection of Sight
        As of `suspects`: a misread figure is looked for among them, where there are any.
    """
    held = weights(loop)
    held = {sight: weight for sight, weight in held.items() if sight in blamed} or held
    return (
        exchanged(loop, misclosure, within, sights)
        or _whole(held, misclosure, SCATTER * within, 1.0)
        or _mended(_digits(held), misclosure, within)
        or _whole(held, misclosure, within, 0.1)
        or _pinned(blamed)
        or "look for a wrong row, or level it again"
    )


def _pinned(blamed: Collection[Sight]) -> str | None:
    """Words for few rows on which all that misses hangs."""
    rows = {sight.row for sight in blamed}
    if not 0 < len(rows) <= MOST_TOLD:
        return None
    return f"all that misses hangs on the readings {_between(rows)}: look there first"


def _mended(slips: Iterable[Slip], misclosure: float, within: float) -> str | None:
    most = min(within, 0.5 * abs(misclosure))
    good = sorted(
        (slip for slip in slips if abs(misclosure + slip.change) <= most),
        key=lambda slip: abs(misclosure + slip.change),
    )
    if not good:
        return None
    told = list(dict.fromkeys(slip.what for slip in good))[:MOST_TOLD]
    return f"it would close with {', or with '.join(told)}: look there first"


def _exchanged(loop: Loop, held: Mapping[Sight, float], sights: Rows) -> Iterator[Slip]:
    """Back and fore sight exchanged: in one row, or of one set-up."""
    for row in dict.fromkeys(sight.row for sight in held):
        own = sights.get(row, ())
        if len(own) == 2:
            words = " and ".join(sorted(sight.column.replace("_", " ") for sight in own))
            yield Slip(f"{words} of {row} exchanged", _swap(own[0], own[1], held))
    for leg, _ in loop:
        fore = leg.fore
        if fore is not None and fore.row != leg.back.row and {leg.back, fore} <= set(held):
            what = f"the back sight of {leg.back.row} and the {fore.column} sight of {fore.row}"
            change = _swap(leg.back, fore, held)
            yield Slip(f"{what} exchanged", change)


def _swap(one: Sight, other: Sight, held: Mapping[Sight, float]) -> float:
    weight = held.get(one, 0.0) - held.get(other, 0.0)
    return weight * (other.written.value - one.written.value)


def _digits(held: Mapping[Sight, float]) -> Iterator[Slip]:
    """Two neighbouring digits of a reading exchanged."""
    for sight, weight in held.items():
        text = sight.written.text
        if not _PLAIN.fullmatch(text) or sight.written.value <= 0.0:
            continue
        digits = [i for i, c in enumerate(text) if c.isdigit()]
        number = float(text.replace(",", "."))
        for i, j in itertools.pairwise(digits):
            meant = text[:i] + text[j] + text[i + 1 : j] + text[i] + text[j + 1 :]
            other = float(meant.replace(",", "."))
            if number and other != number:
                change = weight * sight.written.value * (other / number - 1.0)
                yield Slip(f"{meant} for {text} in {sight.row}", change)


def _turned(held: Mapping[Sight, float]) -> Iterator[Slip]:
    """A rise that is a fall."""
    for sight, weight in held.items():
        if sight.column in ("rise", "fall", "angle", "grade"):
            words = f"{sight.column} of {sight.row} the other way"
            yield Slip(words, -2.0 * weight * sight.written.value)


def _whole(
    held: Mapping[Sight, float], misclosure: float, within: float, share: float
) -> str | None:
    """Words for a misclosure of whole units or tenths, which are misread most easily."""
    if share < 1.0 and within > TENTHS_BELOW:
        return None
    for unit, word in (("meter", "metre"), ("foot", "foot")):
        rows = [sight.row for sight in held if sight.written.unit == unit]
        step = share * factor(unit, "meter")
        count = round(abs(misclosure) / step)
        near = math.isclose(abs(misclosure), count * step, rel_tol=0.0, abs_tol=within)
        if rows and near and 1 <= count <= LARGEST_JUMP:
            name = f"a whole {word}" if share == 1.0 else f"a tenth of a {word}"
            times = "" if count == 1 else f"{count} times "
            return f"that is {times}{name}: one of the readings {_between(rows)} was misread so"
    return None


def _between(rows: Iterable[Row]) -> str:
    ordered = sorted(set(rows), key=lambda row: (row.file, row.line))
    if len(ordered) <= MOST_TOLD:
        return "at " + " or ".join(map(str, ordered))
    return f"from {ordered[0]} to {ordered[-1]}"
