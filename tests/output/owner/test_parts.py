"""Fittings, the fit of the page, and room on the map."""

import io
from dataclasses import replace

import numpy as np
from matplotlib.figure import Figure
from reportlab.pdfgen.canvas import Canvas

from planner.output.owner.faults import fault_section
from planner.output.owner.fit import SIZES, fit
from planner.output.owner.fittings import fittings
from planner.output.owner.map import draw_map, map_picture, placed, reach
from planner.output.owner.room import Room
from planner.output.owner.words import Item, Section
from tests.output.print import papers
from tests.staked import field_plan

WIDTH = 260.0


def setting(sections: list[Section], high: float):
    return fit(Canvas(io.BytesIO()), sections, WIDTH, (high, high))


def test_valves_are_numbered_first_in_the_order_they_are_shut():
    found = fittings(papers.ram_plan())
    assert [one.number for one in found] == list(range(1, len(found) + 1))
    valves = [one for one in found if one.kind == "valve"]
    assert found[: len(valves)] == tuple(valves)
    assert [one.line for one in valves] == ["drive", "delivery", "distribution-trough", "supply"]


def test_each_fitting_stands_on_its_line():
    plan = papers.gravity_plan()
    for one in fittings(plan):
        profile = plan.line(one.line).profile
        away = np.min(np.hypot(*(profile.xy - np.array(one.xy)).T))
        assert away < 0.6  # half a metre between samples


def test_a_vent_noted_as_laid_near_its_place_is_told_once():
    plan = field_plan()
    delivery = plan.lines[2]
    assert delivery.built is not None
    high = delivery.high_points[0]
    mark = replace(delivery.built.marks[0], chainage_m=high.chainage_m + 2.0)
    laid = replace(delivery, built=replace(delivery.built, marks=(mark,)))
    plan = replace(plan, lines=(*plan.lines[:2], laid, *plan.lines[3:]))
    told = [one for one in fittings(plan) if "air valve" in one.text.casefold()]
    assert [one.kind for one in told] == ["vent"]
    said = [item.text for item in fault_section(plan, fittings(plan)).items]
    assert any(f"Open the vent at {told[0].number} " in text for text in said)
    assert not any("has no vent" in text for text in said)


def test_little_is_set_in_the_largest_type_and_much_in_the_least():
    short = [Section("One", (Item("a few words"),))]
    assert setting(short, 300.0).size == SIZES[0]
    long = [Section("Many", tuple(Item("word " * 12) for _ in range(200)), least=3)]
    full = setting(long, 300.0)
    assert full.size == SIZES[-1]
    shown = [block for column in full.columns for block in column]
    assert full.left_out + len(shown) == 200 + 2  # the title, and how many were left out


def test_columns_are_never_overfull():
    sections = [
        Section(f"S{n}", tuple(Item("word " * (3 * n + k)) for k in range(9)), least=2)
        for n in range(5)
    ]
    set_ = setting(sections, 250.0)
    for column in set_.columns:
        tall = sum(b.before + b.flowable.wrap(WIDTH, 1e5)[1] for b in column)
        assert tall <= 250.0 + 1e-6


def test_north_is_up_and_all_of_the_site_is_on_the_map():
    plan, size = papers.ram_plan(), (90.0, 80.0)
    place = placed(plan, size)
    west, south, east, north = reach(plan)
    corners = place.mm(np.array([[west, south], [east, north]]))
    assert np.all(corners[0] < corners[1])
    assert np.all(corners >= 0.0)
    assert np.all(corners <= np.array(size))


def test_every_line_and_number_is_drawn():
    plan = papers.ram_plan()
    found = fittings(plan)
    axes = Figure().add_axes((0, 0, 1, 1))
    draw_map(axes, plan, found, (90.0, 80.0))
    drawn = {artist.get_gid() for artist in axes.get_lines()}
    assert {f"pipe-{line.role}" for line in plan.lines} <= drawn
    said = [text.get_text() for text in axes.texts]
    assert {str(one.number) for one in found} <= set(said)
    assert {"N", "S", "C", "R", "T", "Su", "Dr", "De", "Di"} <= set(said)


def test_a_map_of_one_point_is_drawn():
    plan = papers.blocked_plan()
    lone = replace(plan, points=plan.points[:1])
    assert map_picture(lone, (), 90.0, 80.0).read(8) == b"\x89PNG\r\n\x1a\n"


def test_room_is_found_beside_what_is_taken():
    room = Room((50.0, 50.0))
    first = room.beside(25.0, 25.0, 8.0, 4.0, (3.0, 6.0))
    second = room.beside(25.0, 25.0, 8.0, 4.0, (3.0, 6.0))
    apart = abs(first[0] - second[0]) >= 8.0 or abs(first[1] - second[1]) >= 4.0
    assert apart
