"""The title block: whose line, drawn when, at which scales, from which levels."""

import math

from matplotlib.axes import Axes
from matplotlib.patches import Rectangle

from planner.output.look import INK, ROLES
from planner.output.sheets.content import SheetContent
from planner.output.sheets.ink import LARGE, MEDIUM, SMALL, WHITE, fitted, rule, write
from planner.output.sheets.measure import Measure, round_step
from planner.output.sheets.paper import Box
from planner.output.sheets.scales import Scales, on_paper
from planner.record.value import SchemeKind
from planner.terrain.value import DataKind, Provenance
from planner.units import show

BAR = 52.0  # mm at most
TITLE, NAME, ROW = 7.4, 6.0, 4.7  # mm, heights of the block's rows

# How the levels were got, by kind of data.
GOT: dict[DataKind, str] = {
    "lidar": "laser scan from the air",
    "photogrammetry": "air photographs",
    "contours": "contours of a map",
    "satellite": "satellite",
    "levelled": "levelled on the ground",
    "unknown": "elevation data of unknown kind",
}


SCHEMES: dict[SchemeKind, str] = {
    "gravity": "gravity scheme",
    "ram": "ram scheme",
    "powered": "pumped scheme",
}


def draw_block(
    sheet: Axes, box: Box, content: SheetContent, scales: Scales, measure: Measure
) -> None:
    """The block's rows from top to bottom, ruled."""
    look, line = ROLES[content.line.role], content.line
    left, room = box.left + 2.0, box.width - 4.0
    heading = fitted(content.title, room - 28.0, LARGE, "bold")
    write(sheet, left, box.top - 5.3, heading, LARGE, weight="bold")
    write(sheet, box.right - 2.0, box.top - 5.3, SCHEMES[content.scheme], ha="right")
    y = box.top - TITLE
    rule(sheet, [box.left, box.right], [y, y], 0.3)
    name = fitted(f"{look.letters} · {line.name}: {line.start} – {line.end}", room, MEDIUM, "bold")
    write(sheet, left, y - 4.2, name, MEDIUM, weight="bold")
    y -= NAME
    for text in (
        _pipe(content),
        _levels(content.terrain.provenance, content),
        _data(content),
        _datum(content, measure),
        _scales(scales, measure),
    ):
        rule(sheet, [box.left, box.right], [y, y], 0.3)
        write(sheet, left, y - 3.4, fitted(text, room, SMALL))
        y -= ROW
    rule(sheet, [box.left, box.right], [y, y], 0.3)
    _bar(sheet, Box(box.left, box.bottom, box.right, y), scales, measure)
    _sheet_number(sheet, Box(box.left, box.bottom, box.right, y), content)
    rule(sheet, [box.left, box.left, box.right], [box.bottom, box.top, box.top], 0.8)


def _pipe(content: SheetContent) -> str:
    """The pipe's length, bore and flow."""
    line, units = content.line, content.units
    pipe = line.settings.pipe
    assumed = " (assumed)" if pipe.bore_assumed else ""
    text = (
        f"{show(line.profile.length, 'length', units)} along the pipe,"
        f" bore {show(pipe.bore, 'bore', units)}{assumed}, {_strength(content)}"
    )
    if line.water is None or not math.isfinite(line.water.flow):
        return text
    return f"{text}, flow {show(line.water.flow, 'flow', units)}"


def _strength(content: SheetContent) -> str:
    """The classes that the pressure asks for along the line; else what its one pipe bears."""
    line = content.line
    classed = None if line.pressure is None else line.pressure.classes
    if classed is None or not classed.stretches:
        return f"rated {show(line.settings.pipe.rating, 'pressure', content.units)}"
    pipes = [stretch.pipe for stretch in classed.stretches]
    names = dict.fromkeys(p.pressure_class or p.series or p.nominal for p in pipes)
    return f"class {', '.join(names)}"


def _levels(provenance: Provenance, content: SheetContent) -> str:
    """How the levels were got, and how far one of them can be off."""
    error = provenance.standard_error
    doubt = (
        f"one level ± {show(error, 'level', content.units)} (standard error)"
        if math.isfinite(error)
        else "error not known"
    )
    surface = ", trees and roofs included" if provenance.surface_model else ""
    return f"Levels: {GOT[provenance.kind]}{surface}, {doubt}"


def _data(content: SheetContent) -> str:
    """The files the ground was read from."""
    source = content.terrain.provenance
    files = ", ".join(source.files) or "an array"
    cell = source.native_cell if math.isfinite(source.native_cell) else content.terrain.cell[0]
    return f"Data: {show(cell, 'length', content.units)} cells, {files}"


def _datum(content: SheetContent, measure: Measure) -> str:
    """What levels and lengths are counted in, and from where."""
    unit = "metres" if measure.symbol == "m" else "feet"
    assumed = " (height unit assumed)" if content.terrain.provenance.height_unit_assumed else ""
    return f"Units: {unit}.  Datum: that of the elevation data{assumed}"


def _scales(scales: Scales, measure: Measure) -> str:
    """Both scales, and what the section does to slopes."""
    times = f"{scales.exaggeration:.3g}"
    if scales.exaggeration == 1.0:
        effect = "slopes are true"
    elif scales.exaggeration > 1.0:
        effect = f"exaggerated {times} times"
    else:
        effect = f"flattened to {times}"
    along, up = measure.spoken(scales.horizontal), measure.spoken(scales.vertical)
    return f"Along {along}, heights {up}, {effect}"


def _bar(sheet: Axes, box: Box, scales: Scales, measure: Measure) -> None:
    """A bar of four parts, to be measured when a printer has changed the scale."""
    part = _part(scales, measure)
    width = on_paper(part * measure.metres, scales.horizontal)
    left, bottom = box.left + 4.0, box.bottom + 2.6
    for number in range(4):
        piece = Rectangle((left + number * width, bottom), width, 1.5)
        piece.set(facecolor=INK if number % 2 == 0 else WHITE, edgecolor=INK, linewidth=0.5)
        piece.set_gid(f"scale-bar-{number}")
        sheet.add_patch(piece)
    for number in (0, 2, 4):
        figure = f"{part * number:g}" + (f" {measure.symbol}" if number == 4 else "")
        write(sheet, left + number * width, bottom + 2.5, figure, ha="center")


def _part(scales: Scales, measure: Measure) -> float:
    """A quarter of the bar, round, in the sheet's units."""
    largest = BAR / 4.0 * scales.horizontal / 1000.0 / measure.metres
    part = round_step(largest)
    return part if part <= largest * (1 + 1e-9) else _lower(part)


def _lower(step: float) -> float:
    """The round step under a round step."""
    leading = round(step / 10 ** math.floor(math.log10(step)))
    return step / (2.5 if leading == 5 else 2.0)


def _sheet_number(sheet: Axes, box: Box, content: SheetContent) -> None:
    """Date and sheet number, at the right of the bar."""
    right = box.right - 2.0
    number = f"Sheet {content.number} of {content.of}"
    write(sheet, right, box.bottom + 5.9, content.made.isoformat(), ha="right")
    write(sheet, right, box.bottom + 2.0, number, MEDIUM, weight="bold", ha="right")
