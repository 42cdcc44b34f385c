"""Rows of fall, lift and what is delivered."""

import math

from planner.band import Band
from planner.output.map.panel import delivered_label
from planner.output.water.row import DARCY, Group, figure, group
from planner.record.value import Plan, SchemeKind
from planner.site.value import RamMake
from planner.units.show import Quantity, band_text, decimals_of

RAMS: dict[RamMake, str] = {
    "commercial": "table of trade yields",
    "home-made": "home-made rams as measured",
}
FLOWS: dict[SchemeKind, str] = {"gravity": DARCY, "ram": "", "powered": "pump curve"}


def heads_group(plan: Plan) -> Group:
    """Fall, lift, friction and their ratios."""
    water, units = plan.water, plan.site.units
    levels = "levels and their error"
    return group(
        "Fall and lift",
        [
            ("Fall", _height(plan, water.fall), levels),
            ("Lift", _height(plan, water.lift), levels),
            ("Lost to friction on the way up", figure(water.lift_friction, "height", units), DARCY),
            ("Lift to fall, friction counted", _ratio(lift_ratio(plan)), "heads at the ram"),
            ("Drive pipe, length to fall", _ratio(water.drive_length_to_fall), "profile"),
            ("Drive pipe, length to bore", _ratio(water.drive_length_to_bore), "profile"),
        ],
    )


def yield_group(plan: Plan) -> Group:
    """Delivered, needed, wasted."""
    water = plan.water
    source = yield_source(plan)
    need = water.need_band
    if need is None and water.need is not None:
        need = Band.exact(water.need)
    told = "site file" if plan.site.need is not None else "table of daily needs"
    return group(
        "Yield",
        [
            (delivered_label(plan), _band(plan, water.delivered, "per_day"), source),
            ("Needed", _band(plan, need, "per_day"), told),
            ("Wasted by the ram, back to the stream", _band(plan, water.spent, "flow"), source),
        ],
    )


def yield_source(plan: Plan) -> str:
    """What the water delivered hangs on."""
    if plan.scheme != "ram":
        return FLOWS[plan.scheme]
    return "measured on this ram" if plan.site.ram.measured else RAMS[plan.site.ram.make]


def lift_ratio(plan: Plan) -> float | None:
    """Head the ram works against, over its fall; None where either isn't known."""
    water = plan.water
    if plan.scheme != "ram" or water.fall is None or water.lift is None:
        return None
    fall = float(water.fall.expected)
    return (float(water.lift.expected) + (water.lift_friction or 0.0)) / fall if fall > 0 else None


def _band(plan: Plan, value: Band | None, quantity: Quantity) -> str | None:
    if value is None or not math.isfinite(float(value.expected)):
        return None
    return band_text(value, quantity, plan.site.units)


def _height(plan: Plan, value: Band | None) -> str | None:
    """A difference of levels, as fine as it is known."""
    if value is None or not math.isfinite(float(value.expected)):
        return None
    return band_text(value, "level", plan.site.units, decimals=decimals_of(value))


def _ratio(value: float | None) -> str | None:
    if value is None or not math.isfinite(value):
        return None
    return f"{value:,.1f} to 1" if value < 100.0 else f"{value:,.0f} to 1"
