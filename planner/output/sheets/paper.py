"""Paper and the places on it, in millimetres from the lower left corner."""

from dataclasses import dataclass
from typing import Literal

MM_PER_INCH = 25.4
FRAME = 10.0  # mm from the paper's edge; what common printers leave free, and a little more
LABELS = 32.0  # mm, the column of row names at the left of the section
ROW = 4.8  # mm, one data row
ROWS = 5  # chainage, ground, pipe, depth, grade
LEGEND = 6.0  # mm, the key of strokes between plan strip and section
FOOT = 47.0  # mm
BLOCK = 104.0  # mm, the title block's width

PaperName = Literal["A4", "Letter"]


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on the sheet [mm]."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """From left to right [mm]."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From bottom to top [mm]."""
        return self.top - self.bottom


# Landscape, width and height [mm]: ISO 216 A4, ANSI/ASME Y14.1 A (Letter).
PAPERS: dict[PaperName, tuple[float, float]] = {"A4": (297.0, 210.0), "Letter": (279.4, 215.9)}


@dataclass(frozen=True, slots=True)
class Layout:
    """Where each part of a sheet stands [mm]; `section`, `legend` and `rows` share their sides."""

    paper: tuple[float, float]
    frame: Box
    strip: Box
    legend: Box
    section: Box
    rows: Box
    foot: Box
    block: Box


def layout(paper: PaperName, strip_height: float, rows: int = ROWS) -> Layout:
    """The sheet's parts with a plan strip of that height [mm] and so many data rows.

    The section gets the rest.
    """
    width, height = PAPERS[paper]
    frame = Box(FRAME, FRAME, width - FRAME, height - FRAME)
    left, right = frame.left + LABELS, frame.right
    foot_top = frame.bottom + FOOT
    rows_top = foot_top + ROW * rows
    strip_bottom = frame.top - strip_height
    return Layout(
        paper=(width, height),
        frame=frame,
        strip=Box(frame.left, strip_bottom, frame.right, frame.top),
        legend=Box(left, strip_bottom - LEGEND, right, strip_bottom),
        section=Box(left, rows_top, right, strip_bottom - LEGEND),
        rows=Box(left, foot_top, right, rows_top),
        foot=Box(frame.left, frame.bottom, frame.right - BLOCK, foot_top),
        block=Box(frame.right - BLOCK, frame.bottom, frame.right, foot_top),
    )
