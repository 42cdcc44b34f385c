"""`Roles`: asks what the points of a dropped file are, where the file does not tell."""

from collections.abc import Sequence
from typing import Any

from planner.page.screen.asked import Desk
from planner.page.screen.dialog import Dialog
from planner.page.screen.form import Form
from planner.page.screen.row import Row
from planner.page.screen.tags import Tag, Word
from planner.page.screen.words import AREAS, POINTS

Feature = dict[str, Any]
LEAVE = ("", "Leave it out")
MOST = 60  # asked about; a walked track has thousands of points and is no list of places


class Roles(Dialog):
    """One choice for each point or area."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("What are these?", "roles")
        self._desk = desk
        self._features: list[Feature] = []
        self._roles: dict[int, str] = {}

    def ask(self, features: Sequence[Feature]) -> None:
        """Ask for the roles of these, then put those that have one into the sketch."""
        self._features = [one for one in features if options_of(one)][:MOST]
        self._roles = {}
        if not self._features:
            self._desk.show_message("the file holds no point and no area to take in", "warn")
            return
        self.body.clear()
        with self.body:
            Tag("p", "The file does not tell what these are.")
            form = Form()
            form.show([self._row(place, one) for place, one in enumerate(self._features)])
            with Tag("div", classes="choice"):
                Word("Put them on the plan", self._add, "do")
        self.open()

    def _row(self, place: int, feature: Feature) -> Row:
        name = str(feature["properties"].get("name") or f"Place {place + 1}")

        async def give(role: str) -> str:
            self._roles[place] = role
            return ""

        return Row(str(place), name, "", give, kind="choice", options=options_of(feature))

    async def _add(self) -> None:
        told = [
            {**feature, "properties": {**feature["properties"], "role": self._roles[place]}}
            for place, feature in enumerate(self._features)
            if self._roles.get(place)
        ]
        if not told or await self._desk.told(self._desk.hub.add_features(told)):
            self.close()


def options_of(feature: Feature) -> tuple[tuple[str, str], ...]:
    """The roles a feature of its shape can have; none for a line."""
    kind = (feature.get("geometry") or {}).get("type")
    if kind == "Point":
        return (LEAVE, *((role, word) for role, word in POINTS.items() if role != "way"))
    if kind in ("Polygon", "MultiPolygon"):
        return (LEAVE, *AREAS.items())
    return ()
