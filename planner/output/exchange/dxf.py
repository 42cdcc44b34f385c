"""`plan.dxf`: a drawing for a surveyor, in metres and three dimensions."""

import datetime
import io
import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from ezdxf import options  # type: ignore[attr-defined]
from ezdxf.filemanagement import new
from ezdxf.tools.juliandate import juliandate

from planner.output.exchange.drawing_blocks import add_blocks
from planner.output.exchange.drawing_land import Box, box_of, draw_land
from planner.output.exchange.drawing_layers import add_layers
from planner.output.exchange.drawing_lines import draw_lines
from planner.output.exchange.drawing_note import draw_note
from planner.output.exchange.drawing_points import draw_points
from planner.output.stakes.value import StakedLine
from planner.record.value import Plan

VERSION = "R2010"
METRES = 6  # of $INSUNITS
DATES = re.compile(r"(\$TDU?(?:CREATE|UPDATE)\n *40\n)[^\n]+")


def write_dxf(plan: Plan, staked: Sequence[StakedLine], path: Path) -> None:
    """Write DXF R2010 in the terrain's own x, y and levels, in metres.

    Layers: each line role's name for its pipes (3-D polylines), `<role>-ground` for the ground
    over them; each point role's and area role's name; `stakes`, `high-points`, `low-points`,
    `vents`, `crossings`, `findings`, `levelled`, `as-built`; `streams`, `contours`,
    `contours-index`, `notes`. Points are block inserts whose attributes hold the figures.

    Parameters
    ----------
    plan : Plan
    staked : sequence of StakedLine
    path : Path
        The dates inside are those of the plan, so that the same plan gives the same bytes.
    """
    with _without_clock():
        doc = new(VERSION, setup=False, units=METRES)
        doc.header["$MEASUREMENT"] = 1  # metric linetypes
        add_layers(doc)
        add_blocks(doc)
        space, box = doc.modelspace(), box_of(plan)
        draw_land(space, plan)
        draw_lines(space, plan)
        draw_points(space, plan, staked)
        draw_note(space, plan, box)
        _show(doc, box)
        _name_classes(doc)
        text = io.StringIO()
        doc.write(text)
    made = juliandate(datetime.datetime.combine(plan.made, datetime.time()))
    path.write_bytes(doc.encode(DATES.sub(rf"\g<1>{made}", text.getvalue())))


def _show(doc: Any, box: Box) -> None:
    """Have the drawing open at the plan."""
    west, south, east, north = box
    doc.modelspace().reset_extents((west, south, 0.0), (east, north, 0.0))
    middle = (west + east) / 2.0, (south + north) / 2.0
    doc.set_modelspace_vport(height=max(north - south, (east - west) / 1.5), center=middle)


def _name_classes(doc: Any) -> None:
    """Declare the kinds of objects in order; the library would in that of a set, by chance."""
    for kind in sorted(doc.entitydb.dxf_types_in_use()):
        doc.classes.add_class(kind)


@contextmanager
def _without_clock() -> Iterator[None]:
    """Have the library write fixed dates and numbers in place of the present and of chance."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before
