"""A sheet from its content: the parts in their places on one figure."""

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from planner.output.look import INK
from planner.output.sheets.block import draw_block
from planner.output.sheets.content import SheetContent
from planner.output.sheets.foot import draw_foot
from planner.output.sheets.ink import WHITE, rule, write
from planner.output.sheets.land import draw_land
from planner.output.sheets.legend import draw_legend
from planner.output.sheets.marks import chainage_marks
from planner.output.sheets.measure import Measure, measure
from planner.output.sheets.paper import MM_PER_INCH, PAPERS, Box, Layout, PaperName, layout
from planner.output.sheets.place import SectionPlace, place_section, turns
from planner.output.sheets.plan_marks import draw_plan_marks
from planner.output.sheets.rows import draw_rows, row_count
from planner.output.sheets.section import draw_grid, draw_marks, draw_section
from planner.output.sheets.strip import StripPlace, place_strip, plan_scale, strip_height
from planner.profile.value import FloatArray


def draw_sheet(content: SheetContent, paper: PaperName = "A4") -> Figure:
    """One line's sheet, at true scales, as a figure of the paper's size.

    Its axes are `figure.axes`: "plan" (metres along and across the line's chord), "section"
    (run and level, metres) and "sheet" (millimetres from the lower left corner of the paper).

    Call it, and save the figure, under `planner.output.sheets.ink.drawing()`.
    """
    units = measure(content.units)
    parts, section, plan = arrange(content, paper, units)
    width, height = PAPERS[paper]
    figure = Figure(figsize=(width / MM_PER_INCH, height / MM_PER_INCH), facecolor=WHITE)
    land = _metres(figure, parts.paper, plan.box, "plan", plan.limits)
    limits = (section.run_limits, section.level_limits)
    levels = _metres(figure, parts.paper, section.box, "section", limits)
    under = _millimetres(figure, parts.paper, "under", 0)
    sheet = _millimetres(figure, parts.paper, "sheet", 3)
    marks = _marks(content, section, units)
    draw_land(land, plan, content, units)
    draw_grid(under, section, content.line, marks, units)
    draw_section(levels, content)
    draw_plan_marks(sheet, plan, content, marks, units)
    draw_marks(sheet, section, content, units)
    draw_legend(sheet, parts.legend, content)
    draw_rows(sheet, parts, section, content.line, marks, units)
    _captions(sheet, parts, section, plan, units)
    draw_foot(sheet, parts.foot, content)
    draw_block(sheet, parts.block, content, section.scales, units)
    _frame(sheet, parts)
    return figure


def arrange(
    content: SheetContent, paper: PaperName, units: Measure
) -> tuple[Layout, SectionPlace, StripPlace]:
    """Scales and places of all parts: the strip as low as its plan allows, the section the rest."""
    line = content.line
    count = row_count(line)
    first = layout(paper, 0.0, count)
    section_scale = place_section(line, first.section, units).scales.horizontal
    width = first.section.width
    scale = plan_scale(line, width, section_scale, units)
    parts = layout(paper, strip_height(line, scale), count)
    section = place_section(line, parts.section, units)
    scale = plan_scale(line, width, section.scales.horizontal, units)
    window = Box(parts.section.left, parts.strip.bottom, parts.frame.right, parts.strip.top)
    return parts, section, place_strip(line, window, scale)


def _marks(content: SheetContent, section: SectionPlace, units: Measure) -> FloatArray:
    line = content.line
    wanted = tuple(point.chainage_m for point in turns(line))
    return chainage_marks(line.profile, wanted, section.scales.horizontal, units)


def _metres(
    figure: Figure,
    paper: tuple[float, float],
    box: Box,
    label: str,
    limits: tuple[tuple[float, float], tuple[float, float]],
) -> Axes:
    """Bare axes that fill a box [mm], so that their limits set the scale."""
    width, height = paper
    place = (box.left / width, box.bottom / height, box.width / width, box.height / height)
    axes = figure.add_axes(place, label=label, zorder=1)
    axes.set_xlim(*limits[0])
    axes.set_ylim(*limits[1])
    axes.set_axis_off()
    axes.set_autoscale_on(False)
    return axes


def _millimetres(figure: Figure, paper: tuple[float, float], label: str, zorder: int) -> Axes:
    """Axes over the whole paper, in millimetres."""
    limits = ((0.0, paper[0]), (0.0, paper[1]))
    axes = _metres(figure, paper, Box(0.0, 0.0, *paper), label, limits)
    axes.set_zorder(zorder)
    return axes


def _captions(
    sheet: Axes, parts: Layout, section: SectionPlace, plan: StripPlace, units: Measure
) -> None:
    """In the left column: what each part is, its scale, and the datum."""
    left = parts.frame.left + 1.5
    scales = section.scales
    write(sheet, left, parts.strip.top - 5.0, "Plan", weight="bold")
    note = units.spoken(plan.scale).split(" (")
    for number, text in enumerate(note):
        write(sheet, left, parts.strip.bottom + 5.4 - 3.4 * number, text.rstrip(")"))
    top = parts.legend.top - 4.2
    write(sheet, left, top, "Section", weight="bold")
    write(sheet, left, top - 4.6, f"heights ×{scales.exaggeration:.3g}")
    datum = f"Datum {units.level(section.datum)} {units.symbol}"
    write(sheet, left, parts.section.bottom + 1.2, datum)


def _frame(sheet: Axes, parts: Layout) -> None:
    frame, strip = parts.frame, parts.strip
    border = Rectangle((frame.left, frame.bottom), frame.width, frame.height)
    border.set(fill=False, edgecolor=INK, linewidth=0.9)
    sheet.add_patch(border)
    rule(sheet, [frame.left, frame.right], [strip.bottom, strip.bottom], 0.4)
    rule(sheet, [parts.section.left] * 2, [strip.bottom, strip.top], 0.4)
