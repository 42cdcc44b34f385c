"""The note beside the drawing: coordinates, heights, and how far to trust them."""

import math
from collections.abc import Iterator
from typing import Any

from planner.output.exchange.drawing_blocks import STYLE, words
from planner.output.exchange.drawing_land import Box
from planner.output.exchange.drawing_layers import NOTES, SCALE, metres
from planner.output.stakes.words import origin
from planner.record.value import Plan
from planner.wording.cautions import cautions

HEIGHT = metres(2.5)
ASIDE = metres(10.0)
WIDTH = metres(180.0)
LONGEST = 400  # characters of a line
NAME = 60  # of a name in it


def draw_note(space: Any, plan: Plan, box: Box) -> None:
    """Set the note under the drawing.

    Parameters
    ----------
    space : ezdxf.layouts.Modelspace
    plan : Plan
    box : (west, south, east, north)
        What the drawing covers [m].
    """
    text = "\\P".join(_plain(line) for line in note(plan))
    entity = space.add_mtext(text, dxfattribs={"layer": NOTES, "style": STYLE})
    entity.dxf.char_height = HEIGHT
    entity.dxf.width = WIDTH
    entity.set_location((box[0], box[1] - ASIDE))


def note(plan: Plan) -> Iterator[str]:
    """Its lines, the title first."""
    source, crs = plan.terrain.provenance, plan.terrain.crs
    revision = plan.site.papers.revision
    yield plan.site.title
    yield f"Made {plan.made.isoformat()}{f', revision {revision}' if revision else ''}"
    yield f"Drawn in metres, x east and y north of the grid, to be plotted at 1:{SCALE}"
    if crs is not None:
        authority = crs.to_authority()
        number = ":".join(authority) if authority else crs.srs
        yield f"Coordinate system: {crs.name if authority else 'local grid'}, {number}"
    yield f"Datum of heights: {plan.site.papers.datum or 'that of the elevation data'}"
    files = ", ".join(source.files) or "an array"
    doubt = (
        f"one height ± {source.standard_error:.2f} m (standard error)"
        if math.isfinite(source.standard_error)
        else "error of a height not known"
    )
    yield f"Levels from {origin(plan)} ({source.kind}), {doubt}; files: {files}"
    yield "Levels of stakes were not measured: level them before pipe is cut"
    for point in plan.points[:1]:
        x, y = point.xy
        lon, lat = point.lonlat
        name = words(point.name, NAME)
        yield f"To check: {name} is at x {x:.3f}, y {y:.3f}; lon {lon:.8f}, lat {lat:.8f}"
    yield from cautions(plan)


def _plain(line: str) -> str:
    """Without what begins or ends a format in a text of several lines."""
    return words(line, LONGEST).replace("{", "(").replace("}", ")")
