"""Printed papers read back, and plans of every kind to print."""

from dataclasses import replace
from pathlib import Path

from pypdf import PdfReader

from planner.band import Band
from planner.record.value import Line, Plan, Water
from planner.site.value import Units
from tests.output.worked import worked_plan
from tests.staked import HOSTILE, field_plan, full_plan

HOSTILE_NAME = "<b>Mill & Co</b> שלום 💧\nweir " + "long " * 30


def pages_of(path: Path) -> list[str]:
    """The text of each page, its white space made one."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(path).pages]


def sizes_of(path: Path) -> set[float]:
    """Every size of type [pt] that is on the paper."""
    found: set[float] = set()

    def visit(text: str, _: object, tm: list[float], __: object, size: float) -> None:
        if text.strip():
            found.add(round(abs(size * tm[3]), 2))

    for page in PdfReader(path).pages:
        page.extract_text(visitor_text=visit)
    return found


def ram_plan(units: Units = "metric") -> Plan:
    """A ram scheme with its workings, pressures and a vent."""
    return worked_plan(units)


def gravity_plan(units: Units = "metric") -> Plan:
    """A main from spring to tank with one vent and one low point, no chamber, no ram."""
    plan = field_plan()
    delivery, tap = plan.lines[2], plan.lines[3]
    main = replace(delivery, name="main", role="main", start="spring", built=None)
    return replace(
        plan,
        site=replace(plan.site, units=units),
        scheme="gravity",
        scheme_reason="tank-below-source",
        points=tuple(p for p in plan.points if p.role not in ("chamber", "pump")),
        lines=(main, tap),
        water=Water(source_flow=5e-4, taken=3.5e-4, fall=Band(11.0, 12.0, 13.0)),
    )


def powered_plan(units: Units = "metric") -> Plan:
    """A powered pump at the ram's place."""
    plan = full_plan()
    return replace(
        plan,
        site=replace(plan.site, units=units),
        scheme="powered",
        scheme_reason="pump-curve",
        water=replace(plan.water, pump_draws=4e-4),
    )


def blocked_plan() -> Plan:
    """No line at all."""
    return replace(full_plan(), lines=())


def hostile_plan() -> Plan:
    """Every name is an attack or a nuisance."""
    plan = field_plan()
    names = {point.name: f"{number} {HOSTILE_NAME}" for number, point in enumerate(plan.points)}
    return replace(
        plan,
        site=replace(
            plan.site,
            title=HOSTILE_NAME,
            papers=replace(plan.site.papers, owner=HOSTILE, told=(HOSTILE, "<para>x</b>")),
        ),
        points=tuple(replace(point, name=names[point.name]) for point in plan.points),
        lines=tuple(
            replace(line, start=names[line.start], end=names[line.end]) for line in plan.lines
        ),
        owners=tuple(replace(share, owner=HOSTILE) for share in plan.owners),
    )


def big_plan(count: int = 16) -> Plan:
    """So many distribution lines, each with a vent, a washout and a crossing."""
    plan = hostile_plan()
    delivery = plan.lines[2]
    more: list[Line] = [
        replace(delivery, name=f"distribution-{number}", role="distribution", built=None)
        for number in range(count)
    ]
    return replace(plan, lines=(*plan.lines, *more), owners=plan.owners * 30)
