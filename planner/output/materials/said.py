"""Fittings the user named for a line, beyond those the list counts by itself."""

from collections.abc import Iterator

from planner.output.materials.bends import elbows
from planner.output.materials.gather import Need
from planner.output.materials.joints import clamps
from planner.output.materials.sizes import fit_of
from planner.output.materials.threads import piece
from planner.output.materials.value import Group
from planner.output.materials.valves import VALVES
from planner.output.vents import apart
from planner.record.value import Line, Plan

# Fittings of `planner.hydraulics.fittings` that are bought, by what counts them here.
SAID: dict[str, tuple[Group, str]] = {
    "elbow": ("joints and bends", "Elbow 90°"),
    "half elbow": ("joints and bends", "Elbow 45°"),
    "tee branch": ("joints and bends", "Tee"),
    "tee run": ("joints and bends", "Tee"),
    "gate valve": ("valves", "Gate valve"),
    "ball valve": ("valves", "Ball valve"),
    "globe valve": ("valves", "Globe valve"),
    "swing check": ("valves", "Check valve, swing"),
}


def said_needs(plan: Plan, line: Line) -> Iterator[Need]:
    """Those named in the site file for this line; what is counted already is not counted twice."""
    left = _counted(line)
    fit = fit_of(line, line.runs[0] if line.runs else None, plan.site.units)
    for name, count in line.settings.pipe.fittings:
        if name not in SAID:
            continue  # entrance, exit and barbs are no articles of their own
        group, words = SAID[name]
        kind = "valve" if name.endswith("valve") else name.split()[0]
        had = min(left.get(kind, 0), count)
        left[kind] = left.get(kind, 0) - had
        more = count - had
        ends = 2 if group == "joints and bends" else 0
        yield Need(piece(group, words, fit), line.name, more, "named in the site file", threads=0)
        if more > 0:
            yield from clamps(fit, line.name, ends * more)


def _counted(line: Line) -> dict[str, int]:
    """What the list holds of each kind by itself."""
    vents = () if line.air is None else line.air.vents
    tees = len(line.low_points) + sum(one.vent is not None for one in vents)
    tees += len(apart(line, "vent")) + len(apart(line, "washout"))
    turned = len(elbows(line))
    return {"valve": int(line.role in VALVES), "elbow": turned, "half": 0, "tee": tees}
