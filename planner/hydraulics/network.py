"""Lines that branch from one source or tank to several outlets: flow and residual head at each."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import numpy.typing as npt
from scipy.optimize import brentq, least_squares

from planner.errors import OutsideRange
from planner.hydraulics.domain import (
    MOST_BORE,
    MOST_FLOW,
    MOST_HEAD,
    MOST_LENGTH,
    FloatArray,
    between,
    positive,
)
from planner.hydraulics.friction import NEW_PLASTIC, ROUGHEST, area, darcy_loss
from planner.hydraulics.outlet import Outlet, outlet_flow, spent
from planner.hydraulics.water import GRAVITY, viscosity

MOST_LINES = 500
CLOSE = 1e-6  # m of head, or of the head there is where that is more: what a solution may miss
STEP = 1e-5  # of a flow, for the slope of its losses
SOLVER_STOP = 1e-14  # of the unknowns, of their norm, of its slope

FeedKind = Literal["source", "tank"]
State = Literal["runs", "closed", "dry"]


@dataclass(frozen=True, slots=True)
class Feed:
    """The source or tank that all the water comes from, its level held.

    Raises
    ------
    OutsideRange
        The level [m] is NaN or absurd.
    """

    name: str
    level: float
    kind: FeedKind = "tank"

    def __post_init__(self) -> None:
        between(f"{self.kind} level", self.level, -MOST_HEAD, MOST_HEAD)


@dataclass(frozen=True, slots=True)
class Tee:
    """Where lines part; its level [m] serves to tell the pressure there.

    Raises
    ------
    OutsideRange
        The level is NaN or absurd.
    """

    name: str
    level: float

    def __post_init__(self) -> None:
        between("tee level", self.level, -MOST_HEAD, MOST_HEAD)


@dataclass(frozen=True, slots=True)
class Line:
    """A pipe between two points of a network, `start` on the side of the feed.

    Attributes
    ----------
    bore, length : float
        [m], above 0.
    roughness : float
        [m], 0 to half the bore.
    minor : float
        Speed heads lost in its inlet, fittings and branch, 0 or more.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.
    """

    name: str
    start: str
    end: str
    bore: float
    length: float
    roughness: float = NEW_PLASTIC
    minor: float = 0.0

    def __post_init__(self) -> None:
        positive("line bore", self.bore, MOST_BORE)
        positive("line length", self.length, MOST_LENGTH)
        between("line roughness", self.roughness, 0.0, ROUGHEST * self.bore)
        between("line minor", self.minor, 0.0, 1e6)


@dataclass(frozen=True, slots=True)
class Network:
    """Lines that branch from one feed over tees to outlets, without a ring.

    A tank that is filled is an outlet at the level of its inlet.

    Raises
    ------
    OutsideRange
        A name stands twice, a line hangs on an unknown name, a point is reached by none or by two
        lines, or an outlet has a line behind it.
    """

    feed: Feed
    lines: tuple[Line, ...]
    outlets: tuple[Outlet, ...]
    tees: tuple[Tee, ...] = ()

    def __post_init__(self) -> None:
        if not 1 <= len(self.lines) <= MOST_LINES:
            msg = f"a network must have 1 to {MOST_LINES} lines, got {len(self.lines)}"
            raise OutsideRange(msg)
        points = [self.feed.name, *(tee.name for tee in self.tees)]
        points += [outlet.name for outlet in self.outlets]
        for kind, names in (("point", points), ("line", [line.name for line in self.lines])):
            _once(kind, names)
        _branching(self, set(points))

    def path(self, name: str) -> list[int]:
        """Indices of the lines from a point up to the feed."""
        into = {line.end: k for k, line in enumerate(self.lines)}
        found = []
        while name != self.feed.name:
            found.append(into[name])
            name = self.lines[into[name]].start
        return found


@dataclass(frozen=True, slots=True)
class Tapped:
    """What one outlet gives.

    Attributes
    ----------
    name : str
    flow : float
        [m³/s].
    residual_head : float
        Level to which water would stand at the end of its line, above the outlet [m]: what is
        left for valve, hose and jet. Below 0 at a dry one.
    state : {"runs", "closed", "dry"}
        "dry": open, but the water does not reach it; it gives nothing and may let air in.
    """

    name: str
    flow: float
    residual_head: float
    state: State


@dataclass(frozen=True, slots=True)
class Flows:
    """A network at work.

    Attributes
    ----------
    feed_level : float
        Level from which the lines are driven [m]: the feed's own, or less where less comes than
        they can carry and the first line runs part full.
    drawn : float
        All that leaves the feed [m³/s].
    lines : mapping
        Flow in each line [m³/s], by name.
    tees : mapping
        Head of water above each tee [m], by name; below 0 there is suction, or air.
    outlets : tuple of Tapped
        In the order of the network's.
    """

    feed_level: float
    drawn: float
    lines: Mapping[str, float]
    tees: Mapping[str, float]
    outlets: tuple[Tapped, ...]


def network_flows(network: Network, temperature: float = 20.0) -> Flows:
    """Flow and residual head with the outlets as they stand: what the pipes can carry.

    Every outlet's head: feed level = outlet level + losses of all lines on its path + its own.
    Open outlets that the water does not reach are found and left dry: no outlet gives water back.

    Parameters
    ----------
    network : Network
    temperature : float
        Of the water [°C], 0..60.

    Raises
    ------
    OutsideRange
        The temperature is outside, or the network has no solution to within 1e-6 of its head.

    Examples
    --------
    >>> network = Network(
    ...     Feed("tank", 50.0),
    ...     (Line("main", "tank", "tee", 0.04, 100.0), Line("a", "tee", "tap", 0.02, 30.0),
    ...      Line("b", "tee", "trough", 0.02, 60.0)),
    ...     (Outlet("tap", 40.0, 0.0127, 8.0), Outlet("trough", 52.0, 0.02)),
    ...     (Tee("tee", 41.0),),
    ... )
    >>> [(one.name, one.state) for one in network_flows(network).outlets]
    [('tap', 'runs'), ('trough', 'dry')]
    """
    nu = np.asarray(viscosity(temperature))
    caps = {
        k: _alone(network, outlet, temperature)
        for k, outlet in enumerate(network.outlets)
        if outlet.is_open and outlet.level < network.feed.level
    }
    running = [k for k in caps if caps[k] > 0.0]
    draws = np.zeros(len(network.outlets))
    while running:
        found = _balanced(network, running, np.array([caps[k] for k in running]), nu)
        if np.all(found > 0.0):
            draws[running] = found
            break
        # An outlet that would have to give water back holds up the heads of the others: without
        # it they only get less, so none of those left out now would run later.
        running = [k for k, flow in zip(running, found, strict=True) if flow > 0.0]
    return _told(network, draws, nu)


def network_given(network: Network, comes: float, temperature: float = 20.0) -> Flows:
    """Flow and residual head where the source gives so much and no more.

    Where the pipes can carry more, the water sinks in the line from the feed until no more is
    drawn than comes; `part_full_stretches` names the stretch, with this line's flow and the level
    at its end. Where they can't, this is `network_flows`, and the rest overflows.

    Parameters
    ----------
    network : Network
    comes : float
        What the source gives [m³/s], 0 or more.
    temperature : float
        Of the water [°C], 0..60.

    Raises
    ------
    OutsideRange
        As for `network_flows`, or the flow is NaN or negative.

    Examples
    --------
    >>> network = Network(
    ...     Feed("spring", 50.0, "source"), (Line("supply", "spring", "box", 0.04, 100.0),),
    ...     (Outlet("box", 40.0, 0.04),),
    ... )
    >>> got = network_given(network, 1e-3)
    >>> round(got.drawn * 1e3, 6), round(got.feed_level, 1)
    (1.0, 41.9)
    """
    given = float(between("comes", comes, 0.0, MOST_FLOW))
    full = network_flows(network, temperature)
    if full.drawn <= given:
        return full
    lowest = min(outlet.level for outlet in network.outlets if outlet.is_open)

    def at(level: float) -> Flows:
        return network_flows(replace(network, feed=replace(network.feed, level=level)), temperature)

    level = brentq(
        lambda h: at(float(h)).drawn - given, lowest, network.feed.level, xtol=1e-9, rtol=1e-12
    )
    return at(float(level))


def network_heads(network: Network, draws: Mapping[str, float], temperature: float = 20.0) -> Flows:
    """Residual head where each outlet's valve is set to a flow wanted.

    Parameters
    ----------
    network : Network
    draws : mapping
        Flow at outlets [m³/s], by name, 0 or more; those left out, or closed, draw nothing.
    temperature : float
        Of the water [°C], 0..60.

    Returns
    -------
    Flows
        An outlet whose residual head is below what its valve and hose need when open
        (`outlet_head`) can't give that flow.

    Raises
    ------
    OutsideRange
        A flow is NaN or negative, or a name is no outlet's.
    """
    known = {outlet.name for outlet in network.outlets}
    for name, flow in draws.items():
        if name not in known:
            msg = f"draws name {name!r:.60}, which is no outlet of the network"
            raise OutsideRange(msg)
        between(f"flow of {name:.60}", flow, 0.0, MOST_FLOW)
    wanted = [draws.get(one.name, 0.0) if one.is_open else 0.0 for one in network.outlets]
    return _told(network, np.array(wanted), np.asarray(viscosity(temperature)))


def _alone(network: Network, outlet: Outlet, temperature: float) -> float:
    """What an outlet gives with all others shut: no less than it ever does. By its worst line."""
    head = network.feed.level - outlet.level
    lines = [network.lines[k] for k in network.path(outlet.name)]
    return min(
        outlet_flow(
            head,
            line.bore,
            line.length,
            outlet,
            roughness=line.roughness,
            minor=line.minor,
            temperature=temperature,
        )
        for line in lines
    )


def _balanced(
    network: Network, running: list[int], caps: FloatArray, nu: npt.NDArray[np.float64]
) -> FloatArray:
    """Flows at which each running outlet's head is spent, negative where one would give back.

    The losses rise with the flow, in either direction: there is one solution, and no other place
    where the misfit is least.
    """
    paths = _paths(network, running)
    outlets = [network.outlets[k] for k in running]
    head = np.array([network.feed.level - outlet.level for outlet in outlets])

    def spent_by(flows: FloatArray) -> tuple[FloatArray, FloatArray]:
        own = [np.sign(q) * spent(abs(q), one, nu) for q, one in zip(flows, outlets, strict=True)]
        return _losses(network, paths @ flows, nu), np.array(own)

    def misfit(share: FloatArray) -> FloatArray:
        lost, own = spent_by(share * caps)
        return np.asarray((lost @ paths + own - head) / head.max())

    def slopes(share: FloatArray) -> FloatArray:
        flows = share * caps
        step = STEP * np.maximum(np.abs(flows), STEP * caps)
        (lost, own), (less, own_less) = spent_by(flows + step), spent_by(flows - step)
        along = 2.0 * (paths @ step)  # 0 in a line that leads to none of these outlets
        of_lines = np.divide(lost - less, along, out=np.zeros_like(along), where=along > 0.0)
        of_outlets = (own - own_less) / (2.0 * step)
        rise = paths.T @ (of_lines[:, None] * paths) + np.diag(of_outlets)
        return np.asarray(rise * caps / head.max())

    start = np.full(len(running), 1.0 / len(running))
    stop = {"xtol": SOLVER_STOP, "ftol": SOLVER_STOP, "gtol": SOLVER_STOP}
    got = least_squares(misfit, start, jac=slopes, method="trf", max_nfev=1000, **stop)
    worst = float(np.max(np.abs(got.fun)))
    if worst > CLOSE:
        msg = f"the network must have one steady state, but none was found within {worst:g}"
        raise OutsideRange(msg)
    return np.asarray(got.x * caps)


def _told(network: Network, draws: FloatArray, nu: npt.NDArray[np.float64]) -> Flows:
    every = _paths(network, range(len(network.outlets)))
    flows = every @ draws
    losses = _losses(network, flows, nu)

    def level(name: str) -> float:
        return network.feed.level - float(sum(losses[k] for k in network.path(name)))

    outlets = tuple(
        _tapped(outlet, float(draw), level(outlet.name) - outlet.level)
        for outlet, draw in zip(network.outlets, draws, strict=True)
    )
    return Flows(
        feed_level=network.feed.level,
        drawn=float(draws.sum()),
        lines={line.name: float(q) for line, q in zip(network.lines, flows, strict=True)},
        tees={tee.name: level(tee.name) - tee.level for tee in network.tees},
        outlets=outlets,
    )


def _tapped(outlet: Outlet, flow: float, residual: float) -> Tapped:
    if flow > 0.0:
        return Tapped(outlet.name, flow, residual, "runs")
    reached = residual > CLOSE
    return Tapped(outlet.name, 0.0, residual, "dry" if outlet.is_open and not reached else "closed")


def _paths(network: Network, outlets: Iterable[int]) -> FloatArray:
    """1 where a line (row) lies on the path of an outlet (column)."""
    chosen = list(outlets)
    paths = np.zeros((len(network.lines), len(chosen)))
    for column, k in enumerate(chosen):
        paths[network.path(network.outlets[k].name), column] = 1.0
    return paths


def _losses(network: Network, flows: FloatArray, nu: npt.NDArray[np.float64]) -> FloatArray:
    """Head lost in each line [m], of the flow's sign."""
    bore, length, rough, minor = (
        np.array([getattr(line, name) for line in network.lines])
        for name in ("bore", "length", "roughness", "minor")
    )
    size = np.abs(flows)
    speed_heads = minor * (size / area(bore)) ** 2 / (2.0 * GRAVITY)
    return np.asarray(np.sign(flows) * (darcy_loss(size, bore, length, rough, nu) + speed_heads))


def _once(kind: str, names: list[str]) -> None:
    for name, times in Counter(names).items():
        if times > 1:
            msg = f"each {kind} of a network must have its own name, {name!r:.60} stands twice"
            raise OutsideRange(msg)


def _branching(network: Network, points: set[str]) -> None:
    into: dict[str, str] = {}
    taps = {outlet.name for outlet in network.outlets}
    for line in network.lines:
        for name in (line.start, line.end):
            if name not in points:
                msg = f"line {line.name!r:.60} hangs on {name!r:.60}, which the network has not"
                raise OutsideRange(msg)
        if line.end in into or line.end == network.feed.name or line.start in taps:
            msg = (
                f"line {line.name!r:.60} must lead from feed or tee to a point that no other line "
                f"leads to"
            )
            raise OutsideRange(msg)
        into[line.end] = line.start
    for name in points - {network.feed.name}:
        _reached(name, network.feed.name, into)


def _reached(name: str, feed: str, into: Mapping[str, str]) -> None:
    here, steps = name, 0
    while here != feed:
        if here not in into or steps > len(into):
            msg = f"no line leads from the feed to {name!r:.60}"
            raise OutsideRange(msg)
        here, steps = into[here], steps + 1
