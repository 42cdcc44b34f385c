"""What looks like bad input and is none: it is planned, and comes out right."""

import html
import json
import math
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as Xml

import numpy as np
import pytest
from affine import Affine
from pypdf import PdfReader

from planner.output import folder as folder_module
from tests.command import (
    NORTH,
    POINTS,
    ROWS,
    SPRING,
    TANK,
    WEST,
    headfall,
    lonlat,
    point,
    slope,
    write_dem,
    write_site,
)


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave the drawing out where only the plan counts."""

    def sheets(*_: object, **__: object) -> None:
        pass

    monkeypatch.setattr(folder_module, "write_map", lambda _, path: path.write_text("map"))
    monkeypatch.setattr(folder_module, "write_profiles", sheets)
    monkeypatch.setattr(folder_module, "write_field_files", sheets)


def planned(folder: Path, status: int = 0) -> dict[str, Any]:
    """plan.json of the site in a folder."""
    told = headfall("plan", folder / "site.toml")
    assert (told.status, told.err) == (status, "")
    plan = json.loads((folder / "plan" / "plan.json").read_text(encoding="utf-8"))
    assert isinstance(plan, dict)
    return plan


def codes(plan: dict[str, Any], level: str) -> set[str]:
    return {finding["code"] for finding in plan["findings"] if finding["level"] == level}


def levels(plan: dict[str, Any]) -> list[float]:
    main = next(line for line in plan["lines"] if line["role"] == "main")
    return [main["profile"]["ground_m"][0], main["profile"]["ground_m"][-1]]


def voided(z: Any) -> Any:
    z[5, 5], z[60, 48], z[110:, :20], z[0] = np.inf, np.nan, -np.inf, 1e30
    return z


def plain(x: Any, y: Any) -> Any:
    """A tilted plane, which bilinear warping keeps to the millimetre."""
    return 520.0 - 0.12 * (NORTH - y) + 0.02 * (x - WEST)


def test_void_cells_of_every_kind(quick: None, tmp_path: Path) -> None:
    write_site(tmp_path)
    whole = levels(planned(tmp_path))
    write_dem(tmp_path / "dem.tif", voided(slope()))
    assert levels(planned(tmp_path)) == pytest.approx(whole, abs=0.05)


def test_a_south_up_raster(quick: None, tmp_path: Path) -> None:
    write_site(tmp_path)
    north_up = levels(planned(tmp_path))
    at = Affine(1.0, 0.0, WEST, 0.0, 1.0, NORTH - ROWS)
    write_dem(tmp_path / "dem.tif", slope()[::-1], at)
    assert levels(planned(tmp_path)) == pytest.approx(north_up, abs=0.05)


def test_a_rotated_raster(quick: None, tmp_path: Path) -> None:
    turn = math.radians(10.0)
    a, b = math.cos(turn), math.sin(turn)
    at = Affine(a, -b, WEST - 10.0, -b, -a, NORTH + 30.0)
    rows, cols = np.mgrid[:200, :200] + 0.5
    x, y = at.a * cols + at.b * rows + at.c, at.d * cols + at.e * rows + at.f
    write_dem(tmp_path / "dem.tif", plain(x, y), at)
    write_site(tmp_path)
    expected = [plain(WEST + 50, NORTH - 20), plain(WEST + 45, NORTH - 100)]
    assert levels(planned(tmp_path)) == pytest.approx(expected, abs=0.02)


def test_longitude_and_latitude_exchanged(quick: None, tmp_path: Path) -> None:
    write_site(tmp_path, sketch=point("spring", SPRING[::-1]) + point("tank", TANK[::-1]))
    plan = planned(tmp_path)
    assert "coordinates-exchanged" in codes(plan, "warn") or any(
        "exchanged" in finding["message"] for finding in plan["findings"]
    )
    assert plan["lines"][0]["path"][0] == pytest.approx(SPRING, abs=1e-6)


def test_a_tank_below_the_source_is_gravity(quick: None, tmp_path: Path) -> None:
    write_site(tmp_path, sketch=POINTS + point("ram", lonlat(50, 60)))
    plan = planned(tmp_path)
    assert plan["scheme"] == "gravity"
    assert not codes(plan, "stop")


def test_a_ram_above_its_source_stops_the_work(quick: None, tmp_path: Path) -> None:
    sketch = point("spring", lonlat(50, 60)) + point("ram", lonlat(50, 30))
    write_site(tmp_path, sketch=sketch + point("tank", lonlat(50, 10)))
    plan = planned(tmp_path, status=1)
    stops = [finding["message"] for finding in plan["findings"] if finding["level"] == "stop"]
    assert any("ram stands" in stop and "above the water" in stop for stop in stops)


def test_a_tank_above_the_source_without_a_pump_stops_the_work(quick: None, tmp_path: Path) -> None:
    write_site(tmp_path, sketch=point("spring", lonlat(50, 100)) + point("tank", lonlat(50, 10)))
    plan = planned(tmp_path, status=1)
    stops = [finding["message"] for finding in plan["findings"] if finding["level"] == "stop"]
    assert any("has no pump" in stop for stop in stops)


@pytest.mark.parametrize(
    ("old", "new"),
    [(b"", b"\xef\xbb\xbf"), (b"\n", b"\r\n"), (b"Small Hollow", "Schöne Mulde 💧".encode())],
    ids=["byte order mark", "line ends of Windows", "letters of all kinds"],
)
def test_text_files_of_all_editors(quick: None, tmp_path: Path, old: bytes, new: bytes) -> None:
    site = write_site(tmp_path)
    text = site.read_bytes()
    site.write_bytes(text.replace(old, new) if old else new + text)
    assert planned(tmp_path)["lines"]


def test_paths_of_all_kinds(quick: None, tmp_path: Path) -> None:
    home = tmp_path / "Mein Gelände 🌄"
    home.mkdir()
    dem = write_dem(tmp_path / "höhen modell.tif")
    for name in (str(dem), "../höhen modell.tif", "./../Mein Gelände 🌄/../höhen modell.tif"):
        write_site(home, elevation=f'[elevation]\nfiles = ["{name}"]\n')
        assert planned(home)["lines"]


NASTY = """<script>alert(1)</script> & "q" ' 🚿 $x^2$ \\ é"""
IMAGE = "<img src=x onerror=alert(1)>"


@pytest.fixture(scope="module")
def nasty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The plan of a site whose title and names hold markup, formulas and emoji."""
    folder = tmp_path_factory.mktemp("nasty")
    ring = [lonlat(0, 0), lonlat(100, 0), lonlat(100, 120), lonlat(0, 120)]
    sketch = f"""
{point(NASTY, SPRING, 'role = "source"')}
{point("tank", TANK)}
[[sketch.areas]]
role = "owner"
name = {json.dumps(IMAGE)}
ring = {ring}
"""
    site = write_site(folder, sketch=sketch)
    text = site.read_text(encoding="utf-8").replace("Small Hollow", "</title><b>Hollow")
    site.write_text(text, encoding="utf-8")
    told = headfall("plan", site)
    assert (told.status, told.err) == (0, "")
    assert NASTY in told.out
    return folder / "plan"


@pytest.mark.slow
def test_names_with_markup_stay_names_in_the_plan(nasty: Path) -> None:
    plan = json.loads((nasty / "plan.json").read_text(encoding="utf-8"))
    assert {line["start"] for line in plan["lines"]} == {NASTY, "tank"}
    assert all(line["name"].isascii() for line in plan["lines"])


@pytest.mark.slow
def test_names_with_markup_are_text_on_the_map(nasty: Path) -> None:
    page = (nasty / "map.html").read_text(encoding="utf-8")
    for markup in ("<script>alert", IMAGE, "</title><b>"):
        assert markup not in page
    assert html.escape(IMAGE, quote=False) in page


@pytest.mark.slow
def test_names_with_markup_are_text_on_the_sheets(nasty: Path) -> None:
    for path in nasty.glob("profile-*.svg"):
        tree = Xml.parse(path)  # noqa: S314 - our own file, and it must be well-formed
        kinds = {element.tag.rpartition("}")[2] for element in tree.iter()}
        assert not kinds & {"script", "img", "b", "foreignObject"}
    words = " ".join("".join(Xml.parse(nasty / "profile-main.svg").getroot().itertext()).split())  # noqa: S314
    assert "<script>alert(1)</script>" in words
    assert "<b>Hollow" in PdfReader(nasty / "profiles.pdf").pages[0].extract_text()
