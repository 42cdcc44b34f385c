"""`Tab`: the page in one browser tab: what the hub tells is shown, what is done here is asked."""

from collections.abc import Coroutine
from typing import Any

from nicegui import background_tasks

from planner.errors import HeadfallError
from planner.live.value import FollowView, GroundView, LineView, PlanView
from planner.page.plan_map.element import Tool
from planner.page.screen.asked import XY, Choice, Hub
from planner.page.screen.leaf import leaf_of, levels_leaf
from planner.page.screen.sheet import Sheet
from planner.page.screen.words import PROMPTS
from planner.site.value import AreaRole

PLACED = ("source", "chamber", "pump", "tank", "outlet")
READY = "Drag a point to move it, choose it to change it."
EMPTY = "Begin with the source: choose Source, then click on the plan."


class Tab:
    """One page; its methods `show_...` are called by the hub and never raise.

    Parameters
    ----------
    hub : Hub
    """

    def __init__(self, hub: Hub) -> None:
        self.hub = hub
        self.view: PlanView | None = None
        self.tool = ""
        self.area: AreaRole = "avoid"
        self._choice: Choice | None = None
        self._placing: set[str] | None = None  # names before a point was placed
        self.sheet = Sheet(self)

    # What the hub tells

    def show_start(self) -> None:
        """Nothing is open yet."""
        self.sheet.open(started=False)

    def show_ground(self, view: GroundView, picture_url: str) -> None:
        """The ground under the plan."""
        self.sheet.open(started=True)
        self.sheet.map.ground(view, picture_url)

    def show_plan(self, view: PlanView) -> None:
        """What was answered of the newest draft."""
        self.view = view
        sheet = self.sheet
        sheet.open(started=True)
        sheet.map.draw(view)
        sheet.head.show(view)
        placed = {one["role"] for one in view["points"]}
        sheet.tools.stands(placed)
        sheet.guide.stands(placed, needed=view["state"] == "sketch")
        sheet.answer.show(view["figures"], refining=view["state"] == "refining")
        sheet.findings.show(view["findings"], planned=view["state"] != "sketch")
        sheet.parts.show(view)
        sheet.cautions.show(view["cautions"])
        sheet.status.refining(view["state"] == "refining")
        sheet.head.allow("Keep", view["state"] == "plan")
        sheet.head.allow("Papers", bool(view["lines"]))
        if not self.tool:
            sheet.status.after_plan(self._next())
        self._choose_what_was_placed(view)
        self._show_choice()
        sheet.section.lines(view["lines"])
        self._ask_section()
        if view["state"] == "plan":
            background_tasks.create(sheet.compare.refresh(view["revision"]))

    def show_follow(self, view: FollowView, sections: dict[str, str]) -> None:
        """Lines while a point is dragged, here or on another tab."""
        sheet = self.sheet
        sheet.map.follow(view)
        sheet.answer.follow(view["figures"])
        if sections:
            sheet.section.show(sections, view)
        gone = next(iter(view["gone"].items()), None)
        if gone is not None:
            sheet.status.passing(f"{gone[0]}: {gone[1]}")

    def show_session(self, undo: str, redo: str, saved: bool) -> None:
        """What can be taken back and done again, and whether all is on disk."""
        self.sheet.steps.show(undo, redo)
        self.sheet.status.saved(saved)
        self.sheet.findings.stale()
        self.sheet.head.allow("Keep", False)

    def show_busy(self, words: str) -> None:
        """What is being done, "" for nothing."""
        self.sheet.status.busy(words)

    def show_message(self, text: str, level: str) -> None:
        """What happened, in the status line."""
        self.sheet.status.message(text, level)

    def show_kept(self, label: str | None, lines: list[LineView]) -> None:
        """The plan that is kept, pale under the one there is now."""
        self.sheet.map.kept(lines)
        self.sheet.head.allow("Compare", label is not None)

    # What panels and hands ask of the tab

    async def tried(self, doing: Coroutine[Any, Any, Any]) -> str:
        """Do it; "" or the sentence that says what is wrong."""
        try:
            await doing
        except HeadfallError as error:
            return error.message
        return ""

    async def moved(self, doing: Coroutine[Any, Any, Any]) -> None:
        """Do what a hand has done on the plan already; where it is refused, draw it back."""
        if not await self.told(doing):
            self.sheet.map.again()

    async def told(self, doing: Coroutine[Any, Any, Any]) -> bool:
        """Do it, and say in the status line what is wrong."""
        wrong = await self.tried(doing)
        if wrong:
            self.show_message(wrong, "stop")
        return not wrong

    def choose(self, choice: Choice | None) -> None:
        """Choose a thing: its leaf opens; None closes it."""
        self._choice = choice
        self._show_choice()
        if choice is None:
            return
        if choice.kind == "line":
            self.choose_line(choice.name)
        self.sheet.chosen.come_into_view()

    def choose_line(self, name: str) -> None:
        """Show the section of a line."""
        self.sheet.section.mark_chosen(name)
        self.sheet.map.choose_line(name)
        self._ask_section()

    def choose_finding(self, number: int) -> None:
        """Lead plan and section to where a finding stands."""
        found = self._finding(number)
        if found is None:
            return
        self.sheet.findings.mark_chosen(number)
        self.sheet.map.choose_finding(number)
        self.sheet.section.drawn.choose_finding(number)
        line, chainage = found["line"], found["chainage"]
        if line is not None:
            self.choose_line(line)
            if chainage is not None:
                self.mark(line, chainage)

    def mark(self, line: str, chainage: float | None) -> None:
        """The same position in plan and section."""
        self.sheet.map.mark_place(line, chainage)
        if line == self.sheet.section.line:
            self.sheet.section.drawn.mark_place(line, chainage)

    def take_up(self, tool: str, **options: str) -> None:
        """Take a tool in hand, "" to put it down."""
        if options.get("role"):
            self.area = options["role"]  # type: ignore[assignment]
        self.tool = tool
        self.sheet.tools.taken(tool)
        self.sheet.status.area(self.area if tool == "area" else "")
        self.sheet.status.prompt(PROMPTS.get(tool) or self._next())
        name, role = in_hand(tool, self.area)
        self.sheet.map.tool(name, **role)

    # What is done on the plan

    async def place(self, role: str, xy: XY, line: str | None, before: str | None) -> None:
        """A point was set on the plan."""
        self._placing = {one["name"] for one in (self.view or {"points": []})["points"]}
        self.take_up("")
        done = await self.told(self.hub.place(role, xy, line, before))  # type: ignore[arg-type]
        if not done:
            self._placing = None

    async def measure(self, a: XY, b: XY) -> None:
        """Two places were clicked."""

        async def ask() -> None:
            levels = await self.hub.measure(a, b)
            self._choice = None
            self.sheet.chosen.show(levels_leaf(levels))
            self.sheet.map.measured(f"{levels['distance']}\n{levels['fall']}, {levels['grade']}")

        await self.told(ask())

    async def pasted(self, text: str) -> None:
        """Coordinates from the clipboard: the tool in hand is used there, else a point moves."""
        role, choice = self.tool, self._choice
        if role in PLACED:
            await self.told(self._place_typed(role, text))
        elif choice is not None and choice.kind == "point":
            await self.told(self._move_typed(choice.name, text))
        else:
            self.show_message("choose what to place first, then paste its coordinates", "note")

    def leave(self) -> None:
        """Escape: put the tool down, else close what is open."""
        if self.tool:
            self.take_up("")
        elif self._choice is not None:
            self.choose(None)

    async def _place_typed(self, role: str, text: str) -> None:
        await self.place(role, await self.hub.typed_place(text), None, None)

    async def _move_typed(self, name: str, text: str) -> None:
        await self.hub.move(name, await self.hub.typed_place(text))

    def _next(self) -> str:
        if self.view is None:
            return ""
        if self.view["missing"]:
            return self.view["missing"]
        return READY if self.view["points"] else EMPTY

    def _choose_what_was_placed(self, view: PlanView) -> None:
        if self._placing is None:
            return
        new = [
            one
            for one in view["points"]
            if one["name"] not in self._placing and not one["by_program"]
        ]
        if new:
            self._placing = None
            self.choose(Choice("point", new[0]["name"]))

    def _show_choice(self) -> None:
        leaf = None
        if self._choice is not None and self.view is not None:
            leaf = leaf_of(self._choice, self.view, self)
        self.sheet.chosen.show(leaf, self._choice)
        point = area = None
        if leaf is not None and self._choice is not None:
            point = self._choice.name if self._choice.kind == "point" else None
            area = self._choice.index if self._choice.kind == "area" else None
        self.sheet.map.choose_point(point)
        self.sheet.map.choose_area(area)

    def _finding(self, number: int) -> Any:
        findings = [] if self.view is None else self.view["findings"]
        return next((one for one in findings if one["number"] == number), None)

    def _ask_section(self) -> None:
        if self.sheet.section.line:
            background_tasks.create(self._section(self.sheet.section.line))

    async def _section(self, line: str) -> None:
        async def ask() -> None:
            found = await self.hub.sections(line)
            if line == self.sheet.section.line and self.view is not None:
                self.sheet.section.show(found, self.view)

        await self.told(ask())


def in_hand(tool: str, area: AreaRole) -> tuple[Tool, dict[str, str]]:
    """A tool of the page as the plan knows it, and the role of what it draws.

    Examples
    --------
    >>> in_hand("tank", "avoid")
    ('place', {'role': 'tank'})
    """
    if tool in PLACED:
        return "place", {"role": tool}
    if tool == "area":
        return "area", {"role": area}
    return ("peg" if tool == "way" else "measure" if tool == "measure" else "none"), {}
