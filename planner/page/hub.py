"""`Hub`: one a server: the session, what was answered of it, and the tabs that show it."""

import asyncio
from collections.abc import Callable, Coroutine, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any, Protocol, cast

from planner.demo.copy import copy_demo
from planner.errors import HeadfallError, InputError, SketchError
from planner.live.once import once
from planner.live.papers import write_papers
from planner.live.process import Superseded
from planner.live.uploads import checked_elevation, features_of
from planner.live.value import (
    CompareView,
    FollowView,
    GroundView,
    LevelsView,
    LineView,
    PlanView,
)
from planner.page.answers import Answers
from planner.page.arrivals import free_file, free_folder, put, safe_name
from planner.page.session import Session
from planner.site.draft import Draft
from planner.site.edits.open import open_draft
from planner.site.edits.start import draft_for_elevation
from planner.site.edits.turn import turned
from planner.site.edits.value import (
    AddArea,
    AddFeatures,
    AddPoint,
    Edit,
    MovePoint,
    SetValue,
    ShapeArea,
)
from planner.site.value import AreaRole, LineRole, PointRole
from planner.terrain.frame import between

XY = tuple[float, float]
UPLOAD_SECONDS, UPLOAD_MEMORY = 60.0, 2 << 30
PAPERS_SECONDS, PAPERS_MEMORY = 1800.0, 6 << 30


class Tab(Protocol):
    """A page open in a browser; none of these raise."""

    def show_ground(self, view: GroundView, picture_url: str) -> None: ...  # noqa: D102
    def show_plan(self, view: PlanView) -> None: ...  # noqa: D102
    def show_follow(self, view: FollowView, sections: dict[str, str]) -> None: ...  # noqa: D102
    def show_session(self, undo: str, redo: str, saved: bool) -> None: ...  # noqa: D102
    def show_busy(self, words: str) -> None: ...  # noqa: D102
    def show_message(self, text: str, level: str) -> None: ...  # noqa: D102
    def show_kept(self, label: str | None, lines: list[LineView]) -> None: ...  # noqa: D102
    def show_start(self) -> None: ...  # noqa: D102


class Hub:
    """What all tabs share.

    Parameters
    ----------
    session : Session or None
        None: nothing is open yet, tabs show the start.
    folder : Path
        Where new sites are put.
    """

    def __init__(self, session: Session | None, folder: Path) -> None:
        self.session = session
        self.folder = folder
        self.ground: GroundView | None = None
        self.picture = b""
        self._pictures = 0
        self.view: PlanView | None = None
        self.busy = ""
        self.kept: str | None = None
        self._kept_draft: Draft | None = None
        self._kept_lines: list[LineView] = []
        self._sections: dict[str, dict[str, str]] = {}
        self._tabs: list[Tab] = []
        self._answers: Answers | None = None
        self._tasks: set[asyncio.Task[None]] = set()
        self._papers: asyncio.Task[Path] | None = None

    async def start(self) -> None:
        """Start the workers; plan what is open."""
        self._answers = Answers(self)
        self._answers.begin()
        if self.session is not None:
            self._want()

    async def stop(self) -> None:
        """End the workers and give the site free."""
        for task in (*self._tasks, *([self._papers] if self._papers else [])):
            task.cancel()
        if self._answers is not None:
            await self._answers.close()
        if self.session is not None:
            self.session.close()

    def join(self, tab: Tab) -> None:
        """A tab opened: show it all there is."""
        self._tabs.append(tab)
        if self.session is None:
            tab.show_start()
            return
        tab.show_session(*self._steps())
        if self.ground is not None:
            tab.show_ground(self.ground, self._picture_url())
        if self.view is not None:
            tab.show_plan(self.view)
        tab.show_kept(self.kept, self._kept_lines)
        tab.show_busy(self.busy)

    def leave(self, tab: Tab) -> None:
        """A tab closed."""
        self._tabs = [other for other in self._tabs if other is not tab]

    # What the workers tell

    def ground_is(self, view: GroundView, picture: bytes) -> None:
        """The ground was read."""
        self.ground, self.picture, self._pictures = view, picture, self._pictures + 1
        self._turn()
        for tab in self._tabs:
            tab.show_ground(view, self._picture_url())

    def plan_is(self, view: PlanView, sections: dict[str, dict[str, str]]) -> None:
        """A draft was planned."""
        self.view, self._sections = view, sections
        for tab in self._tabs:
            tab.show_plan(view)

    def busy_with(self, words: str) -> None:
        """What is being done."""
        self.busy = words
        for tab in self._tabs:
            tab.show_busy(words)

    def failed(self, message: str) -> None:
        """A draft can't be planned."""
        self._say(message, "stop")

    # What the tabs ask

    async def do(self, edit: Edit) -> None:
        """Change the site; it is saved, and planned."""
        self._heeding_others().do(edit)
        self._changed()

    async def undo(self) -> None:
        """Take the last change back."""
        self._heeding_others().undo()
        self._changed()

    async def redo(self) -> None:
        """Make a change again that was taken back."""
        self._heeding_others().redo()
        self._changed()

    async def place(
        self, role: PointRole, xy: XY, line: str | None = None, before: str | None = None
    ) -> None:
        """A new point; a way point lies on a `line`, of which its role counts."""
        on: LineRole | None = None if line is None else self._role_of(line)
        await self.do(AddPoint(role, self._lonlat(xy), line=on, before=before))

    async def move(self, name: str, xy: XY) -> None:
        """A point dropped somewhere else: the quick answer at once, then the exact one."""
        draft = self._open().draft
        await self.do(MovePoint(name, self._lonlat(xy)))
        if self.view is not None and self.view["lines"]:
            self._begin(self._preview(draft, name, xy))

    async def drag(self, tab: Tab, name: str, xy: XY, line: str) -> None:
        """A point under way: the lines follow it, on this tab and the others."""
        del tab
        if self.view is None or not self.view["lines"]:
            return
        try:
            view, sections = await self._ask().follow(self._open().draft, name, xy, line)
        except Superseded:
            return
        for other in self._tabs:
            other.show_follow(view, sections)

    def touch(self, name: str) -> None:
        """A point was taken hold of: prepare to follow it."""
        if self.session is not None and self.view is not None and self.view["lines"]:
            self._ask().ready(self.session.draft, name)

    async def add_area(self, role: AreaRole, ring: Sequence[XY]) -> None:
        """A new area."""
        await self.do(AddArea(role, tuple(map(self._lonlat, ring))))

    async def shape_area(self, index: int, ring: Sequence[XY]) -> None:
        """An area with another outline."""
        await self.do(ShapeArea(index, tuple(map(self._lonlat, ring))))

    async def remedy(self, number: int, index: int) -> None:
        """Do one of a finding's remedies."""
        actions = self._settled()["findings"][number - 1]["actions"]
        await self.do(await self._ask().ask("edit_of", number, index, actions[index]["words"]))

    async def measure(self, a: XY, b: XY) -> LevelsView:
        """Distance, fall and grade between two places."""
        levels: LevelsView = await self._ask().ask("levels", a, b)
        return levels

    async def typed_place(self, text: str) -> XY:
        """Where coordinates as typed lie, x and y [m]."""
        found = await self._ask().ask("place", text)
        x, y = found["xy"]
        return float(x), float(y)

    async def sections(self, line: str) -> dict[str, str]:
        """A line's section by format; empty for a line that is not there."""
        return self._sections.get(line, {})

    async def water(self) -> list[Any]:
        """The whole water table in groups."""
        groups: list[Any] = await self._ask().ask("water")
        return groups

    async def first_look(self, numbers: dict[str, str]) -> dict[str, Any]:
        """What five numbers say, before there is a map."""
        found: dict[str, Any] = await self._ask().ask("first_look", numbers)
        return found

    async def import_file(self, path: Path, name: str) -> list[dict[str, Any]]:
        """Take in the features of a file; those whose role it does not tell come back."""
        del name
        features = await once(features_of, path, seconds=UPLOAD_SECONDS, memory=UPLOAD_MEMORY)
        known = tuple(one for one in features if one["properties"].get("role"))
        unknown = [one for one in features if not one["properties"].get("role")]
        try:
            if known:
                await self.do(AddFeatures(known))
        except SketchError:
            if not unknown:
                raise
        return unknown

    async def add_features(self, features: Sequence[dict[str, Any]]) -> None:
        """Features, each with its role, into the sketch."""
        await self.do(AddFeatures(tuple(features)))

    async def use_elevation(self, path: Path, name: str) -> None:
        """Elevation data of an uploaded file: of a new site, or beside what the site has."""
        await once(checked_elevation, path, seconds=UPLOAD_SECONDS, memory=UPLOAD_MEMORY)
        if self.session is None:
            folder = free_folder(self.folder, Path(name).stem)
            folder.mkdir(parents=True)
            dem = put(path, folder / safe_name(name))
            self._opened(Session(draft_for_elevation(dem), new=True))
            return
        dem = put(path, free_file(self.session.draft.folder / safe_name(name)))
        await self.do(SetValue(("elevation", "files"), [dem.name]))

    async def use_demo(self) -> None:
        """Open the demo site, put into a folder of its own."""
        folder = self.folder / "headfall-demo" / "site"
        self._opened(Session(open_draft(copy_demo(folder))))

    async def keep(self, label: str) -> None:
        """Hold this plan, to compare what comes with it."""
        view = self._settled()
        self.kept, self._kept_draft = label, self._open().draft
        self._kept_lines = view["lines"]
        self._show_kept()

    async def forget_kept(self) -> None:
        """Go on with the plan as it is now."""
        self.kept, self._kept_draft, self._kept_lines = None, None, []
        self._show_kept()

    async def take_kept(self) -> None:
        """Go back to the plan that was kept."""
        if self._kept_draft is None:
            return
        self._open().restore(self._kept_draft, f"go back to {self.kept}")
        await self.forget_kept()
        self._changed()

    async def comparison(self) -> CompareView:
        """The kept plan beside the one there is now."""
        if self._kept_draft is None:
            msg = "no plan is kept to compare with; keep one first"
            raise InputError(msg)
        self._settled()
        found: CompareView = await self._ask().ask("compare", self._kept_draft, self._open().draft)
        return found

    async def write_papers(self, say: Callable[[str], None]) -> Path:
        """Map, sheets, field files and materials, as `headfall plan` writes them."""
        draft = self._open().draft
        folder = draft.folder / "plan"
        self._papers = asyncio.create_task(
            once(
                write_papers,
                draft.site_path,
                folder,
                seconds=PAPERS_SECONDS,
                memory=PAPERS_MEMORY,
                say=say,
            )
        )
        try:
            await self._papers
        finally:
            self._papers = None
        return folder

    async def cancel(self) -> None:
        """Stop what takes long."""
        if self._papers is not None:
            self._papers.cancel()
            return
        self._ask().cancel()
        self._ask().want(self._open().draft, self._open().revision)

    async def _preview(self, draft: Draft, name: str, xy: XY) -> None:
        revision = self._open().revision
        try:
            view, sections = await self._ask().follow(draft, name, xy, "")
        except (Superseded, HeadfallError):
            return
        planned = self.view is not None and self.view["revision"] >= revision
        if revision == self._open().revision and not planned:
            for tab in self._tabs:
                tab.show_follow(view, sections)

    def _begin(self, work: Coroutine[Any, Any, None]) -> None:
        task = asyncio.create_task(work)
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    def _opened(self, session: Session) -> None:
        if self.session is not None:
            self.session.close()
        self.session, self.view, self.ground = session, None, None
        self._changed()

    def _turn(self) -> None:
        """Put a sketch that has latitude first right, or no change of it could be taken."""
        if self.session is None or self.ground is None:
            return
        west, south, east, north = self.ground["bounds"]
        corners = [(west, south), (east, south), (east, north), (west, north)]
        lon, lat = zip(*map(self._lonlat, corners), strict=True)
        with suppress(HeadfallError):
            draft = turned(self.session.draft, (min(lon), min(lat), max(lon), max(lat)))
            if draft != self.session.draft:
                self.session.restore(draft, "put longitude first")
                self._changed()

    def _changed(self) -> None:
        for tab in self._tabs:
            tab.show_session(*self._steps())
        if self._open().trouble:
            self._say(self._open().trouble, "warn")
        self._want()

    def _say(self, text: str, level: str) -> None:
        for tab in self._tabs:
            tab.show_message(text, level)

    def _want(self) -> None:
        session = self._open()
        self._ask().want(session.draft, session.revision)

    def _steps(self) -> tuple[str, str, bool]:
        session = self._open()
        nothing_to_save = session.revision == 0
        return session.undo_words, session.redo_words, session.saved or nothing_to_save

    def _show_kept(self) -> None:
        for tab in self._tabs:
            tab.show_kept(self.kept, self._kept_lines)

    def _open(self) -> Session:
        if self.session is None:
            msg = "no site is open yet; begin with an elevation file or the demo"
            raise InputError(msg)
        return self.session

    def _heeding_others(self) -> Session:
        """The session; tells if another program changed its files, which it takes in first."""
        session = self._open()
        if session.changed_outside():
            self._say("another program changed a file of the site; it was read again", "note")
        return session

    def _ask(self) -> Answers:
        if self._answers is None:
            msg = "the page is ending; start it again"
            raise InputError(msg)
        return self._answers

    def _settled(self) -> PlanView:
        """The view, if it is of the draft as it stands."""
        if self.view is None or self.view["revision"] != self._open().revision:
            msg = "the plan is still being worked out; try again in a moment"
            raise InputError(msg)
        return self.view

    def _role_of(self, line: str) -> LineRole:
        lines = [] if self.view is None else self.view["lines"]
        role: Any = next((one["role"] for one in lines if one["name"] == line), line)
        return cast("LineRole", role)  # the edit refuses a role that there is not

    def _lonlat(self, xy: XY) -> tuple[float, float]:
        if self.ground is None:
            msg = "the elevation data is still being read; try again in a moment"
            raise InputError(msg)
        way = between("EPSG:4326", self.ground["crs"])
        lon, lat = way.transform(*xy, direction="INVERSE")
        return round(lon, 8), round(lat, 8)

    def _picture_url(self) -> str:
        return f"ground.png?{self._pictures}"
