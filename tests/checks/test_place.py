"""Frost, floods and assumptions."""

from dataclasses import replace

import numpy as np
import pytest

from planner.record.value import Plan
from planner.site.value import LineRole
from planner.terrain.drainage import Stream
from tests.checks.altered import base, drawn, found, only, pipe, point, put, site
from tests.checks.troubles import waste, waste_beside_stream

DRY = drawn("distribution", [0.0, 50.0, 100.0], [500.0, 498.0, 499.0])  # 0.5 m deep, one sag


@pytest.mark.parametrize(("frost", "count"), [(None, 0), (0.0, 0), (0.34, 0), (0.36, 1), (0.6, 1)])
def test_cover_and_frost(frost: float | None, count: int) -> None:
    # The pipe lies 0.5 m deep and needs 0.15 m more than the frost.
    assert len(found(site(only(DRY), frost_depth=frost), "cover-under-frost")) == count
    summer = site(only(DRY), frost_depth=frost, season="summer")
    assert found(summer, "cover-under-frost") == []


def test_a_ram_s_waste_water_must_go_somewhere() -> None:
    (warn,) = found(base(), "waste-unplanned")
    assert warn.at == base().point("ram").xy
    assert found(only(drawn("waste", [0.0, 50.0], [500.0, 498.0])), "waste-unplanned") == []
    for scheme in ("gravity", "powered"):
        assert found(put(scheme=scheme), "waste-unplanned") == []


@pytest.mark.parametrize("role", ["waste", "overflow"])
def test_a_line_that_ends_in_the_open_runs_empty(role: LineRole) -> None:
    plan = only(drawn(role, [0.0, 50.0], [500.0, 498.0]))
    assert found(site(plan, frost_depth=0.6), "cover-under-frost") == []


def test_the_shallowest_place_is_named() -> None:
    ground = DRY.profile.ground.copy()
    ground[1] -= 0.2
    plan = only(replace(DRY, profile=replace(DRY.profile, ground=ground)))
    (warn,) = found(site(plan, frost_depth=0.5), "cover-under-frost")
    assert warn.chainage_m == DRY.profile.chainage[1]
    assert warn.values["depth_m"] == pytest.approx(0.3)
    assert warn.values["wanted_m"] == pytest.approx(0.65)


@pytest.mark.parametrize(
    ("frost", "season", "level"),
    [
        (None, "all-year", "note"),
        (None, "summer", "warn"),
        (0.0, "summer", "note"),
        (0.34, "all-year", "note"),
        (0.36, "all-year", "warn"),
    ],
)
def test_a_sag_in_winter(frost: float | None, season: str, level: str) -> None:
    plan = site(only(DRY), frost_depth=frost, season=season)
    assert [finding.level for finding in found(plan, "sag-wont-drain")] == [level]


def test_a_line_without_sags_drains() -> None:
    assert found(only(drawn("main", [0, 50], [500, 490])), "sag-wont-drain") == []


@pytest.mark.parametrize(("mark", "count"), [(-0.5, 0), (0.0, 0), (0.01, 1)])
def test_the_ram_and_the_flood(mark: float, count: int) -> None:
    assert len(found(site(flood_mark=mark), "ram-below-flood")) == count


def test_a_ram_on_a_plinth_is_as_high_as_its_plinth() -> None:
    on_plinth = point("ram", level=base().point("ram").ground + 0.5)
    assert found(site(on_plinth, flood_mark=0.5), "ram-below-flood") == []
    assert len(found(site(on_plinth, flood_mark=0.6), "ram-below-flood")) == 1


def test_gravity_fears_no_flood_at_the_ram() -> None:
    plan = site(put(scheme="gravity"), flood_mark=2.0)
    assert found(plan, "ram-below-flood") == []
    assert found(put(scheme="gravity"), "flood-mark-missing") == []


def test_a_flood_mark_given_is_not_asked_for() -> None:
    assert len(found(base(), "flood-mark-missing")) == 1
    assert found(site(flood_mark=-0.4), "flood-mark-missing") == []


@pytest.mark.parametrize(("below", "count"), [(0.3, 0), (0.5, 1)])
def test_a_waste_outlet_in_a_flood(below: float, count: int) -> None:
    # The flood stands 0.4 m below the ground at the ram.
    plan = site(waste(base().point("ram").ground - below), flood_mark=-0.4)
    got = found(plan, "waste-drowned")
    assert len(got) == count
    if got:
        assert got[0].values["under_m"] == pytest.approx(0.1)


def test_a_waste_outlet_below_the_stream() -> None:
    (warn,) = found(waste_beside_stream(), "waste-drowned")
    assert warn.values["case"] == "stream"


def with_stream(plan: Plan, y: float) -> Plan:
    return replace(plan, streams=(Stream(np.array([[15.0, y], [25.0, y]]), 1e5),))


def test_a_stream_far_off_drowns_nothing() -> None:
    assert len(found(with_stream(waste(490.0), -70.5), "waste-drowned")) == 1
    assert found(with_stream(waste(490.0), -69.5), "waste-drowned") == []


def test_a_stream_lower_than_the_outlet_takes_the_water() -> None:
    assert found(with_stream(waste(520.0), -85.0), "waste-drowned") == []
    assert found(waste(490.0), "waste-drowned") == []  # no stream, no flood mark


def test_bores_chosen_by_the_user_are_not_questioned() -> None:
    assert found(base(), "bore-assumed") == []
    (note,) = found(pipe("drive", bore_assumed=True), "bore-assumed")
    assert note.values["lines"] == "drive"
