"""The longitudinal section of a line as SVG, in the formats of the page's screens."""

from planner.output.map.scene import section_scene
from planner.output.map.section import ROWS, Format, draw_section
from planner.record.value import Line, Plan

HEADS = ("open", "closed")
# As wide as what is left beside the figures on a desk's screen, on a tablet, on a phone upright.
FORMATS = (
    Format("wide", 1000.0, 150.0, 13.0, 136.0, 76.0, (*ROWS, *HEADS)),
    Format("medium", 700.0, 120.0, 13.0, 136.0, 76.0, (*ROWS, *HEADS)),
    Format("narrow", 370.0, 150.0, 12.5, 130.0, 62.0, (*ROWS, *HEADS)),
)


def sections(plan: Plan, line: Line) -> dict[str, str]:
    """The section of a line by format: "wide", "medium", "narrow".

    Ground and pipe, the static level and the hydraulic grade line, high and low points, the numbers
    of its findings, and rows of figures under it.

    Parameters
    ----------
    plan : Plan
        Its units and findings are taken.
    line : Line
        One of the plan's, or the same while it is followed.

    Returns
    -------
    dict
        SVG elements as text. Each has its role in `data-role`, and tells in data attributes how
        to get from chainage c and level z [m] to its own pixels: x = left + c along, to `right` at
        the end; y = bottom - (z - lowest) up. `g.cursor`, hidden, is for the place that is marked,
        `rect.catch` covers the plot for the pointer, `g.number` has the finding's `data-number`.
    """
    scene = section_scene(plan, line)
    return {page.name: str(draw_section(plan, scene, scene.lines[0], page)) for page in FORMATS}
