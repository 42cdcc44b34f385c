"""Crests of a running line by the pressure left in them: from plenty to broken siphon."""

from typing import Literal

from planner.hydraulics import limits
from planner.hydraulics.air import SEA_LEVEL_HEAD, SIPHON_DESIGN, siphon_limit
from planner.hydraulics.domain import MOST_HEAD, between
from planner.hydraulics.water import GRAVITY

COLLAPSE_SAFETY = 2.0  # setting: out of round, not of one temperature, unsupported
POISSON_PLASTIC = 0.45  # PE; PVC 0.38 and steel 0.3 change the result by a tenth

CrestState = Literal["good", "low", "siphon", "siphon-deep", "broken"]


def crest_state(open_head: float, altitude: float, temperature: float = 10.0) -> CrestState:
    """What the pressure at a crest of a running line means.

    Parameters
    ----------
    open_head : float
        Pressure head with the outlet open [m, gauge]; negative above the hydraulic grade line.
    altitude : float
        Of the crest [m], -400..5000.
    temperature : float
        Of the water [°C], 0..60.

    Returns
    -------
    {"good", "low", "siphon", "siphon-deep", "broken"}
        5 m or more; 0..5 m; below 0, where leaks suck in dirt and gas comes out, and no vent may
        stand; deeper than the 3 m a siphon meant as such should have; beyond the limit, so that
        the column parts.

    Raises
    ------
    OutsideRange
        A value is NaN or outside; the message names it.

    Examples
    --------
    >>> [crest_state(head, 500.0) for head in (8.0, 1.0, -2.0, -5.0, -7.0)]
    ['good', 'low', 'siphon', 'siphon-deep', 'broken']
    """
    head = float(between("open_head", open_head, -MOST_HEAD, MOST_HEAD))
    limit = siphon_limit(altitude, temperature)
    if head < limit:
        return "broken"
    if head < 0:
        return "siphon" if head >= -SIPHON_DESIGN else "siphon-deep"
    return "good" if limits.CREST_RESIDUAL.holds(head) else "low"


def collapse_head(modulus: float, dimension_ratio: float, safety: float = COLLAPSE_SAFETY) -> float:
    """Lowest pressure head [m, gauge, negative] at which a thin pipe surely keeps its shape.

    p = 2 E / (1 - nu²) / (DR - 1)³ over the safety. A caution, no design: soil, bends and
    ovality have their say; at most as negative as a full vacuum at sea level.

    Parameters
    ----------
    modulus : float
        Of the wall, long-term and as warm as it gets [Pa], 1e6..1e13: PE some 100e6 to 200e6.
    dimension_ratio : float
        Outside diameter over wall thickness (SDR, DR), 2..200.
    safety : float
        1 or more.

    Raises
    ------
    OutsideRange
        A value is NaN or outside; the message names it.

    References
    ----------
    Levy's formula for a long tube under outer pressure.

    Examples
    --------
    >>> round(collapse_head(130e6, 17.0), 1), round(collapse_head(130e6, 11.0), 1)
    (-4.1, -10.3)
    """
    stiff = float(between("modulus", modulus, 1e6, 1e13))
    ratio = float(between("dimension_ratio", dimension_ratio, 2.0, 200.0))
    spare = float(between("safety", safety, 1.0, 100.0))
    pressure = 2.0 * stiff / (1.0 - POISSON_PLASTIC**2) / (ratio - 1.0) ** 3
    return -min(pressure / (1000.0 * GRAVITY) / spare, SEA_LEVEL_HEAD)
