"""The command as it is met at a terminal: usage, help, pipes, progress, signals, planning again."""

import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from affine import Affine
from pyproj import Transformer

from planner.record.schema import LineModel
from planner.site.line_file import read_line
from tests.command import (
    RAM_POINTS,
    SPRING,
    TANK,
    Told,
    headfall,
    point,
    slope,
    write_dem,
    write_site,
)

COMMAND = (sys.executable, "-c", "from planner.cli import main; main()")
ROOT = Path(__file__).resolve().parents[1]


def run(*words: str | Path, **settings: Any) -> Told:
    """Run the command in a process of its own."""
    done = subprocess.run(  # noqa: S603 - our own words, no shell
        [*COMMAND, *map(str, words)], capture_output=True, text=True, check=False, **settings
    )
    return Told(done.returncode, done.stdout, done.stderr)


# Usage


def test_help_names_every_command() -> None:
    told = headfall("--help")
    assert (told.status, told.err) == (0, "")
    assert told.out.startswith("Usage: ")
    for command in ("open", "demo", "plan", "profile", "water", "schema"):
        assert re.search(rf"^  {command} ", told.out, re.MULTILINE)


@pytest.mark.parametrize("words", [(), ("open",)])
def test_the_command_alone_opens_the_page(
    words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[object] = []
    monkeypatch.setattr(
        "planner.page.serve.serve", lambda path, **how: asked.append((path, how["port"]))
    )
    assert headfall(*words).status == 0
    assert asked == [(None, None)]


def test_version() -> None:
    assert re.fullmatch(r"headfall \d+\.\d+\.\d+\n", headfall("--version").out)
    assert headfall("--version", "plan").status == 0


@pytest.mark.parametrize("command", ["demo", "plan", "profile", "water", "schema"])
def test_every_command_has_help(command: str) -> None:
    told = headfall(command, "--help")
    assert (told.status, told.err) == (0, "")
    assert len(told.out.splitlines()) > 5


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("dig",), "No such command 'dig'"),
        (("plan",), "Missing argument 'SITE.toml'"),
        (("plan", "a.toml", "b.toml"), "unexpected extra argument"),
        (("plan", "--outt", "x"), "No such option: --outt"),
        (("water",), "Missing argument 'SITE.toml'"),
        (("plan", "a.toml", "--out"), "requires an argument"),
        (("profile", "dem.tif"), "Missing argument 'LINE'"),
        (("profile", "dem.tif", "a.gpx", "--role", "river"), "'delivery'"),
        (("profile", "dem.tif", "a.gpx", "--units", "cubits"), "'us'"),
        (("--bogus",), "No such option: --bogus"),
    ],
)
def test_wrong_usage_is_told_with_the_right_one(words: tuple[str, ...], message: str) -> None:
    told = headfall(*words)
    assert (told.status, told.out) == (2, "")
    assert told.err.startswith(("Usage: ", "Error: "))
    assert message in told.err
    assert "Traceback" not in told.err


@pytest.mark.parametrize("word", ["--help", "--version"])
def test_help_and_version_load_nothing_heavy(word: str) -> None:
    code = (
        "import sys\nfrom planner.cli import main\n"
        f"sys.argv = ['headfall', *{word.split()}]\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        "print(sorted(name.partition('.')[0] for name in sys.modules), file=sys.stderr)"
    )
    done = subprocess.run(  # noqa: S603
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT
    )
    for heavy in ("numpy", "numba", "rasterio", "shapely", "matplotlib", "pyproj", "folium"):
        assert repr(heavy) not in done.stderr


def test_schema_holds_both() -> None:
    schemas = json.loads(headfall("schema").out)
    assert set(schemas) == {"site", "plan"}
    assert "elevation" in schemas["site"]["properties"]
    assert "findings" in schemas["plan"]["properties"]


# Pipes and odd streams


@pytest.mark.slow
def test_a_reader_who_has_had_enough_is_no_failure() -> None:
    words = [*COMMAND, "schema"]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as running:  # noqa: S603
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.close()
        assert running.stderr.read() == b""
    assert running.returncode == 0


@pytest.mark.slow
@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full to write to")
def test_an_output_that_takes_no_more_is_told() -> None:
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        done = subprocess.run(  # noqa: S603
            [*COMMAND, "schema"], stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    assert done.returncode == 2
    assert done.stderr == "headfall: the result can't be printed: No space left on device\n"


@pytest.mark.slow
def test_letters_the_output_cannot_show_are_spelt(tmp_path: Path) -> None:
    spring = point("Quelle 💧", SPRING, 'role = "source"')
    site = write_site(tmp_path, sketch=spring + point("tank", TANK))
    told = run("plan", site, env=os.environ | {"PYTHONIOENCODING": "ascii"})
    assert (told.status, told.err) == (0, "")
    assert told.out.isascii()
    assert r"Quelle \U0001f4a7 to tank" in told.out


@pytest.mark.slow
def test_a_file_gets_the_summary_and_no_progress(tmp_path: Path) -> None:
    told = run("plan", write_site(tmp_path))
    assert (told.status, told.err) == (0, "")
    assert "\x1b" not in told.out
    assert "Small Hollow" in told.out.splitlines()[0]
    assert f"The plan is in {tmp_path / 'plan'}." in told.out.splitlines()


# The water table


@pytest.mark.slow
def test_water_prints_figures_with_their_sources_and_writes_nothing(tmp_path: Path) -> None:
    site = write_site(tmp_path, sketch=RAM_POINTS)
    before = sorted(tmp_path.rglob("*"))
    told, planned = headfall("water", site), headfall("plan", site, "--out", tmp_path / "plan")
    assert (told.status, told.err) == (planned.status, "")
    text = told.out
    taken = r"^  Taken +8\.40 L/min +lowest known flow less the stream's share$"
    assert re.search(taken, text, re.MULTILINE)
    assert re.search(r"^  Beats +\d+ a minute ", text, re.MULTILINE)
    assert "\x1b" not in told.out
    assert sorted(path for path in tmp_path.rglob("*") if "plan" not in path.parts) == before


def test_water_tells_a_missing_site_as_plan_does(tmp_path: Path) -> None:
    told = headfall("water", tmp_path / "none.toml")
    assert (told.status, told.out) == (2, "")
    assert told.err == headfall("plan", tmp_path / "none.toml").err


# A terminal


def at_a_terminal(*words: str | Path) -> tuple[int, str]:
    """Exit status and all that a terminal shows of the command."""
    pty = pytest.importorskip("pty", reason="terminals of this kind are of Unix")
    ours, theirs = pty.openpty()
    with subprocess.Popen(  # noqa: S603
        [*COMMAND, *map(str, words)],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env=os.environ | {"TERM": "xterm", "COLUMNS": "90", "LINES": "24"},
    ) as running:
        os.close(theirs)
        shown = b"".join(_read(ours))
    os.close(ours)
    return running.returncode, shown.decode()


def _read(terminal: int) -> Iterator[bytes]:
    while True:
        try:
            part = os.read(terminal, 65536)
        except OSError:  # the other end is closed
            return
        if not part:
            return
        yield part


@pytest.mark.slow
@pytest.mark.parametrize("colour", [True, False])
def test_a_terminal_sees_the_water_in_groups(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, colour: bool
) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    if not colour:
        monkeypatch.setenv("NO_COLOR", "1")
    trough = point("[red]trough[/red]", TANK, 'role = "tank"')
    site = write_site(tmp_path, sketch=point("spring", SPRING) + trough)
    _, shown = at_a_terminal("water", site)
    assert re.search(r"\x1b\[1mYield *\x1b\[0m", shown)  # a title in bold
    assert "Traceback" not in shown
    assert "[red]trough[/red]" in shown  # a name is no markup
    assert not re.search(r"\x1b\[[\d;]*3[0-7]", shown.partition("Source")[2])
    assert max(len(re.sub(r"\x1b\[[\d;?]*[a-zA-Z]", "", x)) for x in shown.splitlines()) <= 90


@pytest.mark.slow
def test_a_terminal_sees_every_step(tmp_path: Path) -> None:
    status, shown = at_a_terminal("plan", write_site(tmp_path))
    assert status == 0
    # Steps of a tenth of a second may pass between two looks of the display.
    assert re.search(r"preparing the routines \(.* on the first run\) …", shown)
    assert "drawing the map and the sheets …" in shown
    assert "Traceback" not in shown
    assert re.search(r"lie\s+beside\s+them\.$", shown.rstrip())


@pytest.mark.slow
def test_quiet_is_quiet_at_a_terminal_too(tmp_path: Path) -> None:
    assert at_a_terminal("plan", write_site(tmp_path), "--quiet") == (0, "")


# Signals


@pytest.mark.slow
@pytest.mark.skipif(os.name != "posix", reason="signals of this kind are of Unix")
@pytest.mark.parametrize(
    ("number", "place"), [("SIGINT", "old"), ("SIGINT", "new"), ("SIGTERM", "old")]
)
def test_a_signal_while_drawing_leaves_all_as_it_was(
    tmp_path: Path, number: str, place: str
) -> None:
    site = write_site(tmp_path)
    assert headfall("plan", site, "--out", tmp_path / "old", "--quiet").status == 0
    before = _all(tmp_path)
    with subprocess.Popen(  # noqa: S603
        [*COMMAND, "plan", str(site), "--out", str(tmp_path / place)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as running:
        _wait_for_writing(tmp_path, running)
        running.send_signal(getattr(signal, number))
        out, err = running.communicate()
    assert (running.returncode, out, err) == (2, "", "headfall: interrupted; nothing was written\n")
    assert _all(tmp_path) == before


def _wait_for_writing(folder: Path, running: "subprocess.Popen[str]") -> None:
    until = time.monotonic() + 120.0
    while not [*folder.glob(".headfall-*"), *folder.glob("*/.headfall-*")]:
        assert running.poll() is None
        assert time.monotonic() < until
        time.sleep(0.002)


def _all(folder: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(folder)): path.read_bytes() if path.is_file() else b""
        for path in folder.rglob("*")
    }


# Other routes


@pytest.mark.slow
def test_other_routes_are_looked_for_on_request(tmp_path: Path) -> None:
    site = write_site(tmp_path)
    plain = headfall("plan", site)
    assert "Other routes" not in plain.out
    assert all(line["alternatives"] == [] for line in plan_of(tmp_path / "plan")["lines"])
    asked = headfall("plan", site, "--alternatives")
    assert asked.status == plain.status
    lines = plan_of(tmp_path / "plan")["lines"]
    routed = [line for line in lines if line["alternatives_asked"] == 3]
    assert routed
    for line in routed:
        assert f"Other routes for {line['name']}" in asked.out
        assert len(line["alternatives"]) <= 3
        rows = re.findall(r"^  [ABC] +", asked.out, re.MULTILINE)
        assert len(rows) == sum(len(line["alternatives"]) for line in routed)
    page = (tmp_path / "plan" / "map.html").read_text(encoding="utf-8")
    assert any(line["alternatives"] for line in routed) == (">Other routes<" in page)


# Planning again


def plan_of(folder: Path) -> dict[str, Any]:
    plan: dict[str, Any] = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    return {key: value for key, value in plan.items() if key not in ("made", "date")}


@pytest.mark.slow
def test_a_folder_is_planned_again_and_keeps_what_is_the_user_s(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    site = write_site(tmp_path)
    assert headfall("plan", site).status == 0
    out = tmp_path / "plan"
    first = plan_of(out)
    (out / "notes.txt").write_text("mine")
    (out / "photos").mkdir()
    (out / "photos" / "spring.jpg").write_bytes(b"jpg")
    monkeypatch.chdir(out)
    assert headfall("plan", "../site.toml", "--out", ".").status == 0
    assert Path("map.html").is_file(), "who stands in the folder still does"
    assert plan_of(out) == first
    assert (out / "notes.txt").read_text() == "mine"
    assert (out / "photos" / "spring.jpg").read_bytes() == b"jpg"
    assert not list(out.glob(".*"))


@pytest.mark.slow
def test_the_folder_s_own_site_gives_the_same_plan_wherever_it_lies(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told = headfall("plan", write_site(tmp_path / "a", sketch=RAM_POINTS))
    status = told.status
    assert status in (0, 1)
    assert "delivery" in told.out
    first = plan_of(tmp_path / "a" / "plan")
    shutil.move(tmp_path / "a", tmp_path / "moved")
    (tmp_path / "else").mkdir()
    monkeypatch.chdir(tmp_path / "else")
    told = headfall("plan", "../moved/plan/site.toml", "--out", "again")
    assert (told.status, told.err) == (status, "")
    assert plan_of(tmp_path / "else" / "again") == first
    assert headfall("plan", "again/site.toml", "--out", "third").status == status
    assert plan_of(tmp_path / "else" / "third") == first


@pytest.mark.slow
def test_the_demo_is_planned_and_planned_again_in_its_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    told = headfall("demo")
    assert (told.status, told.err) == (0, "")
    folder = tmp_path / "headfall-demo"
    first = plan_of(folder)
    told = headfall("plan", "headfall-demo/site/larch-hollow.toml", "--out", "headfall-demo")
    assert (told.status, told.err) == (0, "")
    assert plan_of(folder) == first
    assert [path.name for path in tmp_path.iterdir()] == ["headfall-demo"]


# A drawn line


def walk(folder: Path, coordinates: list[list[float]]) -> Path:
    """A line drawn by hand, as GeoJSON."""
    shape = {"type": "LineString", "coordinates": coordinates}
    text = json.dumps({"type": "Feature", "properties": {"name": "walk"}, "geometry": shape})
    (folder / "walk.geojson").write_text(text, encoding="utf-8")
    return folder / "walk.geojson"


def profile_of(folder: Path) -> LineModel:
    return LineModel.model_validate_json((folder / "profile.json").read_text(encoding="utf-8"))


@pytest.mark.slow
def test_a_drawn_line_goes_to_a_folder_beside_it_as_the_schema_says(tmp_path: Path) -> None:
    dem = write_dem(tmp_path / "dem.tif")
    told = headfall("profile", dem, walk(tmp_path, [SPRING, TANK]))
    assert (told.status, told.err) == (0, "")
    assert "it traps no air" in told.out
    folder = tmp_path / "walk-profile"
    assert {path.name for path in folder.iterdir()} == {"profile.json", "profile.svg"}
    line = profile_of(folder)
    assert line.role == "main"
    assert line.path[0] == pytest.approx(SPRING, abs=1e-6)
    assert line.path[-1] == pytest.approx(TANK, abs=1e-6)
    assert 80.0 < line.length_m < 83.0
    # slope() falls 0.12 m a metre to the south, and the tank lies 80 m south of the spring.
    assert line.profile.ground_m[0] == pytest.approx(518.6, abs=0.5)
    assert line.profile.ground_m[-1] == pytest.approx(508.9, abs=0.5)
    assert not line.high_points
    assert headfall("profile", dem, tmp_path / "walk.geojson", "--quiet") == Told(0, "", "")


@pytest.mark.slow
def test_a_planted_hump_on_a_delivery_is_a_high_point(tmp_path: Path) -> None:
    z = slope()
    z[58:63] += 4.0
    dem = write_dem(tmp_path / "dem.tif", z)
    told = headfall("profile", dem, walk(tmp_path, [TANK, SPRING]), "--role", "delivery")
    assert told.status == 0
    assert "high point at" in told.out
    (high,) = profile_of(tmp_path / "walk-profile").high_points
    # The hump lies 100 - 63 to 100 - 58 m north of the tank, the line climbs 20 m more after it.
    assert 37.0 < high.chainage_m < 48.0
    assert 2.5 < high.rise_m < 4.0


@pytest.mark.slow
def test_a_line_drawn_in_feet(tmp_path: Path) -> None:
    dem = write_dem(tmp_path / "dem.tif")
    told = headfall("profile", dem, walk(tmp_path, [SPRING, TANK]), "--units", "us")
    assert re.match(r"26\d\.\d ft of pipe, falling 3[12]\.\d\d ft", told.out)


@pytest.mark.slow
def test_tracks_of_real_devices(tmp_path: Path, shared_data: Path) -> None:
    for file, zone, least in (
        ("kml_togeojson/gxtrack.kml", 32610, 2),
        ("gpx_gpxpy/Mojstrovka.gpx", 32633, 100),
    ):
        west, south, east, north = _box(shared_data / file, zone)
        z = np.add.outer(np.arange(200.0, 100.0, -1.0), np.arange(0.0, 50.0, 0.5))
        side = max(east - west, north - south) / 80.0
        at = Affine(side, 0.0, west - 10 * side, 0.0, -side, north + 10 * side)
        dem = write_dem(tmp_path / f"{zone}.tif", z, at, f"EPSG:{zone}")
        out = tmp_path / f"{zone}"
        told = headfall("profile", dem, shared_data / file, "--out", out)
        assert (told.status, told.err) == (0, "")
        assert len(profile_of(out).path) > least


def _box(track: Path, zone: int) -> tuple[float, float, float, float]:
    lon, lat = zip(*read_line(track).coords, strict=True)
    x, y = Transformer.from_crs(4326, zone, always_xy=True).transform(lon, lat)
    return min(x), min(y), max(x), max(y)
