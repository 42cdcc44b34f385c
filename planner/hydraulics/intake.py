"""The intake: a screen that spares fish and stays open, and water enough over the pipe's mouth."""

from dataclasses import dataclass
from typing import Literal

from planner.hydraulics.domain import MOST_BORE, MOST_FLOW, MOST_HEAD, between, positive
from planner.hydraulics.friction import area

# Speed of the water towards the screen that fry can still swim from, m/s. Fish screen criteria:
# 0.2 ft/s for a screen nobody cleans, 0.4 ft/s for one that is kept clean all the time.
APPROACH_PASSIVE = 0.06
APPROACH_CLEANED = 0.12

Cover = Literal["gulps", "may gulp", "covered"]


@dataclass(frozen=True, slots=True)
class Screen:
    """An intake screen.

    Attributes
    ----------
    area : float
        Wetted face of the screen, net of its frame [m²].
    plate : float
        The same with the frame [m²].
    opening : float
        Holes or slots in it [m²].
    slot_speed : float
        Of the water through them, all of them clean [m/s].
    ruled_by : {"fish", "clogging"}
        Which of the two rules asks for that much.
    """

    area: float
    plate: float
    opening: float
    slot_speed: float
    ruled_by: Literal["fish", "clogging"]


def intake_screen(
    flow: float,
    bore: float,
    *,
    approach: float = APPROACH_PASSIVE,
    open_share: float = 0.4,
    frame_share: float = 0.1,
    times_bore: float = 4.0,
) -> Screen:
    """Smallest screen for an intake: face by the fish rule, holes by the pipe behind it.

    Parameters
    ----------
    flow : float
        Most that is drawn through it [m³/s], above 0.
    bore : float
        Inside diameter of the pipe behind it [m], above 0.
    approach : float
        Highest speed towards the face [m/s], above 0, at most 1: `APPROACH_PASSIVE`, or
        `APPROACH_CLEANED` for one that is cleaned all the time.
    open_share : float
        Holes over face, above 0, at most 1; plates have 0.27 to 0.5.
    frame_share : float
        Share of the plate that frame and supports cover, 0 to below 1 (medium confidence).
    times_bore : float
        Holes over the pipe's section, 1 or more: 3 to 4, in a dirty creek 10 (medium confidence).

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.

    References
    ----------
    Fish screen criteria (0.2 and 0.4 ft/s on the effective area); NRCS screen note (open share).

    Examples
    --------
    >>> got = intake_screen(1e-3, 0.05)
    >>> round(got.area, 4), round(got.opening, 4), got.ruled_by
    (0.0196, 0.0079, 'clogging')
    """
    q = float(positive("flow", flow, MOST_FLOW))
    mouth = float(area(positive("bore", bore, MOST_BORE)))
    share = float(positive("open_share", open_share, 1.0))
    frame = float(between("frame_share", frame_share, 0.0, 0.95))
    fish = q / float(positive("approach", approach, 1.0))
    clogging = float(between("times_bore", times_bore, 1.0, 1000.0)) * mouth / share
    face = max(fish, clogging)
    return Screen(
        area=face,
        plate=face / (1.0 - frame),
        opening=face * share,
        slot_speed=q / (face * share),
        ruled_by="fish" if fish >= clogging else "clogging",
    )


def widest_slot(valve_gap: float, *, share: float = 0.5) -> float:
    """Widest slot of a screen before a ram [m]: what passes it must pass the waste valve too.

    Parameters
    ----------
    valve_gap : float
        Opening of the waste valve [m], above 0.
    share : float
        Of that gap, above 0, at most 1; one half is the rule of practice (medium confidence).

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd.

    Examples
    --------
    >>> widest_slot(0.006)
    0.003
    """
    return float(positive("valve_gap", valve_gap, MOST_BORE) * positive("share", share, 1.0))


def least_cover(bore: float, *, least: float = 0.3, bores: float = 4.0) -> float:
    """Water that should stand over an intake's mouth so that no whirl draws air [m].

    Parameters
    ----------
    bore : float
        Inside diameter of the mouth [m], above 0.
    least : float
        [m], above 0. Medium confidence.
    bores : float
        The same in diameters, above 0; the greater of the two counts. Medium confidence.

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd.

    Examples
    --------
    >>> least_cover(0.05), least_cover(0.1)
    (0.3, 0.4)
    """
    d = float(positive("bore", bore, MOST_BORE))
    floor = float(positive("least", least, MOST_BORE))
    return max(floor, float(positive("bores", bores, 100.0)) * d)


def intake_cover(
    cover: float, bore: float, *, floor: float = 0.15, least: float = 0.3, bores: float = 4.0
) -> Cover:
    """Whether an intake gulps air under the water that stands over it.

    Parameters
    ----------
    cover : float
        Water above the top of the mouth [m]; 0 or less leaves it bare.
    bore : float
        Inside diameter of the mouth [m], above 0.
    floor : float
        Below this it gulps [m], above 0. Medium confidence.
    least, bores : float
        As for `least_cover`; from there on it is covered.

    Raises
    ------
    OutsideRange
        A value is NaN or absurd; the message names it.

    Examples
    --------
    >>> intake_cover(0.1, 0.05), intake_cover(0.2, 0.05), intake_cover(0.3, 0.05)
    ('gulps', 'may gulp', 'covered')
    """
    depth = float(between("cover", cover, -MOST_HEAD, MOST_HEAD))
    enough = least_cover(bore, least=least, bores=bores)
    if depth < float(positive("floor", floor, MOST_BORE)):
        return "gulps"
    return "covered" if depth >= enough else "may gulp"
