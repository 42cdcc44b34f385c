"""Readings and elevation data adjusted together: what is known of the ground at stations."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
from scipy.stats import chi2

from planner.levels.adjust import Adjusted, Prior, Verdict, adjust, alone, misfit
from planner.levels.ground import before, ground_of, solved
from planner.levels.network import DATUM, Network, is_datum, network
from planner.levels.stations import Sited, site_stations
from planner.levels.suspect import contradictions, strays
from planner.levels.value import FloatArray, Levelled, Method, Readings, Survey
from planner.levels.wrong_unit import check_units
from planner.terrain.error_model import error_model
from planner.terrain.value import Terrain
from planner.units.show import System, show

CHANCE = 0.01  # that readings scatter so far by chance, below which their errors were too small
LEAST_STATIONS = 3  # for a spread
SURE = 0.5  # of the elevation data's own error: a station that tells of them
HELD = 1e-9  # share of its variance by which a level is held by others


def survey(
    readings: Readings,
    terrain: Terrain,
    places: Mapping[str, tuple[float, float]],
    *,
    reach: float | None = None,
    units: System = "metric",
) -> Survey:
    """What was measured on the ground, adjusted together with the elevation data.

    One least-squares network: the readings tell differences between stations, the elevation data
    tell the stations' levels with errors that hang together (`planner.terrain.error_model`), and
    each counts by its error. So a level beats lidar, and lidar a barometer; a common shift of
    all heights is left to the elevation data, and known points have a datum of their own.

    Parameters
    ----------
    readings : Readings
    terrain : Terrain
        Before any bending.
    places : mapping of str to (float, float)
        x, y [m] of points of the sketch and of stakes.
    reach : float, optional
        How far from a station the ground is to be bent [m], at least two cells; None: as far as
        errors of such data hang together.
    units : {"metric", "us"}
        Of messages and notes.

    Raises
    ------
    InputError
        Readings contradict one another or the elevation data beyond any error, are in the wrong
        unit, or their stations stand nowhere, outside the data or kilometres away.
    """
    far = error_model(terrain).reach if reach is None else reach
    net = network(readings)
    if not net.read:
        nothing = "no levels were read, so the ground is that of the elevation data"
        notes = (*readings.notes, nothing)
        empty = np.zeros((0, 0))
        return Survey((), empty, 0.0, far, np.nan, np.nan, readings.closures, notes)
    sited = site_stations(net, readings, terrain, places, units)
    data = before(terrain, ground_of(terrain, sited.xy, far))
    check_units(net, readings, sited, data)
    free = adjust(net, alone(net))
    notes = (*readings.notes, *sited.notes, *contradictions(net, free, units))
    net, more = _as_sure_as_they_close(net, free)
    joint = adjust(net, _told_by_data(net, free, sited, data))
    off = _left_out(joint, sited, data)
    if not terrain.provenance.surface_model:
        more += strays(net, joint, sited, off, np.sqrt(np.diag(data)), units)
    shift, others = _shifts(net, joint, units)
    return replace(
        _told(net, joint, sited, off, data),
        shift=shift,
        reach=far,
        closures=readings.closures,
        notes=(*notes, *more, *_lone(net, sited), *others),
    )


def _as_sure_as_they_close(net: Network, free: Adjusted) -> tuple[Network, tuple[str, ...]]:
    """The network with larger errors, where readings scatter farther than theirs allow."""
    square, spare = misfit(net, free)
    if spare < 1 or square <= chi2.isf(CHANCE, spare):
        return net, ()
    times = float(np.sqrt(square / spare))
    note = (
        f"the readings scatter {times:.1f} times as far as such readings do; their errors were "
        "taken that much larger"
    )
    return replace(net, error=net.error * times), (note,)


def _told_by_data(net: Network, free: Adjusted, sited: Sited, data: FloatArray) -> Prior:
    """What the elevation data tell; of other stations nothing but a level to reckon from."""
    information = np.zeros((len(net.names), len(net.names)))
    information[np.ix_(sited.index, sited.index)] = solved(data, np.eye(len(data)))
    group = net.group()
    own = group[sited.index]
    level = np.array(free.level)
    for number in np.unique(group):
        up = np.mean((sited.model - free.level[sited.index])[own == number])
        level[group == number] += up
    level[sited.index] = sited.model
    return Prior(information, level)


def _left_out(joint: Adjusted, sited: Sited, data: FloatArray) -> Verdict:
    """Each station's level less that of the ground bent to all others.

    References
    ----------
    Dubrule, O., 1983: Cross validation of kriging in a unique neighborhood. Mathematical Geology
    15, 687-699.
    """
    at = sited.index
    pull = solved(data, (joint.level[at] - sited.model)[:, None])[:, 0]
    half = solved(data, joint.covariance[np.ix_(at, at)])
    held = np.diag(solved(data, np.eye(len(data)) - half.T))
    told = held * np.diag(data) > HELD
    held = np.where(told, held, 1.0)
    return Verdict(np.where(told, pull / held, np.nan), np.where(told, pull / np.sqrt(held), 0.0))


def _told(net: Network, joint: Adjusted, sited: Sited, off: Verdict, data: FloatArray) -> Survey:
    """The stations and how they stand to the elevation data."""
    at = sited.index
    covariance = _against_fellows(joint.covariance[np.ix_(at, at)])
    error = np.sqrt(np.maximum(np.diag(covariance), 0.0))
    level = joint.level[at]
    methods = _methods(net)
    stations = tuple(
        Levelled(
            net.names[number],
            (float(xy[0]), float(xy[1])),
            float(its),
            float(doubt),
            float(model),
            methods[number],
        )
        for number, xy, its, doubt, model in zip(
            at, sited.xy, level, error, sited.model, strict=True
        )
    )
    sure = (error < SURE * np.sqrt(np.diag(data))) & np.isfinite(off.size)
    return Survey(
        stations,
        covariance,
        0.0,
        0.0,
        _spread((level - sited.model)[sure]),
        _spread(off.size[sure]),
    )


def _methods(net: Network) -> dict[int, tuple[Method, ...]]:
    """How each station was measured."""
    found: dict[int, dict[Method, None]] = {}
    for start, end, one in zip(net.start, net.end, net.read, strict=True):
        for number in (start, end):
            found.setdefault(int(number), {})[one.method] = None
    return {number: tuple(methods) for number, methods in found.items()}


def _against_fellows(covariance: FloatArray) -> FloatArray:
    """The covariance without what all stations share: their best-known mean is taken as true.

    Differences between stations keep their errors. A station alone has no fellows.
    """
    if len(covariance) < 2:
        return covariance
    ones = np.ones(len(covariance))
    return covariance - 1.0 / float(ones @ solved(covariance, ones[:, None])[:, 0])


def _spread(off: FloatArray) -> float:
    return float(np.sqrt(np.mean(off**2))) if off.size >= LEAST_STATIONS else np.nan


def _shifts(net: Network, joint: Adjusted, units: System) -> tuple[float, tuple[str, ...]]:
    """How far known levels stand above the elevation data; of the largest file, others as notes."""
    group = net.group().tolist()
    datums = [number for number, name in enumerate(net.names) if is_datum(name)]
    datums.sort(key=lambda number: -group.count(group[number]))
    shifts = [-float(joint.level[number]) for number in datums]
    notes = tuple(
        f"{net.names[number].removeprefix(DATUM)}: its levels stand "
        f"{show(abs(shift), 'level', units)} {'above' if shift > 0 else 'below'} the elevation "
        "data; that was taken out as a shift"
        for number, shift in zip(datums[1:], shifts[1:], strict=True)
    )
    return (shifts[0] if shifts else 0.0), notes


def _lone(net: Network, sited: Sited) -> tuple[str, ...]:
    """A note on stations no other on the elevation data was levelled with."""
    group = net.group()[sited.index].tolist()
    alone_here = [
        net.names[number]
        for number, own in zip(sited.index, group, strict=True)
        if group.count(own) == 1
    ]
    return tuple(
        f"{name}: no other place was levelled with it, and one level alone tells nothing of the "
        "ground but its datum"
        for name in alone_here
    )
