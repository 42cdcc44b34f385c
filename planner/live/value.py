"""What the page is told, as plain values that JSON takes.

Coordinates are x, y in the terrain's own metres, rounded to 0.01; figures are finished words in the
site's units. Text typed by users is as they typed it: whoever shows it escapes it.
"""

from typing import Literal, NotRequired, TypedDict

XY = list[float]  # x, y [m]


class GroundView(TypedDict):
    """The ground under the plan; the picture itself is asked for apart, as PNG bytes.

    `bounds` is west, south, east, north of the picture [m]; `crs` is WKT. `levels` is a coarse grid
    for the pointer: `rows` x `cols` nodes spread evenly from corner to corner of `bounds`, row 0 in
    the north, decimetres as integers, null where no level is known. `contours` are [level [m],
    index or not, path]; a level times `per_metre` is the figure in `unit`, as is `interval`.
    `data` tells where the levels come from.
    """

    crs: str
    bounds: list[float]
    cell: float
    rows: int
    cols: int
    levels: list[int | None]
    unit: str
    per_metre: float
    interval: float
    contours: list[tuple[float, bool, list[XY]]]
    kind: str
    standard_error: float | None
    data: str


class PointView(TypedDict):
    """A point; `letter` is drawn in it. `lonlat` in degrees; `ground` and `level` in words."""

    name: str
    role: str
    word: str
    letter: str
    at: XY
    lonlat: list[float]
    ground: str
    level: str
    height: str
    flow: str
    line: str
    by_program: bool


class AreaView(TypedDict):
    """An area: rings [x, y] of each part, outer first; `index` counts as `Sketch.areas` does."""

    index: int
    name: str
    role: str
    label: str
    parts: list[list[list[XY]]]
    factor: float
    deepest_trench: str
    ground: str


class LineView(TypedDict):
    """A pipe, sampled alike in plan and section (levels in m, null where not known)."""

    name: str
    role: str
    title: str
    letters: str
    colour: str
    length: str
    path: list[XY]
    chainage: list[float]
    ground: list[float | None]
    pipe: list[float | None]


class TurnView(TypedDict):
    """A high or low point of a line; `vent` is its kind, "" without."""

    kind: Literal["high", "low"]
    line: str
    text: str
    at: XY
    chainage: float
    vent: str


class ActionView(TypedDict):
    """A remedy the program can do: `key` and place in `FindingView.actions` tell which."""

    key: str
    words: str


class FindingView(TypedDict):
    """A finding in words, `at` null where it has no place on the plan."""

    number: int
    level: Literal["stop", "warn", "note"]
    code: str
    message: str
    remedy: str
    line: str | None
    chainage: float | None
    at: XY | None
    odds: str
    actions: list[ActionView]


class FigureView(TypedDict):
    """A figure of the water column with what it hangs on."""

    label: str
    figure: str
    source: str


class PlanView(TypedDict):
    """All that is drawn of a draft.

    `state`: "sketch" while points are missing (`missing` says which, in one sentence), "refining"
    for a quick answer that the exact one will replace, "plan" for the plan itself. `revision` is
    the draft's, so that late answers can be told. `ground` is the name of the ground it lies on: of
    large data that ground is another once the sketch can be planned, or grows beyond it.
    """

    state: Literal["sketch", "refining", "plan"]
    revision: int
    missing: str
    title: str
    scheme: str
    units: str
    points: list[PointView]
    areas: list[AreaView]
    lines: list[LineView]
    turns: list[TurnView]
    streams: list[list[XY]]
    crossings: list[list[XY]]
    findings: list[FindingView]
    figures: list[FigureView]
    cautions: list[str]
    settings: dict[str, str]
    sections: NotRequired[dict[str, str]]
    ground: NotRequired[str]


class FollowView(TypedDict):
    """Lines while a point is dragged; those not named stay as they are.

    `at` is the dragged point, `level` its ground in words; `gone` are lines for which no way is
    found from there, with the reason; `figures` the headline figures.
    """

    name: str
    at: XY
    level: str
    lines: list[LineView]
    turns: list[TurnView]
    gone: dict[str, str]
    figures: list[FigureView]


class LevelsView(TypedDict):
    """Between two places: distance on the level, fall from the first to the second, grade."""

    first: str
    second: str
    distance: str
    fall: str
    grade: str
    odds: str


class CompareView(TypedDict):
    """Two plans side by side: rows of label, first, second, and whether they differ."""

    rows: list[tuple[str, str, str, bool]]
    lines: list[LineView]


class GroupView(TypedDict):
    """Figures of the water table under one title."""

    title: str
    rows: list[FigureView]


class FirstLookView(TypedDict):
    """What five numbers say: `go` is "go", "no-go" or "unsure"; `figure` "" where none is known.

    `rows` are label, figure, what it hangs on.
    """

    verdict: str
    go: str
    figure: str
    measure: str
    rows: list[tuple[str, str, str]]
    assumed: list[str]
