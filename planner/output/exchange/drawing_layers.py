"""Layers and linetypes of the drawing: names of DESIGN's roles, colours and strokes of `look`."""

from dataclasses import dataclass
from itertools import cycle
from typing import Any, get_args

from planner.output.look import GROUND, HAIR, INK, ROLES, STREAM, RoleLook
from planner.site.value import AreaRole, PointRole

SCALE = 500  # strokes, letters and symbols are sized for a plot at 1:500
POINT = 25.4 / 72.0  # mm
# Widths that DXF knows [1/100 mm].
WIDTHS = (9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158)
HAIRLINE, THIN, MIDDLE = 9, 18, 35
CONTINUOUS = "CONTINUOUS"
AREA_DASH = "AREA"
SPOTS = ("stakes", "high-points", "low-points", "vents", "crossings", "findings", "levelled")
AS_BUILT = "as-built"
NOTES = "notes"


@dataclass(frozen=True, slots=True)
class Look:
    """A layer's colour as #rrggbb, its width [1/100 mm] and its linetype."""

    colour: str
    width: int
    linetype: str = CONTINUOUS


def metres(millimetres: float) -> float:
    """On the ground, of a length on paper."""
    return millimetres / 1000.0 * SCALE


def ground_layer(role: str) -> str:
    """Where the ground over a line of this role is drawn."""
    return f"{role}-ground"


def add_layers(doc: Any) -> None:
    """Every layer and linetype, whether the plan uses it or not: a drawing office counts on them.

    What is drawn in ink has no true colour but the one that is black on white and white on black:
    most drawing programs show a dark ground.

    Parameters
    ----------
    doc : ezdxf.document.Drawing
    """
    for role, pipe in ROLES.items():
        if pipe.dash:
            _add_linetype(doc, role.upper(), pipe.dash, pipe.width, f"{pipe.word} pipe")
    _add_linetype(doc, AREA_DASH, (7.0, 2.0, 1.0, 2.0), 1.4, "Edge of an area")
    for name, look in _looks().items():
        layer = doc.layers.add(name, linetype=look.linetype, lineweight=look.width)
        if look.colour != INK:
            layer.rgb = rgb(look.colour)


def rgb(colour: str) -> tuple[int, int, int]:
    """Red, green, blue of #rrggbb.

    Examples
    --------
    >>> rgb("#17408b")
    (23, 64, 139)
    """
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def _looks() -> dict[str, Look]:
    looks = {
        "streams": Look(STREAM, MIDDLE),
        "contours": Look(HAIR, HAIRLINE),
        "contours-index": Look(HAIR, THIN),
    }
    for role, pipe in ROLES.items():
        linetype = role.upper() if pipe.dash else CONTINUOUS
        looks[role] = Look(pipe.colour, _width(pipe), linetype)
        looks[ground_layer(role)] = Look(GROUND, THIN)
    looks |= {point: Look(INK, MIDDLE) for point in get_args(PointRole)}
    looks |= {area: Look(INK, THIN, AREA_DASH) for area in get_args(AreaRole)}
    return looks | {name: Look(INK, THIN) for name in (*SPOTS, AS_BUILT, NOTES)}


def _width(look: RoleLook) -> int:
    wanted = look.width * POINT * 100.0
    return min(WIDTHS, key=lambda width: abs(width - wanted))


def _add_linetype(doc: Any, name: str, dash: tuple[float, ...], width: float, told: str) -> None:
    """Dashes in line widths [pt] become lengths on the ground, pen down and up in turn."""
    lengths = [metres(part * width * POINT) for part in dash]
    pattern = [sum(lengths)] + [
        length * sign for length, sign in zip(lengths, cycle((1.0, -1.0)), strict=False)
    ]
    doc.linetypes.add(name, pattern=pattern, description=told)
