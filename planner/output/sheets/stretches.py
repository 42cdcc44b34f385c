"""Rows that tell of stretches: grade, length, pipe, flow, owner; and the remarks."""

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from planner.output.sheets.content import SheetContent
from planner.output.sheets.marks import Grade, grades
from planner.output.sheets.measure import Measure
from planner.output.sheets.place import turns
from planner.output.sheets.reach import Reach
from planner.output.stakes.marks import FALLING
from planner.output.stakes.turns import bends
from planner.output.vents import apart, vents_of
from planner.profile.value import FloatArray, Profile
from planner.record.value import Line
from planner.units import show

FLAT = 5e-5  # rise over run that prints as 0.00 %
LEAST_BEND = 10.0  # degrees; gentler ones are in the stake list
SAME_LINE = 0.5  # m of run; owners of shorter bits are not told


@dataclass(frozen=True, slots=True)
class Cell:
    """A stretch from one run to another [m], and its words, the fullest first."""

    start: float
    end: float
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Cells:
    """A row's name and its stretches."""

    name: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Remark:
    """What is at a horizontal distance from the start [m], in a word or two."""

    run: float
    text: str


def stretch_rows(
    content: SheetContent, reach: Reach, scale: int, measure: Measure
) -> tuple[list[Cells], list[Cells]]:
    """The rows over the heads (grade, length, pipe), and those under (flow, owner)."""
    line = content.line
    pieces = grades(line.profile, reach, tuple(point.index for point in turns(line)), scale)
    over = [
        Cells("Grade", tuple(Cell(p.start, p.end, _grade_words(p)) for p in pieces)),
        Cells(
            f"Length along pipe, {measure.symbol}",
            tuple(_length(line.profile, piece, measure) for piece in pieces),
        ),
        _pipe(content, reach),
    ]
    under = [row for row in (_flow(content, reach), _owners(content, reach)) if row is not None]
    return over, under


def _grade_words(piece: Grade) -> tuple[str, ...]:
    text = grade_text(piece.grade)
    return text, text[0]


def grade_text(grade: float) -> str:
    """A grade along the flow, rise over run: arrow and percent."""
    if abs(grade) < FLAT:
        return "→ 0 %"
    percent = abs(grade) * 100.0
    figure = (
        f"{percent:.2f}" if percent < 1 else f"{percent:.1f}" if percent < 100 else f"{percent:.0f}"
    )
    return f"{'↗' if grade > 0 else '↘'} {figure} %"


def _length(profile: Profile, piece: Grade, measure: Measure) -> Cell:
    start, end = np.interp([piece.start, piece.end], profile.run, profile.chainage)
    metres = float(end - start) / measure.metres
    return Cell(piece.start, piece.end, (f"{metres:.1f}", f"{metres:.0f}"))


def _pipe(content: SheetContent, reach: Reach) -> Cells:
    """Size and class by stretch."""
    line, profile = content.line, content.line.profile
    cells = []
    for run in line.runs:
        start, end = np.interp([run.start_m, run.end_m], profile.chainage, profile.run)
        bore = f"bore {show(run.bore, 'bore', content.units)}"
        if max(start, reach.start) < min(end, reach.end):
            words = (f"{run.label}, {bore}", run.label, bore) if run.named else (bore,)
            cells.append(Cell(max(start, reach.start), min(end, reach.end), words))
    if not cells:
        bore = f"bore {show(line.settings.pipe.bore, 'bore', content.units)}"
        cells.append(Cell(reach.start, reach.end, (bore,)))
    return Cells("Pipe", tuple(cells))


def _flow(content: SheetContent, reach: Reach) -> Cells | None:
    water, units = content.line.water, content.units
    if water is None or not np.isfinite(water.flow):
        return None
    flow = show(water.flow, "flow", units)
    speed = f"{flow} at {show(water.velocity, 'speed', units)}"
    words: tuple[str, ...] = (speed, flow)
    if water.part_full:
        far = show(sum(part.end - part.start for part in water.part_full), "length", units)
        words = (
            f"{flow}, with air over it along {far} of the line",
            f"{flow}, in part not full",
            flow,
        )
    return Cells("Flow", (Cell(reach.start, reach.end, words),))


def _owners(content: SheetContent, reach: Reach) -> Cells | None:
    """Whose land the line lies on, where owners' areas are drawn."""
    areas = [area for area in content.areas if area.role == "owner"]
    if not areas:
        return None
    profile = content.line.profile
    runs = np.linspace(reach.start, reach.end, max(int(reach.length / SAME_LINE), 1) + 1)
    middles = (runs[:-1] + runs[1:]) / 2.0
    x, y = (np.interp(middles, profile.run, profile.xy[:, axis]) for axis in (0, 1))
    owner = np.full(middles.size, -1)
    for number, area in reversed(list(enumerate(areas))):
        owner[shapely.contains_xy(area.shape, x, y)] = number
    cuts = [0, *(np.flatnonzero(np.diff(owner)) + 1).tolist(), middles.size]
    cells = tuple(
        Cell(float(runs[a]), float(runs[b]), (areas[owner[a]].name if owner[a] >= 0 else "–",))
        for a, b in pairwise(cuts)
    )
    return Cells("Owner of the land", cells)


def remarks(content: SheetContent, reach: Reach, measure: Measure) -> list[Remark]:
    """What a crew must know at a place, by run: crossings, air, drains, pipe, owners, bends."""
    line, profile = content.line, content.line.profile
    found = [Remark(one.run_m, f"crosses {one.name or 'stream'}") for one in line.crossed]
    vents = vents_of(line)
    found += [Remark(float(profile.run[index]), word) for index, word in vents.items()]
    found += [
        Remark(high.run_m, "high point") for high in line.high_points if high.index not in vents
    ]
    low = "low point" if line.role in FALLING else "washout"
    found += [Remark(one.run_m, low) for one in line.low_points]
    found += [Remark(float(profile.run[k]), "washout") for k in apart(line, "washout")]
    found += _changes(line, profile)
    found += _bends(profile)
    found += _built(line, profile, measure)
    return [one for one in found if reach.has(one.run)]


def _bends(profile: Profile) -> list[Remark]:
    """Bends in plan that a fitting or a wide sweep is laid for."""
    told = [(turn.run_m, math.degrees(turn.angle)) for turn in bends(profile)]
    return [
        Remark(run, f"bend {abs(angle):.0f}° {'right' if angle > 0.0 else 'left'}")
        for run, angle in told
        if abs(angle) >= LEAST_BEND
    ]


def _built(line: Line, profile: Profile, measure: Measure) -> list[Remark]:
    """What was noted as the line was laid."""
    marks = () if line.built is None else line.built.marks
    words = [
        f"built: {mark.what}" + ("" if mark.depth is None else f" {measure.level(mark.depth)} deep")
        for mark in marks
    ]
    runs = [float(np.interp(mark.chainage_m, profile.chainage, profile.run)) for mark in marks]
    return [Remark(run, text) for run, text in zip(runs, words, strict=True)]


def _changes(line: Line, profile: Profile) -> list[Remark]:
    """Where another pipe begins, and break-pressure tanks."""
    starts: FloatArray = np.interp(
        [run.start_m for run in line.runs[1:]], profile.chainage, profile.run
    )
    found = [
        Remark(float(at), f"{run.label} begins")
        for at, run in zip(starts, line.runs[1:], strict=True)
    ]
    tanks = None if line.pressure is None else line.pressure.tanks
    places = () if tanks is None else tanks.tanks
    return [*found, *(Remark(float(profile.run[i]), "break-pressure tank") for i in places)]
