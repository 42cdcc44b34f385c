"""What the screen asks of the hub, and what its panels ask of the tab they stand in."""

from collections.abc import Callable, Coroutine, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal, Protocol

from planner.live.value import CompareView, GroundView, LevelsView, PlanView
from planner.site.edits.value import Edit
from planner.site.value import AreaRole, PointRole

XY = tuple[float, float]


class Hub(Protocol):
    """The hub, as far as a tab uses it (`planner.page.hub.Hub`)."""

    ground: GroundView | None
    view: PlanView | None
    kept: str | None

    def join(self, tab: Any) -> None: ...  # noqa: D102
    def leave(self, tab: Any) -> None: ...  # noqa: D102
    def touch(self, name: str) -> None: ...  # noqa: D102
    async def do(self, edit: Edit) -> None: ...  # noqa: D102
    async def undo(self) -> None: ...  # noqa: D102
    async def redo(self) -> None: ...  # noqa: D102
    async def place(  # noqa: D102
        self, role: PointRole, xy: XY, line: str | None = None, before: str | None = None
    ) -> None: ...
    async def move(self, name: str, xy: XY) -> None: ...  # noqa: D102
    async def drag(self, tab: Any, name: str, xy: XY, line: str) -> None: ...  # noqa: D102
    async def add_area(self, role: AreaRole, ring: Sequence[XY]) -> None: ...  # noqa: D102
    async def shape_area(self, index: int, ring: Sequence[XY]) -> None: ...  # noqa: D102
    async def remedy(self, number: int, index: int) -> None: ...  # noqa: D102
    async def measure(self, a: XY, b: XY) -> LevelsView: ...  # noqa: D102
    async def typed_place(self, text: str) -> XY: ...  # noqa: D102
    async def sections(self, line: str) -> dict[str, str]: ...  # noqa: D102
    async def water(self) -> list[Any]: ...  # noqa: D102
    async def first_look(self, numbers: dict[str, str]) -> dict[str, Any]: ...  # noqa: D102
    async def import_file(self, path: Path, name: str) -> list[dict[str, Any]]: ...  # noqa: D102
    async def add_features(self, features: Sequence[dict[str, Any]]) -> None: ...  # noqa: D102
    async def use_elevation(self, path: Path, name: str) -> None: ...  # noqa: D102
    async def use_demo(self) -> None: ...  # noqa: D102
    async def keep(self, label: str) -> None: ...  # noqa: D102
    async def forget_kept(self) -> None: ...  # noqa: D102
    async def take_kept(self) -> None: ...  # noqa: D102
    async def comparison(self) -> CompareView: ...  # noqa: D102
    async def write_papers(self, say: Callable[[str], None]) -> Path: ...  # noqa: D102
    async def cancel(self) -> None: ...  # noqa: D102


@dataclass(frozen=True, slots=True)
class Choice:
    """What is chosen: a point or line by `name`, an area by `index`, or the site as a whole."""

    kind: Literal["point", "area", "line", "site"]
    name: str = ""
    index: int = -1


class Desk(Protocol):
    """The tab, as its panels see it.

    `tried` does what is asked and returns "" or the sentence that says what is wrong; `told` does
    it too and shows that sentence in the status line.
    """

    hub: Hub

    def choose(self, choice: Choice | None) -> None: ...  # noqa: D102
    def choose_finding(self, number: int) -> None: ...  # noqa: D102
    def choose_line(self, name: str) -> None: ...  # noqa: D102
    def take_up(self, tool: str, **options: str) -> None: ...  # noqa: D102
    def show_message(self, text: str, level: str) -> None: ...  # noqa: D102
    async def tried(self, doing: Coroutine[Any, Any, Any]) -> str: ...  # noqa: D102
    async def told(self, doing: Coroutine[Any, Any, Any]) -> bool: ...  # noqa: D102
