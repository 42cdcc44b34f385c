"""Paper and the places on it, in millimetres from the lower left corner."""

from dataclasses import dataclass

from planner.site.field import Paper

MM_PER_INCH = 25.4
FRAME = 10.0  # mm from the paper's edge; what common printers leave free, and a little more
LABELS = 32.0  # mm, the column of row names at the left of the section
ROW = 3.9  # mm, one data row
LEGEND = 5.4  # mm, the key of strokes between plan strip and section
FOOT = 44.0  # mm
BLOCK = 108.0  # mm, the title block's width
STRIP = 0.165  # of the frame's height, the plan strip

PaperName = Paper


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

    def overlaps(self, other: "Box") -> bool:
        """Whether the two share some paper."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.bottom < other.top
            and other.bottom < self.top
        )

    def holds(self, other: "Box") -> bool:
        """Whether the other lies wholly inside."""
        return (
            self.left <= other.left
            and other.right <= self.right
            and self.bottom <= other.bottom
            and other.top <= self.top
        )


# Landscape, width and height [mm]: ISO 216 A4 and A3, ANSI/ASME Y14.1 A (Letter), B (Tabloid).
PAPERS: dict[PaperName, tuple[float, float]] = {
    "A4": (297.0, 210.0),
    "A3": (420.0, 297.0),
    "Letter": (279.4, 215.9),
    "Tabloid": (431.8, 279.4),
}


@dataclass(frozen=True, slots=True)
class Layout:
    """Where each part of a sheet stands [mm].

    `strip`, `legend`, `section` and `rows` share their sides; `names` is the column at their left.
    """

    paper: tuple[float, float]
    frame: Box
    names: Box
    strip: Box
    legend: Box
    section: Box
    rows: Box
    foot: Box
    block: Box


def frame_of(paper: PaperName) -> Box:
    """What is left of a paper inside its margins [mm]."""
    width, height = PAPERS[paper]
    return Box(FRAME, FRAME, width - FRAME, height - FRAME)


def block_of(paper: PaperName) -> Box:
    """Where the title block stands on every sheet: lower right [mm]."""
    frame = frame_of(paper)
    return Box(frame.right - BLOCK, frame.bottom, frame.right, frame.bottom + FOOT)


def layout(paper: PaperName, rows_height: float) -> Layout:
    """The parts of a line's sheet with data rows of that height [mm]; the section gets the rest."""
    frame, block = frame_of(paper), block_of(paper)
    left, right = frame.left + LABELS, frame.right
    rows_top = block.top + rows_height
    strip_bottom = frame.top - STRIP * frame.height
    return Layout(
        paper=PAPERS[paper],
        frame=frame,
        names=Box(frame.left, block.top, left, frame.top),
        strip=Box(left, strip_bottom, right, frame.top),
        legend=Box(left, strip_bottom - LEGEND, right, strip_bottom),
        section=Box(left, rows_top, right, strip_bottom - LEGEND),
        rows=Box(left, block.top, right, rows_top),
        foot=Box(frame.left, frame.bottom, block.left, block.top),
        block=block,
    )
