"""What stands at the points of the plan: intake, chamber, ram, tank, break-pressure tanks."""

import math
from collections.abc import Iterator

from planner.output.materials.gather import Need
from planner.output.materials.machine import machine_needs
from planner.output.materials.storage import storage_needs
from planner.output.materials.value import Article
from planner.record.value import Plan
from planner.units.show import show
from planner.wording.quantity import show as show_kind

# Widest hole of a screen where the ram's valve gap is not known, m [trade guess]: half of a gap of
# 6 mm; `planner.hydraulics.intake.widest_slot` has the rule.
MESH = 0.003
LEAST = "smallest that serves the flow taken"


def structure_needs(plan: Plan, rams: int) -> Iterator[Need]:
    """Everything at the plan's points, in their order; silt settles at the source if nowhere else.

    Parameters
    ----------
    rams : int
        How many stand side by side.
    """
    chamber = any(point.role == "chamber" for point in plan.points)
    for point in plan.points:
        if point.role == "source":
            yield Need(_screen(plan), point.name, 1, LEAST)
            yield Need(_intake(plan), point.name, 1, "holds the water over the pipe's mouth")
        if point.role == "chamber" or (point.role == "source" and not chamber):
            yield Need(_chamber(plan), point.name, 1, LEAST)
            scour = _part("chamber-scour-valve", "Scour valve with pipe, chamber")
            yield Need(scour, point.name, 1, "lets the silt out")
        if point.role == "pump":
            yield from machine_needs(plan, point, rams)
        elif point.role == "tank":
            yield from storage_needs(plan, point)
    yield from _break_pressure(plan)


def _part(code: str, words: str) -> Article:
    return Article(code, "intake and chamber", "buy", words, "piece")


def _screen(plan: Plan) -> Article:
    units, works = plan.site.units, plan.water.intake
    words = f"Intake screen, holes of {show(MESH, 'bore', units)} at most"
    if works is not None:
        screen = works.screen
        face, holes = (show_kind(a, "face", units) for a in (screen.plate, screen.opening))
        words += f", {face} with its frame, {holes} of it open"
    return _part("intake-screen", words)


def _intake(plan: Plan) -> Article:
    works = plan.water.intake
    words = "Spring box or weir with lid, overflow and scour pipe"
    if works is not None:
        cover = show(works.cover, "level", plan.site.units)
        words += f", {cover} of water over the pipe's mouth"
    return _part("spring-box", words)


def _chamber(plan: Plan) -> Article:
    units, works = plan.site.units, plan.water.intake
    words = "Settling chamber with lid, inlet baffle, overflow and screened air hole"
    if works is not None and math.isfinite(works.chamber.length):
        box = works.chamber
        sides = (show(side, "level", units) for side in (box.length, box.width, box.depth))
        holds = show(box.volume, "volume", units)
        words += f", {' × '.join(sides)} of water inside ({holds})"
    return _part("settling-chamber", words)


def _break_pressure(plan: Plan) -> Iterator[Need]:
    words = "Break-pressure tank with lid, float valve, overflow and vent"
    tank = Article("break-pressure-tank", "tank", "buy", words, "piece")
    for line in plan.lines:
        tanks = None if line.pressure is None else line.pressure.tanks
        for index in () if tanks is None else tanks.tanks:
            at = show(float(line.profile.chainage[index]), "length", plan.site.units)
            yield Need(tank, line.name, 1, f"at {at}")
