"""Opening a plan's map in a browser, on a phone or a screen."""

from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from planner.output.map.make import write_map
from planner.record.value import Plan

PHONE = {"width": 390, "height": 844}
SCREEN = {"width": 1440, "height": 900}
SMALL_SCREEN = {"width": 1024, "height": 768}

Box = dict[str, Any]


def opened(page: Page, plan: Plan, path: Path, size: dict[str, int]) -> list[str]:
    """Open a plan's map from its file; what the page complains of lands in the list."""
    complaints: list[str] = []
    page.on("console", lambda m: complaints.append(m.text) if m.type != "log" else None)
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("dialog", lambda dialog: complaints.append(f"dialog {dialog.message}"))
    write_map(plan, path)
    page.set_viewport_size(size)  # type: ignore[arg-type]
    page.set_default_timeout(5000)
    page.goto(path.as_uri())
    page.wait_for_selector(".mark .glyph")
    page.wait_for_timeout(150)
    return complaints


def boxes(page: Page, selector: str) -> list[Box]:
    """What is seen of a kind: its words and its box on the screen, with nothing of the empty."""
    found: list[Box] = page.eval_on_selector_all(
        selector,
        """all => all.filter(one => getComputedStyle(one).visibility === "visible")
            .map(one => { const b = one.getBoundingClientRect();
                return { words: one.textContent, left: b.left, right: b.right, top: b.top,
                         bottom: b.bottom }; })
            .filter(b => b.right > b.left)""",
    )
    return found


def meet(a: Box, b: Box, room: float = 0.0) -> bool:
    """Whether two boxes cover common ground by more than `room` px."""
    return bool(
        a["left"] + room < b["right"]
        and a["right"] - room > b["left"]
        and a["top"] + room < b["bottom"]
        and a["bottom"] - room > b["top"]
    )
