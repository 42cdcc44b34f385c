"""The page served by a process of its own, as a user starts it, and how to get about on it."""

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Locator, Page

RUN = "from planner.cli import main; main()"
PLANNED = 180_000  # ms; the first plan of all may have to compile


@dataclass(frozen=True, slots=True)
class Server:
    """A server that runs, and the address it printed."""

    process: subprocess.Popen[str]
    address: str


@contextmanager
def headfall_open(*words: str, folder: Path) -> Iterator[Server]:
    """`headfall open` with some words, run in a folder; ended as a user ends it."""
    command = [sys.executable, "-c", RUN, "open", *words, "--no-browser"]
    own = {name: value for name, value in os.environ.items() if not name.startswith("PYTEST")}
    process = subprocess.Popen(  # noqa: S603
        command, stdout=subprocess.PIPE, text=True, cwd=folder, env=own
    )
    assert process.stdout is not None
    try:
        line = process.stdout.readline()
        assert line.startswith("The page: "), line
        yield Server(process, line.split()[-1])
    finally:
        process.terminate()
        process.wait(30)
        process.stdout.close()


@dataclass(frozen=True, slots=True)
class Box:
    """The ground as it is drawn: x, y of its box [m]."""

    west: float
    south: float
    east: float
    north: float

    def on_screen(self, page: Page, xy: tuple[float, float]) -> tuple[float, float]:
        """Pixels of a place; the picture of the ground is drawn at its bounds."""
        box = page.locator(".plan-map img.leaflet-image-layer").bounding_box()
        assert box is not None
        across = (xy[0] - self.west) / (self.east - self.west)
        down = (self.north - xy[1]) / (self.north - self.south)
        return box["x"] + across * box["width"], box["y"] + down * box["height"]


def planned(page: Page) -> None:
    """Wait until the plan of the site as it stands is drawn."""
    page.wait_for_function(
        "document.querySelector('.plan-sheet')?.dataset.state === 'plan'", timeout=PLANNED
    )


def point(page: Page, name: str) -> Locator:
    """A point on the plan."""
    return page.locator(f'.leaflet-marker-icon[data-point="{name}"]')


def drag(page: Page, name: str, to: tuple[float, float], *, steps: int = 12) -> None:
    """Drag a point to a place on the screen, and drop it."""
    box = point(page, name).bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(*to, steps=steps)
    page.mouse.up()
