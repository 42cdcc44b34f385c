"""What to change at a ram that beats too fast, too slowly or not at all: numbers, not words."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from scipy.optimize import brentq

from planner.errors import OutsideRange
from planner.hydraulics.domain import MOST_BORE, positive
from planner.hydraulics.ram_cycle import Cycle, Workings, ram_cycle
from planner.hydraulics.ram_tune import MOST_BEATS, paced_velocity

# Beats a minute: 40 to 90 is usual (general knowledge, high confidence); the USDA bulletin on
# country-home water gives some 60 for a small ram.
LEAST_BEATS, AIM_BEATS, MOST_USUAL_BEATS = 40.0, 60.0, 90.0
SHORTEST, LONGEST = 0.5, 1000.0  # m, of drive pipe, as far as one is sought
MOST_VARIANTS = 1000

Trouble = Literal["none", "too fast", "too slow", "stalls open", "delivers nothing"]


@dataclass(frozen=True, slots=True)
class Variant:
    """A ram with another drive pipe.

    Attributes
    ----------
    length, bore : float
        Of the drive pipe [m].
    closing_velocity : float
        In that pipe [m/s]: the same valve under the same load shuts at the same flow.
    cycle : Cycle
    """

    length: float
    bore: float
    closing_velocity: float
    cycle: Cycle


@dataclass(frozen=True, slots=True)
class Remedy:
    """What is amiss, and the two ways to better beats.

    Attributes
    ----------
    trouble : {"none", "too fast", "too slow", "stalls open", "delivers nothing"}
    cycle : Cycle
        As it is.
    length : float
        Drive pipe that makes the beats and delivers, everything else as it is [m]; NaN if there
        is none, or nothing is amiss.
    load : float
        Factor on the waste valve's load that makes them, everything else as it is (its force
        goes with the square of the closing velocity); NaN alike.
    longer, heavier : Cycle or None
        With that length, and with that load.
    """

    trouble: Trouble
    cycle: Cycle
    length: float = math.nan
    load: float = math.nan
    longer: Cycle | None = None
    heavier: Cycle | None = None


def drive_variants(
    fall: float,
    lift: float,
    drive_length: float,
    drive_bore: float,
    *,
    closing_velocity: float,
    lengths: Sequence[float] = (),
    bores: Sequence[float] = (),
    workings: Workings | None = None,
) -> tuple[Variant, ...]:
    """What other drive pipes do to beats, flows and yield of one ram, its valve left alone.

    Parameters
    ----------
    fall, lift, drive_length, drive_bore, closing_velocity, workings
        Of the ram as it is, as for `ram_cycle`.
    lengths, bores : sequence of float
        To try, one change at a time [m], at most 1000 together.

    Returns
    -------
    tuple of Variant
        The ram as it is, then one for each length, then one for each bore.

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd; the message names it.

    Examples
    --------
    >>> now, longer = drive_variants(
    ...     2.4, 24.0, 12.0, 0.0525, closing_velocity=0.8, lengths=[24.0]
    ... )
    >>> round(now.cycle.beats), round(longer.cycle.beats)
    (89, 49)
    """
    made = Workings() if workings is None else workings
    if len(lengths) + len(bores) > MOST_VARIANTS:
        msg = f"lengths and bores must be at most {MOST_VARIANTS} together, got more"
        raise OutsideRange(msg)
    base = float(positive("drive_bore", drive_bore, MOST_BORE))
    pipes = [(drive_length, base), *((long, base) for long in lengths)]
    pipes += [(drive_length, float(positive("bore", wide, MOST_BORE))) for wide in bores]
    found = []
    for long, wide in pipes:
        speed = closing_velocity * (base / wide) ** 2
        # The valve's loss goes with its own speed, here told in speed heads of the pipe.
        valve = replace(made, waste_valve=made.waste_valve * (wide / base) ** 4)
        cycle = ram_cycle(fall, lift, long, wide, closing_velocity=speed, workings=valve)
        found.append(Variant(float(long), wide, speed, cycle))
    return tuple(found)


def paced_length(
    beats: float,
    fall: float,
    lift: float,
    drive_bore: float,
    *,
    closing_velocity: float,
    workings: Workings | None = None,
) -> float:
    """Length of drive pipe with which a ram beats so often [m]; a longer one beats slower.

    Parameters
    ----------
    beats : float
        A minute, above 0, at most 1000.
    fall, lift, drive_bore, closing_velocity, workings
        As for `ram_cycle`.

    Returns
    -------
    float
        [m]; NaN where none of 0.5 to 1000 m does.

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd; the message names it.

    Examples
    --------
    >>> round(paced_length(60.0, 2.4, 24.0, 0.0525, closing_velocity=0.8), 1)
    19.7
    """
    wanted = float(positive("beats", beats, MOST_BEATS))

    def excess(length: float) -> float:
        cycle = ram_cycle(
            fall, lift, length, drive_bore, closing_velocity=closing_velocity, workings=workings
        )
        return cycle.beats - wanted

    if excess(SHORTEST) < 0.0 or excess(LONGEST) > 0.0:
        return math.nan
    return float(brentq(excess, SHORTEST, LONGEST, xtol=1e-9, rtol=1e-12))


def remedy(
    fall: float,
    lift: float,
    drive_length: float,
    drive_bore: float,
    *,
    closing_velocity: float,
    beats: tuple[float, float, float] = (LEAST_BEATS, AIM_BEATS, MOST_USUAL_BEATS),
    workings: Workings | None = None,
) -> Remedy:
    """What is amiss with a ram's beat, and which length or load would put it right.

    Parameters
    ----------
    fall, lift, drive_length, drive_bore, closing_velocity, workings
        As for `ram_cycle`.
    beats : (float, float, float)
        Least, aimed at and most, a minute, rising. The remedies make those aimed at, or, where
        that delivers nothing, the least or else the most.

    Returns
    -------
    Remedy
        A drive pipe too short for its valve, whose stopped water does not reach the delivery's
        head, "delivers nothing", whatever its beats.

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd, or the beats don't rise; the message names it.

    Examples
    --------
    >>> told = remedy(2.4, 24.0, 9.0, 0.0525, closing_velocity=0.8)
    >>> told.trouble, round(told.length), round(told.load, 1)
    ('too fast', 20, 3.7)
    """
    least, aim, most = (float(positive("beats", b, MOST_BEATS)) for b in beats)
    if not least <= aim <= most:
        msg = f"beats must rise from least to most, got {least:g}, {aim:g}, {most:g}"
        raise OutsideRange(msg)
    made = Workings() if workings is None else workings
    now = ram_cycle(
        fall, lift, drive_length, drive_bore, closing_velocity=closing_velocity, workings=made
    )
    trouble = _trouble(now, least, most)
    if trouble == "none":
        return Remedy(trouble, now)
    paces = (aim, least, most)  # at the ends of the range only where the middle delivers nothing

    def length_of(pace: float) -> Variant | None:
        length = paced_length(
            pace, fall, lift, drive_bore, closing_velocity=closing_velocity, workings=made
        )
        return _delivering(fall, lift, (length, drive_bore), closing_velocity, made)

    def load_of(pace: float) -> Variant | None:
        speed = paced_velocity(pace, fall, lift, drive_length, drive_bore, workings=made)
        return _delivering(fall, lift, (drive_length, drive_bore), speed, made)

    return _told(trouble, now, closing_velocity, _first(length_of, paces), _first(load_of, paces))


def _told(
    trouble: Trouble, now: Cycle, speed: float, longer: Variant | None, heavier: Variant | None
) -> Remedy:
    return Remedy(
        trouble,
        now,
        length=math.nan if longer is None else longer.length,
        load=math.nan if heavier is None else (heavier.closing_velocity / speed) ** 2,
        longer=None if longer is None else longer.cycle,
        heavier=None if heavier is None else heavier.cycle,
    )


def _first(try_pace: Callable[[float], Variant | None], paces: tuple[float, ...]) -> Variant | None:
    return next((found for pace in paces if (found := try_pace(pace)) is not None), None)


def _trouble(cycle: Cycle, least: float, most: float) -> Trouble:
    if cycle.stalls:
        return "stalls open"
    if cycle.delivered <= 0.0:
        return "delivers nothing"
    if cycle.beats > most:
        return "too fast"
    return "too slow" if cycle.beats < least else "none"


def _delivering(
    fall: float, lift: float, pipe: tuple[float, float], speed: float, made: Workings
) -> Variant | None:
    if math.isnan(speed) or math.isnan(pipe[0]):
        return None
    cycle = ram_cycle(fall, lift, *pipe, closing_velocity=speed, workings=made)
    return Variant(*pipe, speed, cycle) if cycle.delivered > 0.0 else None
