"""What was noted as fitted on a line that is built, so that no finding asks for it again."""

from typing import Literal

from planner.record.value import Line

NEAR = 10.0  # m; a fitting this near to where the line turns was meant for it
WORDS: dict[Literal["vent", "washout"], tuple[str, ...]] = {
    "vent": ("vent", "air valve", "air release", "air cock", "standpipe"),
    "washout": ("washout", "wash-out", "scour", "blow-off", "blowoff", "drain"),
}


def fitted(line: Line, chainage_m: float, kind: Literal["vent", "washout"]) -> bool:
    """Whether a vent or a washout was noted near a place of the line."""
    marks = () if line.built is None else line.built.marks
    return any(
        abs(mark.chainage_m - chainage_m) <= NEAR
        and any(word in mark.what.casefold() for word in WORDS[kind])
        for mark in marks
    )
