"""The ram or pump, what it stands on and in, and what wears in it."""

from collections.abc import Iterator

import numpy as np

from planner.output.materials.gather import Need
from planner.output.materials.sizes import slug
from planner.output.materials.value import Article, Unit
from planner.record.value import Placed, Plan
from planner.units.show import show
from planner.wording.quantity import show as show_kind

# A block of concrete under each machine, m [trade guess]: wider than its foot, and heavy enough
# not to walk under some sixty blows a minute.
PAD = (0.6, 0.6, 0.2)
DRY_MIX = 2100.0  # kg of cement, sand and gravel in a cubic metre of concrete, without its water
RUBBERS = 2  # sets of valve rubbers to keep for each ram [trade guess]: one wears, one is lost
BOLTS = 4  # of each machine's foot
# Bore of the drive pipe, mm, and air in the vessel, L: a German makers' list (hydraulics notes).
VESSELS = ((19, 25, 30, 50, 65, 80), (2.5, 3.5, 6.0, 10.0, 20.0, 45.0))


def machine_needs(plan: Plan, point: Placed, rams: int) -> Iterator[Need]:
    """What stands at the pump's point; `rams` side by side."""
    if plan.scheme == "powered":
        pump = _part("pump", "Pump to the curve given, with its drive and cable or fuel")
        yield Need(pump, point.name, 1, "the site file's pump")
        yield from _footing(plan, point, 1)
        return
    yield Need(_ram(plan), point.name, rams, _reason(plan, rams))
    yield from _vessel(plan, point, rams)
    bushes = _part("ram-bushes", "Reducing bushes, ram to drive and delivery pipe", "set")
    yield Need(bushes, point.name, rams, "as the maker's sizes ask")
    rubbers = _part("ram-valve-rubbers", "Waste and delivery valve rubbers, spare", "set")
    yield Need(rubbers, point.name, RUBBERS * rams, f"{RUBBERS} sets a ram")
    gaskets = _part("ram-gaskets", "Gaskets for the ram's flanges, spare", "set")
    yield Need(gaskets, point.name, rams, "one set a ram")
    pit = _part("ram-pit", "Pit or house for the ram, with lid and drain")
    yield Need(pit, point.name, 1, "keeps frost and flood out, lets the spent water go")
    yield from _footing(plan, point, rams)


def _vessel(plan: Plan, point: Placed, rams: int) -> Iterator[Need]:
    """The air vessel of a home-made ram; a bought one has its own."""
    works = plan.water.ram
    if plan.site.ram.make == "commercial" or works is None or not works.options:
        return
    litres = float(np.interp(works.options[0].size.bore * 1e3, *VESSELS))
    holds = show(litres / 1e3, "volume", plan.site.units)
    vessel = _part(slug(f"air-vessel {holds}"), f"Air vessel for the ram, {holds} or more")
    yield Need(vessel, point.name, rams, "makers' list, by the drive pipe")


def _footing(plan: Plan, point: Placed, count: int) -> Iterator[Need]:
    words = "Concrete for the pad, dry mix"
    concrete = Article("concrete-dry-mix", "ram", "buy", words, "m³", mass=DRY_MIX)
    sides = " × ".join(show(side, "length", plan.site.units) for side in PAD)
    long, wide, thick = PAD
    yield Need(concrete, point.name, long * wide * thick * count, f"{sides} for each machine")
    bolts = _part("anchor-bolts", "Anchor bolts with nuts, galvanised")
    yield Need(bolts, point.name, BOLTS * count, f"{BOLTS} for each machine")


def _part(code: str, words: str, unit: Unit = "piece") -> Article:
    return Article(code, "ram", "buy", words, unit)


def _ram(plan: Plan) -> Article:
    works = plan.water.ram
    words = f"Hydraulic ram, {plan.site.ram.make}, with its snifter"
    if plan.site.ram.make == "commercial":
        words = "Hydraulic ram, commercial, with its air vessel and snifter"
    if works is None or not works.options:
        return _part("ram", f"{words}; size not chosen")
    bore = works.options[0].size.bore
    size = show_kind(bore, "size", plan.site.units)
    bears = show(works.peak.design, "head", plan.site.units, decimals=0)
    words += f", for a drive pipe of {size}, to bear {bears} of surge"
    return _part(f"ram-{bore * 1e3:.0f}-mm", words)


def _reason(plan: Plan, rams: int) -> str:
    works = plan.water.ram
    if works is None or not works.options:
        return "choose it by the drive flow, fall and lift"
    if rams > 1:
        return f"{rams} side by side take the flow, each with its own drive pipe"
    return "one takes the flow"
