"""`Row`: one line of a form as a value, and how what is typed becomes an edit."""

from collections.abc import Awaitable, Callable
from dataclasses import dataclass

from planner.page.screen.asked import Desk
from planner.site.edits.value import Edit, SetArea, SetPoint, SetValue

Give = Callable[[str], Awaitable[str]]


@dataclass(frozen=True, slots=True)
class Row:
    """A field of a form.

    `give` takes what was typed and returns "" or one sentence on what is wrong with it. `kind` is
    "text", "date" or "choice"; `options` are value and words of a choice. `wide` rows take the
    whole width.
    """

    key: str
    label: str
    value: str
    give: Give
    hint: str = ""
    example: str = ""
    kind: str = "text"
    options: tuple[tuple[str, str], ...] = ()
    wide: bool = False


def site_value(desk: Desk, *path: str) -> Give:
    """What is typed becomes a value of the site file; an empty field takes the key out."""
    return _edit(desk, lambda text: SetValue(path, text or None))


def point_value(desk: Desk, name: str, key: str) -> Give:
    """What is typed becomes a value of a point."""
    return _edit(desk, lambda text: SetPoint(name, key, text or None))


def area_value(desk: Desk, index: int, key: str) -> Give:
    """What is typed becomes a value of an area."""
    return _edit(desk, lambda text: SetArea(index, key, text or None))


def area_factor(desk: Desk, index: int) -> Give:
    """What is typed becomes an area's factor, a plain number."""

    async def give(text: str) -> str:
        try:
            factor = float(text.replace(",", ".")) if text else None
        except ValueError:
            return "write a number, such as 3"
        return await desk.tried(desk.hub.do(SetArea(index, "factor", factor)))

    return give


def _edit(desk: Desk, made: Callable[[str], Edit]) -> Give:
    async def give(text: str) -> str:
        return await desk.tried(desk.hub.do(made(text)))

    return give
