"""Marks on the section: ends, findings, high and low points, crossings, joints, heads."""

import numpy as np
from matplotlib.axes import Axes

from planner.output.sheets.content import Numbered, SheetContent
from planner.output.sheets.ink import FIGURE, SMALL, fitted, halo, rule, text_width, write
from planner.output.sheets.letters import draw_letters
from planner.output.sheets.levelled import stations_on
from planner.output.sheets.measure import Measure
from planner.output.sheets.paper import Box
from planner.output.sheets.pipe import flow_arrows
from planner.output.sheets.place import PAD, SectionPlace
from planner.output.sheets.reach import Reach
from planner.output.sheets.section import clipped
from planner.output.sheets.symbols import (
    FLAG,
    chevron,
    crossing,
    finding_number,
    joint,
    levelled,
    size_change,
)
from planner.output.sheets.taken import Spot, Taken, extent, put
from planner.output.stakes.marks import FALLING
from planner.output.vents import vents_of
from planner.record.value import Line, LineWater
from planner.units import show

NAMES = 3.2  # mm under the section's top
FLAGS = 8.4
CHEVRON_HEIGHT = 7.8  # mm that a vent and its figure take over a high point


def draw_marks(
    sheet: Axes, place: SectionPlace, content: SheetContent, reach: Reach, measure: Measure
) -> None:
    """All marks of a part of a line on its section; no two of their words overlap."""
    line, profile = content.line, content.line.profile
    taken = Taken(place.box)
    _keep_match_lines(place, content, reach, taken)
    _ends(sheet, place, content, reach, taken)
    _findings(sheet, place, content, reach, taken)
    _turns(sheet, place, line, reach, measure, taken)
    _on_pipe(sheet, place, content, reach, taken)
    if line.water is not None:
        _residual(sheet, place, content, reach, taken, line.water)
        _beyond(sheet, place, line, reach, measure, taken)
    x, y = clipped(line, reach, profile.pipe)
    flow_arrows(sheet, place.x(x), place.y(y), line.role, 2.4)
    draw_letters(sheet, place, line, reach, taken)


def _keep_match_lines(
    place: SectionPlace, content: SheetContent, reach: Reach, taken: Taken
) -> None:
    """Where match lines and their words stand, nothing else does."""
    for run, number, aside in (
        (reach.start, content.before, -1.0),
        (reach.end, content.after, 1.0),
    ):
        if number is not None:
            x = float(place.x(run))
            ends = sorted((x - aside * 0.5, x + aside * 4.6))
            taken.take(Box(ends[0], place.box.bottom, ends[1], place.box.top))


def _ends(
    sheet: Axes, place: SectionPlace, content: SheetContent, reach: Reach, taken: Taken
) -> None:
    profile, line = content.line.profile, content.line
    x0, x1 = (float(place.x(run)) for run in (reach.start, reach.end))
    room = max((x1 - x0) / 2.0 - 4.0, 30.0)
    y = place.box.top - NAMES
    for x, run, name, side in (
        (x0, reach.start, line.start if content.before is None else "", "left"),
        (x1, reach.end, line.end if content.after is None else "", "right"),
    ):
        text = fitted(name, room, FIGURE, "bold")
        if not text:
            continue
        level = float(np.interp(run, profile.run, profile.pipe))
        if np.isfinite(level):
            rule(sheet, [x, x], [float(place.y(level)), y + 2.0], 0.35, zorder=2)
        outward = side == "right" and x1 - x0 < 70.0
        half = text_width(text, FIGURE, "bold") / 2.0 + 1.0
        middle = x + (half if side == "left" or outward else -half)
        taken.take(extent(text, Spot(middle, y), FIGURE, "bold"))
        write(
            sheet, middle, y, text, FIGURE, weight="bold", ha="center", va="center_baseline",
            path_effects=halo(), zorder=9,
        )  # fmt: skip


def _findings(
    sheet: Axes, place: SectionPlace, content: SheetContent, reach: Reach, taken: Taken
) -> None:
    """Numbers in a row under the names, each with a thin leader down to its place."""
    profile = content.line.profile
    last = place.box.left
    for finding, run in findings_in(content, reach):
        foot = float(place.x(run))
        x = max(foot, last + FLAG + 0.8)
        last = x
        y = place.box.top - FLAGS
        if x + FLAG > place.box.right:
            break
        level = np.interp(run, profile.run, np.fmax(profile.ground, profile.pipe))
        reach_y = float(place.y(level)) + 1.0
        rule(sheet, [x, foot], [y - FLAG / 2, min(y - FLAG / 2, reach_y)], 0.4, zorder=6)
        finding_number(sheet, x, y, finding.number, finding.level)
        half = FLAG / 2 + 0.3
        taken.take(Box(x - half, y - half, x + half, y + half))


def findings_in(content: SheetContent, reach: Reach) -> list[tuple[Numbered, float]]:
    """Findings that have a place in this part of the line, with their run [m], along it."""
    profile = content.line.profile
    here = [
        (one, float(np.interp(one.chainage_m, profile.chainage, profile.run)))
        for one in content.findings
        if one.line == content.line.name and one.chainage_m is not None
    ]
    inside = [(one, run) for one, run in here if reach.has(run)]
    return sorted(inside, key=lambda pair: (pair[1], pair[0].number))


def _turns(
    sheet: Axes, place: SectionPlace, line: Line, reach: Reach, measure: Measure, taken: Taken
) -> None:
    """Chevrons over high points and under low ones, with figure and part fitted."""
    profile, vents = line.profile, vents_of(line)
    for high in line.high_points:
        if not reach.has(high.run_m):
            continue
        over = float(np.nanmax([profile.ground[high.index], profile.pipe[high.index]]))
        vent = vents.get(high.index)
        x, y = float(place.x(high.run_m)), float(place.y(over)) + 0.8
        tip = chevron(sheet, x, y, up=True, stem=vent is not None)
        text = f"{measure.level(high.rise_m)} {measure.symbol}{f', {vent}' if vent else ''}"
        _figure(sheet, taken, text, x, tip, 1.0)
    washout = line.role not in FALLING
    for low in line.low_points:
        if not reach.has(low.run_m):
            continue
        under = float(np.nanmin([profile.ground[low.index], profile.pipe[low.index]]))
        x, y = float(place.x(low.run_m)), float(place.y(under)) - 0.8
        tip = chevron(sheet, x, y, up=False, stem=washout)
        text = f"{measure.level(low.sag_m)} {measure.symbol}{', washout' if washout else ''}"
        _figure(sheet, taken, text, x, tip, -1.0)


def _figure(sheet: Axes, taken: Taken, text: str, x: float, tip: float, side: float) -> None:
    """A turn's figure at its tip, moved aside or outward where another word stands; once cut."""
    taken.take(Box(x - 1.7, min(tip, tip - side * 3.0), x + 1.7, max(tip, tip - side * 3.0)))
    for words in (text, text.split(",", maxsplit=1)[0]):
        half = text_width(words, SMALL) / 2.0
        spots = [
            Spot(x + aside, tip + side * away)
            for away in (2.0, 5.2, 8.4)
            for aside in (0.0, half * 0.8, -half * 0.8)
        ]
        spots += [Spot(x + aside, tip - side) for aside in (half + 2.6, -half - 2.6)]
        if put(sheet, taken, words, spots) is not None:
            return


def _on_pipe(
    sheet: Axes, place: SectionPlace, content: SheetContent, reach: Reach, taken: Taken
) -> None:
    """Crossings, joints, changes of size, levelled stations, break-pressure tanks."""
    line, profile = content.line, content.line.profile

    def at(chainage: float) -> tuple[bool, float, float]:
        run = float(np.interp(chainage, profile.chainage, profile.run))
        level = float(np.interp(run, profile.run, profile.pipe))
        return (
            reach.has(run) and bool(np.isfinite(level)),
            float(place.x(run)),
            float(place.y(level)),
        )

    for number, run in enumerate(line.runs):
        for chainage in run.joints:
            inside, x, y = at(chainage)
            if inside:
                joint(sheet, x, y)
        inside, x, y = at(run.start_m)
        if number and inside:
            size_change(sheet, x, y)
            _beside(sheet, taken, run.label, x, y)
    for one in line.crossed:
        inside, x, _ = at(one.chainage_m)
        if inside:
            y = float(place.y(profile.ground[one.index]))
            crossing(sheet, x, y + 0.6)
            _beside(sheet, taken, f"crosses {one.name or 'stream'}", x, y)
    for station in stations_on(profile, content.survey):
        if reach.has(station.run):
            levelled(sheet, float(place.x(station.run)), float(place.y(station.level)))


def _beside(sheet: Axes, taken: Taken, text: str, x: float, y: float) -> None:
    """A word over its mark, or under it, as near as there is room."""
    words = fitted(text, 42.0, SMALL)
    half = text_width(words, SMALL) / 2.0
    spots = [
        Spot(x + aside, y + up)
        for up in (3.4, -4.2, 6.6, -7.4, 9.8)
        for aside in (0.0, half, -half)
    ]
    put(sheet, taken, words, spots)


def _residual(
    sheet: Axes,
    place: SectionPlace,
    content: SheetContent,
    reach: Reach,
    taken: Taken,
    water: LineWater,
) -> None:
    """Head left at an outlet with it open, measured from the outlet up."""
    outlet = content.line.role in {"distribution", "main"}
    if not outlet or content.after is not None or not np.isfinite(water.end_head):
        return
    x = float(place.x(reach.end))
    level = float(water.open_level[-1])
    foot, top = (float(place.y(v)) for v in (level - water.end_head, level))
    units = content.units
    text = (
        f"residual head, open: {show(water.end_head, 'head', units)}"
        f" ({show(water.end_head, 'pressure', units)})"
    )
    half = text_width(text, FIGURE) / 2.0 + 2.0
    limit = place.box.top - FLAGS - 3.0
    shown = min(top, limit)
    if shown - foot > 1.0:
        rule(sheet, [x + 2.0] * 2, [foot, shown], 0.6, zorder=6, gid="residual")
        for end in (foot, top):
            if end <= limit:
                rule(sheet, [x + 1.0, x + 3.0], [end] * 2, 0.6, zorder=6)
    sides = (x - half, x + half + 4.0)
    heights = [min(top, limit) + up for up in (2.6, -2.8, 5.8, -6.0, -9.0, -12.0, -15.0, 9.0)]
    beside = Spot(sides[1], (min(top, limit) + foot) / 2.0)
    put(sheet, taken, text, [beside, *(Spot(x, y) for y in heights for x in sides)], FIGURE)


def _beyond(
    sheet: Axes, place: SectionPlace, line: Line, reach: Reach, measure: Measure, taken: Taken
) -> None:
    """Words at the top for water levels that stand above the drawing."""
    water = line.water
    if water is None:
        return
    limit = place.level_limits[1]
    for word, levels in (
        ("static level", water.closed_level),
        ("hydraulic grade line", water.open_level),
    ):
        _, inside = clipped(line, reach, levels)
        known = inside[np.isfinite(inside)]
        if known.size and known.min() > limit:
            ends = dict.fromkeys(measure.level(float(level)) for level in known[[0, -1]])
            text = f"↑ {word} {' to '.join(ends)} {measure.symbol}, above this drawing"
            half = text_width(text, SMALL) / 2.0 + 2.0
            middle = float(place.x((reach.start + reach.end) / 2.0))
            spots = [
                Spot(x, place.box.top - down)
                for down in (NAMES, FLAGS, FLAGS + 4.0)
                for x in (middle, middle - half, middle + half, place.box.right - half - PAD)
            ]
            put(sheet, taken, text, spots)


def match_lines(
    sheet: Axes,
    place: SectionPlace,
    content: SheetContent,
    reach: Reach,
    measure: Measure,
    sides: tuple[Box, ...],
) -> None:
    """A line across plan and section where the next sheet takes over, with its number."""
    profile = content.line.profile
    for run, number, aside in (
        (reach.start, content.before, -2.6),
        (reach.end, content.after, 2.6),
    ):
        if number is None:
            continue
        x = float(place.x(run))
        chainage = float(np.interp(run, profile.run, profile.chainage))
        text = f"match line {measure.along(chainage)}, see sheet {number}"
        for side in sides:
            rule(
                sheet, [x, x], [side.bottom, side.top], 1.2, ls=(0, (8.0, 2.0, 2.0, 2.0)),
                zorder=7, gid="match-line",
            )  # fmt: skip
        y = (place.box.bottom + place.box.top) / 2.0
        fits = text_width(text, FIGURE, "bold") <= place.box.height - 1.0
        size = FIGURE if fits else SMALL
        write(
            sheet, x + aside, y, text, size, weight="bold", rotation=90, ha="center", va="center",
            path_effects=halo(), zorder=9,
        )  # fmt: skip
