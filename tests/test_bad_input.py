"""What a careless or hostile user gives the command: one clear message, status 2, nothing left."""

import errno
import json
import math
import os
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from affine import Affine

from planner.output import folder as folder_module
from tests.command import (
    ELEVATION,
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

Prepare = Callable[[Path], object]
Case = tuple[Prepare, tuple[str, ...]]


def standing(folder: Path) -> dict[str, tuple[int, int]]:
    """All that stands under a folder; of what is no folder, its size and time of change."""
    found = {}
    for path in folder.rglob("*"):
        status = path.lstat()
        about = (0, 0) if path.is_dir() else (status.st_size, status.st_mtime_ns)
        found[str(path.relative_to(folder))] = about
    return found


def refusal(folder: Path, *words: str | Path) -> str:
    """The one line with which the command refuses, after the checks that hold for all."""
    before = standing(folder)
    told = headfall(*words)
    assert told.status == 2, told
    assert told.out == ""
    (message,) = told.err.splitlines()
    assert message.startswith("headfall: ")
    assert message.isprintable()
    for noise in ("Traceback", "fault of the program", "Errno", "None", ".part"):
        assert noise not in message
    assert standing(folder) == before
    return message


def written(**parts: str) -> Prepare:
    """A good site but for these parts of its file."""
    return lambda folder: write_site(folder, **parts)


def content(data: bytes) -> Prepare:
    """A good site but for the elevation file's content."""

    def prepare(folder: Path) -> None:
        (folder / "dem.tif").write_bytes(data)
        write_site(folder)

    return prepare


def heights(z: Any, **settings: Any) -> Prepare:
    """A good site but for the heights, or how they are placed."""

    def prepare(folder: Path) -> None:
        write_dem(folder / "dem.tif", z, **settings)
        write_site(folder)

    return prepare


def cut(keep: float) -> Prepare:
    """An elevation file of which only the first part arrived."""

    def prepare(folder: Path) -> None:
        write_site(folder)
        data = (folder / "dem.tif").read_bytes()
        (folder / "dem.tif").write_bytes(data[: int(keep * len(data))])

    return prepare


def without_dem(folder: Path) -> None:
    write_site(folder)
    (folder / "dem.tif").unlink()


def dem_is_a_folder(folder: Path) -> None:
    without_dem(folder)
    (folder / "dem.tif").mkdir()


def dem_is_a_circle(folder: Path) -> None:
    without_dem(folder)
    (folder / "dem.tif").symlink_to("dem.tif")


def holed() -> Any:
    z = slope()
    z[70:] = np.nan
    return z


ELEVATIONS: dict[str, Case] = {
    "missing": (without_dem, ("no elevation file", "dem.tif", "check its name")),
    "empty": (content(b""), ("'dem.tif' is empty", "download it again")),
    "half a file": (cut(0.5), ("'dem.tif'", "damaged", "download it again")),
    "text": (content(b"hello\n" * 99), ("'dem.tif'", "no raster", "such as a GeoTIFF")),
    "a picture's start": (content(b"\x89PNG\r\n\x1a\n" + bytes(99)), ("'dem.tif'", "no raster")),
    "a description": (content(b"<WMS_Driver/>"), ("kept elsewhere", "the elevation raster itself")),
    "a folder": (dem_is_a_folder, ("dem.tif", "is a folder", "the elevation file in it")),
    "a circle of links": (dem_is_a_circle, ("dem.tif", "not a path that can be followed")),
    "no CRS": (heights(None, crs=None), ("no coordinate system", 'crs = "EPSG:32633"')),
    "a wrong CRS": (
        written(elevation=ELEVATION + 'crs = "EPSG:99"\n'),
        ("elevation.crs", '"EPSG:99"', "EPSG:32633"),
    ),
    "a wrong band": (
        written(elevation=ELEVATION + "band = 7\n"),
        ("'dem.tif' has bands 1 to 1", "band 7", "choose another"),
    ),
    "all void": (
        heights(np.full((ROWS, 100), -9999.0)),
        ("all cells are void", "data that covers"),
    ),
    "all not a number": (heights(np.full((ROWS, 100), np.nan)), ("all cells are void",)),
    "a hole at the tank": (
        heights(holed()),
        ("'tank' at longitude 15.00059", "on a hole", "nearest data is 31 m to the north"),
    ),
    "elsewhere": (
        heights(None, at=Affine(1.0, 0.0, WEST + 90_000.0, 0.0, -1.0, NORTH)),
        ("does not reach", "longitude 15.000", "covers longitude 16.1", "check the coordinates"),
    ),
    "no files": (written(elevation="[elevation]\nfiles = []\n"), ("elevation.files", "at least 1")),
    "a nameless file": (
        written(elevation='[elevation]\nfiles = [""]\n'),
        ("elevation.files", "give a path such as dem.tif"),
    ),
    "a name that is none": (
        written(elevation='[elevation]\nfiles = ["a\\u0000b"]\n'),
        ("elevation.files", "give a path such as dem.tif"),
    ),
    "an address": (
        written(elevation='[elevation]\nfiles = ["https://example.org/dem.tif"]\n'),
        ("elevation.files", "give a path such as dem.tif"),
    ),
}

SQUARE = [lonlat(0, 0), lonlat(9, 0), lonlat(0, 9), lonlat(9, 9)]

WORDS: dict[str, Case] = {
    "negative flow": (written(rest='[source]\nflow = "-5 L/min"\n'), ("source.flow", '"-5 L/min"')),
    "no unit": (written(rest='[source]\nflow = "12"\n'), ("source.flow", '"12" has no unit')),
    "bare gallons": (
        written(rest='[need]\nper_day = "90 gal"\n'),
        ("need.per_day", "in US gallons", "imperial"),
    ),
    "text for a number": (
        written(rest='[pump]\nhours_per_day = "six"\n'),
        ("pump.hours_per_day", '"six"', "a number, without quotes"),
    ),
    "an unknown key": (
        written(rest='[source]\nflwo = "12 L/min"\n'),
        ('no key "flwo"', '"flow" is probably meant'),
    ),
    "no TOML": (written(rest="[source]\nflow = 12 L/min\n"), ("line", "is not TOML", "in quotes")),
    "two points of one name": (
        written(sketch=POINTS + point("Tank", lonlat(20, 90))),
        ('two points are called "Tank"', "15.000591, 46.953709", "a name of its own"),
    ),
    "duplicated points": (
        written(sketch=POINTS + point("tank 2", TANK)),
        ('"tank" and "tank 2"', "one place", "move or remove one"),
    ),
    "a point outside": (
        written(sketch=point("spring", SPRING) + point("tank", lonlat(45, 400))),
        (
            "'tank' at longitude 15.00059",
            "outside the elevation data",
            "covers longitude 15.000000",
        ),
    ),
    "one point exchanged": (
        written(sketch=point("spring", SPRING) + point("tank", TANK[::-1])),
        ('"tank" at 46.953709', "km from", "longitude comes first"),
    ),
    "exchanged beyond repair": (
        written(sketch=point("spring", [200.0, 100.0]) + point("tank", TANK)),
        ('"spring"', "200, 100", "write longitude first"),
    ),
    "degrees as text": (
        written(sketch=POINTS.replace(str(TANK[0]), '"15°0\'2"')),
        ("sketch.points no. 2", "a number, without quotes"),
    ),
    "a self-crossing area": (
        written(sketch=POINTS + f'[[sketch.areas]]\nrole = "avoid"\nring = {SQUARE}\n'),
        ("areas no. 1", "crosses itself", "meet at corners"),
    ),
    "no source": (written(sketch=point("tank", TANK)), ("no source", 'role = "source"')),
    "no sketch": (written(sketch=""), ('"sketch" is missing', "file = ")),
    "a sketch that is not there": (
        written(sketch='[sketch]\nfile = "s.geojson"\n'),
        ("s.geojson is not there", "give the path"),
    ),
    "a name too long": (
        written(sketch=POINTS + point("t" * 5000, lonlat(9, 9), 'role = "tank"')),
        ("at most 80",),
    ),
}


@pytest.mark.parametrize("case", ELEVATIONS.values(), ids=ELEVATIONS)
def test_elevation_that_cannot_be_used(case: Case, tmp_path: Path) -> None:
    prepare, words = case
    prepare(tmp_path)
    message = refusal(tmp_path, "plan", tmp_path / "site.toml")
    for word in words:
        assert word in message


@pytest.mark.parametrize("case", WORDS.values(), ids=WORDS)
def test_site_files_that_cannot_be_used(case: Case, tmp_path: Path) -> None:
    prepare, words = case
    prepare(tmp_path)
    message = refusal(tmp_path, "plan", tmp_path / "site.toml")
    assert words[0] in message
    for word in words[1:]:
        assert word in message


FILES: dict[str, tuple[bytes, str]] = {
    "empty": (b"", '"elevation" is missing'),
    "binary": (bytes(range(256)), "not text in UTF-8"),
    "huge": (b"#" * 10_000_001, "more than 10 MB"),
    "Windows-1252": (
        'title = "Schöne Mulde"'.encode("cp1252"),
        "save it again as plain text in UTF-8",
    ),
    "UTF-16": ("title = 'x'".encode("utf-16"), "save it again as plain text in UTF-8"),
    "nested without end": (b"x = " + b"[" * 9999, "nested too deep"),
    "terminal orders": (b'"\x1b[2J" = 1', "is not TOML"),
}


@pytest.mark.parametrize(("data", "words"), FILES.values(), ids=FILES)
def test_files_that_are_no_site_file(data: bytes, words: str, tmp_path: Path) -> None:
    (tmp_path / "site.toml").write_bytes(data)
    message = refusal(tmp_path, "plan", tmp_path / "site.toml")
    assert message.startswith("headfall: site.toml")
    assert words in message


def test_paths_that_are_no_site_file(tmp_path: Path) -> None:
    (tmp_path / "loop.toml").symlink_to("loop.toml")
    os.mkfifo(tmp_path / "pipe.toml")
    for name, words in (
        ("none.toml", "is not there"),
        (".", "is a folder"),
        ("pipe.toml", "is a folder or a device"),
        ("loop.toml", "can't be read"),
        ("x" * 5000, "can't be read"),
    ):
        assert words in refusal(tmp_path, "plan", tmp_path / name)
    dem = write_dem(tmp_path / "dem.tif")
    assert "not text in UTF-8" in refusal(tmp_path, "plan", dem)


@pytest.mark.slow
def test_an_area_of_a_million_vertices(tmp_path: Path) -> None:
    angles = [2.0 * math.pi * n / 1_000_000 for n in range(1_000_000)]
    ring = [[15.0 + 0.01 * math.cos(a), 46.95 + 0.01 * math.sin(a)] for a in angles]
    shape = {"type": "Polygon", "coordinates": [[*ring, ring[0]]]}
    feature = {"type": "Feature", "properties": {"role": "avoid"}, "geometry": shape}
    (tmp_path / "big.geojson").write_text(json.dumps(feature), encoding="utf-8")
    write_site(tmp_path, sketch='[sketch]\nfile = "big.geojson"\n' + POINTS)
    begun = time.perf_counter()
    message = refusal(tmp_path, "plan", tmp_path / "site.toml")
    assert time.perf_counter() - begun < 30.0
    assert "1,000,001 vertices" in message
    assert "simplify it" in message


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A good site, in a folder of its own."""
    (tmp_path / "home").mkdir()
    return write_site(tmp_path / "home")


def test_folders_a_plan_may_not_be_written_to(site: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    (tmp_path / "loop").symlink_to("loop")
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "holiday.jpg").write_bytes(b"jpg")
    for name, words in (
        ("home", "holds the site file itself; choose another folder"),
        ("full/../home", "holds the site file itself; choose another folder"),
        ("full", "holds files but no plan of this program; choose an empty or new folder"),
        (".", "holds files but no plan of this program; choose an empty or new folder"),
        ("file", "is a file; choose another name"),
        ("file/deeper", "part of its path is a file"),
        ("loop", "circle of links"),
        ("x" * 300, "the name is too long"),
    ):
        assert words in refusal(tmp_path, "plan", site, "--out", tmp_path / name)


def test_the_folder_is_asked_for_before_the_elevation_data_is_read(
    site: Path, tmp_path: Path
) -> None:
    (site.parent / "dem.tif").write_bytes(b"broken")
    (tmp_path / "holiday.jpg").write_bytes(b"jpg")
    assert "no plan of this program" in refusal(tmp_path, "plan", site, "--out", tmp_path)


def test_the_demo_touches_no_folder_of_the_user_s(tmp_path: Path) -> None:
    (tmp_path / "holiday.jpg").write_bytes(b"jpg")
    assert "choose an empty or new folder" in refusal(tmp_path, "demo", "--out", tmp_path)
    assert "is a file" in refusal(tmp_path, "demo", "--out", tmp_path / "holiday.jpg")


TROUBLES: dict[str, tuple[BaseException, str]] = {
    "full": (OSError(errno.ENOSPC, "No space left on device"), "the disk is full"),
    "read-only": (OSError(errno.EROFS, "Read-only file system"), "the disk is read-only"),
    "forbidden": (PermissionError(errno.EACCES, "Permission denied"), "you may not write there"),
    "interrupted": (KeyboardInterrupt(), "interrupted; nothing was written"),
    "memory": (MemoryError(), "needs more memory than there is"),
}


@pytest.fixture
def half_way(monkeypatch: pytest.MonkeyPatch) -> Callable[[BaseException], None]:
    """Let the writing of a plan fail when half of it is written."""

    def arm(trouble: BaseException) -> None:
        def broken(_: object, folder: Path, **__: object) -> None:
            assert (folder / "map.html").stat().st_size > 100_000
            (folder / "profiles.pdf").write_bytes(b"%PDF half")
            raise trouble

        monkeypatch.setattr(folder_module, "write_profiles", broken)

    return arm


@pytest.mark.slow
@pytest.mark.parametrize(("trouble", "words"), TROUBLES.values(), ids=TROUBLES)
def test_trouble_while_writing_leaves_nothing_behind(
    site: Path,
    tmp_path: Path,
    half_way: Callable[[BaseException], None],
    trouble: BaseException,
    words: str,
) -> None:
    assert headfall("plan", site, "--out", tmp_path / "old", "--quiet").status == 0
    half_way(trouble)
    for name in ("old", "new", "a/new/one"):
        assert words in refusal(tmp_path, "plan", site, "--out", tmp_path / name)


@pytest.mark.slow
def test_trouble_while_writing_the_demo_takes_its_site_away_again(
    tmp_path: Path, half_way: Callable[[BaseException], None]
) -> None:
    half_way(KeyboardInterrupt())
    assert "interrupted" in refusal(tmp_path, "demo", "--out", tmp_path / "demo")


def line(coordinates: object, kind: str = "LineString") -> Callable[[Path], Path]:
    """A drawn line as GeoJSON."""

    def write(folder: Path) -> Path:
        shape = {"type": kind, "coordinates": coordinates}
        text = json.dumps({"type": "Feature", "properties": {}, "geometry": shape})
        (folder / "walk.geojson").write_text(text, encoding="utf-8")
        return folder / "walk.geojson"

    return write


def gpx(inside: str) -> Callable[[Path], Path]:
    """A GPX file."""

    def write(folder: Path) -> Path:
        space = 'xmlns="http://www.topografix.com/GPX/1/1"'
        text = f'<?xml version="1.0"?><gpx version="1.1" creator="t" {space}>{inside}</gpx>'
        (folder / "walk.gpx").write_text(text, encoding="utf-8")
        return folder / "walk.gpx"

    return write


LINES: dict[str, tuple[Callable[[Path], Path], tuple[str, ...]]] = {
    "outside": (line([lonlat(9, 9000), lonlat(9, 9100)]), ("does not reach", "check the coord")),
    "half outside": (
        line([SPRING, lonlat(50, 500)]),
        ("outside the elevation data", "bring data that covers it"),
    ),
    "one point": (line([SPRING]), ("walk.geojson, feature 1", "draw it again")),
    "standing still": (line([SPRING, SPRING]), ("walk.geojson stands still", "two points or more")),
    "exchanged": (line([SPRING[::-1], TANK[::-1]]), ("46.95407", "write longitude first")),
    "a point": (line(SPRING, "Point"), ("walk.geojson holds no line", "a track or a route")),
    "no track": (gpx('<wpt lat="46.9" lon="15"/>'), ("walk.gpx holds no line", "a track")),
    "entities": (gpx("<!ENTITY a 'b'>"), ("walk.gpx is more than GPX", "save it again")),
    "missing": (lambda folder: folder / "none.gpx", ("none.gpx is not there", "give the path")),
    "not a line's file": (lambda folder: folder / "dem.tif", ("dem.tif is of no kind", "GeoJSON")),
}


@pytest.mark.parametrize("case", LINES.values(), ids=LINES)
def test_lines_that_cannot_be_profiled(
    case: tuple[Callable[[Path], Path], tuple[str, ...]], tmp_path: Path
) -> None:
    dem = write_dem(tmp_path / "dem.tif")
    write, words = case
    message = refusal(tmp_path, "profile", dem, write(tmp_path))
    for word in words:
        assert word in message


def test_a_line_over_a_hole_or_on_data_without_a_place(tmp_path: Path) -> None:
    walk = line([SPRING, TANK])(tmp_path)
    dem = write_dem(tmp_path / "dem.tif", holed())
    message = refusal(tmp_path, "profile", dem, walk)
    assert "crosses a hole in the elevation data from 50." in message
    dem = write_dem(tmp_path / "dem.tif", crs=None)
    assert "--crs" in refusal(tmp_path, "profile", dem, walk)
    assert "'here' is not known" in refusal(tmp_path, "profile", dem, walk, "--crs", "here")


def test_a_line_s_own_file_is_not_written_over(tmp_path: Path) -> None:
    dem = write_dem(tmp_path / "dem.tif")
    walk = line([SPRING, TANK])(tmp_path).rename(tmp_path / "profile.json")
    message = refusal(tmp_path, "profile", dem, walk, "--out", tmp_path)
    assert "holds a profile.json that is not of this program" in message
