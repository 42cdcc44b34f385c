"""`Start`: the first page: five numbers, an elevation file, or the demo."""

from functools import cache
from pathlib import Path
from typing import Any

from planner.page.screen.answer import figure_row, split_band
from planner.page.screen.asked import Desk
from planner.page.screen.form import Form
from planner.page.screen.row import Give, Row
from planner.page.screen.tags import Tag, Word, drawing

FIVE = (
    ("source_flow", "The source gives", "54 L/min", "Late in the dry season, bucket and watch."),
    ("fall", "Fall, source to ram", "4.2 m", "Levelled or guessed; by gravity alone: 0."),
    ("rise", "Rise, ram to tank", "28 m", "Below 0 where the tank lies lower."),
    ("length", "Pipe to the tank", "240 m", "As it would be laid."),
    ("need", "Water needed a day", "3800 L", "People, stock, garden."),
)
CHOOSE = """
const input = document.createElement('input');
input.type = 'file';
input.accept = '.tif,.tiff,.asc,.vrt,.img,.dem,.laz,.las';
input.onchange = () => window.dispatchEvent(
  new CustomEvent('headfall-files', { detail: [...input.files] }));
input.click();
"""


class Start(Tag):
    """Shown while no site is open."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("main", classes="start")
        self._desk = desk
        self._numbers: dict[str, str] = {}
        with self:
            with Tag("header"):
                Tag("h1", "Will it flow, and how much?")
                Tag("p", "Plan a water line, by gravity or by ram, on the ground it is laid in.")
                drawing(_section(), "still-section")
            with Tag("section", classes="five", aria_label="Five numbers"):
                Tag("h2", "Five numbers, no map")
                form = Form()
                form.show([self._row(*one) for one in FIVE])
                Word("Will it work?", self._look, "do")
            self._said = Tag("section", classes="first-look", aria_live="polite")
            with Tag("section", classes="ground", aria_label="Your ground"):
                Tag("h2", "Your own ground")
                Tag("p", "An elevation file (GeoTIFF or the like): drop it here, or choose it.")
                Word("Choose a file", self._choose, "do")
            with Tag("section", classes="demo", aria_label="Demo"):
                Tag("h2", "Look around first")
                Tag("p", "Larch Hollow, an invented site: a creek, a ram, a cabin on the hill.")
                Word("Open the demo", lambda: desk.told(desk.hub.use_demo()), "do")

    def _row(self, key: str, label: str, example: str, hint: str) -> Row:
        return Row(key, label, "", self._keep(key), hint, example)

    def _keep(self, key: str) -> Give:
        async def give(text: str) -> str:
            self._numbers[key] = text
            return ""

        return give

    def _choose(self) -> None:
        self.client.run_javascript(CHOOSE)

    async def _look(self) -> None:
        wrong = await self._desk.tried(self._answer())
        if wrong:
            self._said.clear()
            with self._said:
                Tag("p", wrong[:1].upper() + wrong[1:] + ".", "trouble")

    async def _answer(self) -> None:
        told: dict[str, Any] = await self._desk.hub.first_look(dict(self._numbers))
        self._said.clear()
        with self._said:
            first_look(told)


@cache
def _section() -> str:
    """A section that shows what the five numbers are, in the language of the sheets."""
    return Path(__file__).with_name("start.svg").read_text(encoding="utf-8")


def first_look(told: dict[str, Any]) -> None:
    """What five numbers say: the verdict in large, then what it hangs on."""
    Tag("p", told["verdict"], f"verdict {told['go']}")
    if told["figure"]:
        plain, band = split_band(told["figure"])
        with Tag("p", classes="figure"):
            Tag("strong", plain)
            Tag("span", band, "band")
    Tag("p", told["measure"])
    with Tag("dl", classes="figures"):
        for label, figure, source in told["rows"]:
            figure_row(label, figure, source)
    with Tag("details", classes="fold"):
        Tag("summary", "What is assumed")
        with Tag("ul"):
            for one in told["assumed"]:
                Tag("li", one)
