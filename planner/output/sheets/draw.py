"""A line's sheet from its content: the parts in their places on one figure."""

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from planner.output.look import INK
from planner.output.sheets.block import draw_block, vertical_bar
from planner.output.sheets.columns import marks_for
from planner.output.sheets.content import SheetContent
from planner.output.sheets.foot import draw_foot
from planner.output.sheets.ink import WHITE, rule, write
from planner.output.sheets.land import draw_land
from planner.output.sheets.legend import draw_legend
from planner.output.sheets.measure import Measure, measure
from planner.output.sheets.paper import MM_PER_INCH, PAPERS, Box, Layout, PaperName, layout
from planner.output.sheets.place import SectionPlace, place_section, section_scales
from planner.output.sheets.plan_marks import draw_plan_marks
from planner.output.sheets.reach import Reach, whole
from planner.output.sheets.rows import draw_rows, rows_height
from planner.output.sheets.scales import Scales
from planner.output.sheets.section import draw_grid, draw_section
from planner.output.sheets.section_marks import draw_marks, match_lines
from planner.output.sheets.strip import StripPlace, place_strip


def draw_sheet(content: SheetContent, paper: PaperName = "A4") -> Figure:
    """One sheet of a line, at true scales, as a figure of the paper's size.

    Its axes are `figure.axes`: "plan-0" and so on (metres along and across each panel's chord),
    "section" (run and level, metres) and "sheet" (millimetres from the lower left corner of the
    paper).

    Call it, and save the figure, under `planner.output.sheets.ink.drawing()`.
    """
    units = measure(content.units)
    parts, section, plan = arrange(content, paper, units)
    reach = content.reach or whole(content.line.profile)
    marks, size = marks_for(content, reach, section.scales.horizontal, units)
    figure = blank(paper)
    reliefs = []
    for number, panel in enumerate(plan.panels):
        land = metres(figure, parts.paper, panel.box, f"plan-{number}", panel.limits)
        reliefs.append(draw_land(land, panel, content, units))
    limits = (section.run_limits, section.level_limits)
    levels = metres(figure, parts.paper, section.box, "section", limits)
    under = millimetres(figure, parts.paper, "under", 0)
    sheet = millimetres(figure, parts.paper, "sheet", 3)
    draw_grid(under, section, content.line, marks, units)
    draw_section(levels, content, reach)
    draw_plan_marks(sheet, plan, content, marks, reliefs, units)
    draw_marks(sheet, section, content, reach, units)
    match_lines(sheet, section, content, reach, units, (parts.strip, parts.section))
    draw_legend(sheet, parts.legend, content)
    draw_rows(sheet, parts, section, content, reach, (marks, size), units)
    _captions(sheet, parts, section, units)
    draw_foot(sheet, parts.foot, content)
    draw_block(sheet, parts.block, content, section.scales, units)
    _frame(sheet, parts)
    return figure


def arrange(
    content: SheetContent, paper: PaperName, units: Measure
) -> tuple[Layout, SectionPlace, StripPlace]:
    """Scales and places of all parts; plan and section share the scale along."""
    line = content.line
    parts = layout(paper, rows_height(content, units))
    reach = content.reach or whole(line.profile)
    scales = content.scales or section_scales(line, (reach,), parts.section, units)
    section = place_section(line, parts.section, units, reach, scales)
    return parts, section, place_strip(line.profile, parts.strip, section, reach)


def scales_for(
    content: SheetContent, parts: tuple[Reach, ...], paper: PaperName, along: int
) -> Scales:
    """The scales that all sheets of one line share."""
    units = measure(content.units)
    box = layout(paper, rows_height(content, units)).section
    return section_scales(content.line, parts, box, units, along)


def blank(paper: PaperName) -> Figure:
    """An empty figure of a paper's size."""
    width, height = PAPERS[paper]
    return Figure(figsize=(width / MM_PER_INCH, height / MM_PER_INCH), facecolor=WHITE)


def metres(
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


def millimetres(figure: Figure, paper: tuple[float, float], label: str, zorder: int) -> Axes:
    """Axes over the whole paper, in millimetres."""
    limits = ((0.0, paper[0]), (0.0, paper[1]))
    axes = metres(figure, paper, Box(0.0, 0.0, *paper), label, limits)
    axes.set_zorder(zorder)
    return axes


def _captions(sheet: Axes, parts: Layout, section: SectionPlace, units: Measure) -> None:
    """In the left column: what each part is, its scale, and the datum."""
    left = parts.frame.left + 1.5
    scales = section.scales
    write(sheet, left, parts.strip.top - 5.0, "Plan", weight="bold")
    note = units.spoken(scales.horizontal).split(" (")
    for number, text in enumerate(note):
        write(sheet, left, parts.strip.bottom + 5.0 - 3.4 * number, text.rstrip(")"))
    top = parts.legend.top - 4.0
    write(sheet, left, top, "Section", weight="bold")
    write(sheet, left, top - 4.4, f"heights ×{scales.exaggeration:.3g}")
    datum = f"Datum {units.level(section.datum)} {units.symbol}"
    write(sheet, left, parts.section.bottom + 1.2, datum)
    vertical_bar(sheet, left, parts.section.bottom + 6.0, scales.vertical, units)


def _frame(sheet: Axes, parts: Layout) -> None:
    frame, strip = parts.frame, parts.strip
    draw_frame(sheet, frame)
    rule(sheet, [frame.left, frame.right], [strip.bottom, strip.bottom], 0.4)
    rule(sheet, [parts.section.left] * 2, [strip.bottom, strip.top], 0.4)


def draw_frame(sheet: Axes, frame: Box) -> None:
    """The border round everything."""
    border = Rectangle((frame.left, frame.bottom), frame.width, frame.height)
    border.set(fill=False, edgecolor=INK, linewidth=0.9)
    sheet.add_patch(border)
