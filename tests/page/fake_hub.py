"""A hub that answers at once from views made beforehand, and remembers what it was asked."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from planner.errors import InputError
from planner.live.value import (
    CompareView,
    FigureView,
    FollowView,
    GroundView,
    LevelsView,
    PlanView,
)
from planner.page.screen.asked import XY
from planner.site.edits.value import Edit
from planner.site.value import AreaRole, PointRole

Sections = dict[str, dict[str, str]]
LEVELS = LevelsView(
    first="411.50 m",
    second="406.67 m",
    distance="24.2 m",
    fall="4.83 m",
    grade="20.0 %",
    odds="Almost certain, 10 of 10.",
)
LOOK = {
    "verdict": "Go: a ram lifts enough",
    "go": "go",
    "figure": "3,600 L/day (1,700 – 4,600)",
    "measure": "Measure first the fall, with a level or a water hose, there and back.",
    "rows": [
        ("Needed", "3,000 L/day", "as typed"),
        ("Rise to fall", "6.7 to 1", "the two heights"),
    ],
    "assumed": ["Each of the numbers is good to 10 %.", "Local codes come first."],
}
COMPARED = CompareView(
    rows=[
        ("Delivered", "3,600 L/day (1,700 – 4,600)", "4,100 L/day (2,000 – 5,100)", True),
        ("Pipe in all", "577 m", "563 m", True),
        ("Vents", "1", "1", False),
    ],
    lines=[],
)


class FakeHub:
    """Answers every question with what it was given; `asked` holds the questions in turn.

    `refuse` is a sentence that the next change is refused with.
    """

    def __init__(
        self, ground: GroundView | None, view: PlanView | None, sections: Sections, picture: str
    ) -> None:
        self.ground = ground
        self.view = view
        self.kept: str | None = None
        self.asked: list[tuple[Any, ...]] = []
        self.refuse = ""
        self.folder = Path()
        self.unknown: list[dict[str, Any]] = []
        self.tabs: list[Any] = []
        self._sections = sections
        self._picture = picture

    def join(self, tab: Any) -> None:
        self.tabs.append(tab)
        if self.ground is None or self.view is None:
            tab.show_start()
            return
        tab.show_session("move Tank", "", True)
        tab.show_ground(self.ground, self._picture)
        tab.show_plan(self.view)
        tab.show_kept(self.kept, [])
        tab.show_busy("")

    def leave(self, tab: Any) -> None:
        self.tabs.remove(tab)

    def touch(self, name: str) -> None:
        self.asked.append(("touch", name))

    async def do(self, edit: Edit) -> None:
        self._asked("do", edit)

    async def undo(self) -> None:
        self._asked("undo")

    async def redo(self) -> None:
        self._asked("redo")

    async def place(
        self, role: PointRole, xy: XY, line: str | None = None, before: str | None = None
    ) -> None:
        self._asked("place", role, xy, line, before)

    async def move(self, name: str, xy: XY) -> None:
        self._asked("move", name, xy)

    async def drag(self, tab: Any, name: str, xy: XY, line: str) -> None:
        self._asked("drag", name, xy, line)
        delivered = FigureView(label="Delivered", figure="3,900 L/day (2,000 – 4,900)", source="")
        tab.show_follow(
            FollowView(
                name=name,
                at=list(xy),
                level="410.00 m",
                lines=[],
                turns=[],
                gone={},
                figures=[delivered],
            ),
            {},
        )

    async def add_area(self, role: AreaRole, ring: Sequence[XY]) -> None:
        self._asked("add_area", role, tuple(ring))

    async def shape_area(self, index: int, ring: Sequence[XY]) -> None:
        self._asked("shape_area", index, tuple(ring))

    async def remedy(self, number: int, index: int) -> None:
        self._asked("remedy", number, index)

    async def measure(self, a: XY, b: XY) -> LevelsView:
        self._asked("measure", a, b)
        return LEVELS

    async def typed_place(self, text: str) -> XY:
        self._asked("typed_place", text)
        if self.view is None:
            return 0.0, 0.0
        x, y = self.view["points"][0]["at"]
        return x, y

    async def sections(self, line: str) -> dict[str, str]:
        self._asked("sections", line)
        return self._sections.get(line, {})

    async def water(self) -> list[Any]:
        self._asked("water")
        row = FigureView(label="Reading", figure="54.0 L/min", source="as told")
        return [{"title": "Source", "rows": [row]}]

    async def first_look(self, numbers: dict[str, str]) -> dict[str, Any]:
        self._asked("first_look", numbers)
        return LOOK

    async def import_file(self, path: Path, name: str) -> list[dict[str, Any]]:
        self._asked("import_file", path.read_bytes(), name)
        return self.unknown

    async def add_features(self, features: Sequence[dict[str, Any]]) -> None:
        self._asked("add_features", tuple(features))

    async def use_elevation(self, path: Path, name: str) -> None:
        self._asked("use_elevation", path.read_bytes(), name)

    async def use_demo(self) -> None:
        self._asked("use_demo")

    async def keep(self, label: str) -> None:
        self._asked("keep", label)
        self.kept = label
        for tab in self.tabs:
            tab.show_kept(label, [] if self.view is None else self.view["lines"])

    async def forget_kept(self) -> None:
        self._asked("forget_kept")
        self.kept = None

    async def take_kept(self) -> None:
        self._asked("take_kept")
        self.kept = None

    async def comparison(self) -> CompareView:
        self._asked("comparison")
        return COMPARED

    async def write_papers(self, say: Callable[[str], None]) -> Path:
        self._asked("write_papers")
        say("finding the delivery line")
        return self.folder

    async def cancel(self) -> None:
        self._asked("cancel")

    def _asked(self, *said: Any) -> None:
        self.asked.append(said)
        if self.refuse:
            words, self.refuse = self.refuse, ""
            raise InputError(words)
