"""Drawn marks, in millimetres: points, high and low points, numbers of findings, arrows."""

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Circle, FancyBboxPatch, Patch, Polygon, Rectangle, RegularPolygon

from planner.output.look import INK
from planner.output.sheets.ink import MEDIUM, WHITE, rule, write
from planner.record.value import Level
from planner.site.value import PointRole

POINT = 6.4  # mm across; with its edge it prints at 7 mm
OUTLET = 4.6  # mm across
CHEVRON = 1.7  # mm, half its width
STEM = 1.8  # mm by which a vent's stem lifts it
FLAG = 4.2  # mm, the block that holds a finding's number
OVER = 8  # zorder of marks, above all lines


def point_symbol(axes: Axes, x: float, y: float, role: PointRole, letter: str) -> None:
    """The shape of a point of the sketch, with its letter or number."""
    if role == "way":
        return
    for patch in _shape(x, y, role):
        patch.set(facecolor=WHITE, edgecolor=INK, linewidth=0.9, zorder=OVER)
        axes.add_patch(patch)
    if role == "tank":
        wave = np.linspace(-0.36, 0.36, 25)
        height = y + POINT * (0.2 + 0.03 * np.sin(wave * 18.0))
        rule(axes, x + POINT * wave, height, 0.6, zorder=OVER)
    low = 0.5 if role == "tank" else 0.0
    write(axes, x, y - low, letter, MEDIUM, ha="center", va="center_baseline", zorder=OVER + 1)


def _shape(x: float, y: float, role: PointRole) -> tuple[Patch, ...]:
    half = POINT / 2.0
    if role == "chamber":
        return (Rectangle((x - half * 0.9, y - half * 0.9), POINT * 0.9, POINT * 0.9),)
    if role == "pump":
        return (RegularPolygon((x, y), 6, radius=half * 1.1),)
    if role == "tank":
        corner = half * 0.5
        inner = POINT - 2 * corner
        style = f"round,pad={corner},rounding_size={corner}"
        return (FancyBboxPatch((x - inner / 2, y - inner / 2), inner, inner, boxstyle=style),)
    return (Circle((x, y), half if role == "source" else OUTLET / 2.0),)


def chevron(axes: Axes, x: float, y: float, *, up: bool, stem: bool = False) -> float:
    """An open chevron at x, y: over a high point, or under a low one; y of its tip [mm].

    A stem tells of a part fitted there: a vent over it, a washout under it.
    """
    side = 1.0 if up else -1.0
    foot = y
    y += side * STEM if stem else 0.0
    tip, ends = y + side * 1.5, y + side * 0.3
    if stem:
        rule(axes, [x, x], [foot, tip], 1.1, zorder=OVER)
    rule(axes, [x - CHEVRON, x, x + CHEVRON], [ends, tip, ends], 1.1, zorder=OVER)
    return tip


def crossing(axes: Axes, x: float, y: float) -> None:
    """Two short waves across the ground where something is crossed."""
    along = np.linspace(-2.0, 2.0, 25)
    for under in (0.0, 1.1):
        wave = y - under + 0.35 * np.sin(along * np.pi)
        axes.plot(x + along, wave, color=INK, linewidth=0.9, zorder=OVER, gid="crossing")


def joint(axes: Axes, x: float, y: float) -> None:
    """A small open ring: one coil or stick ends here and the next begins."""
    axes.plot(
        [x], [y], "o", markersize=4.0, markerfacecolor=WHITE, markeredgecolor=INK,
        markeredgewidth=0.6, zorder=OVER - 1.5, gid="joint",
    )  # fmt: skip


def levelled(axes: Axes, x: float, y: float) -> None:
    """A filled triangle standing on the ground where it was levelled."""
    axes.plot([x], [y + 1.1], "^", markersize=6.0, color=INK, zorder=OVER, gid="levelled")


def size_change(axes: Axes, x: float, y: float) -> None:
    """Two short strokes across the pipe: another size or class begins."""
    for side in (-0.5, 0.5):
        rule(axes, [x + side, x + side], [y - 2.0, y + 2.0], 1.0, zorder=OVER, gid="size")


def finding_number(axes: Axes, x: float, y: float, number: int, level: Level) -> None:
    """A finding's number, centred: a dark block (stop), an outlined one (warn), or plain."""
    wide = FLAG if number < 100 else FLAG * 1.4
    if level != "note":
        face = INK if level == "stop" else WHITE
        block = Rectangle((x - wide / 2, y - FLAG / 2), wide, FLAG)
        block.set(facecolor=face, edgecolor=INK, linewidth=1.0, zorder=OVER)
        axes.add_patch(block)
    write(
        axes,
        x,
        y,
        str(number),
        color=WHITE if level == "stop" else INK,
        weight="bold" if level != "note" else "normal",
        ha="center",
        va="center_baseline",
        zorder=OVER + 1,
    )


def arrow_head(axes: Axes, x: float, y: float, angle: float, colour: str, size: float) -> None:
    """A filled arrow head pointing along `angle` [rad], its middle at x, y."""
    corners = np.array([[0.6, 0.0], [-0.4, 0.36], [-0.4, -0.36]]) * size
    turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    head = Polygon(corners @ turn + [x, y], closed=True)
    head.set(facecolor=colour, edgecolor=WHITE, linewidth=0.5, zorder=OVER - 1)
    axes.add_patch(head)
