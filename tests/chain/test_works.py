"""The works of whole schemes: who has which, what is missing, and that more never gives less."""

import math
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.band import Band
from planner.chain.pipes import named_pipes
from planner.chain.water import scheme_water
from planner.chain.works import add_works
from planner.plan import make_plan
from planner.record.value import Line, SchemeKind, Water
from planner.site.value import Fill, MeasuredDelivery, OwnPipe, Ram, Site, Source, Tank
from tests.chain.conftest import Found
from tests.chain.small import KINDS, ROLES, settings_of, site
from tests.example import example_terrain

Outcome = tuple[Water, tuple[Line, ...]]


def worked(found: Found, told: Site) -> Outcome:
    """The chain from the lines found on, as `make_plan` goes."""
    scheme, terrain, lines = found
    named, offered = named_pipes(told)
    lines = tuple(replace(line, settings=named.lines[line.role]) for line in lines)
    water, lines = scheme_water(named, terrain, scheme, lines)
    return add_works(named, offered, water, lines)


def test_each_scheme_is_of_its_kind(valley: dict[str, Found]) -> None:
    assert {kind: found[0].kind for kind, found in valley.items()} == {k: k for k in KINDS}
    roles = {kind: {line.role for line in found[2]} for kind, found in valley.items()}
    assert {"supply", "drive", "delivery"} <= roles["ram"]
    assert {"main", "distribution"} <= roles["gravity"]
    assert {"supply", "delivery"} <= roles["powered"]


def test_a_ram_scheme_has_all_works(valley: dict[str, Found]) -> None:
    water, lines = worked(valley["ram"], site("ram"))
    assert water.intake is not None
    assert water.ram is not None
    assert water.tank is not None
    by_role = {line.role: line for line in lines}
    assert by_role["delivery"].pressure is not None
    assert by_role["distribution"].pressure is not None
    assert by_role["drive"].pressure is None
    assert water.delivered is not None
    assert water.ram.options[0].delivered.expected == pytest.approx(
        float(water.delivered.expected) / 86400.0
    )


@pytest.mark.parametrize("kind", ["gravity", "powered"])
def test_other_schemes_have_no_ram(valley: dict[str, Found], kind: SchemeKind) -> None:
    water, _ = worked(valley[kind], site(kind))
    assert water.ram is None
    assert water.tank is not None
    assert water.delivered is not None


@pytest.mark.parametrize("kind", KINDS)
def test_an_unknown_flow_is_unknown_everywhere(valley: dict[str, Found], kind: SchemeKind) -> None:
    water, _ = worked(valley[kind], site(kind, source=Source()))
    assert (water.source_flow, water.taken, water.intake, water.ram) == (None,) * 4
    if kind == "ram":  # a main and a pump still tell what they could carry
        assert (water.delivered, water.spent, water.tank) == (None, None, None)


def test_two_supply_lines_of_a_pump_behind_a_chamber(valley: dict[str, Found]) -> None:
    """Each between its own ends: the second from the chamber's level down to the pump's."""
    scheme, _, _ = valley["powered"]
    _, lines = worked(valley["powered"], site("powered"))
    first, second = (line for line in lines if line.role == "supply")
    assert scheme.chamber is not None
    assert scheme.pump is not None
    assert first.water is not None
    assert second.water is not None
    assert first.water.closed_level[0] == scheme.source.level
    assert second.water.closed_level[0] == scheme.chamber.level
    assert second.water.open_level[-1] == pytest.approx(scheme.pump.level, abs=0.01)


def test_fittings_take_their_share_of_a_mains_head(valley: dict[str, Found]) -> None:
    """A main that carries all it can spends just its fall, fittings counted."""
    told = site("gravity", source=Source(flow=0.05, season="dry"))
    plain = worked(valley["gravity"], told)[1]
    fitted = replace(
        told,
        lines=told.lines | {"main": settings_of("main", fittings=(("globe valve", 4),))},
    )
    main = {line.role: line for line in worked(valley["gravity"], fitted)[1]}["main"]
    bare = {line.role: line for line in plain}["main"]
    assert main.water is not None
    assert bare.water is not None
    assert main.water.flow < bare.water.flow
    scheme = valley["gravity"][0]
    fall = scheme.source.level - scheme.goal.level
    assert main.water.friction <= fall + 1e-6


# ---- every combination of what may be missing --------------------------------------------------

SOURCES = st.builds(
    Source,
    flow=st.one_of(st.none(), st.floats(1e-7, 0.9)),
    season=st.sampled_from([None, "dry", "wet"]),
    share_left=st.sampled_from([0.0, 0.3, 1.0]),
    season_factor=st.sampled_from([None, (0.3, 0.7), (1e-3, 1e-3)]),
)
TIMED = st.just(Source(timings=(Fill(0.02, 40.0), Fill(0.02, 42.0)), season="wet"))
MEASURED = (MeasuredDelivery(6e-4, 2.4, 24.0, 3e-5),)
RAMS = st.builds(
    Ram,
    make=st.sampled_from(["commercial", "home-made"]),
    closing_velocity=st.sampled_from([None, 0.02, 0.8, 9.0]),
    measured=st.sampled_from([(), MEASURED]),
)
TANKS = st.builds(
    Tank,
    volume=st.sampled_from([None, 0.05, 5.0]),
    base=st.sampled_from([None, 0.5, 9.0]),
    stand=st.sampled_from([0.0, 3.0]),
)
DEMANDS: st.SearchStrategy[dict[str, float]] = st.sampled_from(
    [{}, {"person_village": 6.0}, {"garden": 300.0, "sheep": 20.0}, {"pupil": 0.0}]
)
COIL = OwnPipe("my coils", "25 mm", bore=0.0204, outside=0.025, rating=20.0)
PIPES: st.SearchStrategy[dict[str, Any]] = st.sampled_from(
    [
        {},
        {"bore": 0.004},
        {"bore": 0.3},
        {"rating": 5.0},
        {"fittings": (("elbow", 12), ("swing check", 1))},
        {"size": "32 mm", "standard": "ISO 4427"},
        {"size": "1 in", "standard": "D2239", "pressure_class": "SIDR 15"},
        {"size": "25 mm", "standard": "my coils"},
    ]
)


@given(
    kind=st.sampled_from(KINDS),
    source=SOURCES | TIMED,
    ram=RAMS,
    tank=TANKS,
    need=st.sampled_from([None, 0.0, 2.0, 500.0]),
    demand=DEMANDS,
    temperature=st.sampled_from([0.0, 10.0, 60.0]),
    pipe=PIPES,
    lost=st.sets(st.sampled_from(ROLES), max_size=3),
)
@settings(max_examples=60, deadline=None)
@pytest.mark.slow
def test_nothing_missing_stops_it(
    valley: dict[str, Found],
    kind: SchemeKind,
    pipe: dict[str, Any],
    lost: set[str],
    **told: Any,
) -> None:
    scheme, terrain, lines = valley[kind]
    kept = tuple(line for line in lines if line.role not in lost)  # the others were blocked
    made = site(
        kind,
        lines={role: settings_of(role, **pipe) for role in ROLES},
        own_pipes=(COIL,),
        **told,
    )
    water, done = worked((scheme, terrain, kept), made)
    assert len(done) == len(kept)
    assert water.ram is None or kind == "ram"
    if made.source.flow is None:
        assert water.intake is None
        assert water.taken is None
    if kind == "ram" and ({"drive", "delivery"} & lost or made.source.flow is None):
        assert water.ram is None
    for line in done:
        if line.water is not None and line.role not in ("waste", "overflow"):
            assert math.isfinite(line.water.flow)
            assert line.water.friction >= 0.0


# ---- more source, never less delivered -----------------------------------------------------------


def expected(band: Band | None) -> float:
    return 0.0 if band is None or math.isnan(float(band.expected)) else float(band.expected)


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
def test_more_source_flow_never_gives_less_delivered(kind: SchemeKind) -> None:
    terrain = example_terrain()
    flows = (2e-6, 1e-5, 6e-5, 2e-4, 5e-4, 9e-4, 2e-3, 8e-3, 5e-2)
    bands = []
    for flow in flows:
        plan = make_plan(site(kind, source=Source(flow=flow, season="dry")), terrain)
        assert plan.scheme == kind
        assert plan.water.taken is not None
        assert expected(plan.water.delivered) <= 86400.0 * plan.water.taken * (1 + 1e-9)
        bands.append(plan.water.delivered)
    got = [expected(band) for band in bands]
    assert all(after >= before * (1 - 1e-9) for before, after in pairwise(got))
    assert got[-1] > got[0]
    lows = [0.0 if band is None else float(band.low) for band in bands]
    assert all(b >= a * (1 - 1e-9) for a, b in pairwise(lows))


@given(flows=st.tuples(st.floats(1e-6, 0.5), st.floats(1e-6, 0.5)), kind=st.sampled_from(KINDS))
@settings(max_examples=40, deadline=None)
@pytest.mark.slow
def test_more_source_flow_never_gives_less_on_the_same_lines(
    valley: dict[str, Found], flows: tuple[float, float], kind: SchemeKind
) -> None:
    less, more = (
        expected(worked(valley[kind], site(kind, source=Source(flow=q, season="dry")))[0].delivered)
        for q in sorted(flows)
    )
    assert more >= less * (1 - 1e-9)
