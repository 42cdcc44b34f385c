"""Which slip in one row explains that a run of levels does not close."""

import itertools
import math
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from planner.levels.leg import Leg, Sight
from planner.levels.value import Row
from planner.units.convert import factor

MOST_TOLD = 3
SCATTER = 2.0  # a mended run misses by twice what is allowed once in a hundred times or less
LARGEST_JUMP = 9  # whole units
TENTHS_BELOW = 0.02  # m: where a run closes so well, whole tenths do not come by chance

_PLAIN = re.compile(r"[0-9]+[.,][0-9]+")


@dataclass(frozen=True, slots=True)
class Slip:
    """A slip that may have been made, and by how much mending it would change the misclosure."""

    what: str
    change: float


def weights(loop: Iterable[tuple[Leg, float]]) -> dict[Sight, float]:
    """How often each sight counts in the misclosure of a loop, with its sign; none that cancel."""
    sums: dict[Sight, float] = {}
    for leg, sign in loop:
        sums[leg.back] = sums.get(leg.back, 0.0) + sign
        if leg.fore is not None:
            sums[leg.fore] = sums.get(leg.fore, 0.0) - sign
    return {sight: weight for sight, weight in sums.items() if weight}


def exchanged(loop: list[tuple[Leg, float]], misclosure: float, within: float) -> str | None:
    """Which sights, exchanged or turned round, would make a run close; None if none."""
    held = weights(loop)
    slips = [*_exchanged(loop, held), *_turned(held)]
    return _mended(slips, misclosure, SCATTER * within)


def explained(loop: list[tuple[Leg, float]], misclosure: float, within: float) -> str:
    """What would make a run close, the likeliest first; always something to do."""
    held = weights(loop)
    return (
        exchanged(loop, misclosure, within)
        or _whole(held, misclosure, SCATTER * within, 1.0)
        or _mended(_digits(held), misclosure, within)
        or _whole(held, misclosure, within, 0.1)
        or "look for a wrong row, or level it again"
    )


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


def _exchanged(loop: Iterable[tuple[Leg, float]], held: Mapping[Sight, float]) -> Iterator[Slip]:
    """Back and fore sight exchanged: in one row, or of one set-up."""
    by_row: dict[Row, list[Sight]] = {}
    for sight in held:
        by_row.setdefault(sight.row, []).append(sight)
    for row, sights in by_row.items():
        if len(sights) == 2:
            words = " and ".join(sight.column.replace("_", " ") for sight in sights)
            yield Slip(f"{words} of {row} exchanged", _swap(sights[0], sights[1], held))
    for leg, _ in loop:
        fore = leg.fore
        if fore is not None and fore.row != leg.back.row and {leg.back, fore} <= set(held):
            what = f"the back sight of {leg.back.row} and the {fore.column} sight of {fore.row}"
            change = _swap(leg.back, fore, held)
            yield Slip(f"{what} exchanged", change)


def _swap(one: Sight, other: Sight, held: Mapping[Sight, float]) -> float:
    return (held[one] - held[other]) * (other.written.value - one.written.value)


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
