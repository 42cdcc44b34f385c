"""One beat of a ram: the water in the drive pipe as a rigid column, corrected for its waves.

Four parts make a beat. The waste valve stands open and the column gathers speed, against the
losses of pipe and valve, until the valve shuts. The valve shuts. The column pushes water past
the delivery valve until it stands. It recoils, the waste valve drops open, and the next beat
begins. Models of this kind foretell flows well, beats and efficiency rather as trends: 25 % is
a fair tolerance on the beats (after J. Fluids Eng. 97(2) 191, 1975).
"""

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from planner.errors import OutsideRange
from planner.hydraulics.domain import MOST_BORE, MOST_HEAD, MOST_LENGTH, between, positive
from planner.hydraulics.friction import ROUGHEST, area, churchill
from planner.hydraulics.water import GRAVITY, viscosity

FASTEST = 100.0  # m/s, far beyond any drive pipe
LEAST_LOSS = 1e-9  # speed heads; keeps the free velocity of a lossless pipe finite
# Medium confidence: what drive pipe and ram are to stand, in delivery heads.
STRENGTH = 2.0


@dataclass(frozen=True, slots=True)
class Workings:
    """What a drive pipe and its ram are like, beyond length and bore.

    Attributes
    ----------
    wave_speed : float
        Of a pressure wave in the drive pipe [m/s], above 0, at most 2000 (`wave_speed`): steel
        about 1300, PE about 300. Free air cuts it to a tenth.
    roughness : float
        Of the drive pipe [m], 0 to half the bore; galvanised steel unless said.
    inlet : float
        Loss of the inlet and the bends, in speed heads of the drive pipe, 0 or more.
    waste_valve : float
        Loss of the open waste valve, in speed heads of the drive pipe, the one that the water
        takes along as it leaves included; 0 or more. Medium confidence: 4 and 1.
    delivery_valve : float
        Head lost in the delivery valve [m], 0 or more.
    closing_time : float
        Of the waste valve [s], 0..1. Medium confidence: 0.01 to 0.05.
    temperature : float
        Of the water [°C], 0..60.
    friction_factor : float or None
        Darcy's, 0..1, in place of what roughness and temperature give.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.
    """

    wave_speed: float = 1300.0
    roughness: float = 1.5e-4
    inlet: float = 0.5
    waste_valve: float = 5.0
    delivery_valve: float = 0.0
    closing_time: float = 0.03
    temperature: float = 20.0
    friction_factor: float | None = None

    def __post_init__(self) -> None:
        positive("wave_speed", self.wave_speed, 2000.0)
        between("roughness", self.roughness, 0.0, MOST_BORE)
        between("loss of the inlet", self.inlet, 0.0, 1e6)
        between("loss of the waste_valve", self.waste_valve, 0.0, 1e6)
        between("head lost in the delivery_valve", self.delivery_valve, 0.0, MOST_HEAD)
        between("closing_time", self.closing_time, 0.0, 1.0)
        viscosity(self.temperature)
        if self.friction_factor is not None:
            between("friction_factor", self.friction_factor, 0.0, 1.0)


class Phases(NamedTuple):
    """How long each part of a beat takes [s]."""

    acceleration: float
    closing: float
    delivery: float
    recoil: float


@dataclass(frozen=True, slots=True)
class Cycle:
    """One beat, and what comes of beating.

    Attributes
    ----------
    stalls : bool
        The ram stalls open: the water never gets as fast as the valve needs to shut. All that
        runs is wasted then; `phases` and `wasted` are NaN, `beats` and what is delivered 0.
    free_velocity : float
        Speed in the drive pipe with the waste valve held open [m/s].
    beats : float
        A minute.
    phases : Phases
    wasted, delivered : float
        Each beat [m³].
    drive_flow, delivered_flow : float
        On average [m³/s]: all the water into the drive pipe, and what is lifted.
    efficiency : float
        D'Aubuisson's, q h / (Q H), 0..1. The cycle's own, with no valve that leaks or drags and
        no air: what `ram_yield` tells, from rams that were measured, is less.
    peak_head : float
        At the ram as it beats [m above the ram]: the delivery's, or what the stopped column
        reaches where that is less (then nothing is delivered). A valve slow to open adds to it.
    design_head : float
        Least head the drive pipe and the ram are to stand [m above the ram]: with the delivery
        blocked and the water at its free velocity, or twice the lift if that is more. A moment's
        pressure of this kind, a beat a second, tires plastic pipe.
    """

    stalls: bool
    free_velocity: float
    beats: float
    phases: Phases
    wasted: float
    delivered: float
    drive_flow: float
    delivered_flow: float
    efficiency: float
    peak_head: float
    design_head: float


class _Column(NamedTuple):
    """The water in the drive pipe: checked numbers [m, m², m/s, speed heads]."""

    fall: float
    rise: float  # from the water at the inlet up to the head that opens the delivery valve
    length: float
    section: float
    loss: float  # of pipe, inlet and bends
    closing_velocity: float
    step: float  # speed the column loses as the head goes up by `rise`: V_J = g rise / a
    swift: float  # speed of the wave, or what the valve's slow closing makes of it


def ram_cycle(
    fall: float,
    lift: float,
    drive_length: float,
    drive_bore: float,
    *,
    closing_velocity: float,
    workings: Workings | None = None,
) -> Cycle:
    """One beat of a ram, and the flows that come of it.

    Acceleration: (L/g) dV/dt = H - K V²/2g, so V∞ = √(2gH/K) and, with r = Vc/V∞,
    t = (L V∞ / gH) atanh r and wasted (A L/K) ln 1/(1 - r²); closing wastes A Vc t/2 more.
    Delivery: the same with the head h - H against the column, times the share that the steps of
    the wave leave of it, 2 V_J each 2L/a (`stepped_share`); nothing where Vc < V_J = g (h - H)/a.
    Recoil: L V_J / (gH) + 2L/a, the longest there is. A valve that shuts slower than the wave
    returns acts as a slower wave, a = 2L / closing time.

    Parameters
    ----------
    fall : float
        From the water level at the drive pipe's inlet to the waste valve [m], above 0.
    lift : float
        Level above the ram plus the delivery line's friction [m], above the fall.
    drive_length, drive_bore : float
        Of the drive pipe [m], above 0.
    closing_velocity : float
        Speed of the water in the drive pipe at which the waste valve shuts [m/s], above 0: what a
        heavier load or a longer stroke makes greater. `tuned_velocity` finds it from a flow.
    workings : Workings

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd, or the lift is not above the fall; the message
        names it.

    Notes
    -----
    The friction factor is that of the closing velocity all along: right where it decides whether
    the valve shuts, and a few per cent off in the waste.

    Examples
    --------
    >>> beat = ram_cycle(2.4, 24.0, 12.0, 0.0525, closing_velocity=0.8)
    >>> beat.stalls, round(beat.beats), round(beat.efficiency, 2)
    (False, 89, 0.78)
    """
    made = Workings() if workings is None else workings
    column = _column((fall, lift, drive_length, drive_bore, closing_velocity), made)
    free = math.sqrt(2 * GRAVITY * column.fall / max(column.loss + made.waste_valve, LEAST_LOSS))
    blocked = column.fall + made.wave_speed * free / GRAVITY
    strong = max(blocked, STRENGTH * lift)
    reached = column.fall + column.swift * min(column.closing_velocity, free) / GRAVITY
    peak = min(reached, column.fall + column.rise)
    if column.closing_velocity >= free:
        never = Phases(math.nan, math.nan, math.nan, math.nan)
        rush = column.section * free
        return Cycle(True, free, 0.0, never, math.nan, 0.0, rush, 0.0, 0.0, column.fall, strong)
    gathering, wasted = _acceleration(column, free)
    wasted += column.section * column.closing_velocity * made.closing_time / 2.0
    pushing, delivered = _delivery(column)
    phases = Phases(gathering, made.closing_time, pushing, _recoil(column))
    period, taken = sum(phases), wasted + delivered
    return Cycle(
        stalls=False,
        free_velocity=free,
        beats=60.0 / period,
        phases=phases,
        wasted=wasted,
        delivered=delivered,
        drive_flow=taken / period,
        delivered_flow=delivered / period,
        efficiency=delivered * lift / (taken * column.fall),
        peak_head=peak,
        design_head=strong,
    )


def stepped_share(steps: float) -> float:
    """Delivery of a column slowed in steps by its wave, over that of a rigid one; 0..1.

    Parameters
    ----------
    steps : float
        Vc / V_J: closing velocity over the speed lost as the head goes up to the delivery's.

    Notes
    -----
    The column gives Vc - V_J for the time 2L/a, then Vc - 3 V_J, and so on, as long as it moves
    forward: N times, N the whole part of (Vc/V_J + 1)/2. At an even number of steps it ends at
    rest and all its energy is lifted; under one it lifts nothing.

    Examples
    --------
    >>> stepped_share(0.9), stepped_share(2.0), round(stepped_share(3.0), 3)
    (0.0, 1.0, 0.889)
    """
    x = float(positive("steps", steps))
    pushes = math.floor((x + 1.0) / 2.0)
    half = pushes / x  # 4 (N x - N²) / x², written so that a great x can't overflow
    return 4.0 * half * (1.0 - half) if pushes else 0.0


def _column(numbers: tuple[float, float, float, float, float], made: Workings) -> _Column:
    fall, lift, length, bore, shut = numbers
    down = float(positive("fall", fall, MOST_HEAD))
    up = float(positive("lift", lift, MOST_HEAD))
    if up <= down:
        msg = f"lift must be above the fall of {down:g} m, got {up:g}: no ram is needed"
        raise OutsideRange(msg)
    long = float(positive("drive_length", length, MOST_LENGTH))
    wide = float(positive("drive_bore", bore, MOST_BORE))
    speed = float(positive("closing_velocity", shut, FASTEST))
    between("roughness", made.roughness, 0.0, ROUGHEST * wide)
    rise = up + made.delivery_valve - down
    slow = made.closing_time * made.wave_speed > 2.0 * long
    swift = 2.0 * long / made.closing_time if slow else made.wave_speed
    loss = made.inlet + _factor(wide, speed, made) * long / wide
    section = float(area(np.float64(wide)))
    return _Column(down, rise, long, section, loss, speed, GRAVITY * rise / swift, swift)


def _factor(bore: float, speed: float, made: Workings) -> float:
    if made.friction_factor is not None:
        return made.friction_factor
    reynolds = np.float64(speed * bore / float(viscosity(made.temperature)))
    return float(churchill(reynolds, np.float64(made.roughness / bore)))


def _acceleration(column: _Column, free: float) -> tuple[float, float]:
    """Time [s] until the valve shuts, and the water wasted till then [m³]."""
    share = column.closing_velocity / free
    time = column.length * free / (GRAVITY * column.fall) * math.atanh(share)
    # A L/K with K = 2gH/V∞²
    scale = column.section * column.length * free**2 / (2.0 * GRAVITY * column.fall)
    return time, -scale * math.log1p(-(share**2))


def _delivery(column: _Column) -> tuple[float, float]:
    """Time [s] until the column stands, and the water delivered [m³]."""
    speed = column.closing_velocity
    time = column.length * speed / (GRAVITY * column.rise)
    volume = column.section * speed * time / 2.0
    spent = column.loss * speed**2 / (2.0 * GRAVITY * column.rise)  # friction over the head
    if spent > 1e-12:
        time *= math.atan(math.sqrt(spent)) / math.sqrt(spent)
        volume *= math.log1p(spent) / spent
    return time, volume * stepped_share(speed / column.step)


def _recoil(column: _Column) -> float:
    back = min(column.step, column.closing_velocity)
    return column.length * (back / (GRAVITY * column.fall) + 2.0 / column.swift)
