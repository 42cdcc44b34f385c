"""The longitudinal section of a line as SVG: ground, pipe, levels of the water, rows of figures.

Both scales are true: the vertical exaggeration is a round number and stands on the drawing.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from markupsafe import Markup

from planner.output.map.assets import TEMPLATES
from planner.output.map.scene import Scene, SceneFinding, SceneLine
from planner.output.map.ticks import nice_step, ticks
from planner.profile.value import FloatArray
from planner.record.value import Plan
from planner.site.value import Units
from planner.units.show import number_text, per_si, show, symbol

EXAGGERATIONS = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 8.0, 10.0, 15.0, 20.0, 25.0, 40.0, 50.0)
HEADROOM = 0.10  # of the range of levels, left free above and below
LEAST_RANGE = 1.0  # m of level that a section shows at least
PEG = 7  # px, a stake on the lower edge
LEVEL_GAP = 30.0  # px between two level ticks at least
ROWS = ("chainage", "ground", "pipe", "depth")  # of figures, as every section has them


@dataclass(frozen=True, slots=True)
class Format:
    """Size of a section in its own pixels; the whole is scaled, letters too.

    `height` is the plot's alone, `gutter` the strip at its left that holds levels and the names
    of the rows, `column` the least distance of two columns of figures. `rows` may hold "open" and
    "closed" too, the head in the pipe with its outlet so.
    """

    name: str
    width: float
    height: float
    type_size: float
    gutter: float
    column: float
    rows: tuple[str, ...] = ROWS


# The middle one is about as wide as a sheet of paper and prints in 12 point; the medium one leaves
# room for the plan on a small screen.
FORMATS = (
    Format("wide", 1000.0, 180.0, 13.0, 122.0, 76.0),
    Format("middle", 600.0, 190.0, 14.0, 128.0, 80.0),
    Format("medium", 700.0, 120.0, 13.0, 122.0, 76.0),
    Format("narrow", 370.0, 180.0, 12.5, 112.0, 68.0),
)


@dataclass(frozen=True, slots=True)
class Axes:
    """Pixels from chainage and level [m]; `exaggeration` is the ratio of the two scales."""

    left: float
    top: float
    bottom: float
    along: float  # px per m of chainage
    up: float  # px per m of level
    lowest: float  # m, the level at `bottom`
    exaggeration: float

    def x(self, chainage: Any) -> Any:
        """Pixels from the left of the drawing."""
        return self.left + np.asarray(chainage) * self.along

    def y(self, level: Any) -> Any:
        """Pixels from the top of the drawing."""
        return self.bottom - (np.asarray(level) - self.lowest) * self.up


def draw_section(plan: Plan, scene: Scene, line: SceneLine, page: Format) -> Markup:
    """One line's section as an SVG element.

    Parameters
    ----------
    plan, scene : Plan, Scene
    line : SceneLine
        One of the scene's lines.
    page : Format
    """
    units = plan.site.units
    error = plan.terrain.provenance.standard_error
    findings = [
        finding
        for finding in scene.findings
        if finding.line == line.name and finding.chainage is not None
    ]
    axes = fit_axes(line, page, numbered=bool(findings))
    columns = _columns(line, axes, page, units)
    words = _row_words(units)
    drawn = {
        "page": page,
        "line": line,
        "axes": axes,
        "unit": symbol("level", units),
        "rows": [(row, words[row]) for row in page.rows if line.closed is not None or row in ROWS],
        "right": float(axes.x(line.chainage[-1])),
        "ground": polyline(axes, line.chainage, line.ground),
        "soil": _soil(axes, line),
        "doubt": _doubt(axes, line, error) if np.isfinite(error) else "",
        "error": show(error, "level", units) if np.isfinite(error) else "",
        "pipe": polyline(axes, line.chainage, line.pipe),
        "closed": _water(axes, line, line.closed),
        "open": _water(axes, line, line.open),
        "pegs": _pegs(scene, line, axes),
        "levels": _levels(axes, units),
        "columns": columns,
        "turns": [
            (turn, float(axes.x(turn.chainage)), float(axes.y(turn.level)))
            for turn in scene.turns
            if turn.line == line.name
        ],
        "findings": _numbers(findings, axes, page.type_size),
    }
    return Markup(TEMPLATES.get_template("section.svg.jinja").render(**drawn))  # noqa: S704  # rendered with autoescape


def fit_axes(line: SceneLine, page: Format, *, numbered: bool) -> Axes:
    """The largest true scales at which the line's levels fit the plot.

    `numbered` keeps a row free above the plot for the numbers of findings.
    """
    lowest, highest = _range(line)
    span = highest - lowest
    width = page.width - page.gutter - page.column * 0.45
    along = min(width / line.chainage[-1], page.height / span)
    fitting = page.height / (span * along)
    exaggeration = max(e for e in EXAGGERATIONS if e <= fitting + 1e-9)
    rows = 2 if page.name == "wide" or not numbered else 3
    top = page.type_size * (0.7 + 1.5 * rows)
    return Axes(
        left=page.gutter,
        top=top,
        bottom=top + page.height,
        along=float(along),
        up=float(along * exaggeration),
        lowest=float(lowest),
        exaggeration=exaggeration,
    )


def _range(line: SceneLine) -> tuple[float, float]:
    """Lowest and highest level to show, with room around them."""
    shown = [line.ground, line.pipe, *(w for w in (line.closed, line.open) if w is not None)]
    every = np.concatenate(shown)
    every = every[np.isfinite(every)]
    low, high = (float(every.min()), float(every.max())) if every.size else (0.0, 0.0)
    room = max(high - low, LEAST_RANGE) * HEADROOM
    middle, half = (low + high) / 2, max(high - low, LEAST_RANGE) / 2 + room
    return middle - half, middle + half


def polyline(axes: Axes, chainage: FloatArray, level: FloatArray) -> str:
    """SVG path through the samples, broken where the level is not known."""
    text, pen_down = [], False
    for x, y in zip(axes.x(chainage), axes.y(level), strict=True):
        if np.isfinite(y):
            text.append(f"{'L' if pen_down else 'M'}{x:.1f} {y:.1f}")
        pen_down = bool(np.isfinite(y))
    return "".join(text)


def _water(axes: Axes, line: SceneLine, level: FloatArray | None) -> str:
    return "" if level is None else polyline(axes, line.chainage, level)


def _pegs(scene: Scene, line: SceneLine, axes: Axes) -> str:
    """A short stroke up from the lower edge of the plot at each stake."""
    at = [s.chainage_m for one in scene.staked if one.line.name == line.name for s in one.stakes]
    return "".join(f"M{x:.1f} {axes.bottom:.1f}v-{PEG}" for x in axes.x(np.array(at)))


def _soil(axes: Axes, line: SceneLine) -> str:
    """Closed shape from the ground down to the lower edge of the plot."""
    known = np.isfinite(line.ground)
    if known.sum() < 2:
        return ""
    x, y = axes.x(line.chainage[known]), axes.y(line.ground[known])
    steps = "".join(f"L{a:.1f} {b:.1f}" for a, b in zip(x, y, strict=True))
    return f"M{x[0]:.1f} {axes.bottom:.1f}{steps}L{x[-1]:.1f} {axes.bottom:.1f}Z"


def _doubt(axes: Axes, line: SceneLine, error: float) -> str:
    """Ribbon of one standard error above and below the ground."""
    known = np.isfinite(line.ground)
    if known.sum() < 2:
        return ""
    x, ground = line.chainage[known], line.ground[known]
    chainage = np.concatenate([x, x[::-1]])
    edge = np.concatenate([ground + error, (ground - error)[::-1]])
    return polyline(axes, chainage, edge) + "Z"


def _numbers(
    findings: list[SceneFinding], axes: Axes, letter: float
) -> list[tuple[SceneFinding, float, int]]:
    """Findings with their pixels from the left, and how many more hide behind each."""
    single = _merged(findings, axes, 1.9 * letter)
    return single if len(single) == len(findings) else _merged(findings, axes, 4.6 * letter)


def _merged(
    findings: list[SceneFinding], axes: Axes, apart: float
) -> list[tuple[SceneFinding, float, int]]:
    shown: list[tuple[SceneFinding, float, int]] = []
    for finding in sorted(findings, key=lambda f: (f.chainage or 0.0, f.number)):
        x = float(axes.x(finding.chainage))
        if shown and x - shown[-1][1] < apart:
            first, place, hidden = shown[-1]
            shown[-1] = (first, place, hidden + 1)
        else:
            shown.append((finding, x, 0))
    return shown


def _levels(axes: Axes, units: Units) -> list[tuple[float, str]]:
    """Ticks of the level axis: pixels from the top, and the figure in display units."""
    scale = per_si("level", units)
    step = nice_step(LEVEL_GAP / axes.up * scale)
    low = axes.lowest * scale
    high = low + (axes.bottom - axes.top) / axes.up * scale
    digits = 0 if step >= 1 else 1 if step >= 0.1 else 2
    return [
        (float(axes.y(value / scale)), f"{value:.{digits}f}".replace("-", "−"))
        for value in ticks(low, high, step)
    ]


def _row_words(units: Units) -> dict[str, str]:
    """What stands before each row of figures."""
    unit = symbol("level", units)
    return {
        "chainage": f"{'Chainage' if units == 'metric' else 'Station'}, {unit}",
        "ground": f"Ground, {unit}",
        "pipe": f"Pipe, {unit}",
        "depth": f"Depth, {unit}",
        "open": f"Head, open, {unit}",
        "closed": f"Head, closed, {unit}",
    }


def _columns(line: SceneLine, axes: Axes, page: Format, units: Units) -> list[dict[str, Any]]:
    """Columns of figures under the plot: the ends, and round chainages between."""
    scale = per_si("level", units)
    total = float(line.chainage[-1])
    step = nice_step(page.column / axes.along * scale) / scale
    inner = [c for c in ticks(0.0, total, step) if (total - c) * axes.along >= page.column]
    return [
        {"x": float(axes.x(chainage)), **_figures(line, float(chainage), units)}
        for chainage in (*(inner or [0.0]), total)
    ]


def _figures(line: SceneLine, chainage: float, units: Units) -> dict[str, str]:
    """The figures of every row at one chainage."""
    ground = float(np.interp(chainage, line.chainage, line.ground))
    pipe = float(np.interp(chainage, line.chainage, line.pipe))
    figures = {
        "chainage": _chainage(chainage, units),
        "ground": number_text(ground, "level", units),
        "pipe": number_text(pipe, "level", units),
        "depth": number_text(ground - pipe, "level", units),
    }
    for row, water in (("open", line.open), ("closed", line.closed)):
        if water is not None:
            level = float(np.interp(chainage, line.chainage, water))
            figures[row] = number_text(level - pipe, "head", units)
    return figures


def _chainage(metres: float, units: Units) -> str:
    """A distance along the line, without its unit; in feet as a station, 1+00.0."""
    if units == "metric":
        return number_text(metres, "length", units)
    hundreds, rest = divmod(round(metres * per_si("length", units), 1), 100.0)
    return f"{hundreds:.0f}+{rest:04.1f}"
