"""What the scripts draw with: widths, dashes and glyphs, from the one place where they stand."""

from functools import cache
from typing import Any, get_args

from planner.output.look import ROLES
from planner.output.map.assets import TEMPLATES, own_file
from planner.site.value import PointRole

# Of the map's own scripts, those that the page draws with as well.
SHARED = ("along.js", "labels.js")
HANDED = ("arrow", "at", "letters", "nearest", "settle", "spots")


@cache
def looks() -> dict[str, Any]:
    """Line roles (`width` and `dash` in points and line widths) and drawings of points and turns.

    The drawings are SVG markup of ours alone; a letter in them stands for the point's own.
    """
    glyphs: Any = TEMPLATES.get_template("glyphs.jinja").module
    kinds = ("high", "low")
    return {
        "roles": {
            role: {"width": look.width, "dash": list(look.dash), "double": look.double}
            for role, look in ROLES.items()
        },
        "points": {
            role: str(glyphs.point(role, "" if role == "way" else "0"))
            for role in get_args(PointRole)
        },
        "turns": {
            **{kind: str(glyphs.turn(kind)) for kind in kinds},
            **{f"{kind} fitted": str(glyphs.turn(kind, vent=True)) for kind in kinds},
        },
    }


@cache
def patterns() -> str:
    """Hatchings of areas, as an unseen SVG element."""
    return str(getattr(TEMPLATES.get_template("glyphs.jinja").module, "patterns")())  # noqa: B009


@cache
def shared_script() -> str:
    """The map's own scripts as one module: they run in a plain page, which knows no modules."""
    head = 'import { leaflet as L } from "nicegui-leaflet";'
    tail = f"export {{ {', '.join(HANDED)} }};"
    return "\n".join((head, *map(own_file, SHARED), tail))
