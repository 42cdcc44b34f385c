"""Five numbers as typed, and what they say, in words and the units they were typed in."""

import math
from typing import NamedTuple

from planner.chain.first_look import DOUBT, SHARE_LEFT, FirstLook, Number, Reason, Swing, first_look
from planner.errors import InputError
from planner.live.value import FirstLookView
from planner.site.value import Units
from planner.units.parse import Kind, parse, quoted
from planner.units.show import band_text, number_text, show, symbol
from planner.wording.cautions import CAUTIONS


class Asked(NamedTuple):
    """A number that is asked for: what it is called, and what a slip of the pen lies beyond."""

    name: str
    kind: Kind
    least: str
    most: str


FIVE: dict[str, Asked] = {
    "source_flow": Asked("what the source gives", "flow", "0.01 L/min", "1000 L/s"),
    "fall": Asked("the fall", "length", "0 m", "500 m"),
    "rise": Asked("the rise", "length", "-500 m", "500 m"),
    "length": Asked("the pipe's length", "length", "1 m", "100 km"),
    "need": Asked("the need", "volume_per_day", "1 L/day", "100000 m3/day"),
}
TENTH = f"{DOUBT * 100:.0f} %"
US_WORDS = ("ft", "'", "feet", "foot", "gal", "gp", "yd", "in")

VERDICTS: dict[Reason, str] = {
    "perhaps": "Can't tell yet: it hangs on what is not measured well enough",
    "too-little": "No-go: it would give too little",
    "bound": "No-go: no ram of any make can lift so much with this flow and fall",
    "no-fall": "No-go for a ram: without a fall it has nothing to run on",
    "little-fall": "With less than 1 m of fall hardly any ram runs",
    "much-fall": "Can't tell: no ram is published with more than 20 m of fall; stand it higher up",
    "little-lift": "Can't tell: no ram is published that lifts to less than twice its fall",
    "much-lift": "No-go for one ram: it would lift to more than 40 times its fall",
    "friction": "Can't tell: so long a pipe loses more than is published; a wider one is needed",
}
ENOUGH = {
    "gravity": "Go: the water runs there by itself, and enough of it",
    "ram": "Go: a ram lifts enough",
}
CLASSES = {"go": "go", "no-go": "no-go", "can't tell": "unsure"}
NAMES: dict[Number, str] = {
    "flow": "the source's flow",
    "fall": "the fall",
    "rise": "the rise",
    "length": "the pipe's length",
}
WAYS: dict[Number, str] = {
    "flow": "late in the dry season, with bucket and watch, three fills or more",
    "fall": "with a level or a water hose, there and back",
    "rise": "with a level or a water hose, there and back",
    "length": "with a tape along the ground",
}


def first_look_view(numbers: dict[str, str]) -> FirstLookView:
    """What five numbers say, in words.

    Parameters
    ----------
    numbers : dict
        "source_flow", "fall" (source to ram), "rise" (ram to tank, below 0 where the tank lies
        lower), "length" and "need" (a day), as typed: "54 L/min", "4.2 m". Where one is in feet or
        gallons, so are the answers.

    Raises
    ------
    InputError
        A number is missing, has no unit or can't be right.
    """
    values = {key: _typed(numbers.get(key, ""), asked) for key, asked in FIVE.items()}
    seen = first_look(**values)
    units = _units(numbers)
    known = math.isfinite(float(seen.delivered.expected))
    return FirstLookView(
        verdict=ENOUGH[seen.scheme] if seen.reason == "enough" else VERDICTS[seen.reason],
        go=CLASSES[seen.verdict],
        figure=band_text(seen.delivered, "per_day", units) if known else "",
        measure=_measure(seen, units),
        rows=_rows(seen, values, units),
        assumed=_assumed(seen, units),
    )


def _typed(text: str, asked: Asked) -> float:
    """A number in SI; nothing at all needs no unit."""
    written = text.strip()
    if not written:
        msg = f"{asked.name} is not given; write it with its unit"
        raise InputError(msg)
    try:
        nothing = asked.kind == "length" and float(written) == 0.0
    except ValueError:
        nothing = False
    try:
        value = 0.0 if nothing else parse(written, asked.kind)
    except InputError as error:
        msg = f"{asked.name}: {error}"
        raise InputError(msg) from error
    if not parse(asked.least, asked.kind) <= value <= parse(asked.most, asked.kind):
        msg = f"{asked.name}: {quoted(text)} can't be right; give {asked.least} to {asked.most}"
        raise InputError(msg)
    return value


def _units(numbers: dict[str, str]) -> Units:
    """US units where any of the numbers as typed is in them."""
    letters = " ".join(numbers.values()).casefold()
    return "us" if any(word in letters.replace("min", "") for word in US_WORDS) else "metric"


def _measure(seen: FirstLook, units: Units) -> str:
    """What to measure first, how, and what it is worth; the one after it."""
    if not seen.measure:
        return "Measure the source's flow and the fall before anything is bought."
    first, *others = seen.measure
    text = f"Measure first {NAMES[first.name]}, {WAYS[first.name]}"
    if math.isfinite(first.low):
        text += f": {TENTH} of it is worth {show(first.high - first.low, 'per_day', units)}"
    text += "; it alone can turn the answer." if first.decides else "."
    then = [NAMES[one.name] for one in others if one.name != "length"]
    return text + (f" Then {' and '.join(then)}." if then else "")


def _rows(seen: FirstLook, values: dict[str, float], units: Units) -> list[tuple[str, str, str]]:
    rows = [("Needed", show(seen.need, "per_day", units), "as typed")]
    if seen.scheme == "ram" and values["fall"] > 0.0:
        ratio = f"{values['rise'] / values['fall']:.1f} to 1"
        rows.append(("Rise to fall", ratio, "the two heights"))
    if seen.scheme == "gravity":
        head = show(values["fall"] - values["rise"], "length", units)
        rows.append(("Source above the tank", head, "the two heights"))
    if math.isfinite(seen.bore):
        bore = show(seen.bore, "bore", units)
        rows.append(("Pipe reckoned with, bore", bore, "the narrowest on the shelf that will do"))
    for one in seen.measure:
        span = _span(one, units)
        if span:
            rows.append((f"With {NAMES[one.name]} {TENTH} less or more", span, "all else the same"))
    return rows


def _span(swing: Swing, units: Units) -> str:
    """Both ends of what is delivered; nothing where they can't be told apart."""
    if not math.isfinite(swing.low):
        return ""
    ends = (swing.low, swing.high)
    low, high = (number_text(end, "per_day", units, size=swing.high) for end in ends)
    return "" if low == high else f"{low} – {high} {symbol('per_day', units, swing.high)}"


def _assumed(seen: FirstLook, units: Units) -> list[str]:
    said = [
        f"Each of the numbers is good to {TENTH}; the band has all of them against it, or for.",
        f"{show(SHARE_LEFT, 'share', units)} of the source's flow stays in the stream.",
        "The flow is that of the dry season.",
    ]
    if seen.scheme == "ram":
        said.append("The ram is a commercial one and gives what such rams are published to give.")
    return [*said, CAUTIONS["codes"][1], CAUTIONS["drinking"][1], CAUTIONS["rights"][1]]
