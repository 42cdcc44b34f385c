"""Blocks of the drawing: one symbol a kind of point, with the attributes it carries."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ezdxf.enums import TextEntityAlignment

from planner.output.exchange.drawing_layers import metres
from planner.output.stakes.clean import one_line

XY = tuple[float, float]
STYLE = "HEADFALL"
FONT = "arial.ttf"  # whoever draws has it, or puts a like one in its place
LONGEST = 200  # characters of an attribute; DXF ends at 255 bytes in old readers
HALF = metres(3.5)  # of a symbol, 7 mm on paper
LETTER = metres(3.0)  # height
NAME = metres(2.5)
STAKE_NAME = metres(1.6)  # stakes may stand a metre apart


@dataclass(frozen=True, slots=True)
class Symbol:
    """A block: closed outlines, open strokes, a circle, a letter, its attributes by tag.

    The first `shown` attributes are seen beside the symbol, one under the other; the rest are
    there to be read out.
    """

    attributes: tuple[str, ...]
    outlines: tuple[tuple[XY, ...], ...] = ()
    strokes: tuple[tuple[XY, ...], ...] = ()
    radius: float = 0.0
    letter: str = ""
    shown: int = 1
    height: float = NAME
    beside: XY = (HALF * 1.2, HALF * 1.1)


def _polygon(corners: int, radius: float, turn: float = 0.0) -> tuple[XY, ...]:
    return tuple(
        (radius * math.cos(turn + step), radius * math.sin(turn + step))
        for step in (2.0 * math.pi * k / corners for k in range(corners))
    )


def _chevron(up: float) -> tuple[XY, ...]:
    """Open towards the line; its tip `up` (1) or down (-1) from it."""
    return (-HALF * 0.5, up * HALF * 0.6), (0.0, up * HALF * 1.1), (HALF * 0.5, up * HALF * 0.6)


BOX = _polygon(4, HALF * math.sqrt(2.0) * 0.9, math.pi / 4.0)
CUT = HALF * 0.35
TANK = (
    (-HALF + CUT, -HALF), (HALF - CUT, -HALF), (HALF, -HALF + CUT), (HALF, HALF - CUT),
    (HALF - CUT, HALF), (-HALF + CUT, HALF), (-HALF, HALF - CUT), (-HALF, -HALF + CUT),
)  # fmt: skip
LEVEL = ((-HALF, HALF * 0.45), (HALF, HALF * 0.45))
STEM = ((0.0, 0.0), (0.0, HALF * 1.1))
TICK = metres(1.2)
PLACE = ("NAME", "LEVEL", "GROUND")
PEG = ("NAME", "CHAINAGE", "GROUND", "PIPE", "DEPTH", "BACK", "RISE", "REMARK", "LINE")
LAID = ("RISE", "LINE", "CHAINAGE", "LEVEL")

SYMBOLS: Mapping[str, Symbol] = {
    "source": Symbol(PLACE, radius=HALF, letter="S", shown=2),
    "chamber": Symbol(PLACE, outlines=(BOX,), letter="C", shown=2),
    "ram": Symbol(PLACE, outlines=(_polygon(6, HALF),), letter="R", shown=2),
    "pump": Symbol(PLACE, outlines=(_polygon(6, HALF),), letter="P", shown=2),
    "tank": Symbol(PLACE, outlines=(TANK,), strokes=(LEVEL,), letter="T", shown=2),
    "outlet": Symbol(PLACE, radius=HALF * 0.6, shown=2),
    "way": Symbol(PLACE, strokes=(((0.0, -HALF), (0.0, HALF)),)),
    "stake": Symbol(
        PEG,
        strokes=(((-TICK, 0.0), (TICK, 0.0)),),
        height=STAKE_NAME,
        beside=(TICK * 1.4, -STAKE_NAME / 2.0),
    ),
    "end-stake": Symbol(  # its name stands clear of the work that the line ends at
        PEG,
        strokes=(((-TICK, 0.0), (TICK, 0.0)),),
        height=STAKE_NAME,
        beside=(HALF * 1.3, -STAKE_NAME / 2.0),
    ),
    "high-point": Symbol(LAID, strokes=(_chevron(1.0),), shown=0),
    "low-point": Symbol(("SAG", *LAID[1:]), strokes=(_chevron(-1.0),), shown=0),
    "vent": Symbol(("KIND", "LINE", "CHAINAGE"), strokes=(_chevron(1.0), STEM), shown=0),
    "crossing": Symbol(
        ("NAME", "LINE", "CHAINAGE"),
        strokes=(((-HALF, -HALF), (HALF, HALF)), ((-HALF, HALF), (HALF, -HALF))),
    ),
    "finding": Symbol(
        ("NUMBER", "LEVEL", "LINE", "CHAINAGE", "MESSAGE"),
        outlines=(_polygon(4, HALF * 0.5, math.pi / 4.0),),
        beside=(HALF * 0.7, HALF * 0.3),
    ),
    "levelled": Symbol(
        ("NAME", "LEVEL", "ERROR", "MODEL"),
        outlines=(_polygon(3, HALF * 0.6, math.pi / 2.0),),
        shown=2,
    ),
    "mark": Symbol(
        ("WHAT", "DEPTH", "PHOTO", "REMARK", "DATE", "LINE", "CHAINAGE"),
        outlines=(_polygon(4, HALF * 0.5),),
    ),
}


def add_blocks(doc: Any) -> None:
    """Define every block and the style of its letters.

    Parameters
    ----------
    doc : ezdxf.document.Drawing
    """
    doc.styles.add(STYLE, font=FONT)
    for name, symbol in SYMBOLS.items():
        block = doc.blocks.new(name)
        for outline in symbol.outlines:
            block.add_lwpolyline(outline, close=True)
        for stroke in symbol.strokes:
            block.add_lwpolyline(stroke)
        if symbol.radius:
            block.add_circle((0.0, 0.0), symbol.radius)
        if symbol.letter:
            text = block.add_text(symbol.letter, height=LETTER, dxfattribs={"style": STYLE})
            text.set_placement((0.0, 0.0), align=TextEntityAlignment.MIDDLE_CENTER)
        _add_attributes(block, symbol)


def _add_attributes(block: Any, symbol: Symbol) -> None:
    across, up = symbol.beside
    for row, tag in enumerate(symbol.attributes):
        at = (across, up - 1.5 * row * symbol.height)
        attribute = block.add_attdef(
            tag, at, height=symbol.height, dxfattribs={"style": STYLE, "prompt": tag.capitalize()}
        )
        attribute.is_invisible = row >= symbol.shown


def words(text: str, most: int = LONGEST) -> str:
    r"""Text as DXF holds it: on one line, without what it reads as a code.

    `%%` begins a symbol, `^` a control character, `\` a character by its number.

    Examples
    --------
    >>> words("100 %% ^J \\U+0041")
    '100 % % ˆJ /U+0041'
    """
    plain = one_line(text, most).replace("\\", "/").replace("^", "ˆ")
    while "%%" in plain:
        plain = plain.replace("%%", "% %")
    return plain
