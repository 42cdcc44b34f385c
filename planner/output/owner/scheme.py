"""What was built or will be, and how it runs when all is well."""

import math
from collections.abc import Iterator

import numpy as np

from planner.output.owner.words import Item, Section, listed, name_of, the
from planner.output.print.page import dated
from planner.output.print.type import printable
from planner.record.value import Line, Plan
from planner.units.show import band_text, decimals_of, show
from planner.wording.quantity import show as say


def laid(plan: Plan) -> str:
    """Whether the sheet shows what is built: "as built", "partly built" or "as planned"."""
    built = [line.built is not None for line in plan.lines]
    if built and all(built):
        return "as built"
    return "partly built" if any(built) else "as planned"


def scheme_section(plan: Plan) -> Section:
    """The scheme in a sentence, then each line."""
    items = [Item(" ".join(_scheme(plan))), *(_line(plan, line) for line in plan.lines)]
    items += [Item(f"No way was found for {name_of(one.name)} yet.") for one in plan.blocked]
    title = {"as built": "What was built", "partly built": "What is built, and what is planned"}
    return Section(title.get(laid(plan), "What is planned"), tuple(items), least=2, run_in=True)


def _scheme(plan: Plan) -> Iterator[str]:
    if not plan.lines:
        yield "No line of this plan has been found a way yet; nothing can be built from it."
        return
    units, water = plan.site.units, plan.water
    source, tank = the(plan, "source", "the source"), the(plan, "tank", "the tank")
    pump = the(plan, "pump", "the ram")
    height = water.lift if plan.scheme != "gravity" else water.fall
    far = ""
    if height is not None and math.isfinite(float(height.expected)):
        far = show(float(height.expected), "level", units, decimals=decimals_of(height))
    if plan.scheme == "ram":
        lifted = f" {far}" if far else ""
        yield (
            f"The water of {source} falls to the ram at {pump}, which by that fall alone lifts a"
            f" part of it{lifted} to {tank}, day and night; the rest runs back to the stream."
        )
    elif plan.scheme == "powered":
        lifted = f" {far}" if far else ""
        yield f"A powered pump at {pump} lifts water of {source}{lifted} to {tank}."
    else:
        yield f"The water of {source} runs by its own fall{f' of {far}' if far else ''} to {tank}."
    outlets = [name_of(line.end) for line in plan.lines if line.role == "distribution"]
    if outlets:
        yield f"From {tank} it runs by its own fall to {listed(outlets)}."


def _line(plan: Plan, line: Line) -> Item:
    units = plan.site.units
    parts = [show(line.profile.length, "distance", units)]
    labels = list(dict.fromkeys(printable(run.label) for run in line.runs))
    if labels:
        parts.append(listed(labels, 2))
    depth = line.profile.depth
    if not np.isnan(depth).all():
        low, high = float(np.nanmin(depth)), float(np.nanmax(depth))
        if line.settings.laying.manner == "surface":
            parts.append("on the ground")
        else:
            ends = [show(end, "length", units) for end in (max(low, 0.0), high)]
            span = f"{ends[0].split()[0]} to {ends[1]}" if ends[0] != ends[1] else ends[0]
            parts.append(f"{span} deep")
    if line.built is not None:
        day = "" if line.built.date is None else f" {dated(line.built.date)}"
        parts.append(f"laid{day}")
        if line.built.note:
            parts.append(printable(line.built.note))
    return Item(f"{', '.join(parts)}.", lead=name_of(line.name))


def readings_section(plan: Plan) -> Section:
    """What is read on a good day."""
    return Section("Normal readings", tuple(_readings(plan)), least=4, run_in=True)


def _readings(plan: Plan) -> Iterator[Item]:
    units, water = plan.site.units, plan.water
    if plan.scheme == "ram" and water.ram is not None and water.ram.beat.cycle.beats > 0.0:
        beats = water.ram.beat.cycle.beats
        yield Item(f"about {beats:.0f} a minute; count them over 5 minutes.", lead="Beats")
    if water.delivered is not None and math.isfinite(float(water.delivered.expected)):
        given = band_text(water.delivered, "per_day", units)
        yield Item(f"{given}; less than the lowest figure: see below.", lead="Delivered")
    if water.tank is not None and math.isfinite(water.tank.fill_time):
        full = say(water.tank.fill_time, "duration", units)
        yield Item(f"{full} from empty to full, nothing drawn.", lead="Tank")
    if plan.scheme != "gravity":
        flows = [line.water.flow for line in plan.lines if line.role == "drive" and line.water]
        taker = "Ram" if plan.scheme == "ram" else "Pump"
        if flows:
            yield Item(
                f"{show(flows[0], 'flow', units)} down the drive pipe.", lead=f"{taker} takes"
            )
    if water.source_flow is not None:
        flow = show(water.source_flow, "flow", units)
        yield Item(f"{flow} at its lowest, as far as is known.", lead="Source")
    ends = [
        f"{name_of(line.end)} {show(line.water.flow, 'flow', units)}"
        for line in plan.lines
        if line.role == "distribution" and line.water is not None and line.water.flow > 0.0
    ]
    if ends:
        yield Item(f"{listed(ends)}, opened full, one at a time.", lead="Outlets")
