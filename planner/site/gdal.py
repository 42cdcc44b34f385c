"""Features of GPX, KML and GeoPackage files through GDAL, which takes its time to load."""

import warnings
from pathlib import Path
from typing import Any

import pandas as pd
import pyogrio
import shapely
from pyproj import CRS
from shapely.errors import ShapelyError
from shapely.geometry.base import BaseGeometry

from planner.errors import SketchError
from planner.site.feature import Collection, Feature

MOST_FEATURES = 20_000
MOST_LAYERS = 100
GPX_LAYERS = ("waypoints", "routes", "tracks")  # points of routes and tracks come with their lines


def through_gdal(path: Path, kind: str) -> Collection:
    """All features of a file that is of the kind its name says.

    Parameters
    ----------
    path : Path
        Its beginning has been looked at.
    kind : str
        "GPX", "KML" or "GeoPackage".

    Raises
    ------
    SketchError
        The file is broken, or holds too much.
    """
    crs: CRS | None = None
    found: list[Feature] = []
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            for layer in _layers(path, kind):
                frame = pyogrio.read_dataframe(
                    path, layer=layer, max_features=MOST_FEATURES + 1, use_arrow=False
                )
                if len(frame) and getattr(frame, "crs", None) is not None:
                    crs = crs or CRS(frame.crs)
                    frame = frame.to_crs(crs)
                found += _rows(frame, path.name, len(found))
    except SketchError:
        raise
    except (RuntimeError, ValueError, OSError, ShapelyError) as error:
        reason = " ".join(str(error).split())[:120]
        msg = f"{path.name} can't be read as {kind} ({reason}); save it again"
        raise SketchError(msg) from error
    if len(found) > MOST_FEATURES:
        msg = (
            f"{path.name} holds more than {MOST_FEATURES} features; keep those of the sketch alone"
        )
        raise SketchError(msg)
    return Collection(tuple(found), crs)


def _layers(path: Path, kind: str) -> list[str]:
    layers = [str(name) for name, geometry in pyogrio.list_layers(path) if geometry is not None]
    if len(layers) > MOST_LAYERS:
        msg = (
            f"{path.name} has {len(layers)} layers; keep those of the sketch, at most {MOST_LAYERS}"
        )
        raise SketchError(msg)
    return [name for name in layers if kind != "GPX" or name in GPX_LAYERS]


def _rows(frame: pd.DataFrame, name: str, before: int) -> list[Feature]:
    if "geometry" not in frame:
        return []
    columns = [column for column in frame.columns if column != "geometry"]
    rows = []
    for number, (shape, values) in enumerate(
        zip(frame["geometry"], frame[columns].itertuples(index=False, name=None), strict=True),
        start=before + 1,
    ):
        if isinstance(shape, BaseGeometry) and not shapely.is_empty(shape):
            said: dict[str, Any] = dict(zip(map(str.lower, columns), values, strict=True))
            known = {key: value for key, value in said.items() if pd.notna(value)}
            rows.append(Feature(shape, known, f"{name}, feature {number}"))
    return rows
