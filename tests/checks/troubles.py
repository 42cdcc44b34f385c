"""One plan in trouble for each sentence there is: by the key of its text."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from shapely.geometry import LineString, box

from planner.band import Band
from planner.chain.crossed import crossed
from planner.hydraulics.part_full import PartFull
from planner.profile.value import Stretch
from planner.record.value import Blocked, OwnerShare, PlacedArea, Plan
from planner.site.value import Crossing, Laying, Point, PoweredPump
from planner.terrain.drainage import Stream
from planner.terrain.frame import to_lonlat
from tests.checks import fits, works
from tests.checks.altered import (
    base,
    drawn,
    fall,
    laying,
    line,
    line_water,
    only,
    pipe,
    point,
    provenance,
    put,
    site,
    source,
    water,
    without,
)
from tests.checks.surveyed import closing, surveyed, walked

NAN = float("nan")
UNKNOWN = Band(NAN, NAN, NAN)

AIRED = (PartFull(0.0, 10.0, 0.1, 0.4, 1.2),)  # ten metres with air above the water


def blocked(obstacle: str, *, at: str | None = None, end: str = "tank") -> Plan:
    """A delivery that fails on its way, or at a point of the plan."""
    line = Blocked(
        "delivery",
        "delivery",
        "ram",
        end,
        obstacle,  # type: ignore[arg-type]
        "the search ended",
        where=(30.5, -20.0) if at is None else next(p.xy for p in base().points if p.name == at),
        shortfall=1.4,
        edge=(30.5, 10.0) if obstacle == "grade" else None,
    )
    return put(blocked=(line,), lines=base().lines[:2])


def sketched(role: str, name: str) -> Plan:
    """The example with one more point that no line serves."""
    more = Point(name, role, (11.2, 47.3))  # type: ignore[arg-type]
    sketch = base().site.sketch
    return site(sketch=replace(sketch, points=(*sketch.points, more)))


def gravity() -> Plan:
    """The tank below the source; the pump point is left over."""
    plan = replace(base(), scheme="gravity", scheme_reason="tank-below-source")
    plan = replace(plan, lines=plan.lines[3:])
    return point("tank", plan, level=480.0)


def swap_filled() -> Plan:
    profile = base().line("delivery").profile
    filled = np.zeros(profile.run.size, dtype=bool)
    filled[40:60] = True
    return line("delivery", profile=replace(profile, filled=filled))


def siphon(above: float) -> Plan:
    one = drawn("main", [0, 50, 100], [500, 505, 490], opened=505.0 - above)
    return only(replace(one, settings=replace(one.settings, siphon=True)))


def surface_in_frost() -> Plan:
    plan = site(frost_depth=0.6)
    now = plan.line("delivery").settings
    surface = Laying("surface", -0.3, 0.0, 0.005)
    return line("delivery", plan, settings=replace(now, laying=surface))


def waste(end_ground: float) -> Plan:
    return only(drawn("waste", [0, 10, 20], [505, 504, end_ground - 0.5], start="ram", end="out"))


def waste_beside_stream() -> Plan:
    """The waste line's end lies under the stream that passes 5 m from it."""
    plan = waste(490.0)
    return replace(plan, streams=(Stream(np.array([[15.0, -85.0], [25.0, -85.0]]), 1e5),))


def drive(run: list[float], levels: list[float]) -> Plan:
    return only(drawn("drive", run, levels, start="chamber", end="ram"))


def bent_drive() -> Plan:
    profile = base().line("drive").profile
    xy = profile.xy.copy()
    xy[xy.shape[0] // 2, 1] += 1.0
    return line("drive", profile=replace(profile, xy=xy))


def drive_over_ground(rise: float) -> Plan:
    """A straight drive pipe 0.5 m deep, its ground halfway higher by `rise`."""
    one = drawn("drive", [0, 10, 20], [500, 495, 490], start="chamber", end="ram")
    ground = one.profile.ground.copy()
    ground[1] += rise
    return only(replace(one, profile=replace(one.profile, ground=ground)))


def powered(head: float) -> Plan:
    plan = put(scheme="powered", scheme_reason="pump-curve")
    return site(plan, powered=PoweredPump(((0.0, head), (1e-3, head / 2))))


def hump(**keys: float) -> Plan:
    return only(drawn("main", [0, 50, 100], [500, 505, 490], **keys))  # type: ignore[arg-type]


def propped_drive(height: float) -> Plan:
    """A straight drive pipe from ground to ground, a hollow halfway under it."""
    one = drawn("drive", [0, 10, 20], [500, 495, 490], cover=0.0, start="chamber", end="ram")
    ground = one.profile.ground.copy()
    ground[1] -= height
    return only(replace(one, profile=replace(one.profile, ground=ground)))


def road_crossed() -> Plan:
    """A road from north to south, twenty metres along a line due east."""
    road = LineString(to_lonlat(base().terrain, [(20.0, -120.0), (20.0, -60.0)]))
    one = drawn("main", [0.0, 50.0, 100.0], [500.0, 500.0, 500.0])
    return crossing(only(one), Crossing("Mill lane", road, 20.0))


def crossing(plan: Plan, *drawn: Crossing) -> Plan:
    """The plan whose sketch has these to cross, and its lines as the chain tells them."""
    sketch = replace(plan.site.sketch, crossings=drawn)
    lines = (
        replace(line, crossed=crossed(line, plan.terrain, sketch, plan.streams))
        for line in plan.lines
    )
    return replace(site(plan, sketch=sketch), lines=tuple(lines))


def on_rock(depth: float) -> Plan:
    """A line half a metre deep, ten metres of it on ground that can be dug so deep only."""
    rock = PlacedArea("slabs", "costly", box(20, -100, 30, -80), 3.0, depth)
    one = drawn("main", [float(x) for x in range(101)], [500.0] * 101)
    return replace(only(one), areas=(rock,))


def steep_supply(grade: float) -> Plan:
    one = drawn("supply", [0.0, 50.0, 60.0, 100.0], [500.0, 497.5, 496.0, 494.0])
    return laying("supply", only(one), greatest_grade=grade)


TROUBLES: dict[str, Callable[[], Plan]] = {
    "height-unit-assumed": lambda: provenance(height_unit_assumed=True),
    "height-unit-doubt": lambda: provenance(height_unit_doubt="a tenth of it is over 70 % steep."),
    "surface-model": lambda: provenance(surface_model=True),
    "data-too-coarse": lambda: provenance(fall(3.0), native_cell=30.0),
    "data-coarsened": lambda: provenance(coarsened=4),
    "files-unused": lambda: provenance(lost_files=("north.tif", "east.tif")),
    "sketch-ignored": lambda: site(sketch=replace(base().site.sketch, ignored=("Sprnig",))),
    "swapped-coordinates": lambda: site(sketch=replace(base().site.sketch, swapped=True)),
    "on-filled-data": swap_filled,
    "fall-not-proven/stop": lambda: fall(2.0, error=1.0),
    "fall-not-proven/warn": lambda: fall(2.0, error=0.5),
    "fall-not-proven/note": lambda: fall(2.0, error=0.1),
    "fall-not-proven/half": lambda: surveyed(fall(2.0, error=0.1), names=("ram",)),
    "levels-used": surveyed,
    "levels-shifted": lambda: surveyed(shift=30.1),
    "levels-not-closing": lambda: closing(0.02, 0.012),
    "levels-not-closing/fall": lambda: closing(0.5, 0.012),
    "levels-noted": lambda: surveyed(notes=("A drift of 3 m was taken out.",)),
    "elevation-data-off": lambda: surveyed(spread_before=1.0),
    "line-walked": walked,
    "line-walked/built": lambda: walked(built=True),
    "gravity-works": gravity,
    "ram-needed": base,
    "ram-needed/little-fall": lambda: point("spring", level=base().point("tank").level + 0.2),
    "powered": lambda: powered(60.0),
    "ram-above-source": lambda: point("ram", level=520.0),
    "tank-above-source": lambda: without("pump"),
    "tank-above-source/little-fall": lambda: point(
        "spring", without("pump"), level=base().point("tank").level + 0.2
    ),
    "not-planned": lambda: sketched("source", "upper spring"),
    "not-planned/chamber": lambda: sketched("chamber", "old chamber"),
    "not-planned/way": lambda: sketched("way", "peg"),
    "not-planned/outlet": lambda: sketched("outlet", "garden"),
    "pump-not-used": gravity,
    "chamber-placed": lambda: point("chamber", by_program=True),
    "line-blocked/closed": lambda: blocked("closed"),
    "line-blocked/void": lambda: blocked("void"),
    "line-blocked/fall": lambda: blocked("fall"),
    "line-blocked/grade": lambda: blocked("grade"),
    "line-blocked/edge": lambda: blocked("edge"),
    "line-blocked/closed-end": lambda: blocked("closed", at="tank"),
    "line-blocked/void-end": lambda: blocked("void", at="ram"),
    "line-blocked/edge-end": lambda: blocked("edge", at="tank"),
    "line-blocked/same": lambda: blocked("grade", at="ram", end="ram"),
    "leaves-stay": lambda: put(areas=(PlacedArea("home", "stay", box(-200, -200, 0, 200)),)),
    "stream-crossing": lambda: put(streams=(Stream(np.array([[0.0, -80.0], [0.0, 80.0]]), 1e5),)),
    "too-steep": lambda: only(drawn("main", [0, 10, 20, 30], [500, 492, 484, 476])),
    "crosses-owner": lambda: put(owners=(OwnerShare("delivery", "Upper Farm", 42.0),)),
    "nobodys-land": lambda: put(areas=(PlacedArea("Upper Farm", "owner", box(0, 0, 9, 9)),)),
    "air-trap": lambda: hump(opened=515.0),
    "air-trap/doubtful": lambda: provenance(hump(opened=515.0), standard_error=2.0),
    "air-trap/clears": lambda: works.crest(velocity=1.5),
    "air-trap/standpipe": lambda: works.crest(opened=508.0, closed=508.0),
    "air-trap/air-valve": works.crest,
    "air-trap/hand-cock": lambda: works.crest(opened=507.0, closed=530.0),
    "air-trap/no-vent": lambda: works.crest(opened=506.0, closed=504.5),
    "air-trap/spared": lambda: works.crest("main"),
    "air-trap/unhelped": lambda: works.undulating(104.0, friction=20.0),
    "air-lock": lambda: works.undulating(100.0),
    "air-lock/locked": lambda: works.undulating(100.0, opened=93.0),
    "air-lock/running": lambda: works.undulating(104.0, friction=20.0),
    "reverse-grade/high": lambda: only(drawn("supply", [0, 10, 20], [500, 501, 499])),
    "reverse-grade/low": lambda: only(drawn("supply", [0, 10, 20], [500, 498, 499])),
    "flat-stretch": lambda: line("delivery", flats=(Stretch(12.0, 17.5),)),
    "sag-wont-drain": base,
    "sag-wont-drain/frost": lambda: site(season="summer"),
    "crest-above-grade-line": lambda: hump(opened=504.0),
    "crest-above-grade-line/source": lambda: hump(opened=502.0, closed=503.0),
    "crest-above-grade-line/delivery": lambda: only(
        drawn("delivery", [0, 50, 100], [480, 505, 500], start="ram", end="tank", opened=503.0)
    ),
    "crest-above-grade-line/siphon": lambda: siphon(2.0),
    "crest-above-grade-line/siphon-high": lambda: siphon(6.9),
    "crest-low-pressure": lambda: hump(opened=507.0),
    "drive-length-to-fall/short": lambda: water(drive_length_to_fall=2.5),
    "drive-length-to-fall/long": lambda: water(drive_length_to_fall=11.0),
    "drive-length-to-bore/short": lambda: water(drive_length_to_bore=120.0),
    "drive-length-to-bore/long": lambda: water(drive_length_to_bore=1200.0),
    "drive-too-flat": lambda: drive([0, 20], [500, 499]),
    "drive-too-steep": lambda: drive([0, 10], [500, 489]),
    "drive-not-straight": bent_drive,
    "drive-not-straight/profile": lambda: drive([0, 10, 20], [500, 497, 496]),
    "drive-not-straight/asked": lambda: laying("drive", bent_drive(), bend=True),
    "drive-supports/propped": lambda: propped_drive(0.4),
    "drive-supports/dug": lambda: drive_over_ground(0.0),
    "drive-supports/both": lambda: drive_over_ground(-0.9),
    "crossing-drawn": road_crossed,
    "steeper-than-asked": lambda: steep_supply(0.1),
    "trench-too-shallow": lambda: on_rock(0.2),
    "drive-off-ground/dug": lambda: drive_over_ground(2.0),
    "drive-off-ground/propped": lambda: drive_over_ground(-1.5),
    "ram-stalls": lambda: works.ram(closing=9.0),
    "ram-beats/fast": lambda: works.ram(9.0),
    "ram-beats/slow": lambda: works.ram(80.0),
    "ram-beats/nothing": lambda: works.ram(closing=0.05),
    "pump-draws-more": lambda: water(powered(60.0), pump_draws=9e-4, taken=4e-4),
    "ram-draws-more": lambda: works.ram(taken=3e-4),
    "ram-peak/beating": lambda: pipe("drive", rating=25.0),
    "ram-peak/blocked": works.ram,
    "ram-size/single": works.ram,
    "ram-size/parallel": lambda: works.ram(flow=0.02, bore=0.25),
    "ram-size/stages": lambda: works.ram(lift=60.0),
    "ram-size/wide": lambda: works.ram(bore=0.12),
    "ram-size/narrow": lambda: works.ram(bore=0.03),
    "ram-size/none": lambda: works.ram(flow=1e-5),
    "delivery-size/fits": works.ram,
    "delivery-size/wide": lambda: works.ram(line=(400.0, 0.0266)),
    "delivery-size/narrow": lambda: works.ram(line=(400.0, 0.0158)),
    "delivery-size/none": lambda: works.ram(bores=(0.006, 0.008)),
    "ram-start": works.ram,
    "fall-low/stop": lambda: fall(0.4),
    "fall-low/warn": lambda: fall(0.8),
    "fall-low/note": lambda: fall(1.5),
    "fall-high": lambda: fall(16.0),
    "lift-ratio/warn": lambda: water(fall(2.0), lift=Band(31, 32, 33)),
    "lift-ratio/strong": lambda: water(fall(2.0), lift=Band(45, 46, 47)),
    "reach-too-far": lambda: water(fall(2.0), lift=Band(99, 100, 101), delivered=UNKNOWN),
    "yield-unknown": lambda: water(fall(0.8), lift=Band(4, 5, 6), delivered=UNKNOWN),
    "yield-below-need": lambda: water(delivered=Band(1.2, 1.7, 2.3), need=2.0),
    "yield-below-need/far": lambda: water(delivered=Band(1.2, 1.7, 2.3), need=2.5),
    "yield-below-need/maybe": lambda: water(delivered=Band(1.2, 1.7, 2.3), need=1.5),
    "takes-too-much/all": lambda: water(need=50.0),
    "takes-too-much/share": lambda: water(need=35.0),
    "share-left-low": lambda: source(share_left=0.1),
    "flow-unknown": lambda: water(source_flow=None),
    "flow-not-dry-season/wet": lambda: source(season="wet"),
    "flow-not-dry-season/reduced": lambda: works.read("wet", (0.3, 0.7)),
    "flow-not-dry-season/undated": lambda: source(measured=None),
    "flow-not-dry-season/unsaid": lambda: source(season=None),
    "intake": lambda: works.read("dry"),
    "tank-too-small": lambda: works.tank(1.0),
    "tank-smallest": lambda: works.tank(None),
    "tank-load": lambda: works.tank(3.0),
    "tank-load/engineer": lambda: works.tank(3.0, stand=2.0),
    "outlet-head-low/stop": lambda: line_water("distribution-trough", end_head=-0.8),
    "outlet-head-low/warn": lambda: line_water("distribution-trough", end_head=0.5),
    "outlet-head-low/note": lambda: line_water("distribution-trough", end_head=3.0),
    "outlet-head-high": lambda: line_water("distribution-trough", end_head=42.0),
    "pressure-over-rating/closed": lambda: pipe("distribution-trough", rating=5.0),
    "pressure-over-rating/open": lambda: hump(opened=620.0),
    "pressure-over-rating/closed-near": lambda: hump(opened=500.0, closed=575.0),
    "pressure-over-rating/open-near": lambda: hump(opened=575.0, closed=510.0),
    "pressure-over-rating/surge": lambda: works.pressed(90.0, velocity=3.0),
    "break-pressure": lambda: works.pressed(130.0),
    "break-pressure/blocked": lambda: works.pressed(300.0, rating=2.0),
    "pipe-classes": lambda: works.pressed(130.0, size="32 mm"),
    "pipe-classes/weak": lambda: works.pressed(300.0, size="32 mm"),
    "velocity-high": lambda: line_water("distribution-trough", velocity=3.4),
    "velocity-low": base,
    "pipe-part-full": lambda: line_water("distribution-trough", part_full=AIRED),
    "tank-out-of-reach/gravity": lambda: line_water("main", hump(), end_head=-1.6),
    "tank-out-of-reach/powered": lambda: powered(10.0),
    "fit-idle/off": lambda: fits.decided("vent", on="main"),
    "fit-idle/stray": lambda: fits.decided("vent", off=30.0),
    "fit-idle/draws-air": lambda: fits.decided("vent", opened=508.0, closed=504.5),
    "cover-under-frost": lambda: site(frost_depth=0.6),
    "cover-under-frost/surface": surface_in_frost,
    "ram-below-flood": lambda: site(flood_mark=0.4),
    "flood-mark-missing": base,
    "waste-unplanned": base,
    "waste-drowned": lambda: site(waste(495.0), flood_mark=0.3),
    "waste-drowned/stream": waste_beside_stream,
    "bore-assumed": lambda: pipe("delivery", laying("delivery"), bore_assumed=True),
}
