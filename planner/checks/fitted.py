"""What is fitted on a line that is built, or decided, so that no finding asks for it again."""

from planner.record.value import Line
from planner.record.works import Decided
from planner.site.fit import FittingKind

NEAR = 10.0  # m; a fitting this near to where the line turns was meant for it
SAME = 0.01  # m; one and the same place of a line
WORDS: dict[FittingKind, tuple[str, ...]] = {
    "vent": ("vent", "air valve", "air release", "air cock", "standpipe"),
    "washout": ("washout", "wash-out", "scour", "blow-off", "blowoff", "drain"),
}


def kind_noted(what: str) -> FittingKind | None:
    """Whether what was noted is a vent or a washout, by its words; None: something else.

    Examples
    --------
    >>> kind_noted("Air valve in a box"), kind_noted("joint")
    ('vent', None)
    """
    said = what.casefold()
    return next(
        (kind for kind, words in WORDS.items() if any(word in said for word in words)), None
    )


def fitted(line: Line, chainage_m: float, kind: FittingKind) -> bool:
    """Whether a vent or a washout was noted near a place of the line, or is decided for it."""
    return noted(line, chainage_m, kind) or decided(line, chainage_m, kind)


def noted(line: Line, chainage_m: float, kind: FittingKind) -> bool:
    """Whether a vent or a washout was noted near a place of the line as it was laid."""
    marks = () if line.built is None else line.built.marks
    return any(
        abs(mark.chainage_m - chainage_m) <= NEAR and kind_noted(mark.what) == kind
        for mark in marks
    )


def decided(line: Line, chainage_m: float, kind: FittingKind) -> bool:
    """Whether a vent is decided that may stand at this high point, or a washout at this low one."""
    return any(
        one.kind == kind
        and one.at_turn
        and abs(one.chainage_m - chainage_m) < SAME
        and _may(line, one)
        for one in line.decided
    )


def _may(line: Line, one: Decided) -> bool:
    """Not a vent where it would draw in air, or where no choice of vents helps."""
    if one.kind == "washout" or line.air is None:
        return True
    return any(placed.index == one.index and placed.vent for placed in line.air.vents)
