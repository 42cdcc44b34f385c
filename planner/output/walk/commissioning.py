"""Commissioning: pressure tests of the lines, then the ram, pump or main as it runs."""

import math
from collections.abc import Iterator

from reportlab.platypus import Table

from planner.output.print.page import Page
from planner.output.print.sheet import Sheet
from planner.output.print.table import Cell, column_names, column_widths, named, ruled
from planner.output.print.type import paragraph, printable
from planner.output.walk.form import signed
from planner.output.walk.proof import TIMES, Proof, proofs_of
from planner.record.value import Line, Plan
from planner.site.value import Units
from planner.units.show import band_text, decimals_of, show
from planner.wording.quantity import show as say

TESTS: dict[str, float] = {
    "Line": 0.0,
    "Held, min": 52.0,
    "At start": 58.0,
    "At end": 58.0,
    "Leaks": 56.0,
    "Good ✓": 48.0,
}
FIGURES: dict[str, float] = {"What": 0.0, "Planned": 150.0, "Measured": 92.0, "Date": 70.0}
HOW = (
    "Before the trench is filled: anchor bends and ends, fill slowly from the low end or with every"
    " vent open, let all air out, then pump up with water, never with compressed air. Stand clear."
)
WHOSE = (
    f"Test pressures are {TIMES:g} times the highest working pressure, outlet open or closed, no"
    " more than the pipe bears for good, at the gauge on the lowest point. Local codes and the"
    " pipe's maker say what is to be held, and how long; they go first."
)


def pressure_tests(plan: Plan, page: Page) -> Sheet:
    """The form for testing each line."""
    widths = column_widths(TESTS, page.width)
    return Sheet(
        name="Pressure tests",
        head=(paragraph(HOW), paragraph(WHOSE), signed(page.width, "By", "Date")),
        columns=column_names(tuple(TESTS), widths),
        rows=tuple(
            _test(line, proof, plan.site.units, widths)
            for line in plan.lines
            for proof in (proofs_of(line) or (None,))
        ),
        foot=(paragraph("Note the gauge's pressure in its own unit, and the unit beside it."),),
    )


def _test(line: Line, proof: Proof | None, units: Units, widths: tuple[float, ...]) -> Table:
    what = paragraph(_wanted(line, proof, units), lead=printable(line.name))
    _, tall = what.wrap(widths[0] - 6.0, 1000.0)
    cells: list[Cell] = [what, *("",) * (len(widths) - 1)]
    return ruled([cells], widths, heights=[max(27.0, tall + 8.0)])


def _wanted(line: Line, proof: Proof | None, units: Units) -> str:
    if proof is None:
        if line.pressure is None and line.role == "drive":
            return "the ram's surge tests it: look at each joint while the ram beats"
        if line.pressure is None and line.role == "delivery":
            return "its pressure is not known: ask the pipe's maker"
        return "runs with little pressure: fill it, close its end, look at each joint"
    where = f"gauge at {say(proof.gauge_m, 'station', units)}"
    part = ""
    if proof.end_m - proof.start_m < 0.999 * line.profile.length:
        ends = (say(at, "station", units) for at in (proof.start_m, proof.end_m))
        part = f"{' to '.join(ends)}: "
    working = say(proof.working, "head", units)
    if math.isnan(proof.head):
        bears = say(proof.most, "head", units)
        return f"{part}do not test: working {working} is more than the {bears} the pipe bears"
    text = f"{part}test at {_bars(proof.head, units)} ({where}; working {working})"
    if proof.limited:
        text += (
            f"; the pipe bears no more, {TIMES:g} times would be {say(proof.wanted, 'head', units)}"
        )
    return text


def _bars(head: float, units: Units) -> str:
    """As a gauge shows it."""
    if units == "us":
        return show(head, "pressure", units)
    return f"{show(head, 'pressure', units)} ({show(head, 'head', units)} of water)"


def running_record(plan: Plan, page: Page) -> Sheet:
    """The form for what runs: each figure as planned, beside a box for it as measured."""
    widths = column_widths(FIGURES, page.width)
    foot = [*_brought_back(plan), "Measure again after a month, then once a year."]
    return Sheet(
        name="First running: as planned, as measured",
        head=(
            paragraph("Let it run for a day first; measure flows with bucket and watch."),
            signed(page.width, "By", "Date"),
        ),
        columns=column_names(tuple(FIGURES), widths),
        rows=tuple(named([what, planned], widths) for what, planned in _figures(plan)),
        foot=tuple(paragraph(text) for text in foot),
    )


def _figures(plan: Plan) -> Iterator[tuple[str, str]]:
    units, water = plan.site.units, plan.water
    works = water.ram if plan.scheme == "ram" else None
    if works is not None:
        beats = works.beat.cycle.beats
        yield "Beats a minute, counted over 5", f"{beats:.0f}" if beats > 0.0 else ""
    if plan.scheme == "ram":
        drive = [line.water.flow for line in plan.lines if line.role == "drive" and line.water]
        yield "Drive flow, waste and delivery together", _flow(drive, units)
    if plan.scheme == "powered":
        yield "Flow the pump draws", _flow([water.pump_draws], units)
    delivered = water.delivered
    yield (
        "Delivered into the tank over 24 hours",
        "" if delivered is None else band_text(delivered, "per_day", units),
    )
    for name, height in (("Fall", water.fall), ("Lift", water.lift)):
        if height is not None and math.isfinite(float(height.expected)):
            yield (
                f"{name}, levelled",
                band_text(height, "level", units, decimals=decimals_of(height)),
            )
    if water.tank is not None and math.isfinite(water.tank.fill_time):
        yield "Tank, empty to full, nothing drawn", say(water.tank.fill_time, "duration", units)
    for line in plan.lines:
        if line.role in ("main", "distribution") and line.water is not None:
            yield f"Flow at {printable(line.end)}, opened full", _flow([line.water.flow], units)


def _flow(known: list[float] | list[float | None], units: Units) -> str:
    flow = known[0] if known else None
    return "" if flow is None or not math.isfinite(flow) else show(flow, "flow", units)


def _brought_back(plan: Plan) -> Iterator[str]:
    if plan.scheme != "ram":
        return
    flow, long = ("L/min", "m") if plan.site.units == "metric" else ("US gal/min", "ft")
    yield (
        "To bring it back: write in site.toml a table [[pump.measured]] with the figures as"
        f' measured: drive_flow = "... {flow}", fall = "... {long}", lift = "... {long}" (friction'
        f' added), delivered = "... {flow}". Then plan again.'
    )
