"""The type of printed pages, and text in it, whatever a name may hold."""

import re
import unicodedata
from collections.abc import Iterable
from functools import cache
from pathlib import Path

import matplotlib as mpl
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.platypus import Paragraph

from planner.output.stakes.clean import one_line

PLAIN, BOLD = "Sheet", "Sheet-Bold"
FILES = {PLAIN: "DejaVuSans.ttf", BOLD: "DejaVuSans-Bold.ttf"}
OUTDOORS = 12.0  # pt, the least that is read outdoors
LEADING = 1.2  # of the size of type
MISSING = "□"  # stands where the type has no such letter
MOST = 60  # letters of a name
ENTITIES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;"})
_WORD = r"[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]+"
RIGHT_TO_LEFT = re.compile(rf"{_WORD}(?:[ -]+{_WORD})*")


@cache
def ready() -> frozenset[int]:
    """Make the type known to reportlab; returns the code points it has letters for."""
    folder = Path(mpl.get_data_path()) / "fonts" / "ttf"
    fonts = [TTFont(name, str(folder / file)) for name, file in FILES.items()]
    for font in fonts:
        pdfmetrics.registerFont(font)
    pdfmetrics.registerFontFamily(PLAIN, normal=PLAIN, bold=BOLD, italic=PLAIN, boldItalic=BOLD)
    return frozenset.intersection(*(frozenset(font.face.charToGlyph) for font in fonts))


def printable(text: str, most: int = MOST) -> str:
    r"""`text` on one line, at most so long, with a box in place of letters the type has not.

    Examples
    --------
    >>> printable("Spring\n💧 <b>")
    'Spring □ <b>'
    """
    letters = ready()
    line = one_line(unicodedata.normalize("NFC", text), most)
    kept = (c for c in line if ord(c) in letters or unicodedata.category(c) not in {"Cf", "Mn"})
    return "".join(c if ord(c) in letters else MISSING for c in kept)


def turned(text: str) -> str:
    """Text as the page sets it, from left to right: words of other scripts turned round.

    The last thing done to a text; done twice it is undone.
    """
    return RIGHT_TO_LEFT.sub(lambda words: words[0][::-1], text)


def markup(text: str) -> str:
    """Text that can't be taken for markup.

    Examples
    --------
    >>> markup("Smith & <b>")
    'Smith &amp; &lt;b&gt;'
    """
    return text.translate(ENTITIES)


def style(size: float = OUTDOORS, *, bold: bool = False, after: float = 0.0) -> ParagraphStyle:
    """Type of a size [pt], with room after it [pt]."""
    ready()
    name = BOLD if bold else PLAIN
    return ParagraphStyle(
        name, fontName=name, fontSize=size, leading=size * LEADING, spaceAfter=after
    )


def paragraph(
    text: str, size: float = OUTDOORS, *, lead: str = "", bold: bool = False
) -> Paragraph:
    """Plain text as a paragraph, with `lead` in bold before it."""
    return Paragraph(_led(lead, text), style(size, bold=bold))


def run_in(said: Iterable[tuple[str, str]], size: float = OUTDOORS) -> Paragraph:
    """Things said one after the other in one paragraph, each with its lead in bold before it."""
    return Paragraph("  ".join(_led(lead, text) for lead, text in said), style(size))


def _led(lead: str, text: str) -> str:
    plain = markup(turned(printable(text, len(text))))
    return f"<b>{markup(turned(printable(lead, len(lead))))}</b> {plain}" if lead else plain


def width_of(text: str, size: float = OUTDOORS, *, bold: bool = False) -> float:
    """Width of a text on paper [pt]."""
    ready()
    return float(pdfmetrics.stringWidth(text, BOLD if bold else PLAIN, size))


def cut(text: str, width: float, size: float = OUTDOORS, *, bold: bool = False) -> str:
    """`text`, made printable, cut with "…" so as to be at most `width` pt wide."""
    whole = printable(text, len(text))
    if width_of(whole, size, bold=bold) <= width:
        return turned(whole)
    while whole and width_of(f"{whole}…", size, bold=bold) > width:
        whole = whole[:-1].rstrip()
    return turned(f"{whole}…")
