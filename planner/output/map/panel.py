"""What stands beside the plan in words: figures, points, lines, where the levels come from."""

import math

from planner.band import Band
from planner.output.map.scene import Scene
from planner.output.vents import vents_in_all
from planner.record.value import Plan, SchemeKind
from planner.site.value import Units
from planner.terrain.value import DataKind, Provenance, Terrain
from planner.units.show import Quantity, band_text, decimals_of, number_text, show

Row = tuple[str, str]

SCHEMES: dict[SchemeKind, str] = {
    "gravity": "Gravity line: the water runs down by itself",
    "ram": "Hydraulic ram: the water lifts part of itself",
    "powered": "Powered pump",
}
KINDS: dict[DataKind, str] = {
    "lidar": "lidar",
    "photogrammetry": "aerial photographs",
    "contours": "contours",
    "satellite": "satellite",
    "levelled": "levelled on the ground",
    "unknown": "of unknown kind",
}
ODDS = (
    (0.95, "Almost certain"),
    (0.65, "Likely"),
    (0.35, "As likely as not"),
    (0.05, "Unlikely"),
    (0.0, "Very unlikely"),
)


def delivered_label(plan: Plan) -> str:
    """What the headline figure is called: without a dry-season reading it is not for design."""
    intake = plan.water.intake
    if intake is None or intake.lowest.for_design:
        return "Delivered"
    return "Delivered (no dry-season reading: not for design)"


def water_figures(plan: Plan) -> list[Row]:
    """The water figures that are known, the one most asked for first."""
    water = plan.water
    rows: list[tuple[str, str | None]] = [
        (delivered_label(plan), _band(plan, water.delivered, "per_day")),
        ("Needed", _shown(plan, water.need, "per_day")),
        ("Fall", _height(plan, water.fall)),
        ("Lift", _height(plan, water.lift)),
        ("Lift lost to friction", _shown(plan, water.lift_friction, "head")),
        ("Beats a minute", _beats(plan)),
        (_tank_label(plan), _tank(plan)),
        ("Vents", vents_in_all(plan.lines)),
        ("Source at its lowest", _shown(plan, water.source_flow, "flow")),
        ("May be taken", _shown(plan, water.taken, "flow")),
        ("Back to the stream", _band(plan, water.spent, "flow")),
        ("Drive length to fall", _ratio(water.drive_length_to_fall)),
        ("Drive length to bore", _ratio(water.drive_length_to_bore)),
        ("Pipe in all", _pipe_length(plan)),
    ]
    return [(label, text) for label, text in rows if text]


def line_rows(plan: Plan) -> list[tuple[str, ...]]:
    """Name, ends, length, flow, head at the end and number of high points of each line."""
    units = plan.site.units
    rows: list[tuple[str, ...]] = []
    for line in plan.lines:
        water = line.water
        rows.append(
            (
                line.name,
                f"{line.start} to {line.end}",
                show(line.profile.length, "length", units),
                "–" if water is None else show(water.flow, "flow", units),
                "–" if water is None else show(water.end_head, "head", units),
                str(len(line.high_points)),
            )
        )
    return rows


def section_facts(plan: Plan) -> dict[str, str]:
    """Length of each line, and the most pressure in it with its outlet open and closed."""
    units = plan.site.units
    facts = {line.name: show(line.profile.length, "length", units) for line in plan.lines}
    for line in plan.lines:
        if line.pressure is not None:
            heads = line.pressure.heads
            open_, closed = (
                show(float(h.max()), "head", units) for h in (heads.open, heads.closed)
            )
            facts[line.name] += f"; head at most {open_} outlet open, {closed} outlet closed"
    return facts


def point_rows(plan: Plan, scene: Scene) -> list[tuple[str, ...]]:
    """Letter, name, kind, ground level, water level and coordinates of each point."""
    units = plan.site.units
    return [
        (
            point.letter,
            point.name,
            point.word + (", set by the program" if point.by_program else ""),
            number_text(point.ground, "level", units),
            number_text(point.level, "level", units),
            f"{point.lonlat[1]:.6f}, {point.lonlat[0]:.6f}",
        )
        for point in scene.points
    ]


def owner_rows(plan: Plan) -> list[tuple[str, str, str]]:
    """Line, owner and metres on that owner's land."""
    return [
        (share.line, share.owner or "nobody listed", show(share.metres, "length", plan.site.units))
        for share in plan.owners
    ]


def data_source(plan: Plan) -> str:
    """Where a plan's levels come from and how far they can be believed."""
    return levels_source(plan.terrain, plan.site.units)


def levels_source(terrain: Terrain, units: Units) -> str:
    """Where levels come from and how far they can be believed, in a sentence or three."""
    known: Provenance = terrain.provenance
    parts = [f"Levels: {', '.join(known.files) or 'given as an array'} ({KINDS[known.kind]})"]
    if math.isfinite(known.native_cell):
        parts.append(f"cells of {show(known.native_cell, 'length', units)}")
    if math.isfinite(known.standard_error):
        parts.append(f"a height good to ± {show(known.standard_error, 'level', units)}")
    text = ", ".join(parts) + "."
    if known.surface_model:
        text += " A surface model: it may show trees and roofs as ground."
    if known.height_unit_assumed:
        text += " The unit of height was not stated; metres are assumed."
    if known.coarsened > 1:
        text += f" Coarsened {known.coarsened} times to stay within the limit of size."
    return text


def odds(share: float) -> str:
    """Odds 0..1 in words, with tenths beside them.

    Examples
    --------
    >>> odds(0.7)
    'Likely, 7 of 10.'
    """
    word = next(word for least, word in ODDS if share >= least)
    return f"{word}, {round(share * 10)} of 10."


def _shown(plan: Plan, value: float | None, quantity: Quantity) -> str | None:
    return None if value is None else show(value, quantity, plan.site.units)


def _band(plan: Plan, value: Band | None, quantity: Quantity) -> str | None:
    return None if value is None else band_text(value, quantity, plan.site.units)


def _height(plan: Plan, value: Band | None) -> str | None:
    """A difference of levels, as fine as it is known."""
    if value is None:
        return None
    return band_text(value, "level", plan.site.units, decimals=decimals_of(value))


def _ratio(value: float | None) -> str | None:
    return None if value is None else f"{value:,.1f}" if value < 100 else f"{value:,.0f}"


def _beats(plan: Plan) -> str | None:
    ram = plan.water.ram
    if ram is None:
        return None
    return "none: it stalls" if ram.beat.cycle.stalls else f"{ram.beat.cycle.beats:.0f}"


def _tank_label(plan: Plan) -> str:
    days = 0 if plan.water.tank is None else plan.water.tank.days
    return f"Tank for {days} dry days"


def _tank(plan: Plan) -> str | None:
    tank, delivered, need = plan.water.tank, plan.water.delivered, plan.water.need
    if tank is None or not tank.smallest > 0.0:
        return None
    if delivered is not None and need is not None and float(delivered.expected) < need:
        return None  # no tank makes up for water that does not come
    return show(tank.smallest, "volume", plan.site.units)


def _pipe_length(plan: Plan) -> str | None:
    total = sum(line.profile.length for line in plan.lines)
    return show(total, "distance", plan.site.units) if plan.lines else None
