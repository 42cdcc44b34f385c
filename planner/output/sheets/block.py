"""The title block: whose line, drawn when, at which scales, from which levels."""

import math

from matplotlib.axes import Axes
from matplotlib.patches import Rectangle

from planner.output.look import INK, ROLES
from planner.output.sheets.content import SheetContent
from planner.output.sheets.ink import (
    LARGE,
    MEDIUM,
    SMALL,
    WHITE,
    fitted,
    rule,
    text_width,
    write,
)
from planner.output.sheets.measure import Measure, round_step
from planner.output.sheets.paper import Box
from planner.output.sheets.scales import Scales, on_paper
from planner.record.value import SchemeKind
from planner.site.field import Papers
from planner.terrain.value import DataKind, Provenance, Terrain
from planner.units import show

BAR = 52.0  # mm at most
TITLE, NAME, ROW = 7.2, 5.6, 3.85  # mm, heights of the block's rows

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
    """The block of a line's sheet."""
    look, line = ROLES[content.line.role], content.line
    name = f"{look.letters} · {line.name}: {line.start} – {line.end}"
    rows = (
        _pipe(content),
        levels_row(content, content.terrain.provenance),
        data_row(content.terrain, content.units),
        datum_row(content.terrain, content.papers, measure),
        _scales(scales, measure),
    )
    frame_block(sheet, box, content, name, rows, _laid(content))
    bottom = Box(box.left, box.bottom, box.right, box.bottom + 8.6)
    scale_bar(sheet, bottom.left + 4.0, bottom.bottom + 2.4, scales.horizontal, measure)


def frame_block(
    sheet: Axes,
    box: Box,
    content: SheetContent,
    name: str,
    rows: tuple[str, ...],
    state: str = "",
) -> None:
    """The rows of any sheet's block, ruled: site, sheet, data, people, number."""
    left, room = box.left + 2.0, box.width - 4.0
    kind = SCHEMES[content.scheme] + (f", {state}" if state else "")
    aside = text_width(kind, SMALL) + 3.0
    heading = fitted(content.title, room - aside, LARGE, "bold")
    write(sheet, left, box.top - 5.1, heading, LARGE, weight="bold")
    write(sheet, box.right - 2.0, box.top - 5.1, kind, ha="right")
    y = box.top - TITLE
    rule(sheet, [box.left, box.right], [y, y], 0.3)
    write(sheet, left, y - 4.0, fitted(name, room, MEDIUM, "bold"), MEDIUM, weight="bold")
    y -= NAME
    for text in rows:
        rule(sheet, [box.left, box.right], [y, y], 0.3)
        write(sheet, left, y - ROW + 1.0, fitted(text, room, SMALL))
        y -= ROW
    rule(sheet, [box.left, box.right], [y, y], 0.3)
    _people(sheet, Box(box.left, y - ROW, box.right, y), content.papers)
    y -= ROW
    rule(sheet, [box.left, box.right], [y, y], 0.3)
    _sheet_number(sheet, box, content)
    rule(sheet, [box.left, box.left, box.right], [box.bottom, box.top, box.top], 0.8)


def _people(sheet: Axes, box: Box, papers: Papers) -> None:
    """Owner, draughtsman and revision, each with a ruled blank where it is not said."""
    widths = (0.46, 0.34, 0.20)
    left = box.left
    for share, (word, said) in zip(
        widths,
        (("Owner", papers.owner), ("Drawn by", papers.drawn_by), ("Rev.", papers.revision)),
        strict=True,
    ):
        right = left + share * box.width
        label = f"{word}: "
        write(sheet, left + 2.0, box.bottom + 1.0, label)
        start = left + 2.0 + text_width(label, SMALL) + 0.6
        if said.strip():
            write(sheet, start, box.bottom + 1.0, fitted(said, right - start - 1.0, SMALL))
        else:
            rule(sheet, [start, right - 2.0], [box.bottom + 0.9] * 2, 0.5, gid="blank")
        left = right
        if left < box.right - 1.0:
            rule(sheet, [left, left], [box.bottom, box.top], 0.3)


def _laid(content: SheetContent) -> str:
    """Whether the line was laid or walked, and when."""
    built = content.line.built
    if built is not None:
        return "as built" + (f" {built.date.isoformat()}" if built.date else "")
    return "as walked" if content.line.walked else ""


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


def levels_row(content: SheetContent, provenance: Provenance) -> str:
    """How the levels were got, and how far one of them can be off."""
    error = provenance.standard_error
    doubt = (
        f"one level ± {show(error, 'level', content.units)} (standard error)"
        if math.isfinite(error)
        else "error not known"
    )
    surface = ", trees and roofs included" if provenance.surface_model else ""
    if content.survey is not None:
        count = len(content.survey.stations)
        error_told = doubt.removesuffix(" (standard error)").removeprefix("one level ")
        return f"Levels: {count} levelled; else {GOT[provenance.kind]}, {error_told}"
    return f"Levels: {GOT[provenance.kind]}{surface}, {doubt}"


def data_row(terrain: Terrain, units: str) -> str:
    """The files the ground was read from."""
    source = terrain.provenance
    files = ", ".join(source.files) or "an array"
    cell = source.native_cell if math.isfinite(source.native_cell) else terrain.cell[0]
    shown = show(cell, "length", "us" if units == "us" else "metric")
    return f"Data: {shown} cells, {files}"


def datum_row(terrain: Terrain, papers: Papers, measure: Measure) -> str:
    """What levels and lengths are counted in, and from where."""
    unit = "metres" if measure.symbol == "m" else "feet"
    assumed = " (height unit assumed)" if terrain.provenance.height_unit_assumed else ""
    datum = papers.datum.strip() or f"that of the elevation data{assumed}"
    return f"Units: {unit}.  Datum: {datum}"


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


def scale_bar(sheet: Axes, left: float, bottom: float, scale: int, measure: Measure) -> None:
    """A bar of four parts, to be measured when a printer has changed the scale."""
    part = _part(scale, measure)
    width = on_paper(part * measure.metres, scale)
    for number in range(4):
        piece = Rectangle((left + number * width, bottom), width, 1.5)
        piece.set(facecolor=INK if number % 2 == 0 else WHITE, edgecolor=INK, linewidth=0.5)
        piece.set_gid(f"scale-bar-{number}")
        sheet.add_patch(piece)
    for number in (0, 2, 4):
        figure = f"{part * number:g}" + (f" {measure.symbol}" if number == 4 else "")
        write(sheet, left + number * width, bottom + 2.4, figure, ha="center")


def vertical_bar(sheet: Axes, left: float, bottom: float, scale: int, measure: Measure) -> None:
    """The heights' own bar, upright, of two parts."""
    step = round_step(4.0 * scale / 1000.0 / measure.metres)
    high = on_paper(step * measure.metres, scale)
    for number in range(2):
        piece = Rectangle((left, bottom + number * high), 1.5, high)
        piece.set(facecolor=INK if number % 2 == 0 else WHITE, edgecolor=INK, linewidth=0.5)
        piece.set_gid(f"height-bar-{number}")
        sheet.add_patch(piece)
    for number in (0, 2):
        figure = f"{step * number:g}" + (f" {measure.symbol}" if number == 2 else "")
        write(sheet, left + 2.4, bottom + number * high, figure, va="center_baseline")


def _part(scale: int, measure: Measure) -> float:
    """A quarter of the bar, round, in the sheet's units."""
    largest = BAR / 4.0 * scale / 1000.0 / measure.metres
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
    write(sheet, right, box.bottom + 5.2, content.made.isoformat(), ha="right")
    write(sheet, right, box.bottom + 1.6, number, MEDIUM, weight="bold", ha="right")
