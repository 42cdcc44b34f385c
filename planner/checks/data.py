"""Whether the elevation data and the sketch can be believed."""

from collections.abc import Iterator

import numpy as np

from planner.checks.levels import fall_measured
from planner.checks.planned import expected
from planner.checks.spot import on_line
from planner.checks.value import Limit, Values
from planner.record.value import Finding, Plan

CELLS_PER_FALL = Limit(
    1.0, "a point misplaced by half a cell on steep land is wrong by as much as the fall", "setting"
)
CELLS_PER_FALL_STOP = Limit(
    5.0, "30 m grids are useless for the fall of a ram (reported errors of 3 to 8 m)", "setting"
)


def height_unit_assumed(plan: Plan) -> Iterator[Finding]:
    """Neither the file nor the user said the unit of heights."""
    if plan.terrain.provenance.height_unit_assumed:
        yield Finding("warn", "height-unit-assumed")


def height_unit_doubt(plan: Plan) -> Iterator[Finding]:
    """The unit makes slopes that land does not have."""
    why = plan.terrain.provenance.height_unit_doubt
    if why is not None:
        yield Finding("warn", "height-unit-doubt", {"why": why.strip().rstrip(".")})


def surface_model(plan: Plan) -> Iterator[Finding]:
    """Trees and roofs stand for the ground."""
    if plan.terrain.provenance.surface_model:
        yield Finding("warn", "surface-model")


def too_coarse(plan: Plan) -> Iterator[Finding]:
    """Cells too wide for the fall that is read from them."""
    provenance = plan.terrain.provenance
    cell = provenance.native_cell
    if not np.isfinite(cell):
        cell = max(plan.terrain.cell)
    fall = expected(plan.water.fall)
    if fall is None or fall <= 0 or provenance.kind == "levelled" or fall_measured(plan):
        return
    if cell > CELLS_PER_FALL.value * fall:
        stop = cell >= CELLS_PER_FALL_STOP.value * fall
        values: Values = {"fall_m": fall, "cell_m": cell}
        yield Finding("stop" if stop else "warn", "data-too-coarse", values)


def coarsened(plan: Plan) -> Iterator[Finding]:
    """Cells were averaged to keep the grid within its limit."""
    factor = plan.terrain.provenance.coarsened
    if factor > 1:
        cell = max(plan.terrain.cell)
        yield Finding("note", "data-coarsened", {"factor": float(factor), "cell_m": cell})


def files_unused(plan: Plan) -> Iterator[Finding]:
    """Elevation files that lie elsewhere."""
    files = plan.terrain.provenance.lost_files
    if files:
        yield Finding("note", "files-unused", {"files": ", ".join(files)})


def sketch_ignored(plan: Plan) -> Iterator[Finding]:
    """Features of the sketch's file whose role nothing tells."""
    for name in plan.site.sketch.ignored:
        yield Finding("warn", "sketch-ignored", {"feature": name})


def swapped_coordinates(plan: Plan) -> Iterator[Finding]:
    """Latitude and longitude had to be exchanged."""
    if plan.site.sketch.swapped:
        yield Finding("warn", "swapped-coordinates")


def on_filled_data(plan: Plan) -> Iterator[Finding]:
    """A line over ground whose level was filled in."""
    for line in plan.lines:
        profile = line.profile
        if not profile.filled.any():
            continue
        # Each sample stands for half of the pieces on both its sides.
        share = np.gradient(profile.chainage)
        metres = float(share[profile.filled].sum())
        first = int(np.argmax(profile.filled))
        yield on_line(line, first, "warn", "on-filled-data", {"metres_m": metres})
