"""`Head`: the site's title and what is done with the whole: keep, compare, papers, light."""

from collections.abc import Mapping

from planner.live.value import PlanView
from planner.page.screen.asked import Choice, Desk
from planner.page.screen.tags import Act, Tag, Word

EVENING = """
const root = document.documentElement;
const now = getComputedStyle(root).colorScheme.includes('dark') ? 'paper' : 'evening';
root.dataset.light = now;
localStorage.setItem('headfall-light', now);
"""


class Head(Tag):
    """The first line of the page."""

    def __init__(self, desk: Desk, acts: Mapping[str, Act]) -> None:
        super().__init__("header", classes="head")
        with self:
            self._title = Word("headfall", lambda: desk.choose(Choice("site")), "title")
            self._scheme = Tag("p", classes="scheme")
            with Tag("nav", classes="acts", aria_label="The plan as a whole"):
                self._acts = {words: Word(words, act) for words, act in acts.items()}
                with Word("", lambda: self.client.run_javascript(EVENING), "light"):
                    Tag("span", "Evening", "by-day")
                    Tag("span", "Daylight", "by-night")

    def show(self, view: PlanView) -> None:
        """Show whose plan it is."""
        self._title.set_text(view["title"])
        self._title.has(aria_label=f"{view['title']}: site, units and need")
        self._scheme.set_text(view["scheme"])

    def allow(self, words: str, allowed: bool) -> None:
        """Let one of the acts be pressed or not."""
        self._acts[words].allow(allowed)
