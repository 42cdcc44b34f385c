"""Vents and washouts of a line as drawings name them, by the sample they stand at."""

from collections import Counter
from collections.abc import Iterable

from planner.hydraulics.vents import VentKind
from planner.record.value import Line
from planner.site.fit import FittingKind

WORDS: dict[VentKind, str] = {
    "standpipe": "standpipe",
    "air-valve": "air valve",
    "hand-cock": "hand cock",
}
UNKNOWN = "vent"  # decided where its kind can't be told


def vents_of(line: Line) -> dict[int, str]:
    """The kind of vent by the sample it stands at; none where none must be."""
    placed = () if line.air is None else line.air.vents
    found = {one.index: WORDS[one.vent.kind] for one in placed if one.vent is not None}
    untold = [
        one.index
        for one in line.decided
        if one.kind == "vent" and (line.air is None or not one.at_turn)
    ]
    return dict.fromkeys(untold, UNKNOWN) | found


def apart(line: Line, kind: FittingKind) -> tuple[int, ...]:
    """Samples at which one is decided though the line has no high or low point there."""
    return tuple(one.index for one in line.decided if one.kind == kind and not one.at_turn)


def vents_in_all(lines: Iterable[Line]) -> str | None:
    """How many vents of each kind; None without any.

    Examples
    --------
    >>> vents_in_all(())
    """
    kinds = Counter(word for line in lines for word in vents_of(line).values())
    told = [f"{count} {word}{'' if count == 1 else 's'}" for word, count in kinds.items()]
    return ", ".join(told) or None
