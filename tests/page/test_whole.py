"""The page as a user meets it: the real server, its workers and Chromium; nothing leaves home."""

import json
import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path

import pytest
import rasterio
from playwright.sync_api import Page, expect
from pyproj import Transformer

from planner.site.read import read_site
from tests.page.real import Box, Server, drag, headfall_open, planned, point

pytestmark = [pytest.mark.slow, pytest.mark.browser, pytest.mark.timeout(600)]

DEMO = files("planner.demo")
DEM, SKETCH = "larch-hollow-dem.tif", "larch-hollow-sketch.geojson"
TOOLS = {"source": "Source", "chamber": "Chamber", "pump": "Ram", "tank": "Tank"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The demo's ground alone."""
    (tmp_path / DEM).write_bytes(DEMO.joinpath(DEM).read_bytes())
    return tmp_path


@pytest.fixture
def site(folder: Path) -> Path:
    """The whole demo site."""
    for name in (SKETCH, "larch-hollow.toml"):
        (folder / name).write_bytes(DEMO.joinpath(name).read_bytes())
    return folder / "larch-hollow.toml"


@pytest.fixture
def server(site: Path) -> Iterator[Server]:
    with headfall_open(site.name, folder=site.parent) as running:
        yield running


def ground_of(folder: Path) -> tuple[Box, dict[str, tuple[float, float]]]:
    """The box of the demo's ground, and where its points lie, x and y."""
    with rasterio.open(folder / DEM) as data:
        box, crs = Box(*data.bounds), data.crs
    plane = Transformer.from_crs("EPSG:4326", crs, always_xy=True)
    features = json.loads(DEMO.joinpath(SKETCH).read_text(encoding="utf-8"))["features"]
    spots = {
        one["properties"]["role"]: plane.transform(*one["geometry"]["coordinates"])
        for one in features
        if one["geometry"]["type"] == "Point"
    }
    return box, spots


def put(page: Page, tool: str, at: tuple[float, float]) -> None:
    """Take a tool in hand and click on the plan, as soon as a hand would be there."""
    button = page.get_by_role("toolbar").get_by_role("button", name=tool, exact=True)
    button.click()
    expect(button).to_have_attribute("aria-pressed", "true")
    page.wait_for_timeout(200)
    page.mouse.click(*at)


def sketch(page: Page, box: Box, spots: dict[str, tuple[float, float]]) -> None:
    """Put all points of the demo on the plan, and wait for it."""
    for role, tool in TOOLS.items():
        put(page, tool, box.on_screen(page, spots[role]))
        expect(point(page, tool)).to_be_visible(timeout=20_000)
    put(page, "Outlet", box.on_screen(page, spots["outlet"]))
    planned(page)


def dropped(page: Page) -> None:
    """Wait until the plan after a drop is drawn."""
    page.wait_for_function(
        "window.headfall.times.some((one) => one.kind === 'drop' && one.state === 'plan')",
        timeout=60_000,
    )


def saved(page: Page) -> None:
    expect(page.get_by_text("Saved", exact=True)).to_be_visible(timeout=20_000)


def test_from_bare_ground_to_papers(folder: Path, page: Page) -> None:
    box, spots = ground_of(folder)
    page.set_viewport_size({"width": 1440, "height": 900})
    with headfall_open(DEM, folder=folder) as server:
        page.goto(server.address)
        page.locator(".plan-map img.leaflet-image-layer").wait_for(timeout=180_000)
        sketch(page, box, spots)

        # An air trap, told with its remedy; pressed it goes, and undo brings it back.
        trap = page.get_by_text(re.compile("delivery line has a high point")).first
        expect(trap).to_be_visible(timeout=60_000)
        site = next(folder.glob("*.toml"))
        before = site.read_text(encoding="utf-8")
        finding = page.locator("li.finding", has_text="delivery line has a high point").first
        expect(finding).to_contain_text("Lead it round", timeout=60_000)  # all is weighed
        finding.get_by_role("button", name="Fit a vent here").click()
        expect(trap).to_have_count(0, timeout=60_000)
        saved(page)
        assert site.read_text(encoding="utf-8") != before
        page.keyboard.press("Control+z")
        expect(trap).to_be_visible(timeout=60_000)
        assert site.read_text(encoding="utf-8") == before

        # All is in the files, and there after a reload.
        made = read_site(site)
        assert sorted(one.role for one in made.sketch.points) == sorted([*TOOLS, "outlet"])
        page.reload()
        planned(page)
        expect(page.locator(".leaflet-marker-icon[data-point]")).to_have_count(5)

        # Keep, change, compare, go back.
        page.get_by_role("button", name="Keep", exact=True).click()
        page.evaluate("window.headfall.times.length = 0")
        drag(page, "Tank", box.on_screen(page, (spots["tank"][0] - 25, spots["tank"][1] - 10)))
        dropped(page)
        page.get_by_role("button", name="Compare", exact=True).click()
        expect(page.locator("tr.differs").first).to_be_visible(timeout=60_000)
        page.get_by_role("button", name="Go back to the kept plan").click()
        for _ in range(100):
            if read_site(site).sketch == made.sketch:
                break
            page.wait_for_timeout(200)
        assert read_site(site).sketch == made.sketch

        # The papers are those of the command.
        page.get_by_role("button", name="Papers", exact=True).click()
        page.get_by_role("button", name="Write the papers").click()
        expect(page.get_by_role("link", name="map.html")).to_be_visible(timeout=300_000)
        assert (folder / "plan" / "plan.json").is_file()
        assert (folder / "plan" / "profiles.pdf").read_bytes()[:5] == b"%PDF-"


def test_lines_follow_a_dragged_point_and_the_drop_is_saved(
    server: Server, site: Path, page: Page
) -> None:
    page.goto(server.address)
    planned(page)
    before = read_site(site).sketch.role("pump")[0].at
    page.evaluate("window.headfall.times.length = 0")
    spot = point(page, "Ram").bounding_box()
    assert spot is not None
    x, y = spot["x"] + spot["width"] / 2, spot["y"] + spot["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    for k in range(600):  # the follower may still be getting ready
        page.mouse.move(x - 2 * (k % 12), y + k % 12)
        page.wait_for_timeout(100)
        if page.evaluate("window.headfall.times.some((one) => one.kind === 'drag')"):
            break
    else:
        pytest.fail("no line followed the point")
    assert read_site(site).sketch.role("pump")[0].at == before  # under way nothing is changed
    page.mouse.up()
    dropped(page)
    saved(page)
    assert read_site(site).sketch.role("pump")[0].at != before


def test_two_tabs_show_one_site(server: Server, page: Page) -> None:
    other = page.context.new_page()
    for one in (page, other):
        one.goto(server.address)
        planned(one)
    point(page, "Cabin").focus()
    page.keyboard.press("Delete")
    expect(point(other, "Cabin")).to_have_count(0, timeout=30_000)
    other.get_by_role("button", name=re.compile("^Undo")).click()
    expect(point(page, "Cabin")).to_have_count(1, timeout=30_000)


def test_killed_and_started_again_nothing_is_lost(site: Path, page: Page) -> None:
    with headfall_open(site.name, folder=site.parent) as server:
        page.goto(server.address)
        planned(page)
        point(page, "Cabin").focus()
        page.keyboard.press("Delete")
        expect(point(page, "Cabin")).to_have_count(0, timeout=30_000)
        os.kill(server.process.pid, signal.SIGKILL)
        server.process.wait(20)
    assert "Cabin" not in {one.name for one in read_site(site).sketch.points}
    with headfall_open(site.name, folder=site.parent) as server:
        page.goto(server.address)
        planned(page)
        expect(point(page, "Cabin")).to_have_count(0)
        page.keyboard.press("Control+z")  # undo goes back behind the kill
        expect(point(page, "Cabin")).to_have_count(1, timeout=30_000)
        saved(page)
    assert "Cabin" in {one.name for one in read_site(site).sketch.points}


def test_a_broken_upload_is_answered_with_a_sentence(server: Server, page: Page) -> None:
    page.goto(server.address)
    planned(page)
    for name, text in (
        ("broken.gpx", "<gpx><wpt lat='1'"),
        ("bomb.kml", "<!DOCTYPE k [<!ENTITY a 'b'>]><kml>&a;</kml>"),
        ("broken.tif", "not a raster"),
        ("broken.geojson", '{"type": "FeatureCollection", "features": [1, 2]}'),
    ):
        drop(page, name, text)
        told = page.get_by_text(re.compile(re.escape(name.split(".", maxsplit=1)[0]))).last
        expect(told).to_be_visible(timeout=60_000)
        expect(page.locator("body")).not_to_contain_text("Traceback")
    assert page.locator(".plan-sheet").get_attribute("data-state") == "plan"


def test_a_dropped_file_of_points_is_on_the_plan(server: Server, page: Page) -> None:
    page.goto(server.address)
    planned(page)
    spot = {"type": "Point", "coordinates": [-3.1985, 45.0119]}
    said = {"name": "Lower trough", "role": "outlet"}
    feature = {"type": "Feature", "properties": said, "geometry": spot}
    drop(page, "more.geojson", json.dumps({"type": "FeatureCollection", "features": [feature]}))
    expect(point(page, "Lower trough")).to_be_visible(timeout=60_000)


def drop(page: Page, name: str, text: str) -> None:
    """Drop a file on the page."""
    page.evaluate(
        """([name, text]) => {
            const data = new DataTransfer();
            data.items.add(new File([text], name));
            const target = document.querySelector(".plan-sheet");
            for (const kind of ["dragenter", "dragover", "drop"])
                target.dispatchEvent(
                    new DragEvent(kind, {dataTransfer: data, bubbles: true, cancelable: true}));
        }""",
        [name, text],
    )


def test_a_second_start_says_that_the_site_is_open(server: Server, site: Path, page: Page) -> None:
    command = [sys.executable, "-c", "from planner.cli import main; main()", "open", str(site)]
    second = subprocess.run(  # noqa: S603
        [*command, "--no-browser"], capture_output=True, text=True, timeout=60, check=False
    )
    assert second.returncode == 2
    assert second.stderr.count("\n") == 1
    assert "open" in second.stderr
    page.goto(server.address)
    planned(page)


def test_the_start_says_go_or_no_go_and_opens_the_demo(tmp_path: Path, page: Page) -> None:
    with headfall_open(folder=tmp_path) as server:
        page.goto(server.address)
        for label, text in (
            ("The source gives", "54 L/min"),
            ("Fall, source to ram", "4.8 m"),
            ("Rise, ram to tank", "32 m"),
            ("Pipe to the tank", "200 m"),
            ("Water needed a day", "3000 L"),
        ):
            page.get_by_label(re.compile(label)).first.fill(text)
            page.keyboard.press("Tab")
        page.get_by_role("button", name="Will it work?").click()
        told = page.locator(".first-look")
        expect(told).to_contain_text(re.compile(r"L/day\s*\("), timeout=120_000)
        assert not list(tmp_path.iterdir())  # nothing is written before something is begun
        page.get_by_role("button", name=re.compile("demo", re.IGNORECASE)).first.click()
        planned(page)
    assert (tmp_path / "headfall-demo" / "site" / "larch-hollow.toml").is_file()
    shutil.rmtree(tmp_path / "headfall-demo")
