"""On which side of its point a name stands: where it covers least."""

from typing import Literal

import numpy as np

from planner.profile.value import FloatArray

Side = Literal["right", "left", "above", "below"]
Box = tuple[float, float, float, float]  # left, top, right, bottom

SIDES: tuple[Side, ...] = ("right", "left", "above", "below")
MOST_LETTERS = 28  # longer names are cut on the plan; the table has them whole
LETTER = 9.0  # px, mean width of a letter of a name
REACH = 17.0  # px from a point's middle to its name
HALF = 9.0  # px, half the height of a name
CUT_WEIGHT = 100.0  # so much weighs a name cut off by the edge of the paper
NAME_WEIGHT = 60.0  # a name or point covered weighs as much as this many samples of a line


def name_sides(
    names: list[str], at: FloatArray, paths: list[FloatArray], sheet: tuple[float, float]
) -> list[Side]:
    """A side for each name, chosen in turn.

    Parameters
    ----------
    names : list of str
    at : (n, 2) ndarray
        The points on paper [px].
    paths : list of (m, 2) ndarray
        Lines on paper [px], best not covered.
    sheet : (float, float)
        Width and height of the paper [px], best not left.
    """
    ink = np.concatenate([_sampled(path) for path in paths]) if paths else np.zeros((0, 2))
    taken: list[Box] = [(x - 13, y - 13, x + 13, y + 13) for x, y in at]
    sides: list[Side] = []
    for place, (name, (x, y)) in enumerate(zip(names, at, strict=True)):
        boxes = {side: name_box(name, float(x), float(y), side) for side in SIDES}
        others = taken[:place] + taken[place + 1 :]
        costs = {s: _covered(b, ink, others) + _cut(b, sheet) for s, b in boxes.items()}
        side = min(boxes, key=costs.__getitem__)
        sides.append(side)
        taken.append(boxes[side])
    return sides


def name_box(name: str, x: float, y: float, side: Side) -> Box:
    """The room a name takes on a side of its point."""
    width = LETTER * min(max(len(name), 1), MOST_LETTERS)
    if side == "right":
        return x + REACH, y - HALF, x + REACH + width, y + HALF
    if side == "left":
        return x - REACH - width, y - HALF, x - REACH, y + HALF
    top = y - REACH - 2 * HALF if side == "above" else y + REACH
    return x - width / 2, top, x + width / 2, top + 2 * HALF


def meets(a: Box, b: Box) -> bool:
    """Whether two boxes cover common ground."""
    return a[0] < b[2] and a[2] > b[0] and a[1] < b[3] and a[3] > b[1]


def _covered(box: Box, ink: FloatArray, others: list[Box]) -> float:
    left, top, right, bottom = box
    x, y = ink[:, 0], ink[:, 1]
    drawn = float(np.sum((x > left) & (x < right) & (y > top) & (y < bottom)))
    return drawn + NAME_WEIGHT * sum(meets(box, other) for other in others)


def _cut(box: Box, sheet: tuple[float, float]) -> float:
    left, top, right, bottom = box
    inside = left >= 0 and top >= 0 and right <= sheet[0] and bottom <= sheet[1]
    return 0.0 if inside else CUT_WEIGHT


def _sampled(path: FloatArray) -> FloatArray:
    """The path at every 4 px."""
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(path, axis=0).T))])
    at = np.arange(0.0, run[-1] + 4.0, 4.0)
    return np.column_stack([np.interp(at, run, path[:, axis]) for axis in (0, 1)])
