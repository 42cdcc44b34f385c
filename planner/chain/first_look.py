"""Five numbers to go or no-go: the first five minutes, before there is any map.

The water runs down from the source by the `fall`, to where a ram could stand, and up from there by
the `rise` into the tank. A tank below the source needs no ram.
"""

import math
from dataclasses import dataclass
from typing import Literal

from planner.band import Band
from planner.chain.ram_works import DELIVERY_BORES
from planner.errors import OutsideRange
from planner.hydraulics.delivery import delivered_flow
from planner.hydraulics.delivery_size import size_delivery
from planner.hydraulics.domain import MOST_FLOW, MOST_HEAD, MOST_LENGTH, between, positive
from planner.hydraulics.full_flow import pipe_flow
from planner.hydraulics.ram import FALL_LEAST, FALL_MOST, RATIO_LEAST, RATIO_MOST

Verdict = Literal["go", "no-go", "can't tell"]
Number = Literal["flow", "fall", "rise", "length"]
Reason = Literal[
    "enough",
    "too-little",
    "perhaps",
    "bound",
    "no-fall",
    "little-fall",
    "much-fall",
    "little-lift",
    "much-lift",
    "friction",
]

DAY = 86400.0  # s
# Settings of ours, said beside every answer: how well numbers are known that were paced, judged by
# eye or read off a map, and what stays in the stream, as a site file without a word on it has it.
DOUBT = 0.10
SHARE_LEFT = 0.30
LEAST_FALL = 0.5  # m; with less no ram runs (trade notes, mistake 13)
MOST_NEED = 1e6  # m³/day
NOTHING = Band(math.nan, math.nan, math.nan)


@dataclass(frozen=True, slots=True)
class Five:
    """The numbers asked for: m³/s, m, m, m."""

    flow: float
    fall: float
    rise: float
    length: float

    @property
    def by_gravity(self) -> bool:
        """Whether the tank lies below the source."""
        return self.rise < self.fall

    def times(self, name: Number, factor: float) -> "Five":
        """With one of them larger or smaller."""
        values = {
            "flow": self.flow,
            "fall": self.fall,
            "rise": self.rise,
            "length": self.length,
        }
        return Five(**values | {name: values[name] * factor})


@dataclass(frozen=True, slots=True)
class Swing:
    """What the doubt in one number does to the litres [m³/day]; NaN: it may leave what is known.

    `decides`: it alone can turn the answer.
    """

    name: Number
    low: float
    high: float
    decides: bool


@dataclass(frozen=True, slots=True, eq=False)
class FirstLook:
    """What five numbers say.

    Attributes
    ----------
    verdict : {"go", "no-go", "can't tell"}
    reason : str
        Why: "enough", "too-little" or "perhaps" by the litres; "bound": more is asked for than fall
        and lift could give without any loss; "no-fall", "little-fall", "much-fall", "little-lift",
        "much-lift", "friction": outside what rams are known to do.
    scheme : {"gravity", "ram"}
    delivered : Band
        [m³/day], with all doubts against it and all for it; NaN where it can't be told.
    need : float
        [m³/day]
    bore : float
        Of the pipe it is reckoned with [m]; NaN with the litres.
    measure : tuple of Swing
        What to measure, the most telling first.
    """

    verdict: Verdict
    reason: Reason
    scheme: Literal["gravity", "ram"]
    delivered: Band
    need: float
    bore: float
    measure: tuple[Swing, ...]


def first_look(
    source_flow: float, fall: float, rise: float, length: float, need: float
) -> FirstLook:
    """Whether a source can serve a tank, from five numbers.

    Each number is taken as good to 10 %, and 30 % of the source's flow stays in the stream. The
    ram is a commercial one; the pipe is the narrowest of those on the shelf that will do.

    Parameters
    ----------
    source_flow : float
        In the dry season [m³/s], above 0.
    fall : float
        From the source down to where a ram could stand [m], 0 or more.
    rise : float
        From there up to the tank [m]; 0 or less: the tank lies there or deeper. Less than the
        fall: the water runs to the tank by itself.
    length : float
        Of pipe, from the ram to the tank, or from the source by gravity [m], above 0.
    need : float
        [m³/day], above 0.

    Raises
    ------
    OutsideRange
        A number is NaN, out of its range or absurd, or the pipe shorter than it must climb or drop.

    Examples
    --------
    >>> seen = first_look(54 / 60000, 4.8, 32.6, 207.0, 3.0)
    >>> seen.scheme, seen.verdict, seen.measure[0].name
    ('ram', "can't tell", 'fall')
    """
    five = _checked(source_flow, fall, rise, length)
    wanted = float(positive("need", need, MOST_NEED))
    reason = _outside(five)
    if reason is not None:
        certain = reason in ("no-fall", "much-lift") or (
            reason == "little-fall" and five.fall < LEAST_FALL
        )
        return _blank(five, wanted, reason, "no-go" if certain else "can't tell")
    bore = _bore(five)
    delivered = _delivered(five, bore)
    if math.isnan(float(delivered.expected)):
        return _blank(five, wanted, "friction", "can't tell")
    verdict, reason = _weighed(five, delivered, wanted)
    return FirstLook(
        verdict=verdict,
        reason=reason,
        scheme="gravity" if five.by_gravity else "ram",
        delivered=delivered,
        need=wanted,
        bore=bore,
        measure=_swings(five, bore, wanted),
    )


def _checked(flow: float, fall: float, rise: float, length: float) -> Five:
    five = Five(
        float(positive("source flow", flow, MOST_FLOW)),
        float(between("fall", fall, 0.0, MOST_HEAD)),
        float(between("rise", rise, -MOST_HEAD, MOST_HEAD)),
        float(positive("length", length, MOST_LENGTH)),
    )
    climbs = abs(five.fall - five.rise) if five.by_gravity else five.rise
    if five.length < climbs:
        msg = "length is less than the height between the pipe's ends; give it along the slope"
        raise OutsideRange(msg)
    return five


def _outside(five: Five) -> Reason | None:
    """Why no ram is known that does it; None where one is, or none is needed."""
    if five.by_gravity:
        return None
    if five.fall <= 0.0:
        return "no-fall"
    if five.fall < FALL_LEAST:
        return "little-fall"
    if five.fall > FALL_MOST:
        return "much-fall"
    if five.rise > RATIO_MOST * five.fall:
        return "much-lift"
    return "little-lift" if five.rise < RATIO_LEAST * five.fall else None


def _blank(five: Five, need: float, reason: Reason, verdict: Verdict) -> FirstLook:
    """Nothing can be reckoned; the levels are what to measure."""
    unknown = [Swing(name, math.nan, math.nan, decides=True) for name in ("fall", "rise")]
    scheme: Literal["gravity", "ram"] = "gravity" if five.by_gravity else "ram"
    return FirstLook(verdict, reason, scheme, NOTHING, need, math.nan, tuple(unknown))


def _taken(five: Five) -> float:
    return five.flow * (1.0 - SHARE_LEFT)


def _doubtful(value: float) -> Band:
    spread = DOUBT * abs(value)
    return Band(value - spread, value, value + spread)


def _bore(five: Five) -> float:
    """The narrowest pipe on the shelf that will do; the widest where none does."""
    if not five.by_gravity:
        exact = Band.exact(five.fall), Band.exact(five.rise)
        sizes = size_delivery(_taken(five), *exact, five.length, DELIVERY_BORES)
        return sizes.pipes[sizes.chosen].bore
    head = five.fall - five.rise
    carries = (
        bore for bore in DELIVERY_BORES if pipe_flow(head, bore, five.length) >= _taken(five)
    )
    return next(carries, DELIVERY_BORES[-1])


def _delivered(five: Five, bore: float) -> Band:
    """[m³/day], each end with every doubt on its side."""
    flow, fall, rise = (_doubtful(value) for value in (_taken(five), five.fall, five.rise))
    if five.by_gravity:
        heads = (fall.low - rise.high, fall.expected - rise.expected, fall.high - rise.low)
        flows = (flow.low, flow.expected, flow.high)
        ends = [
            min(float(q), pipe_flow(float(head), bore, five.length))
            for q, head in zip(flows, heads, strict=True)
        ]
        return Band(*ends).times(DAY)
    drive = [float(flow.low), float(flow.expected), float(flow.high)]
    got = delivered_flow(drive, fall, rise, bore, five.length).flow
    low, expected, high = (
        float(edge[place])  # type: ignore[index]
        for place, edge in enumerate((got.low, got.expected, got.high))
    )
    return Band(low, expected, high).times(DAY)


def _weighed(five: Five, delivered: Band, need: float) -> tuple[Verdict, Reason]:
    if delivered.low >= need:
        return "go", "enough"
    if delivered.high < need:
        loss_free = _taken(five) * DAY * (five.fall / five.rise if not five.by_gravity else 1.0)
        return "no-go", "bound" if need > loss_free * (1.0 + DOUBT) else "too-little"
    return "can't tell", "perhaps"


def _swings(five: Five, bore: float, need: float) -> tuple[Swing, ...]:
    """What the doubt in each number is worth, the most telling first."""
    names: tuple[Number, ...] = ("flow", "fall", "rise", "length")
    expected = _by_gravity if five.by_gravity else _by_ram
    swings = []
    for name in names:
        ends = [expected(five.times(name, factor), bore) for factor in (1 - DOUBT, 1 + DOUBT)]
        if any(map(math.isnan, ends)):
            swings.append(Swing(name, math.nan, math.nan, decides=True))
        elif max(ends) > min(ends):
            swings.append(Swing(name, min(ends), max(ends), min(ends) < need <= max(ends)))
    return tuple(sorted(swings, key=_telling))


def _telling(swing: Swing) -> float:
    return -math.inf if math.isnan(swing.low) else swing.low - swing.high


def _by_gravity(five: Five, bore: float) -> float:
    """[m³/day] with the numbers as they stand."""
    return min(_taken(five), pipe_flow(five.fall - five.rise, bore, five.length)) * DAY


def _by_ram(five: Five, bore: float) -> float:
    """[m³/day] with the numbers as they stand; NaN outside what rams are known to do."""
    if _outside(five) is not None:
        return math.nan
    exact = Band.exact(five.fall), Band.exact(five.rise)
    return float(delivered_flow(_taken(five), *exact, bore, five.length).flow.expected) * DAY
