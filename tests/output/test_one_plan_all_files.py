"""One plan, all files: each opened by a reader its writer does not use, and held to the others."""

import csv
import json
import os
import re
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import openpyxl
import pyogrio
import pytest
from ezdxf.filemanagement import readfile
from pypdf import PdfReader
from pyproj import Transformer
from shapely.geometry import Point

from planner.output.free import PLAN_FILES

pytestmark = pytest.mark.slow

CENTIMETRE = 0.01
HEAD = re.compile(r"^((?:Su|Dr|De|Di|Ma|Wa|Ov)\d* \d+)$")
NUMBER = re.compile(r"^[-\u2212]?\d+\.\d+$")


@dataclass(frozen=True, slots=True)
class Told:
    """What a file says of a stake [m]; None: it does not say so."""

    x: float | None
    y: float | None
    chainage: float | None
    ground: float | None
    pipe: float | None = None
    depth: float | None = None


@pytest.fixture(scope="module")
def folders(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The demo planned twice, by two processes whose sets have two orders."""
    home = tmp_path_factory.mktemp("demo")
    command = [sys.executable, "-c", "from planner.cli import main; main()", "demo", "--out"]
    running = [
        subprocess.Popen(  # noqa: S603
            [*command, str(home / seed), "--quiet"], env=os.environ | {"PYTHONHASHSEED": seed}
        )
        for seed in ("1", "2")
    ]
    assert [one.wait(300.0) for one in running] == [0, 0]
    return home / "1", home / "2"


@pytest.fixture(scope="module")
def folder(folders: tuple[Path, Path]) -> Path:
    return folders[0]


@pytest.fixture(scope="module")
def listed(folder: Path) -> dict[str, dict[str, str]]:
    """The stakes of stakes.csv by name: what every other file is held to."""
    with (folder / "stakes.csv").open(encoding="utf-8-sig", newline="") as text:
        rows = {row["name"]: row for row in csv.DictReader(text)}
    assert len(rows) > 60
    return rows


@pytest.fixture(scope="module")
def grid(folder: Path) -> Transformer:
    """From longitude, latitude to the terrain's grid, as plan.gpkg names it."""
    crs = pyogrio.read_info(folder / "plan.gpkg", layer="stakes")["crs"]
    return Transformer.from_crs("EPSG:4326", crs, always_xy=True)


def _xy(grid: Transformer, lon: float, lat: float) -> tuple[float, float]:
    x, y = grid.transform(lon, lat)
    return float(x), float(y)


def test_two_runs_give_the_same_bytes(folders):
    first, second = folders
    names = sorted(path.name for path in first.iterdir() if path.is_file())
    assert set(names) >= set(PLAN_FILES)
    assert names == sorted(path.name for path in second.iterdir() if path.is_file())
    other = [n for n in names if (first / n).read_bytes() != (second / n).read_bytes()]
    assert other == []


def test_stakes_csv_agrees_with_itself(listed, grid):
    for row in listed.values():
        x, y = _xy(grid, float(row["lon"]), float(row["lat"]))
        assert (float(row["x_m"]), float(row["y_m"])) == pytest.approx((x, y), abs=CENTIMETRE)
        levels = float(row["ground_m"]) - float(row["pipe_m"])
        assert float(row["depth_m"]) == pytest.approx(levels, abs=1e-6)


def _hold(told: dict[str, Told], listed: dict[str, dict[str, str]], within: float) -> None:
    assert set(told) == set(listed)
    for name, one in told.items():
        row = listed[name]
        for value, column, tolerance in (
            (one.x, "x_m", CENTIMETRE),
            (one.y, "y_m", CENTIMETRE),
            (one.chainage, "chainage_m", within),
            (one.ground, "ground_m", within),
            (one.pipe, "pipe_m", within),
            (one.depth, "depth_m", within),
        ):
            if value is not None:
                assert value == pytest.approx(float(row[column]), abs=tolerance), (name, column)


def test_plan_json(folder, listed, grid):
    plan = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    told = {
        one["name"]: Told(
            *_xy(grid, *one["at"]),
            *(one[f"{figure}_m"] for figure in ("chainage", "ground", "pipe", "depth")),
        )
        for one in plan["stakes"]
    }
    _hold(told, listed, 0.0011)


def test_the_profiles_of_plan_json(folder, listed):
    """A stake's levels are those of its line's profile at its chainage."""
    plan = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    lines = {line["name"]: line["profile"] for line in plan["lines"]}
    for row in listed.values():
        profile = lines[row["line"]]
        pairs = zip(profile["chainage_m"], profile["ground_m"], profile["pipe_m"], strict=True)
        _, ground, pipe = min(pairs, key=lambda p: abs(p[0] - float(row["chainage_m"])))
        assert abs(ground - float(row["ground_m"])) < 0.2
        assert abs(pipe - float(row["pipe_m"])) < 0.1


def test_stakes_geojson(folder, listed, grid):
    """Through GDAL, which its writer does not use."""
    frame = pyogrio.read_dataframe(folder / "stakes.geojson")
    frame = frame[frame["kind"] == "stake"]
    told = {
        one["name"]: Told(
            *_xy(grid, one.geometry.x, one.geometry.y),
            *(one[f"{figure}_m"] for figure in ("chainage", "ground", "pipe", "depth")),
        )
        for _, one in frame.iterrows()
    }
    _hold(told, listed, 1e-6)


def test_stakes_gpx(folder, listed, grid):
    root = ElementTree.parse(folder / "stakes.gpx").getroot()  # noqa: S314 - our own file
    points = root.findall("{*}wpt")
    words = [point.findtext("{*}desc", "") for point in points]
    told = {
        point.findtext("{*}name", ""): Told(
            *_xy(grid, float(point.get("lon", "")), float(point.get("lat", ""))),
            None,
            float(point.findtext("{*}ele", "")),
        )
        for point in points
    }
    _hold(told, listed, 0.0051)
    _hold(dict(zip(told, map(_from_words, words), strict=True)), listed, 0.051)
    assert [point.findtext("{*}name", "") for point in points] == list(listed)


def _from_words(text: str) -> Told:
    """A stake as its description tells it: chainage to 0.1 m, levels to 0.01 m."""
    pipe = re.search(r"pipe (\S+) m, (\S+) m (deep|above)", text)
    chainage, ground = re.search(r"Chainage (\S+) m", text), re.search(r"level (\S+) m", text)
    assert pipe
    assert chainage
    assert ground
    depth = float(pipe[2]) * (1.0 if pipe[3] == "deep" else -1.0)
    return Told(None, None, float(chainage[1]), float(ground[1]), float(pipe[1]), depth)


def test_stakes_kml(folder, listed, grid):
    root = ElementTree.parse(folder / "stakes.kml").getroot()  # noqa: S314 - our own file
    told = {}
    for mark in root.iter("{http://www.opengis.net/kml/2.2}Placemark"):
        at = mark.findtext("{*}Point/{*}coordinates")
        if at is None:
            continue
        said = {d.get("name"): d.findtext("{*}value", "") for d in mark.iter() if d.get("name")}
        lon, lat = (float(part) for part in at.split(",")[:2])
        told[mark.findtext("{*}name", "")] = Told(
            *_xy(grid, lon, lat),
            *(float(said[f"{figure}_m"]) for figure in ("chainage", "ground", "pipe", "depth")),
        )
    _hold(told, listed, 1e-6)


def test_plan_gpkg(folder, listed):
    frame = pyogrio.read_dataframe(folder / "plan.gpkg", layer="stakes")
    told = {
        one["name"]: Told(
            one.geometry.x,
            one.geometry.y,
            *(one[f"{figure}_m"] for figure in ("chainage", "ground", "pipe", "depth")),
        )
        for _, one in frame.iterrows()
    }
    _hold(told, listed, 1e-6)


def test_plan_dxf(folder, listed):
    doc = readfile(folder / "plan.dxf")
    audit = doc.audit()
    assert (list(audit.errors), list(audit.fixes)) == ([], [])
    told = {}
    inserts: Any = doc.modelspace().query('INSERT[layer=="stakes"]')
    for insert in inserts:
        said = {attribute.dxf.tag: attribute.dxf.text for attribute in insert.attribs}
        figures = (float(said[tag]) for tag in ("CHAINAGE", "GROUND", "PIPE", "DEPTH"))
        told[said["NAME"]] = Told(insert.dxf.insert.x, insert.dxf.insert.y, *figures)
        assert insert.dxf.insert.z == pytest.approx(float(said["GROUND"]), abs=0.001)
    _hold(told, listed, 0.0011)


def test_the_drawing_as_gdal_sees_it(folder, listed):
    """Pipes of the drawing pass through the stakes, in plan and in level."""
    frame = pyogrio.read_dataframe(folder / "plan.dxf", layer="entities")
    for name in {row["line"] for row in listed.values()}:
        role = name.partition("-")[0]
        pipes = frame[(frame["Layer"] == role) & (frame.geometry.geom_type == "LineString")]
        for row in (row for row in listed.values() if row["line"] == name):
            at = Point(float(row["x_m"]), float(row["y_m"]))
            pipe = min(pipes.geometry, key=at.distance)
            assert pipe.distance(at) < CENTIMETRE
            nearest = pipe.interpolate(pipe.project(at))
            assert nearest.z == pytest.approx(float(row["pipe_m"]), abs=0.05)


def test_map_html(folder, listed, grid):
    page = (folder / "map.html").read_text(encoding="utf-8")
    data = re.search(r'id="plan-data">(.*?)</script>', page, re.DOTALL)
    assert data
    told = {
        name: Told(*_xy(grid, lon, lat), chainage, None)
        for line in json.loads(data[1])["lines"]
        for name, lat, lon, chainage, _ in line["stakes"]
    }
    _hold(told, listed, 0.0051)
    _hold(_table_of(page), listed, 0.051)


def _table_of(page: str) -> dict[str, Told]:
    """The page's stake table: chainage to 0.1 m, levels to 0.01 m."""
    cells = r'class="chainage">(\S+?)<.*?"ground">(\S+?)<.*?"pipe">(\S+?)<.*?"depth">(\S+?)<'
    rows = re.findall(rf'<tbody data-stake="([^"]+)">.*?{cells}', page, re.DOTALL)
    return {
        name: Told(None, None, *(float(one.replace("\u2212", "-")) for one in figures))
        for name, *figures in rows
    }


def test_walk_pdf(folder, listed):
    """Rows as they are printed: name, chainage, what the pipe does, ground, pipe, depth."""
    text = "\n".join(page.extract_text() for page in PdfReader(folder / "walk.pdf").pages)
    lines = text.replace("\u2212", "-").splitlines()
    told: dict[str, Told] = {}
    for place, line in enumerate(lines):
        figures = [float(one) for one in lines[place + 1 : place + 6] if NUMBER.match(one)]
        if HEAD.match(line) and line not in told and len(figures) >= 4:
            chainage, *_, ground, pipe, depth = figures
            told[line] = Told(None, None, chainage, ground, pipe, depth)
    _hold(told, listed, 0.051)


def test_lengths_of_lines_in_every_file(folder):
    plan = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    lengths = {line["name"]: line["length_m"] for line in plan["lines"]}
    layer = pyogrio.read_dataframe(folder / "plan.gpkg", layer="lines")
    for file in (layer, pyogrio.read_dataframe(folder / "stakes.geojson").query("kind == 'line'")):
        assert dict(zip(file["name"], file["length_m"], strict=True)) == pytest.approx(
            lengths, abs=0.0011
        )
    with (folder / "stakes.csv").open(encoding="utf-8-sig", newline="") as text:
        last = {row["line"]: float(row["chainage_m"]) for row in csv.DictReader(text)}
    assert last == pytest.approx(lengths, abs=0.0011)


def test_materials_csv_and_xlsx_hold_the_same_items(folder):
    with (folder / "materials.csv").open(encoding="utf-8-sig", newline="") as text:
        rows = list(csv.DictReader(text))
    book = openpyxl.load_workbook(folder / "materials.xlsx")
    cells = {
        str(cell.value).strip()
        for sheet in book
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None
    }
    assert len(rows) > 20
    words = {row.get("words") or row.get("item") or "" for row in rows}
    assert words <= cells, sorted(words - cells)[:5]
