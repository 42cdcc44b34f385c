"""Ink on the sheet: type, text that can hold anything, and lines placed in millimetres."""

import unicodedata
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from typing import Any

import matplotlib as mpl
import numpy.typing as npt
from matplotlib.axes import Axes
from matplotlib.font_manager import FontProperties
from matplotlib.patheffects import withStroke
from matplotlib.text import Text
from matplotlib.textpath import text_to_path

from planner.output.look import INK
from planner.output.sheets.paper import MM_PER_INCH

POINTS_PER_MM = 72.0 / MM_PER_INCH
SMALL = 7.0  # pt, the least on any sheet: words, 2.5 mm of type
FIGURE = 8.6  # pt: figures of the data rows, digits 2.2 mm high (ISO 3098 letters go by 2.5)
MEDIUM = 8.6
LARGE = 11.0
LINE_HEIGHT = 1.28  # of the size of type
WHITE = "#ffffff"

# Sheets must not depend on the user's own matplotlib settings, and names must not be read as
# formulas. SVG keeps its text as text, to be searched and read aloud; the sans serif that stands
# in where DejaVu Sans is missing is narrower, so it fits.
SETTINGS: Any = {  # matplotlib names its settings by literals of its own version
    "font.family": ["DejaVu Sans"],
    "text.usetex": False,
    "text.parse_math": False,
    "text.antialiased": True,
    "text.hinting": "none",  # or words come out wider on screen than on paper
    "svg.fonttype": "none",
    "svg.hashsalt": "headfall",
    "pdf.fonttype": 42,
    "pdf.compression": 6,
    "path.simplify": True,
    "axes.unicode_minus": True,
}


@contextmanager
def drawing() -> Iterator[None]:
    """The settings under which sheets are made and saved; a name's rare glyph is no error."""
    with mpl.rc_context(SETTINGS), warnings.catch_warnings():
        warnings.filterwarnings("ignore", message=r"Glyph .* missing", category=UserWarning)
        yield


def clean(text: str) -> str:
    """`text` on one line, without characters that are not to be printed."""
    joiners = "\u200c\u200d"
    kept = (
        c if c in joiners or unicodedata.category(c) not in {"Cc", "Cf", "Cs", "Zl", "Zp"} else " "
        for c in text
    )
    return " ".join("".join(kept).split())


@lru_cache(maxsize=4096)
def text_width(text: str, size: float, weight: str = "normal") -> float:
    """Width of a text on paper [mm]."""
    if not text:
        return 0.0
    font = FontProperties(family="DejaVu Sans", size=size, weight=weight)
    with drawing():
        points, _, _ = text_to_path.get_text_width_height_descent(text, font, ismath=False)
    return float(points) / POINTS_PER_MM


def fitted(text: str, width: float, size: float, weight: str = "normal") -> str:
    """`text`, cleaned, cut with "…" so as to be at most `width` mm wide."""
    whole = clean(text)
    if text_width(whole, size, weight) <= width:
        return whole
    low, high = 0, min(len(whole), int(width / 0.2) + 1)
    while low < high:
        middle = (low + high + 1) // 2
        short = text_width(whole[:middle].rstrip() + "…", size, weight) <= width
        low, high = (middle, high) if short else (low, middle - 1)
    return whole[:low].rstrip() + "…"


def wrapped(text: str, width: float, size: float, weight: str = "normal") -> list[str]:
    """`text` in lines of at most `width` mm; a word too long for a line is cut."""
    lines: list[str] = []
    for word in clean(text).split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size, weight) <= width:
            lines[-1] = longer
        else:
            lines.append(fitted(word, width, size, weight))
    return lines


def leading(size: float) -> float:
    """From one line of type to the next [mm]."""
    return size * LINE_HEIGHT / POINTS_PER_MM


def write(axes: Axes, x: float, y: float, text: str, size: float = SMALL, **how: Any) -> Text:
    """Text at a place, by default left-aligned on its baseline, in ink."""
    style: dict[str, Any] = {"color": INK, "ha": "left", "va": "baseline", **how}
    return axes.text(x, y, clean(text), fontsize=size, **style)


def rule(axes: Axes, x: npt.ArrayLike, y: npt.ArrayLike, width: float = 0.5, **how: Any) -> None:
    """A line through points; width in points."""
    style: dict[str, Any] = {"color": INK, "solid_capstyle": "butt", **how}
    axes.plot(x, y, linewidth=width, **style)


def halo(width: float = 1.6) -> list[withStroke]:
    """Paper round a text, so that lines under it stop short; for `path_effects`."""
    return [withStroke(linewidth=width, foreground=WHITE)]
