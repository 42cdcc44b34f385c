"""Rows of the tank."""

from planner.hydraulics.tank import Storage
from planner.output.water.row import Group, figure, group, plain
from planner.record.value import Plan

HOURLY = "need and inflow, hour by hour"


def tank_group(plan: Plan) -> Group:
    """What it holds or should hold, how it fares, what it weighs."""
    works, units = plan.water.tank, plan.site.units
    if works is None:
        return group("Tank", ())
    which = "the smallest that serves" if works.volume is None else "as given"
    load, stand = works.load, plan.site.tank.stand
    carries = None if load is None or not stand else f"{load.design_weight / 1000.0:,.0f} kN"
    engineer = "an engineer must design what carries it" if load and load.engineer else None
    return group(
        f"Tank, {which}",
        [
            ("Given", figure(works.volume, "volume", units), "site file"),
            ("Smallest that serves", plain(works.smallest, "volume", units), HOURLY),
            ("Fills, nothing drawn, in", figure(works.fill_time, "duration", units), "yield"),
            ("Short of water", _short(works.storage, works.days), HOURLY),
            ("Missing in all", _missing(plan), HOURLY),
            ("Weighs full", figure(load.mass if load else None, "mass", units), "water and shell"),
            ("Stand to bear", carries, "weight × 1.5; wind and earthquake besides"),
            ("Footings at least", _footing(plan), "soft ground, 75 kPa"),
            ("Caution", engineer, "local codes"),
        ],
    )


def _short(storage: Storage | None, days: int) -> str | None:
    if storage is None:
        return None
    return f"on {storage.shortage_days or 'none'} of {days} dry days"


def _missing(plan: Plan) -> str | None:
    works = plan.water.tank
    if works is None or works.storage is None or not works.storage.shortage_days:
        return None
    return plain(works.storage.missing, "volume", plan.site.units)


def _footing(plan: Plan) -> str | None:
    load = None if plan.water.tank is None else plan.water.tank.load
    if load is None or not plan.site.tank.stand:
        return None
    return figure(load.footing, "area", plan.site.units)
