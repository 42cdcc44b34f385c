"""Walks over a made line: where a person went, and what a handheld made of it."""

import json
from pathlib import Path

import numpy as np
from shapely.geometry import LineString

from planner.terrain.frame import to_lonlat
from planner.terrain.value import FloatArray, Terrain

WAY: FloatArray = np.array([[92.5, 1.5], [105.0, 15.0], [104.0, 38.0], [120.5, 60.5]])
"""From the ram to the tank of the made valley, with two bends [m]."""


def along(way: FloatArray, step: float) -> FloatArray:
    """Points on a way, a step apart, its ends among them."""
    line = LineString(way)
    run = np.append(np.arange(0.0, line.length, step), line.length)
    return np.array([line.interpolate(r).coords[0] for r in run])


def trail(way: FloatArray, seed: int = 0, stray: float = 1.2) -> FloatArray:
    """Fixes of a walk at one metre a second: they stray together, not each for itself.

    An autoregressive error with a memory of some twenty seconds, a stop of a minute half way, and
    three leaps of one or two fixes.
    """
    rng = np.random.default_rng(seed)
    truth = along(way, 1.0)
    middle = len(truth) // 2
    truth = np.insert(truth, [middle] * 60, truth[middle], axis=0)
    memory = np.exp(-1.0 / 20.0)
    error = np.zeros_like(truth)
    shocks = rng.normal(0.0, stray * np.sqrt(1.0 - memory**2), truth.shape)
    error[0] = rng.normal(0.0, stray, 2)
    for k in range(1, len(truth)):
        error[k] = memory * error[k - 1] + shocks[k]
    fixes = truth + error
    for k, count in ((10, 1), (40, 2), (len(fixes) - 20, 1)):
        fixes[k : k + count] += rng.choice([-1.0, 1.0], 2) * rng.uniform(20.0, 60.0, 2)
    return fixes


def write_geojson(path: Path, terrain: Terrain, xy: FloatArray, name: str = "walk") -> Path:
    """A walk as a file of one line, its heights nonsense."""
    coordinates = [[*lonlat, 4000.0] for lonlat in to_lonlat(terrain, xy).tolist()]
    feature = {
        "type": "Feature",
        "properties": {"name": name},
        "geometry": {"type": "LineString", "coordinates": coordinates},
    }
    path.write_text(json.dumps(feature), encoding="utf-8")
    return path
