"""Vents of a line as drawings name them: in a word or two, by the sample they stand at."""

from collections import Counter
from collections.abc import Iterable

from planner.hydraulics.vents import VentKind
from planner.record.value import Line

WORDS: dict[VentKind, str] = {
    "standpipe": "standpipe",
    "air-valve": "air valve",
    "hand-cock": "hand cock",
}


def vents_of(line: Line) -> dict[int, str]:
    """The kind of vent by the sample of its high point; none where none must be."""
    placed = () if line.air is None else line.air.vents
    return {one.index: WORDS[one.vent.kind] for one in placed if one.vent is not None}


def vents_in_all(lines: Iterable[Line]) -> str | None:
    """How many vents of each kind; None without any.

    Examples
    --------
    >>> vents_in_all(())
    """
    kinds = Counter(word for line in lines for word in vents_of(line).values())
    told = [f"{count} {word}{'' if count == 1 else 's'}" for word, count in kinds.items()]
    return ", ".join(told) or None
