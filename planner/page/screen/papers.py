"""`Papers`: what is printed and carried, written from the page."""

from pathlib import Path

from planner.page.screen.asked import Desk
from planner.page.screen.dialog import Dialog
from planner.page.screen.tags import Tag, Word

# File, and what it is for; a plan writes those that fit its site.
KINDS = (
    ("profiles.pdf", "Plan and section sheets, to print"),
    ("walk.pdf", "Walk sheets: forms for levels, flow and starting, to carry"),
    ("owner.pdf", "Owner's sheet: valves, care, faults"),
    ("map.html", "Map, one file, for phone or tablet without a signal"),
    ("materials.xlsx", "Materials and costs, as a workbook"),
    ("materials.csv", "Materials, as a plain table"),
    ("stakes.gpx", "Pegs for a GPS"),
    ("stakes.kml", "Pegs for a globe"),
    ("stakes.geojson", "Pegs for a map program"),
    ("stakes.csv", "Stake-out list"),
    ("plan.dxf", "Drawing for CAD"),
    ("plan.gpkg", "All layers for a map program"),
    ("plan.json", "The plan as data"),
    ("site.toml", "The site as it was planned"),
)


class Papers(Dialog):
    """Writes the plan's folder, tells how far it is, and links what was written."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("Papers", "papers")
        self._desk = desk
        self._writing = False
        with self.body:
            Tag("p", "Sheets, map, field files and materials, in the folder plan beside the site.")
            with Tag("div", classes="choice"):
                self._begin = Word("Write the papers", self._write, "do")
                self._stop = Word("Stop", self._cancel, "do")
            self._state = Tag("p", classes="hint", role="status", aria_live="polite")
            self._list = Tag("ul", classes="files")
            Tag("p", CAUTION, "caution")
        self._show()

    async def _write(self) -> None:
        self._writing = True
        self._list.clear()
        self._say("Beginning")
        self._show()
        wrong = await self._desk.tried(self._written())
        self._writing = False
        self._show()
        if wrong:
            self._state.set_text(wrong[:1].upper() + wrong[1:] + ".")

    async def _written(self) -> None:
        folder = await self._desk.hub.write_papers(self._say)
        there = sorted(path.name for path in folder.iterdir() if path.is_file())
        known = dict(KINDS)
        order = [name for name in known if name in there]
        order += [name for name in there if name not in known]
        with self._list:
            for name in order:
                self._file(name, known.get(name) or section_words(name))
        self._state.set_text(f"Written to {folder}.")

    def _file(self, name: str, words: str) -> None:
        with Tag("li"):
            address = f"papers/{name}"
            Tag("a", name, href=address, target="_blank", rel="noopener")
            Tag("span", words)

    def _say(self, words: str) -> None:
        self._state.set_text(words[:1].upper() + words[1:] + " …")

    async def _cancel(self) -> None:
        await self._desk.tried(self._desk.hub.cancel())

    def _show(self) -> None:
        self._begin.show_if(not self._writing)
        self._stop.show_if(self._writing)


CAUTION = (
    "Call the utilities' locating service before any digging. Local codes and licensed practice "
    "come first."
)


def section_words(name: str) -> str:
    """What a file of a line is.

    Examples
    --------
    >>> section_words("profile-delivery.svg")
    'Section of the line delivery'
    """
    stem = Path(name).stem
    return f"Section of the line {stem[8:]}" if stem.startswith("profile-") else ""
