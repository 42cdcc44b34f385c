"""`Layer`: rows of figures, each with its place, as a GeoPackage holds them."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

import geopandas as gpd
import pandas as pd
from pyproj import CRS

from planner.output.stakes.clean import one_line

Shape = Literal["Point", "LineString", "MultiPolygon"]
Kind = Literal["str", "float64", "int64", "bool"]
LONGEST = 2000  # characters of a cell


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer.

    Attributes
    ----------
    name, told : str
        Its name, and what it holds in a sentence.
    shape : Shape or None
        Kind of geometry; None for a table without places.
    columns : dict
        Name to type, in order.
    rows : tuple of (cells, geometry or None)
        Cells in the order of the columns; None is not known ("str" and "float64" only).
    """

    name: str
    told: str
    shape: Shape | None
    columns: Mapping[str, Kind]
    rows: tuple[tuple[tuple[Any, ...], Any], ...] = ()

    def frame(self, crs: CRS) -> gpd.GeoDataFrame | pd.DataFrame:
        """The layer with its columns typed even where it has no rows; text on one line."""
        data = pd.DataFrame(
            {
                name: pd.Series([_cell(cells[place]) for cells, _ in self.rows], dtype=kind)
                for place, (name, kind) in enumerate(self.columns.items())
            }
        )
        if self.shape is None:
            return data
        shapes = gpd.GeoSeries([shape for _, shape in self.rows], crs=crs)
        return gpd.GeoDataFrame(data, geometry=shapes, crs=crs)


def _cell(value: Any) -> Any:
    return one_line(value, LONGEST) if isinstance(value, str) else value
