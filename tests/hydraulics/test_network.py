"""Branched lines: hand cases, mass and energy balances, and nested root finding as their twin."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from planner.errors import OutsideRange
from planner.hydraulics import friction_loss, pipe_flow, velocity
from planner.hydraulics.network import (
    Feed,
    Flows,
    Line,
    Network,
    Tee,
    network_flows,
    network_given,
    network_heads,
)
from planner.hydraulics.outlet import Outlet, outlet_flow, outlet_head
from planner.hydraulics.part_full import part_full_stretches
from planner.hydraulics.water import GRAVITY

TAP = Outlet("tap", 40.0, 0.0127, loss=8.0)
TROUGH = Outlet("trough", 38.0, 0.019, loss=3.0)


def forked(tap: Outlet = TAP, trough: Outlet = TROUGH, level: float = 50.0) -> Network:
    return Network(
        feed=Feed("tank", level),
        lines=(
            Line("main", "tank", "tee", 0.026, 120.0, minor=1.5),
            Line("to tap", "tee", "tap", 0.0204, 40.0),
            Line("to trough", "tee", "trough", 0.0204, 90.0, minor=2.0),
        ),
        outlets=(tap, trough),
        tees=(Tee("tee", 42.0),),
    )


def spent_in(line: Line, flow: float) -> float:
    speed = float(velocity(flow, line.bore))
    friction = float(friction_loss(flow, line.bore, line.length, line.roughness))
    return friction + line.minor * speed**2 / (2.0 * GRAVITY)


def balances(network: Network, got: Flows) -> None:
    """Mass closes at each point; head closes along each path; no outlet gives back or makes."""
    drawn = {one.name: one.flow for one in got.outlets}
    for line in network.lines:
        leaves = sum(got.lines[other.name] for other in network.lines if other.start == line.end)
        assert got.lines[line.name] == pytest.approx(leaves + drawn.get(line.end, 0.0), abs=1e-15)
    assert got.drawn == pytest.approx(sum(drawn.values()))
    for outlet, one in zip(network.outlets, got.outlets, strict=True):
        path = [network.lines[k] for k in network.path(outlet.name)]
        lost = sum(spent_in(line, got.lines[line.name]) for line in path)
        left = network.feed.level - lost - outlet.level
        assert one.residual_head == pytest.approx(left, abs=1e-6)
        assert one.flow >= 0.0
        if one.state == "runs":
            assert outlet_head(one.flow, outlet) == pytest.approx(left, abs=1e-5)
        elif one.state == "dry":
            assert left <= 1e-5
        else:
            assert one.flow == 0.0


def test_both_open_balance() -> None:
    got = network_flows(forked())
    balances(forked(), got)
    assert {one.state for one in got.outlets} == {"runs"}


def test_equals_its_nested_twin() -> None:
    # The head at the tee by bisection, each branch by its own.
    network = forked()

    def through(head_at_tee: float) -> list[float]:
        return [
            outlet_flow(head_at_tee - one.level, line.bore, line.length, one, minor=line.minor)
            for one, line in zip(network.outlets, network.lines[1:], strict=True)
        ]

    def excess(level: float) -> float:
        return 50.0 - spent_in(network.lines[0], sum(through(level))) - level

    expected = through(float(brentq(excess, 38.0, 50.0, xtol=1e-12)))
    got = [one.flow for one in network_flows(network).outlets]
    assert got == pytest.approx(expected, rel=1e-7)


def test_twins_at_a_level_share_alike() -> None:
    # Two equal branches: each takes half of what one branch of two pipes side by side would.
    twin = replace(TAP, name="trough")
    lines = (
        Line("main", "tank", "tee", 0.026, 120.0),
        Line("a", "tee", "tap", 0.02, 40.0),
        Line("b", "tee", "trough", 0.02, 40.0),
    )
    got = network_flows(Network(Feed("tank", 50.0), lines, (TAP, twin), (Tee("tee", 42.0),)))
    assert got.outlets[0].flow == pytest.approx(got.outlets[1].flow, rel=1e-8)
    assert got.lines["main"] == pytest.approx(2 * got.outlets[0].flow)


def test_one_line_alone_is_the_pipes_own_flow() -> None:
    box = Outlet("box", 45.0, 0.0204, loss=1.0)
    network = Network(Feed("spring", 50.0, "source"), (Line("s", "spring", "box", 0.0204, 100.0),),
                      (box,))  # fmt: skip
    flow = network_flows(network).drawn
    assert flow == pytest.approx(pipe_flow(5.0, 0.0204, 100.0, minor=1.0), rel=1e-8)
    assert flow == pytest.approx(outlet_flow(5.0, 0.0204, 100.0, box), rel=1e-8)


def test_a_closed_outlet_shows_the_tanks_level() -> None:
    shut = forked(replace(TAP, is_open=False), replace(TROUGH, is_open=False))
    got = network_flows(shut)
    assert got.drawn == 0.0
    assert [one.residual_head for one in got.outlets] == pytest.approx([10.0, 12.0])
    assert got.tees["tee"] == pytest.approx(8.0)
    assert {one.state for one in got.outlets} == {"closed"}


def test_an_outlet_above_the_tank_is_dry_and_gives_nothing_back() -> None:
    network = forked(replace(TAP, level=51.0))
    got = network_flows(network)
    balances(network, got)
    tap, trough = got.outlets
    assert (tap.state, tap.flow) == ("dry", 0.0)
    assert tap.residual_head < 0.0
    alone = network_flows(forked(replace(TAP, is_open=False)))
    assert trough.flow == pytest.approx(alone.outlets[1].flow)


def test_an_open_outlet_below_the_tank_runs_dry_when_a_lower_one_draws_the_head_down() -> None:
    network = forked(replace(TAP, level=48.5), replace(TROUGH, level=0.0, bore=0.02, loss=1.0))
    got = network_flows(network)
    balances(network, got)
    assert got.outlets[0].state == "dry"
    shut = forked(replace(TAP, level=48.5), replace(TROUGH, level=0.0, is_open=False))
    assert network_flows(shut).outlets[0].state == "runs"


@st.composite
def networks(draw: st.DrawFn) -> Network:
    """Random trees of 1 to 8 points beyond the feed, every leaf an outlet, some shut, some high."""
    count = draw(st.integers(1, 8))
    behind = [draw(st.integers(-1, k - 1)) for k in range(count)]
    bores = st.floats(0.01, 0.06)
    levels = st.floats(-20.0, 12.0)
    lines, outlets, tees = [], [], []
    for k, before in enumerate(behind):
        start = "feed" if before < 0 else f"p{before}"
        lines.append(Line(f"l{k}", start, f"p{k}", draw(bores), draw(st.floats(1.0, 800.0)),
                          minor=draw(st.floats(0.0, 10.0))))  # fmt: skip
        if k in behind:
            tees.append(Tee(f"p{k}", draw(levels)))
        else:
            outlets.append(Outlet(f"p{k}", draw(levels), draw(bores), draw(st.floats(1.0, 20.0)),
                                  is_open=draw(st.booleans())))  # fmt: skip
    return Network(Feed("feed", 10.0), tuple(lines), tuple(outlets), tuple(tees))


@settings(max_examples=60, deadline=None)
@given(networks())
def test_any_tree_balances(network: Network) -> None:
    balances(network, network_flows(network))


@settings(max_examples=30, deadline=None)
@given(networks())
def test_opening_one_more_never_helps_another(network: Network) -> None:
    before = network_flows(network)
    shut = [k for k, outlet in enumerate(network.outlets) if not outlet.is_open]
    if not shut:
        return
    outlets = list(network.outlets)
    outlets[shut[0]] = replace(outlets[shut[0]], is_open=True)
    after = network_flows(replace(network, outlets=tuple(outlets)))
    for k, one in enumerate(before.outlets):
        if k != shut[0]:
            assert after.outlets[k].flow <= one.flow + 1e-9
    assert after.drawn >= before.drawn - 1e-9


def test_where_less_comes_the_first_line_runs_part_full() -> None:
    network = forked()
    full = network_flows(network)
    got = network_given(network, 0.8 * full.drawn)
    assert got.drawn == pytest.approx(0.8 * full.drawn, rel=1e-6)
    assert got.feed_level < 50.0
    balances(replace(network, feed=replace(network.feed, level=got.feed_level)), got)
    assert network_given(network, 1.2 * full.drawn) == full
    # The main falls evenly from the tank to the tee: it stands full up from the tee, and the
    # stretch above is named.
    at_tee = got.tees["tee"] + 42.0
    (stretch,) = part_full_stretches(
        [0.0, 120.0], [50.0, 42.0], got.lines["main"], 0.026, end_level=at_tee
    )
    assert stretch.start == 0.0
    friction = float(friction_loss(got.lines["main"], 0.026, 1.0))
    assert 50.0 - stretch.end * 8.0 / 120.0 == pytest.approx(
        at_tee + friction * (120.0 - stretch.end), rel=1e-9
    )


def test_nothing_comes_nothing_runs() -> None:
    assert network_given(forked(), 0.0).drawn == pytest.approx(0.0, abs=1e-12)


def test_heads_at_wanted_flows() -> None:
    network = forked()
    got = network_heads(network, {"tap": 1e-4})
    lost = spent_in(network.lines[0], 1e-4) + spent_in(network.lines[1], 1e-4)
    assert got.outlets[0].residual_head == pytest.approx(10.0 - lost)
    assert got.outlets[1].state == "closed"
    running = network_flows(network)
    again = network_heads(network, {one.name: one.flow for one in running.outlets})
    assert again == running


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"lines": ()}, "must have 1 to 500 lines"),
        ({"outlets": (TAP, TAP)}, "its own name, 'tap' stands twice"),
        ({"tees": ()}, "hangs on 'tee', which the network has not"),
        ({"tees": (Tee("tee", 42.0), Tee("lone", 1.0))}, "no line leads from the feed to 'lone'"),
        ({"lines": (*forked().lines, Line("x", "tap", "tee", 0.02, 9.0))}, "'x' must lead from"),
        ({"lines": (*forked().lines, Line("x", "tee", "tank", 0.02, 9.0))}, "'x' must lead from"),
        ({"lines": (*forked().lines, Line("x", "tank", "tap", 0.02, 9.0))}, "'x' must lead from"),
    ],
)
def test_refuses_what_is_no_tree(change: dict[str, object], words: str) -> None:
    with pytest.raises(OutsideRange, match=words):
        replace(forked(), **change)  # type: ignore[arg-type]


def test_refuses_a_ring_apart() -> None:
    ring = (Line("a", "t1", "t2", 0.02, 9.0), Line("b", "t2", "t1", 0.02, 9.0))
    with pytest.raises(OutsideRange, match=r"no line leads from the feed to 't[12]'"):
        Network(Feed("tank", 1.0), ring, (), (Tee("t1", 0.0), Tee("t2", 0.0)))


def test_refuses_by_name() -> None:
    with pytest.raises(OutsideRange, match="tank level must be"):
        Feed("tank", np.nan)
    with pytest.raises(OutsideRange, match="line bore must be above 0"):
        Line("a", "b", "c", -0.02, 10.0)
    with pytest.raises(OutsideRange, match="comes must be 0 or more"):
        network_given(forked(), -1.0)
    with pytest.raises(OutsideRange, match="'well', which is no outlet"):
        network_heads(forked(), {"well": 1e-4})
    with pytest.raises(OutsideRange, match="flow of tap must be 0 or more"):
        network_heads(forked(), {"tap": -1e-4})
