"""What the scheme is, and what it leaves out."""

from dataclasses import replace

import pytest

from planner.site.value import Point
from tests.checks.altered import base, found, point, put, site, without
from tests.checks.troubles import gravity, sketched


def test_the_example_is_a_ram_scheme_and_nothing_is_left_out() -> None:
    for code in ("gravity-works", "powered", "ram-above-source", "tank-above-source"):
        assert found(base(), code) == []
    for code in ("not-planned", "pump-not-used", "chamber-placed"):
        assert found(base(), code) == []
    (needed,) = found(base(), "ram-needed")
    above = base().point("tank").level - base().point("spring").level
    assert needed.values["above_m"] == above


def test_gravity_needs_no_ram() -> None:
    assert found(gravity(), "ram-needed") == []
    assert len(found(gravity(), "gravity-works")) == 1


def test_a_ram_level_with_its_chamber_cannot_run() -> None:
    chamber = base().point("chamber").level
    (stop,) = found(point("ram", level=chamber), "ram-above-source")
    assert stop.values["feed"] == "chamber"
    assert stop.values["above_m"] == 0.0
    assert found(point("ram", level=chamber - 0.01), "ram-above-source") == []


def test_a_ram_above_the_source_names_the_source_once() -> None:
    (stop,) = found(point("ram", level=base().point("spring").level + 2.0), "ram-above-source")
    assert stop.values["feed"] == "spring"
    assert stop.values["above_m"] == 2.0


def test_a_tank_as_high_as_the_source_gets_nothing() -> None:
    spring = base().point("spring").level
    level = point("tank", without("pump"), level=spring)
    assert len(found(level, "tank-above-source")) == 1
    assert found(point("tank", level=spring + 9.0), "tank-above-source") == []  # a ram lifts it


def test_a_tank_hardly_below_the_source_gets_nothing_either() -> None:
    spring = base().point("spring").level
    below = point("tank", without("pump"), level=spring - 0.1)
    (stop,) = found(below, "tank-above-source")
    assert stop.values["case"] == "little-fall"
    assert stop.values["fall_m"] == pytest.approx(0.1)
    assert found(replace(below, scheme="gravity"), "tank-above-source") == []
    (needed,) = found(point("tank", level=spring - 0.1), "ram-needed")
    assert needed.values["case"] == "little-fall"


def test_without_a_tank_the_first_outlet_stands_for_it() -> None:
    plan = without("tank", "pump")
    (stop,) = found(plan, "tank-above-source")
    assert stop.values["tank"] == "trough"


def test_second_sources_tanks_and_pumps_are_named() -> None:
    for role in ("source", "tank", "pump"):
        (note,) = found(sketched(role, "the other"), "not-planned")
        assert note.values == {"point": "the other", "role": role}
        assert note.level == "note"


def test_way_points_of_a_line_that_is_planned_are_not_missed() -> None:
    peg = Point("by the oak", "way", (11.2, 47.3), line="delivery")
    sketch = base().site.sketch
    passed = site(sketch=replace(sketch, points=(*sketch.points, peg)))
    assert found(passed, "not-planned") == []
    (note,) = found(sketched("way", "by the oak"), "not-planned")  # it names no line
    assert (note.level, note.values["case"]) == ("note", "way")


def test_an_outlet_with_a_line_is_planned() -> None:
    assert found(put(lines=base().lines[:3]), "not-planned")[0].values["point"] == "trough"


def test_the_only_source_is_planned_even_when_all_is_blocked() -> None:
    names = {finding.values["point"] for finding in found(put(lines=()), "not-planned")}
    assert names == {"chamber", "trough"}


def test_a_pump_left_over_in_a_gravity_scheme_is_said_once() -> None:
    (note,) = found(gravity(), "pump-not-used")
    assert note.at == base().point("ram").xy
    assert "ram" not in {finding.values["point"] for finding in found(gravity(), "not-planned")}


def test_points_that_were_not_placed_are_still_named() -> None:
    sketch = base().site.sketch
    far = Point("far spring", "source", (15.0, 40.0))
    plan = site(sketch=replace(sketch, points=(*sketch.points, far)))
    (note,) = found(plan, "not-planned")
    assert note.at is None
