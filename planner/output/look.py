"""The one visual language of map, page and sheets: colours, strokes, letters.

Each role differs in colour, stroke and letter at once, so that it survives colour blindness, sun
and a photocopier.
"""

from dataclasses import dataclass

from planner.site.value import LineRole, PointRole

INK = "#23211d"
PAPER = "#fbfaf6"
HAIR = "#8d857a"  # contours, grids: brown-grey
STREAM = "#8fa9b8"  # blue-grey, yields to pipes
GROUND = "#6f665a"  # the ground line of a section
DOUBT = "#d9d2c4"  # the ribbon of a band


@dataclass(frozen=True, slots=True)
class RoleLook:
    """How the lines of one role are drawn; widths in points, dashes in line widths."""

    word: str
    letters: str
    colour: str
    width: float
    dash: tuple[float, ...] = ()
    double: bool = False  # a double edge: rigid pipe


ROLES: dict[LineRole, RoleLook] = {
    "supply": RoleLook("Supply", "Su", "#0f7f78", 1.6),
    "drive": RoleLook("Drive", "Dr", "#c8401f", 3.4, double=True),
    "delivery": RoleLook("Delivery", "De", "#17408b", 3.0),
    "main": RoleLook("Main", "Ma", "#17408b", 3.0, (5.0, 1.8)),
    "distribution": RoleLook("Distribution", "Di", "#2f8fd0", 2.2, (5.0, 1.6, 1.4, 1.6)),
    "waste": RoleLook("Waste", "Wa", "#7a5230", 1.6, (0.6, 1.8)),
    "overflow": RoleLook("Overflow", "Ov", "#77736c", 1.6, (2.2, 1.8)),
}

POINT_WORDS: dict[PointRole, str] = {
    "source": "Source",
    "chamber": "Chamber",
    "pump": "Ram",
    "tank": "Tank",
    "outlet": "Outlet",
    "way": "Way point",
}

POINT_LETTERS: dict[PointRole, str] = {
    "source": "S",
    "chamber": "C",
    "pump": "R",
    "tank": "T",
    "outlet": "",
    "way": "",
}
