"""What a route chose, what the next best would have been, and what other routes trade, in words."""

from dataclasses import dataclass

from planner.routing.options import Alternative, Choice, Figures, Option, Reason
from planner.site.value import Units
from planner.units import show as shown
from planner.wording.quantity import show

SHORED = 1.5  # m; from here a trench needs protection, 5 ft [S84]
SAME = 0.5  # m of pipe; a smaller difference is none
MINUS = "\u2212"
SURFACE = "on the surface"
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"  # of alternatives, in order
PLANNED = "as planned"

CHOSEN = {
    "vent": "Vent at {at}.",
    "deeper": "Trench {deeper} deeper over {over}, at {at}.",
    "detour": "Detour of {pipe}, at {at}.",
}
REASONS: dict[Reason, str] = {
    "fewer-vents": "fewer vents",
    "shorter": "shorter",
    "less-digging": "less digging",
    "gentler": "gentler",
    "elsewhere": "elsewhere",
}


@dataclass(frozen=True, slots=True)
class Trade:
    """What one route takes, in words for a row of a table; `letter` is "" for the line itself."""

    letter: str
    reason: str
    length: str
    vents: str
    trench: str
    steepest: str
    cost: str


def choice_sentence(choice: Choice, units: Units) -> str:
    r"""What was chosen at a place, and what else there was.

    Examples
    --------
    >>> detour = Option("detour", more_m=2.0, pipe_m=18.0)
    >>> trench = Option("deeper", more_m=5.0, deeper_m=0.7, deepest_m=1.4, over_m=9.0)
    >>> said = choice_sentence(Choice(64.0, "vent", 30.0, others=(detour, trench)), "metric")
    >>> print(said.replace(". ", ".\n"))
    Vent at chainage 64.0 m.
    Next best: 18 m more pipe, or 0.70 m deeper over 9 m (a trench of 1.4 m).
    """
    said = CHOSEN[choice.chosen].format(
        at=show(choice.chainage_m, "station", units),
        deeper=show(choice.deeper_m, "height", units),
        over=show(choice.over_m, "about", units),
        pipe=_metres(choice.pipe_m, units),
    )
    if choice.others:
        first = choice.others[0]
        word = "Cheaper" if first.more_m < -SAME and first.deeper_m == 0.0 else "Next best"
        said += f" {word}: {', or '.join(_option(o, choice, units) for o in choice.others)}."
    elif choice.detour_weighed:
        said += " No other way was found."
    if not choice.detour_weighed:
        said += " A detour was not looked for."
    return said


def weightiest(choices: tuple[Choice, ...], most: int) -> tuple[Choice, ...]:
    """At most so many choices: those with other ways first, the dearest first; start to end."""
    weight = sorted(choices, key=lambda choice: (not choice.others, -choice.price_m))
    return tuple(sorted(weight[:most], key=lambda choice: choice.chainage_m))


def trades(figures: Figures, found: tuple[Alternative, ...], units: Units) -> list[Trade]:
    """Rows of a table: the line as planned, then its alternatives A, B, C."""
    rows = [_trade("", PLANNED, figures, "", units)]
    for letter, other in zip(LETTERS, found, strict=False):
        cost = _against(other.more_m, units)
        rows.append(_trade(letter, REASONS[other.reason], other.figures, cost, units))
    return rows


def shortfall(asked: int, found: int) -> str:
    """Why fewer routes are shown than were asked for; "" where none is missing."""
    if found >= asked:
        return ""
    more = "no other route" if found == 0 else f"no more than {found}"
    return f"The land offers {more} that really differs, at up to twice the cost."


def _trade(letter: str, reason: str, figures: Figures, cost: str, units: Units) -> Trade:
    vents = figures.vents
    return Trade(
        letter=letter,
        reason=reason,
        length=shown(figures.length, "length", units, decimals=0),
        vents="no vent" if vents == 0 else f"{vents} vent{'s' if vents > 1 else ''}",
        trench=_trench(figures, units),
        steepest=shown(figures.steepest, "share", units),
        cost=cost,
    )


def _trench(figures: Figures, units: Units) -> str:
    if figures.depth < 0.0:
        return SURFACE
    return shown(figures.depth, "level", units, decimals=1)


def _against(more: float, units: Units) -> str:
    """A cost against the chosen line's, in the length of pipe it would buy."""
    if abs(more) < SAME:
        return "the same"
    sign = "+" if more > 0.0 else MINUS
    return f"{sign}{shown(abs(more), 'length', units, decimals=0)}"


def _option(option: Option, choice: Choice, units: Units) -> str:
    if option.kind == "detour":
        beside = "digs less" if choice.chosen == "deeper" else "needs no vent"
        return _pipe(option.pipe_m, units) or f"a way beside it, no longer, that {beside}"
    parts = [_vents(option, choice, units) if option.kind == "vent" else _deeper(option, units)]
    parts.append(_pipe(option.pipe_m, units))
    return " and ".join(part for part in parts if part)


def _vents(option: Option, choice: Choice, units: Units) -> str:
    if option.vents > 1:
        return f"{option.vents} vents"
    # On another line a chainage would be counted along that one.
    if option.at_m is None or choice.chosen == "detour":
        return "a vent"
    return f"a vent at {show(option.at_m, 'station', units)}"


def _deeper(option: Option, units: Units) -> str:
    depth, over = show(option.deeper_m, "height", units), show(option.over_m, "about", units)
    deepest = shown(option.deepest_m, "level", units, decimals=1)
    shored = ", to be shored" if option.deepest_m >= SHORED else ""
    return f"{depth} deeper over {over} (a trench of {deepest}{shored})"


def _pipe(metres: float, units: Units) -> str:
    """More or less pipe, "" where there is no difference to speak of."""
    if abs(metres) < SAME:
        return ""
    return f"{_metres(abs(metres), units)} {'more' if metres > 0.0 else 'less'} pipe"


def _metres(metres: float, units: Units) -> str:
    return show(metres, "about" if metres >= 2.0 else "length", units)
