"""The page's style sheet; its inks stand with the plan's (`plan_map/look.css`)."""

from functools import cache
from pathlib import Path

from nicegui import ui


def wear() -> None:
    """Give this page its look."""
    ui.add_css(_sheet())


@cache
def _sheet() -> str:
    return Path(__file__).with_name("screen.css").read_text(encoding="utf-8")
