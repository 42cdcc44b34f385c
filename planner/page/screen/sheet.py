"""`Sheet`: how the page is laid out: tools, plan, section, and the column at the right."""

from planner.page.plan_map.element import PlanMap
from planner.page.screen.answer import Answer
from planner.page.screen.asked import Desk
from planner.page.screen.cautions import Cautions
from planner.page.screen.chosen import Chosen
from planner.page.screen.compare import Compare
from planner.page.screen.findings import Findings
from planner.page.screen.guide import Guide
from planner.page.screen.hands import Hands
from planner.page.screen.head import Head
from planner.page.screen.look import wear
from planner.page.screen.papers import Papers
from planner.page.screen.parts import Parts
from planner.page.screen.roles import Roles
from planner.page.screen.section_panel import SectionPanel
from planner.page.screen.start import Start
from planner.page.screen.status import Status
from planner.page.screen.steps import Steps
from planner.page.screen.tags import Tag
from planner.page.screen.tools import Tools


class Sheet:
    """All panels of the page, by name; the order here is the order in which they are read."""

    def __init__(self, desk: Desk) -> None:
        wear()
        self.hands = Hands()
        self.start = Start(desk)
        self.papers = Papers(desk)
        self.roles = Roles(desk)
        self._desk = desk
        self._whole = Tag("div", classes="sheet")
        with self._whole:
            acts = {"Keep": self._keep, "Compare": self._compare, "Papers": self.papers.open}
            with Tag("div", classes="thumb"):
                self.tools = Tools(desk)
                self.steps = Steps(desk)
                self.status = Status(desk)
            with Tag("main", classes="plan", aria_label="Plan"):
                self.map = PlanMap()
            self.section = SectionPanel(desk)
            with Tag("aside", classes="side", aria_label="Answer"):
                self.head = Head(desk, acts)
                self.compare = Compare(desk)
                self.chosen = Chosen(desk)
                self.guide = Guide(desk)
                self.answer = Answer(desk)
                self.findings = Findings(desk)
                self.parts = Parts(desk)
                self.cautions = Cautions()
        self.head.allow("Compare", False)
        self.open(started=True)

    def open(self, *, started: bool) -> None:
        """Show the sheet, or the start while no site is open."""
        self._whole.show_if(started)
        self.start.show_if(not started)

    async def _compare(self) -> None:
        await self.compare.ask()

    async def _keep(self) -> None:
        if await self._desk.told(self._desk.hub.keep("Kept plan")):
            self._desk.show_message("kept: change something, then choose Compare", "note")
