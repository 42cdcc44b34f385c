"""A deeper trench: for a high point, for a rigid pipe, below the frost."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import shapely

from planner.profile.lay import lay, lay_falling
from planner.profile.value import FloatArray
from planner.record.value import Finding, Line, Plan
from planner.remedies.found import line_of, sample_of
from planner.remedies.text import at_least
from planner.remedies.value import Remedy
from planner.site.edits.value import Edit, SetValue, Several
from planner.units.parse import parse

SHORED = 1.5  # m; from here a trench needs protection, 5 ft [S84]
DEEPEST = 3.0  # m, setting: deeper nobody digs for a small pipe
NOTICED = 0.05  # m; no trench is dug truer than that
FALLING = ("supply", "waste", "overflow")
LEAST_SLACK = 0.5  # m of depth left to choose from under the cover wanted
PROPPED_MOST = 2.0  # m, setting: higher supports are an engineer's work


def deepen(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A trench so deep that a high point goes, where the ground can be dug so deep."""
    line, more = line_of(plan, finding), finding.values.get("deeper_m")
    spared = finding.values.get("case") == "spared"  # it takes no vent, and no trench
    if line is None or spared or not isinstance(more, float) or sample_of(line, finding) is None:
        return
    text = at_least(line.settings.laying.deepest_trench + max(more, NOTICED), plan.site.units)
    depth = parse(text, "length")
    if depth <= DEEPEST and _fewer(plan, line, depth):
        edit = SetValue(("lines", line.role, "deepest_trench"), text)
        yield Remedy("deepen", f"Dig to {text}{_shored(depth)}", edit)


def rigid(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A drive pipe let into the ground, or propped above it, as deep or as high as it runs."""
    line = line_of(plan, finding)
    if line is None:
        return
    if finding.values["case"] == "dug":
        text = at_least(float(finding.values["depth_m"]), plan.site.units)
        depth = parse(text, "length")
        if depth <= DEEPEST:
            edit = SetValue(("lines", line.role, "deepest_trench"), text)
            yield Remedy("deepen", f"Dig to {text}{_shored(depth)}", edit)
    elif line.settings.laying.manner == "surface":
        text = at_least(float(finding.values["height_m"]), plan.site.units)
        if parse(text, "length") <= PROPPED_MOST:
            edit = SetValue(("lines", line.role, "propped"), text)
            yield Remedy("prop", f"Prop it up to {text}", edit)


def below_frost(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A line buried below the frost; not a drive pipe, which can't follow the ground."""
    line = line_of(plan, finding)
    if line is None or line.role == "drive":
        return
    laying, place = line.settings.laying, ("lines", line.role)
    text = at_least(float(finding.values["wanted_m"]), plan.site.units)
    cover = parse(text, "length")
    deepest = max(laying.deepest_trench, cover + LEAST_SLACK)
    if deepest > DEEPEST:
        return
    edits: list[Edit] = []
    if laying.manner == "surface":
        edits = [SetValue((*place, "propped"), None), SetValue((*place, "laid"), "buried")]
    edits += [
        SetValue((*place, "deepest_trench"), at_least(deepest, plan.site.units)),
        SetValue((*place, "least_cover"), text),
    ]
    yield Remedy("bury", f"Bury it {text} deep", Several(f"bury the {line.role} line", (*edits,)))


def _shored(depth: float) -> str:
    return ", shored" if depth >= SHORED else ""


def _fewer(plan: Plan, line: Line, depth: float) -> bool:
    """Whether the line, where it runs, has fewer high points in so deep a trench."""
    laying = replace(line.settings.laying, deepest_trench=depth)
    slack = np.maximum(_dug(plan, line, depth) - laying.least_cover, 0.0)
    cover, least = laying.least_cover, laying.least_grade
    if line.role in FALLING:
        fallen = lay_falling(
            line.profile, cover=cover, slack=slack, least=least, greatest=laying.greatest_grade
        )
        if fallen is not None:
            return True
    laid = lay(
        line.profile,
        cover=cover,
        slack=slack,
        least=least,
        start="closed" if line.role == "delivery" else "open",
    )
    return len(laid.high_points) < len(line.high_points)


def _dug(plan: Plan, line: Line, depth: float) -> FloatArray:
    """(n,) how deep can be dug at each sample, rock and the like told by areas."""
    deepest, x, y = np.full(line.profile.run.size, depth), *line.profile.xy.T
    reach = max(plan.terrain.cell)
    for area in plan.areas:
        if area.role == "costly" and area.deepest_trench is not None:
            inside = shapely.contains_xy(area.shape.buffer(reach), x, y)
            deepest[inside] = np.minimum(deepest[inside], area.deepest_trench)
    return deepest
