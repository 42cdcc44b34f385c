"""On which side of its point a name stands: where it covers least."""

from typing import Literal

import numpy as np

from planner.profile.value import FloatArray

Side = Literal["right", "left", "above", "below"]
Box = tuple[float, float, float, float]  # left, top, right, bottom

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
        boxes = _boxes(name, float(x), float(y))
        others = taken[:place] + taken[place + 1 :]
        costs = {s: _covered(b, ink, others) + _cut(b, sheet) for s, b in boxes.items()}
        side = min(boxes, key=costs.__getitem__)
        sides.append(side)
        taken.append(boxes[side])
    return sides


def _boxes(name: str, x: float, y: float) -> dict[Side, Box]:
    width = LETTER * min(max(len(name), 1), MOST_LETTERS)
    return {
        "right": (x + REACH, y - HALF, x + REACH + width, y + HALF),
        "left": (x - REACH - width, y - HALF, x - REACH, y + HALF),
        "above": (x - width / 2, y - REACH - 2 * HALF, x + width / 2, y - REACH),
        "below": (x - width / 2, y + REACH, x + width / 2, y + REACH + 2 * HALF),
    }


def _covered(box: Box, ink: FloatArray, others: list[Box]) -> float:
    left, top, right, bottom = box
    x, y = ink[:, 0], ink[:, 1]
    drawn = float(np.sum((x > left) & (x < right) & (y > top) & (y < bottom)))
    meets = sum(left < b[2] and right > b[0] and top < b[3] and bottom > b[1] for b in others)
    return drawn + NAME_WEIGHT * meets


def _cut(box: Box, sheet: tuple[float, float]) -> float:
    left, top, right, bottom = box
    inside = left >= 0 and top >= 0 and right <= sheet[0] and bottom <= sheet[1]
    return 0.0 if inside else CUT_WEIGHT


def _sampled(path: FloatArray) -> FloatArray:
    """The path at every 4 px."""
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(path, axis=0).T))])
    at = np.arange(0.0, run[-1] + 4.0, 4.0)
    return np.column_stack([np.interp(at, run, path[:, axis]) for axis in (0, 1)])
