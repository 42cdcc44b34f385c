"""Other routes on the map: thin, dashed, told apart by letter, the same in drawing and table."""

import json
import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from playwright.sync_api import Browser, Page
from shapely.geometry import LineString

from planner.output.look import ROLES
from planner.output.map.make import make_map, write_map
from planner.output.map.routes import choice_rows, route_tables, scene_routes
from planner.terrain.frame import to_local
from tests.example import example_plan
from tests.output.map.test_live import opened
from tests.output.weighed import weighed_plan


def page_of() -> str:
    html: str = make_map(weighed_plan()).get_root().render()
    return html


def test_each_route_has_a_letter_of_its_own_and_its_line_s_colour() -> None:
    routes = scene_routes(weighed_plan())
    assert [route.label for route in routes] == ["De A", "De B", "De C"]
    assert {route.look.colour for route in routes} == {ROLES["delivery"].colour}


def test_a_label_stands_on_its_route_clear_of_the_others() -> None:
    plan = weighed_plan()
    others = plan.line("delivery").alternatives
    assert others is not None
    for route, other in zip(scene_routes(plan), others.found, strict=True):
        place = to_local(plan.terrain, [route.label_at])
        near = LineString([place[0], place[0] + 1e-6])
        assert near.distance(other.line) < 0.01
        clear = min(near.distance(o.line) for o in others.found if o is not other)
        assert clear > 10.0


def test_the_drawing_for_paper_holds_them_dashed_and_lettered() -> None:
    html = page_of()
    drawn = re.findall(
        r'<path class="route" d="M[^"]+" stroke="([^"]+)" [^>]*dasharray="[^"]', html
    )
    assert drawn.count(ROLES["delivery"].colour) >= 3
    for label in ("De A", "De B", "De C"):
        assert re.search(rf'<text class="letters route-letter"[^>]*>{label}</text>', html)


def test_tables_tell_what_each_trades() -> None:
    (table,) = route_tables(weighed_plan())
    assert [row.letter for row in table.rows] == ["", "A", "B", "C"]
    assert [row.cost for row in table.rows] == ["", "\u22129 m", "+4 m", "+31 m"]
    assert table.short == ""


def test_a_plan_without_them_has_neither_table_nor_switch() -> None:
    html: str = make_map(example_plan()).get_root().render()
    assert ">Other routes<" not in html
    assert ">What was chosen" not in html
    assert choice_rows(example_plan()) == ()


def test_names_are_escaped() -> None:
    plan = weighed_plan()
    nasty = "<img src=x onerror=alert(1)>{{7*7}}"
    lines = tuple(replace(line, name=f"{line.name}{nasty}") for line in plan.lines)
    html: str = make_map(replace(plan, lines=lines)).get_root().render()
    assert "<img src=x" not in html
    assert "49" not in re.findall(r"<h3>.*?</h3>", html)[0]


@pytest.mark.browser
def test_only_the_chosen_line_s_routes_show(page: Page, tmp_path: Path) -> None:
    complaints = opened(page, weighed_plan(), tmp_path)
    letters = page.locator(".live-map .route-letter")
    assert letters.all_inner_texts() == ["De A", "De B", "De C"]
    page.locator("button[data-line=drive]").click()
    assert letters.count() == 0
    page.locator("button[data-line=delivery]").click()
    assert letters.count() == 3
    page.locator("input[data-layer=routes]").uncheck()
    assert letters.count() == 0
    assert complaints == []


@pytest.mark.browser
def test_a_row_and_its_route_are_one(page: Page, tmp_path: Path) -> None:
    complaints = opened(page, weighed_plan(), tmp_path)
    page.locator("button[data-line=drive]").click()
    page.locator(".routes tr[data-route=B]").click()
    assert page.locator(".routes tr.chosen").get_attribute("data-route") == "B"
    assert page.locator("button[data-line=delivery]").get_attribute("aria-pressed") == "true"
    widths = page.evaluate(
        """() => [...document.querySelectorAll(".leaflet-routes-pane path")]
          .filter((p) => p.getAttribute("stroke-dasharray"))
          .map((p) => p.getAttribute("stroke-width"))"""
    )
    assert widths == ["2", "4", "2"]
    x, y = page.evaluate(
        """() => {
          const hits = document.querySelectorAll(".leaflet-routes-pane path.leaflet-interactive");
          const p = hits[2].getPointAtLength(hits[2].getTotalLength() / 2);
          const q = new DOMPoint(p.x, p.y).matrixTransform(hits[2].getScreenCTM());
          return [q.x, q.y];
        }"""
    )
    page.mouse.click(x, y)
    assert page.locator(".routes tr.chosen").get_attribute("data-route") == "C"
    assert complaints == []


@pytest.mark.browser
def test_a_choice_shows_its_place(page: Page, tmp_path: Path) -> None:
    opened(page, weighed_plan(), tmp_path)
    item = page.locator(".choices li").nth(1)
    assert "Trench 0.30 m deeper over 12 m" in item.inner_text()
    item.click()
    assert "at 150.0 m" in page.locator("figure.chosen .reading").inner_text()


@pytest.mark.browser
@pytest.mark.parametrize("width", [390, 1440])
def test_without_scripts_table_and_drawing_are_there_within_the_page(
    browser: Browser, tmp_path: Path, width: int
) -> None:
    write_map(weighed_plan(), tmp_path / "map.html")
    context = browser.new_context(
        java_script_enabled=False, viewport={"width": width, "height": 900}
    )
    page = context.new_page()
    page.goto((tmp_path / "map.html").as_uri())
    assert page.locator(".routes tbody tr:visible").count() == 4
    assert page.locator(".choices li:visible").count() == 2
    assert page.locator(".still path.route").count() == 3
    table = page.locator(".routes table").bounding_box()
    assert table is not None
    assert table["x"] + table["width"] <= width
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    context.close()


def test_the_page_knows_the_routes(tmp_path: Path) -> None:
    data = re.search(r'id="plan-data">(.*?)</script>', page_of(), re.DOTALL)
    assert data is not None
    routes = json.loads(data.group(1))["routes"]
    assert [(route["line"], route["letter"]) for route in routes] == [
        ("delivery", letter) for letter in "ABC"
    ]
    assert np.array(routes[0]["path"]).shape == (3, 2)
