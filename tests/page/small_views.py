"""Views of a small made-up site on a tilted plane, so that every place and level is known.

The plane rises by 0.1 m a metre to the east and 0.05 m a metre to the north, from 100 m.
"""

import io
from itertools import pairwise
from typing import Any

import numpy as np
from PIL import Image

from planner.live.value import (
    AreaView,
    FindingView,
    FollowView,
    GroundView,
    LineView,
    PlanView,
    PointView,
    TurnView,
)
from planner.output.look import POINT_LETTERS, POINT_WORDS, ROLES

WEST, SOUTH, EAST, NORTH = 1000.0, 2000.0, 1300.0, 2200.0
HOSTILE = "<img src=x onerror=alert(1)>{{7*7}}</script>"
WAYS = {"Ram": (1060.0, 2060.0), "Bend": (1150.0, 2070.0), "Tank": (1240.0, 2150.0)}


def level(x: float, y: float) -> float:
    """Ground at a place, m."""
    return 100.0 + 0.1 * (x - WEST) + 0.05 * (y - SOUTH)


def ground() -> GroundView:
    """The plane, with a contour each 5 m."""
    rows, cols = 21, 31
    xs, ys = np.linspace(WEST, EAST, cols), np.linspace(NORTH, SOUTH, rows)
    levels: list[int | None] = [round(level(x, y) * 10) for y in ys for x in xs]
    levels[0] = None
    contours = []
    for z in range(105, 140, 5):
        path = [[WEST + 10 * (z - 100) - 0.5 * (y - SOUTH), y] for y in (SOUTH, NORTH)]
        contours.append((float(z), z % 25 == 0, path))
    return GroundView(
        crs="", bounds=[WEST, SOUTH, EAST, NORTH], cell=1.0, rows=rows, cols=cols, levels=levels,
        unit="m", per_metre=1.0, interval=5.0, contours=contours, kind="lidar",
        standard_error=0.1, data="made up",
    )  # fmt: skip


def picture() -> bytes:
    """A picture of the ground, PNG."""
    file = io.BytesIO()
    Image.fromarray(np.full((20, 30), 225, np.uint8)).save(file, "PNG")
    return file.getvalue()


def point(name: str, role: Any, at: tuple[float, float], **more: Any) -> PointView:
    """A point of the sketch."""
    told = f"{level(*at):.2f} m"
    view = PointView(
        name=name, role=role, word=POINT_WORDS[role], letter=POINT_LETTERS[role], at=list(at),
        lonlat=[0.0, 0.0], ground=told, level=told, height="", flow="", line="", by_program=False,
    )  # fmt: skip
    view.update(more)  # type: ignore[typeddict-item]
    return view


def line(name: str, role: Any, *path: tuple[float, float]) -> LineView:
    """A pipe 1 m under the ground, straight from place to place, with a sample each metre."""
    spots = [np.array(path[0])]
    for a, b in pairwise(path):
        steps = max(2, round(float(np.hypot(b[0] - a[0], b[1] - a[1]))))
        spots += [
            np.array(a) + (np.array(b) - np.array(a)) * k / steps for k in range(1, steps + 1)
        ]
    xy = np.array(spots)
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(xy, axis=0).T))])
    heights = [level(x, y) for x, y in xy]
    look = ROLES[role]
    return LineView(
        name=name, role=role, title=f"{look.word} of the test", letters=look.letters,
        colour=look.colour, length=f"{run[-1]:.1f} m", path=xy.round(2).tolist(),
        chainage=run.round(3).tolist(), ground=list(heights), pipe=[z - 1 for z in heights],
    )  # fmt: skip


def delivery(ram: tuple[float, float] = WAYS["Ram"]) -> LineView:
    """The delivery over its way point."""
    return line("delivery", "delivery", ram, WAYS["Bend"], WAYS["Tank"])


def other_lines() -> list[LineView]:
    """Those of another plan: its delivery starts elsewhere, the rest is the same."""
    return [delivery((1080.0, 2030.0)), *plan()["lines"][:2]]


def plan(*, tank: str = "Tank", revision: int = 1) -> PlanView:
    """A plan with one of each thing that is drawn."""
    high = TurnView(
        kind="high", line="delivery", text="1.20 m", at=[1105.0, 2065.0], chainage=45.3, vent=""
    )
    return PlanView(
        state="plan", revision=revision, missing="", title="Test", scheme="ram", units="metric",
        points=[
            point("Spring", "source", (1040.0, 2140.0)),
            point("Box", "chamber", (1045.0, 2100.0), by_program=True),
            point("Ram", "pump", WAYS["Ram"]),
            point(tank, "tank", WAYS["Tank"]),
            point("Bend", "way", WAYS["Bend"], line="delivery"),
        ],
        areas=[area(0, "avoid", "Bog"), area(1, "stay", "Land", 90.0)],
        lines=[
            line("supply", "supply", (1040.0, 2140.0), (1045.0, 2100.0)),
            line("drive", "drive", (1045.0, 2100.0), WAYS["Ram"]),
            delivery(),
        ],
        turns=[high], streams=[[[1000.0, 2030.0], [1300.0, 2040.0]]], crossings=[],
        findings=[finding(1, "stop", 45.3), finding(2, "warn", 45.3), finding(3, "note", None)],
        figures=[], cautions=[], settings={},
    )  # fmt: skip


def area(index: int, role: str, name: str, half: float = 15.0) -> AreaView:
    """A square area round (1200, 2060) or, when large, round the whole site."""
    x, y = (1200.0, 2060.0) if half < 50 else (1150.0, 2100.0)
    ring = [[x - half, y - half], [x + half, y - half], [x + half, y + half], [x - half, y + half]]
    return AreaView(
        index=index, name=name, role=role, label=name, parts=[[ring]], factor=1.0,
        deepest_trench="", ground="",
    )  # fmt: skip


def finding(number: int, level_: Any, chainage: float | None) -> FindingView:
    """A finding at a high point of the delivery, or nowhere."""
    there = chainage is not None
    return FindingView(
        number=number, level=level_, code="air-trap", message=f"Finding {number}.", remedy="Vent.",
        line="delivery" if there else None, chainage=chainage,
        at=[1105.0, 2065.0] if there else None, odds="", actions=[],
    )  # fmt: skip


def follow(name: str, at: tuple[float, float]) -> FollowView:
    """The delivery with the ram somewhere else; the drive finds no way."""
    lines = [delivery(at)] if name == "Ram" else []
    return FollowView(
        name=name, at=list(at), level="", lines=lines, turns=[],
        gone={"drive": "too long"} if name == "Ram" else {}, figures=[],
    )  # fmt: skip


def sections(name: str) -> dict[str, str]:
    """A section in three formats, with what the page's script reads of one."""
    total, low = delivery()["chainage"][-1], 100.0
    drawn = {}
    for page, width in (("wide", 1000.0), ("medium", 700.0), ("narrow", 370.0)):
        along = (width - 120) / total
        drawn[page] = (
            f'<svg class="section {page}" data-role="delivery" viewBox="0 0 {width} 200" '
            f'data-left="100" data-along="{along}" data-bottom="180" data-up="4" '
            f'data-lowest="{low}"><text x="4" y="12">{name}</text>'
            f'<path class="pipe" d="M100 160L{width - 20} 60" stroke="#000"/>'
            f'<g class="number stop" data-number="1" '
            f'transform="translate({100 + 45.3 * along} 20)">'
            '<rect x="-10" y="-10" width="20" height="20"/><text>1</text></g>'
            '<g class="cursor" visibility="hidden"><line y1="20" y2="180"/><circle r="4.5"/></g>'
            f'<rect class="catch" x="100" y="0" width="{width - 120}" height="180"/></svg>'
        )
    return drawn
