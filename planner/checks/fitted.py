"""What was noted as fitted on a line that is built, so that no finding asks for it again."""

from typing import Literal

from planner.record.value import Line

Kind = Literal["vent", "washout"]

NEAR = 10.0  # m; a fitting this near to where the line turns was meant for it
WORDS: dict[Kind, tuple[str, ...]] = {
    "vent": ("vent", "air valve", "air release", "air cock", "standpipe"),
    "washout": ("washout", "wash-out", "scour", "blow-off", "blowoff", "drain"),
}


def kind_noted(what: str) -> Kind | None:
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


def fitted(line: Line, chainage_m: float, kind: Kind) -> bool:
    """Whether a vent or a washout was noted near a place of the line."""
    marks = () if line.built is None else line.built.marks
    return any(
        abs(mark.chainage_m - chainage_m) <= NEAR and kind_noted(mark.what) == kind
        for mark in marks
    )
