"""How fast the page answers, measured in a real browser on 2 km x 2 km of ground at 1 m.

    python -m tests.benchmarks.page_in_browser [FOLDER]

The ground is real ground of 0.8 million cells mirrored to 4 million. Points are dragged with the
mouse; the page itself notes when a place was asked about, answered and painted. Each kind is told
apart, with what the time went into:

- *end*: the ram, the fixed other end of whose delivery line roots the field;
- *root*: the tank, where the line's field is rooted: the quick answer, and the plan after the drop;
- *far*: both again with a tank some 900 m away.
"""

import json
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from shutil import which
from typing import Any

import numpy as np
import rasterio
from playwright.sync_api import Page, sync_playwright
from pyproj import Transformer

from tests.browsing import BROWSER_ARGS, BROWSER_NAMES
from tests.conftest import SHARED_DATA
from tests.page.real import drag, headfall_open, planned, point

SIDE = 2000  # cells
MOVES, DROPS = 40, 12
STEP = 7  # px between two places of a drag
SETTLED = 1500  # ms of quiet after a drop, so that each is measured alone
LIMITS = {"drag": (150.0, 400.0), "preview": (400.0, 400.0), "plan": (2000.0, 2000.0)}  # ms

SITE = """title = "Speed"

[elevation]
files = ["dem.tif"]
kind = "lidar"

[sketch]
file = "sketch.geojson"

[source]
flow = "60 L/min"
season = "dry"

[need]
per_day = "1000 L"
"""
POINTS = {  # x, y from the north-west corner of the ground [m], east and south
    "source": (414.5, 543.5),
    "pump": (406.5, 576.5),
    "tank": (471.0, 753.0),
    "outlet": (433.0, 687.0),
}
FAR = {"tank": (643.0, 1384.0), "outlet": (490.0, 1119.0)}


def mirrored(source: Path, target: Path) -> tuple[float, float, str]:
    """Write ground mirrored to `SIDE` x `SIDE`; its north-west corner and coordinate system."""
    with rasterio.open(source) as data:
        z, place, crs = data.read(1), data.transform, data.crs
    block = np.block([[z, z[:, ::-1]], [z[::-1], z[::-1, ::-1]]])
    times = [-(-SIDE // side) for side in block.shape]
    whole = np.tile(block, times)[:SIDE, :SIDE].astype(np.float32)
    profile = {"driver": "GTiff", "count": 1, "dtype": "float32", "crs": crs, "transform": place}
    with rasterio.open(target, "w", height=SIDE, width=SIDE, compress="deflate", **profile) as out:
        out.write(whole, 1)
    return float(place.c), float(place.f), str(crs)


def make_site(folder: Path, points: dict[str, tuple[float, float]]) -> Path:
    """A site file on the mirrored ground."""
    west, north, crs = mirrored(
        SHARED_DATA / "gabilan_1m" / "gabilan_utm10.tif", folder / "dem.tif"
    )
    degrees = Transformer.from_crs(crs, "EPSG:4326", always_xy=True)
    features = [
        {
            "type": "Feature",
            "properties": {"name": role, "role": role},
            "geometry": {
                "type": "Point",
                "coordinates": degrees.transform(west + east, north - south),
            },
        }
        for role, (east, south) in points.items()
    ]
    text = json.dumps({"type": "FeatureCollection", "features": features})
    (folder / "sketch.geojson").write_text(text, encoding="utf-8")
    site = folder / "site.toml"
    site.write_text(SITE, encoding="utf-8")
    return site


def settled(page: Page) -> None:
    """Wait until the plan as it stands is drawn and nothing is under way."""
    planned(page)
    page.wait_for_timeout(SETTLED)


def times(page: Page) -> list[dict[str, Any]]:
    """Take what the page noted so far."""
    noted: list[dict[str, Any]] = page.evaluate("window.headfall.times.splice(0)")
    return noted


def circle(page: Page, name: str, moves: int) -> None:
    """Drag a point round in a widening curve, a step every 60 ms, and drop it."""
    box = point(page, name).bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.wait_for_timeout(400)  # a hand takes as long from reaching the point to moving it
    page.mouse.down()
    for k in range(1, moves + 1):
        angle, away = 2.0 * np.pi * k / moves, STEP * k**0.5
        page.mouse.move(x + away * np.cos(angle), y + away * np.sin(angle))
        page.wait_for_timeout(60)
    page.mouse.up()


def jump(page: Page, name: str, turn: float) -> None:
    """Take a point a little way at once and drop it there, as a finger does."""
    box = point(page, name).bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    drag(page, name, (x + 2 * STEP * np.cos(turn), y + 2 * STEP * np.sin(turn)), steps=2)


def told(name: str, spans: list[float], limit: tuple[float, float]) -> str:
    """A row of figures."""
    if not spans:
        return f"{name:34s} none"
    middle, late = float(np.median(spans)), float(np.percentile(spans, 95))
    kept = "met" if middle <= limit[0] and late <= limit[1] else "MISSED"
    return f"{name:34s} n {len(spans):3d}  median {middle:5.0f} ms  95 % {late:5.0f} ms  {kept}"


def rows(page: Page, kind: str, name: str) -> Iterator[str]:
    """Drag one point for a long while, then drop it again and again."""
    settled(page)
    times(page)
    circle(page, name, MOVES)
    settled(page)
    noted = times(page)
    spans = [one["drawn"] - one["begun"] for one in noted if one["kind"] == "drag"]
    asked = [one["answered"] - one["sent"] for one in noted if one["kind"] == "drag"]
    yield told(f"{kind}: drag to drawn", spans, LIMITS["drag"])
    yield told("   of which asked and answered", asked, LIMITS["drag"])
    drops: list[dict[str, Any]] = []
    for k in range(DROPS):
        jump(page, name, k)
        settled(page)
        drops += times(page)
    previews = [one["drawn"] - one["begun"] for one in drops if one["kind"] == "preview"]
    yield told(f"{kind}: drop to preview", previews, LIMITS["preview"])
    plans: dict[float, float] = {}
    for one in drops:
        if one["kind"] == "drop" and one["state"] == "plan":
            plans.setdefault(one["begun"], one["drawn"] - one["begun"])
    yield told(f"{kind}: drop to exact plan", list(plans.values()), LIMITS["plan"])


def main(folder: Path) -> None:
    """Print all figures."""
    found = next(filter(None, map(which, BROWSER_NAMES)))
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=found, args=list(BROWSER_ARGS))
        for words, points in (("near", POINTS), ("far", POINTS | FAR)):
            here = folder / words
            here.mkdir(parents=True, exist_ok=True)
            with headfall_open(str(make_site(here, points)), folder=here) as server:
                page = browser.new_page(viewport={"width": 1440, "height": 900})
                page.set_default_timeout(300_000)
                page.goto(server.address)
                for kind, name in (("end", "pump"), ("root", "tank")):
                    for row in rows(page, f"{words}, {kind}", name):
                        print(row, flush=True)  # noqa: T201
                page.close()
        browser.close()


if __name__ == "__main__":
    if len(sys.argv) > 1:
        main(Path(sys.argv[1]))
    else:
        with tempfile.TemporaryDirectory() as passing:
            main(Path(passing))
