"""The need hour by hour, and the tank that serves it."""

import math

import numpy as np

from planner.band import Band
from planner.errors import InputError
from planner.hydraulics.need import (
    PEOPLE_HOURS,
    Group,
    Use,
    daily_need,
    hourly_need,
    published_uses,
)
from planner.hydraulics.tank import Load, fill_time, smallest_tank, store, tank_load
from planner.record.value import Water
from planner.record.works import TankWorks
from planner.site.value import Site
from planner.terrain.value import FloatArray

HOURS = 24
USUAL_BASE = 2.5  # m² of ground under a tank of a few m³


def needed(site: Site) -> Band | None:
    """Water needed on a day [m³/day]: as told, or by counted people, animals and garden.

    Raises
    ------
    InputError
        Something is counted that no figure is known for.
    """
    if site.need is not None:
        return Band.exact(site.need)
    if not site.demand:
        return None
    uses = _uses(site)
    unknown = sorted(set(site.demand) - set(uses))
    if unknown:
        msg = (
            f'need.count: no figure is known for "{unknown[0][:40]}"; count by one of '
            f"{', '.join(published_uses())}, or tell its water under need.each"
        )
        raise InputError(msg)
    return daily_need(site.demand, uses=uses)


def tank_works(site: Site, water: Water) -> TankWorks | None:
    """The smallest tank that serves, and how the given one fares; None without a delivery."""
    if water.delivered is None or not float(water.delivered.expected) > 0.0:
        return None
    inflow = _inflow(site, float(water.delivered.expected))
    need = _hours(site)
    smallest = math.nan if need is None else smallest_tank(inflow, need)
    volume = site.tank.volume if site.tank.volume is not None else smallest
    if not volume > 0.0:
        return TankWorks(site.tank.volume, smallest, site.tank.days, None, math.nan, None)
    return TankWorks(
        volume=site.tank.volume,
        smallest=smallest,
        days=site.tank.days,
        storage=None if need is None else store(inflow, need, volume),
        fill_time=fill_time(volume, float(water.delivered.expected) / 86400.0),
        load=_load(site, volume),
    )


def _inflow(site: Site, delivered: float) -> FloatArray:
    """What comes in every hour over the days followed [m³ in the hour].

    All day; by a powered pump from midnight on for its hours, far from the use: the cautious side.
    """
    hours = HOURS if site.powered is None else site.powered.hours_per_day
    runs = np.clip(hours - np.arange(HOURS), 0.0, 1.0)
    return np.tile(delivered * runs / hours, site.tank.days)


def _uses(site: Site) -> dict[str, Use]:
    """The published figures, the user's own in their place; a kind of theirs drinks as people."""
    uses = dict(published_uses())
    for key, one in site.each.items():
        known = uses.get(key)
        group: Group = "people" if known is None else known.group
        uses[key] = Use(group, key, (one, one), (one, one))
    return uses


def _hours(site: Site) -> np.ndarray | None:
    """Need of every hour over the days followed [m³ in the hour]."""
    if site.need is not None:
        day = site.need * np.asarray(PEOPLE_HOURS) / np.sum(PEOPLE_HOURS)
    elif site.demand:
        day = np.asarray(hourly_need(site.demand, uses=_uses(site)).expected)
    else:
        return None
    return np.tile(day, site.tank.days)


def _load(site: Site, volume: float) -> Load:
    """Of a round tank: an area of ground is told, and the load asks for its diameter."""
    ground = site.tank.base or USUAL_BASE
    return tank_load(volume, 2.0 * math.sqrt(ground / math.pi), stand=site.tank.stand)
