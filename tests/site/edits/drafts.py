"""Drafts to be edited, one sketch written in every way there is."""

import json
from pathlib import Path
from typing import Any

from pyproj import Transformer

from planner.site.draft import Draft
from planner.site.edits.open import open_draft

POINTS: dict[str, tuple[str, float, float, dict[str, str]]] = {
    "spring": ("source", 11.2, 47.3, {}),
    "ram": ("pump", 11.201, 47.299, {}),
    "first peg": ("way", 11.2012, 47.2996, {"line": "delivery"}),
    "second peg": ("way", 11.2014, 47.3002, {"line": "delivery"}),
    "tank": ("tank", 11.202, 47.301, {"height": "2 m"}),
    "trough": ("outlet", 11.203, 47.3, {"flow": "5 L/min"}),
}
BOG = [[11.2015, 47.3], [11.2017, 47.3], [11.2017, 47.3003], [11.2015, 47.3]]
SLABS = [[11.2005, 47.3], [11.2007, 47.3], [11.2007, 47.3003], [11.2005, 47.3]]
ROAD = [[11.1995, 47.2995], [11.2035, 47.3005]]

HEAD = """\
title = "Larch Hollow"  # the whole valley

[elevation]
files = ["hollow-dem.tif"]  # flown in spring
"""
TAIL = """
[source]
flow = "30 L/min"  # bucket and watch
measured = 2026-08-20
"""


def feature(kind: str, coordinates: Any, **said: Any) -> dict[str, Any]:
    return {
        "type": "Feature",
        "properties": said,
        "geometry": {"type": kind, "coordinates": coordinates},
    }


def features() -> list[dict[str, Any]]:
    """Points, an unknown walk among them, two areas and a road."""
    points = [
        feature("Point", [lon, lat], name=name, role=role, **said)
        for name, (role, lon, lat, said) in POINTS.items()
    ]
    walk = feature("LineString", [[11.2, 47.3], [11.21, 47.31]], name="Track 7")
    return [
        *points[:3],
        walk,
        feature("Polygon", [BOG], name="bog", role="avoid"),
        feature("LineString", ROAD, name="mill lane", role="crossing", cost="12 m"),
        *points[3:],
        feature("Polygon", [SLABS], name="slabs", role="costly", factor=3),
    ]


def collection(members: list[dict[str, Any]]) -> str:
    """A GeoJSON file as many programs write it, indented."""
    return json.dumps(
        {"type": "FeatureCollection", "name": "hollow", "features": members}, indent=2
    )


def write(folder: Path, sketch: str, files: dict[str, str]) -> Draft:
    """The draft of a site file in a folder, with the files it names beside it."""
    for name, text in files.items():
        (folder / name).write_text(text, encoding="utf-8")
    (folder / "hollow.toml").write_text(HEAD + sketch + TAIL, encoding="utf-8")
    return open_draft(folder / "hollow.toml")


def geojson_draft(folder: Path) -> Draft:
    return write(folder, '\n[sketch]\nfile = "s.geojson"\n', {"s.geojson": collection(features())})


def written_draft(folder: Path) -> Draft:
    """The sketch in the site file itself."""
    points = "".join(
        f'[[sketch.points]]\nname = "{name}"\nrole = "{role}"\nat = [{lon}, {lat}]\n'
        + "".join(f'{key} = "{value}"\n' for key, value in said.items())
        for name, (role, lon, lat, said) in POINTS.items()
    )
    areas = (
        f'[[sketch.areas]]\nname = "bog"\nrole = "avoid"\nring = {BOG[:-1]}\n'
        f'[[sketch.areas]]\nname = "slabs"\nrole = "costly"\nfactor = 3.0\nring = {SLABS[:-1]}\n'
    )
    road = f'[[sketch.crossings]]\nname = "mill lane"\ncost = "12 m"\npath = {ROAD}\n'
    return write(folder, f"\n{points}{areas}{road}", {})


def both_draft(folder: Path) -> Draft:
    """Some of the sketch in a file, the rest in the site file."""
    members = features()
    trough = members.pop(-2)
    lon, lat = trough["geometry"]["coordinates"]
    here = (
        '\n[sketch]  # two hands drew it\nfile = "s.geojson"\n[[sketch.points]]\nname = "trough"\n'
        f'role = "outlet"\nflow = "5 L/min"\nat = [{lon}, {lat}]\n'
    )
    return write(folder, here, {"s.geojson": collection(members)})


def metres_draft(folder: Path) -> Draft:
    """The sketch in metres of a zone, the coordinate system told by the site file."""
    east = Transformer.from_crs("EPSG:4326", "EPSG:32632", always_xy=True)

    def moved(coordinates: Any) -> Any:
        if isinstance(coordinates[0], list):
            return [moved(one) for one in coordinates]
        return list(east.transform(*coordinates))

    members = features()
    for member in members:
        member["geometry"]["coordinates"] = moved(member["geometry"]["coordinates"])
    here = '\n[sketch]\nfile = "s.geojson"\ncrs = "EPSG:32632"\n'
    return write(folder, here, {"s.geojson": collection(members)})


def swapped_draft(folder: Path) -> Draft:
    """Latitude first throughout: none of it could be longitude, for the place is at 147° E."""
    members = [member for member in features() if member["properties"]["name"] != "Track 7"]

    def turned(coordinates: Any) -> Any:
        if isinstance(coordinates[0], list):
            return [turned(one) for one in coordinates]
        return [coordinates[0], coordinates[1] + 100.0]

    for member in members:
        member["geometry"]["coordinates"] = turned(member["geometry"]["coordinates"])
    return write(folder, '\n[sketch]\nfile = "s.geojson"\n', {"s.geojson": collection(members)})


def table_draft(folder: Path) -> Draft:
    """Points alone, in a CSV table."""
    rows = ["name,role,lon,lat,line,height,flow"]
    for name, (role, lon, lat, said) in POINTS.items():
        told = ",".join(said.get(key, "") for key in ("line", "height", "flow"))
        rows.append(f"{name},{role},{lon},{lat},{told}")
    return write(folder, '\n[sketch]\nfile = "s.csv"\n', {"s.csv": "\n".join(rows) + "\n"})


WAYS = (geojson_draft, written_draft, both_draft, metres_draft, swapped_draft, table_draft)
