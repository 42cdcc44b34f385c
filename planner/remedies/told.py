"""What is put into the site file or taken out of it, because a finding asks for just that."""

import math
from collections.abc import Iterator

from planner.checks.source import SHARE_LEFT
from planner.record.value import Finding, Plan
from planner.remedies.found import line_of
from planner.remedies.text import at_least, holding
from planner.remedies.value import Remedy
from planner.site.edits.value import (
    AddPoint,
    DeletePoint,
    SetArea,
    SetPoint,
    SetValue,
)

STEEPEST = 0.5  # a steeper grade no site file takes
RAISED_MOST = 3.0  # m, setting: a tank raised by more is another site


def chamber(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A chamber where the program put it, as a point of the sketch that can be moved."""
    name = str(finding.values["point"])
    point = next((one for one in plan.points if one.name == name), None)
    if point is not None:
        edit = AddPoint("chamber", (point.lonlat[0], point.lonlat[1]), name)
        yield Remedy("keep", "Put it into the sketch", edit)


def point_out(_: Plan, finding: Finding) -> Iterator[Remedy]:
    """A point that no line serves, taken out of the sketch."""
    yield Remedy("take-out", "Take it out", DeletePoint(str(finding.values["point"])))


def area_out(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """Ground too hard to dig closed to every line."""
    name, depth = finding.values["area"], finding.values["depth_m"]
    for number, area in enumerate(plan.areas):
        if area.name == name and area.deepest_trench == depth and area.role == "costly":
            yield Remedy("avoid", "Lead lines round it", SetArea(number, "role", "avoid"))
            return


def steeper(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A steeper grade allowed, where there is no gentler way."""
    line, share = line_of(plan, finding), math.ceil(float(finding.values["grade"]) * 100.0)
    if line is not None and share <= STEEPEST * 100.0:
        edit = SetValue(("lines", line.role, "greatest_grade"), f"{share} %")
        yield Remedy("steeper", f"Allow {share} %", edit)


def bend(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """One bend allowed in a drive pipe that can't lie straight."""
    line = line_of(plan, finding)
    if line is not None and not line.settings.laying.bend:
        yield Remedy("bend", "Allow one bend", SetValue(("lines", "drive", "bend"), value=True))


def tank_volume(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """The smallest tank that serves the need, rounded up."""
    volume = float(finding.values["smallest_m3"])
    if math.isfinite(volume) and volume > 0.0:
        text = holding(volume, plan.site.units)
        yield Remedy("tank", f"Take a tank of {text}", SetValue(("tank", "volume"), text))


def tank_height(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A tank on a stand so high that the water reaches the outlet."""
    line, short = line_of(plan, finding), finding.values.get("short_m")
    if line is None or not isinstance(short, float) or short > RAISED_MOST:
        return
    tank = next((one for one in plan.site.sketch.role("tank") if one.name == line.start), None)
    if tank is not None:
        text = at_least(tank.height + short, plan.site.units)
        words = f"Set the tank's inlet {text} above the ground"
        yield Remedy("raise", words, SetPoint(tank.name, "height", text))


def share_left(_: Plan, finding: Finding) -> Iterator[Remedy]:
    """The usual share of the lowest flow left in the stream."""
    text = f"{SHARE_LEFT.value:.0%}".replace("%", " %")
    yield Remedy("share", f"Leave {text}", SetValue(("source", "share_left"), text))


def valve(_: Plan, __: Finding) -> Iterator[Remedy]:
    """A waste valve tuned to the flow there is, in place of the load that was told."""
    edit = SetValue(("pump", "closing_velocity"), None)
    yield Remedy("tune", "Tune the valve to the flow", edit)


def look_again(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A way looked for, in place of the line that was walked."""
    if finding.line is not None and finding.line in plan.site.measured.walked:
        edit = SetValue(("measured", "walked", finding.line), None)
        yield Remedy("look", "Look for a way instead", edit)
