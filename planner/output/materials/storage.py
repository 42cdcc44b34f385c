"""The tank, its overflow, its drain and its stand."""

import math
from collections.abc import Iterator

from planner.output.materials.gather import Need
from planner.output.materials.sizes import slug
from planner.output.materials.value import Article
from planner.record.value import Placed, Plan
from planner.units.show import show


def storage_needs(plan: Plan, point: Placed) -> Iterator[Need]:
    """What stands at the tank's point."""
    yield _tank(plan, point)
    drain = _part("tank-drain-valve", "Drain valve, tank")
    yield Need(drain, point.name, 1, "empties it for cleaning")
    for line in plan.lines:
        if line.role == "overflow" and line.start == point.name:
            wide = show(line.settings.pipe.bore, "bore", plan.site.units)
            words = f"Overflow bend inside the tank, {wide} bore"
            bend = _part(slug(f"overflow-bend {wide}"), words)
            yield Need(bend, point.name, 1, "its mouth under the inlet, never shut")
    if plan.site.tank.stand > 0.0:
        stand = _part("tank-stand", _stand_words(plan))
        yield Need(stand, point.name, 1, "weight × 1.5; wind and earthquake besides")


def _part(code: str, words: str) -> Article:
    return Article(code, "tank", "buy", words, "piece")


def _tank(plan: Plan, point: Placed) -> Need:
    words = "Tank with lid, screened vent and manhole"
    volume, why = _volume(plan)
    holds = "volume not chosen" if volume is None else show(volume, "volume", plan.site.units)
    return Need(_part(slug(f"tank {holds}"), f"{words}, {holds}"), point.name, 1, why)


def _volume(plan: Plan) -> tuple[float | None, str]:
    """What it holds [m³], and on what that stands."""
    works = plan.water.tank
    if plan.site.tank.volume is not None:
        return plan.site.tank.volume, "as given"
    if works is not None and works.volume is not None:
        return works.volume, "as given"
    if works is not None and math.isfinite(works.smallest):
        return works.smallest, f"smallest that serves over {works.days} dry days"
    return None, "no need is told, from which to find it"


def _stand_words(plan: Plan) -> str:
    works = plan.water.tank
    words = f"Stand for the tank, {show(plan.site.tank.stand, 'length', plan.site.units)} high"
    if works is None or works.load is None:
        return words
    load = works.load
    words += f", to bear {load.design_weight / 1e3:,.0f} kN and wind"
    return f"{words}, drawn by an engineer" if load.engineer else words
