"""Plans that are hard to draw, made from the example."""

from dataclasses import replace

import numpy as np
from shapely.geometry import box

from planner.record.value import Blocked, Finding, PlacedArea, Plan, Water
from planner.terrain.value import Provenance, Terrain
from tests.example import example_plan

NASTY = (
    "<img src=x onerror=alert(1)></script><script>alert(2)</script>\"' `${1}` {{7*7}} {% {# & 🐐"
)


def nasty_plan() -> Plan:
    """Every name a user can type holds markup, quotes, a template and an emoji."""
    plan = example_plan()
    names = {point.name: f"{point.name}{NASTY}" for point in plan.points}
    lines = tuple(
        replace(line, name=f"{line.name}{NASTY}", start=names[line.start], end=names[line.end])
        for line in plan.lines
    )
    provenance = replace(plan.terrain.provenance, files=(f"{NASTY}.tif",))
    return replace(
        plan,
        site=replace(plan.site, title=NASTY),
        terrain=replace(plan.terrain, provenance=provenance),
        points=tuple(replace(point, name=names[point.name]) for point in plan.points),
        areas=tuple(replace(area, name=NASTY) for area in plan.areas),
        lines=lines,
        blocked=(Blocked(NASTY, "main", NASTY, NASTY, "void", NASTY),),
        owners=tuple(replace(share, owner=NASTY) for share in plan.owners),
        findings=tuple(
            replace(f, line=f"{f.line}{NASTY}" if f.line else None) for f in plan.findings
        ),
    )


def blocked_plan() -> Plan:
    """No line could be laid, no water is known, nothing is found but what blocks."""
    plan = example_plan()
    wall = Blocked("main", "main", "spring", "tank", "closed", "an area closes the way", (0.0, 9.0))
    finding = Finding("note", "ram-needed", {}, line="main")
    return replace(
        plan, scheme="gravity", lines=(), blocked=(wall,), water=Water(), owners=(),
        streams=(), findings=(finding,),
    )  # fmt: skip


def bare_plan() -> Plan:
    """Only ground: no point, no area, no line."""
    return replace(blocked_plan(), points=(), areas=(), blocked=(), findings=())


def crowded_plan() -> Plan:
    """600 x 600 cells of rough ground with a hole, areas of all kinds, 300 findings."""
    plan = example_plan()
    x = np.arange(600) - 299.5
    xx, yy = np.meshgrid(x, -x)
    rough = np.random.default_rng(7).normal(scale=0.05, size=xx.shape)
    z = 500.0 + 0.1 * yy + 9.0 * np.sin(xx / 80.0) * np.cos(yy / 110.0) + rough
    z[:40, :60] = np.nan
    terrain = Terrain(
        z=z,
        cell=(1.0, 1.0),
        origin=(-300.0, 300.0),
        crs=plan.terrain.crs,
        provenance=Provenance(files=("rough.tif",), kind="lidar", standard_error=0.15),
    )
    ring = box(-140, -100, 140, 140).difference(box(-120, 90, -100, 120))
    areas = (
        *plan.areas,
        PlacedArea("rock shelf", "costly", box(-90, 0, -20, 60), factor=3.0),
        PlacedArea("our parcel", "stay", ring),
        PlacedArea("M. Alder", "owner", box(40, 20, 140, 140)),
    )
    findings = tuple(
        replace(plan.findings[0], level=("stop", "warn", "note")[k // 100], line="delivery",
                chainage_m=k * 0.6, at=None, likelihood=0.7)
        for k in range(300)
    )  # fmt: skip
    return replace(plan, terrain=terrain, areas=areas, findings=findings)
