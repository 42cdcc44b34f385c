"""Where the numbers of findings stand: beside their place, at the corner that covers least."""

from dataclasses import dataclass

import numpy as np

from planner.output.map.naming import Box, Side, meets, name_box
from planner.output.map.paper import Paper
from planner.output.map.scene import Scene, SceneFinding

TOGETHER = 34.0  # px; findings nearer than this stand in one row
CROWD = 40  # findings; where there are more, one row stands for a neighbourhood
CROWDED = 100.0  # px; how far that reaches
MOST_NUMBERS = 3  # of a row; the rest is counted
NUMBER = 25.0  # px from one number to the next
CORNERS = ((-24.0, 22.0), (24.0, 22.0), (-24.0, -22.0), (24.0, -22.0))  # px, y down
RISE = (54.0, 24.0)  # px, width and height of the words of a high or low point


@dataclass(frozen=True, slots=True)
class NumberRow:
    """Findings of one place [lon, lat]; the first number's middle is `corner` [px] away."""

    at: tuple[float, float]
    findings: tuple[SceneFinding, ...]
    corner: tuple[float, float]


def number_rows(scene: Scene, paper: Paper, sides: list[Side]) -> list[NumberRow]:
    """The rows of numbers on a plan whose names stand on these sides, in the findings' order."""
    taken = _taken(scene, paper, sides)
    rows = []
    for at, findings in _groups(scene, paper):
        x, y = paper.place([at])[0].tolist()
        boxes = {corner: _row_box(x, y, corner, len(findings)) for corner in CORNERS}
        covers = {c: sum(meets(box, other) for other in taken) for c, box in boxes.items()}
        corner = min(CORNERS, key=covers.__getitem__)
        taken.append(boxes[corner])
        rows.append(NumberRow(at, tuple(findings), corner))
    return rows


def _groups(scene: Scene, paper: Paper) -> list[tuple[tuple[float, float], list[SceneFinding]]]:
    """Places with their findings; those that would cover each other are together."""
    groups: list[tuple[tuple[float, float], list[SceneFinding]]] = []
    placed = [(finding, finding.at) for finding in scene.findings if finding.at is not None]
    apart = TOGETHER if len(placed) <= CROWD else CROWDED
    for finding, at in placed:
        away = np.hypot(*(paper.place([place for place, _ in groups]) - paper.place([at])).T)
        if away.size and away.min() < apart:
            groups[int(away.argmin())][1].append(finding)
        else:
            groups.append((at, [finding]))
    return groups


def _taken(scene: Scene, paper: Paper, sides: list[Side]) -> list[Box]:
    """Points, their names, and the words of high and low points."""
    boxes: list[Box] = []
    for point, side in zip(scene.points, sides, strict=True):
        x, y = paper.place([point.lonlat])[0].tolist()
        boxes += [(x - 14, y - 14, x + 14, y + 14), name_box(point.name, x, y, side)]
    width, height = RISE
    for turn in scene.turns:
        x, y = paper.place([turn.lonlat])[0].tolist()
        high = turn.kind == "high"
        boxes.append((x - 9, y - 18, x + 9, y) if high else (x - 9, y, x + 9, y + 18))
        boxes.append(
            (x - 8 - width, y - height, x - 8, y) if high else (x + 8, y, x + 8 + width, y + height)
        )
    return boxes


def _row_box(x: float, y: float, corner: tuple[float, float], count: int) -> Box:
    """A row runs away from its place, to the left or to the right."""
    across, down = corner
    more = 0.0 if count <= MOST_NUMBERS else NUMBER
    reach = NUMBER * (min(count, MOST_NUMBERS) - 1) + more
    middle = x + across
    left, right = (middle - reach, middle) if across < 0 else (middle, middle + reach)
    return left - 12, y + down - 12, right + 12, y + down + 12
