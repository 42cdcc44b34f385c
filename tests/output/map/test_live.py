"""The page in a browser: offline, silent, one position on plan and section, still without scripts.

The `page` fixture fails a test whose page asks for anything off this machine.
"""

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page

from planner.output.map.make import write_map
from planner.record.value import Plan
from tests.example import example_plan
from tests.output.map.plans import bare_plan, blocked_plan, crowded_plan, nasty_plan

pytestmark = pytest.mark.browser


def opened(page: Page, plan: Plan, folder: Path) -> list[str]:
    """Open a plan's map; what the console complains of lands in the list."""
    complaints: list[str] = []
    page.on("console", lambda m: complaints.append(m.text) if m.type != "log" else None)
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("dialog", lambda dialog: complaints.append(f"dialog {dialog.message}"))
    write_map(plan, folder / "map.html")
    page.set_viewport_size({"width": 1440, "height": 900})
    page.goto((folder / "map.html").as_uri())
    page.set_default_timeout(5000)
    page.wait_for_selector(".mark .glyph")
    return complaints


def on_line(page: Page, name: str, share: float) -> tuple[float, float]:
    """Client x, y of a place on a line of the map, by its share of the line."""
    x, y = page.evaluate(
        """([name, share]) => {
          const hits = [...document.querySelectorAll("path.leaflet-interactive")];
          const lines = JSON.parse(document.getElementById("plan-data").textContent).lines;
          const path = hits[lines.findIndex((line) => line.name === name)];
          const p = path.getPointAtLength(path.getTotalLength() * share);
          const q = new DOMPoint(p.x, p.y).matrixTransform(path.getScreenCTM());
          return [q.x, q.y];
        }""",
        [name, share],
    )
    return x, y


def shown_section(page: Page) -> Locator:
    return page.locator(".sections figure.chosen svg.section:visible")


@pytest.mark.parametrize("make", [example_plan, blocked_plan, bare_plan, crowded_plan, nasty_plan])
def test_opens_without_a_complaint(make: Callable[[], Plan], page: Page, tmp_path: Path) -> None:
    page.add_init_script("window.alert = (m) => console.error('alert ' + m)")
    if make in {bare_plan, blocked_plan}:
        write_map(make(), tmp_path / "map.html")
        complaints: list[str] = []
        page.on("console", lambda m: complaints.append(m.text))
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.goto((tmp_path / "map.html").as_uri())
        page.wait_for_selector(".leaflet-image-layer")
    else:
        complaints = opened(page, make(), tmp_path)
    page.wait_for_timeout(200)
    assert complaints == []
    assert page.locator("img[src=x]").count() == 0


def test_names_on_the_plan_are_the_names_given(page: Page, tmp_path: Path) -> None:
    plan = nasty_plan()
    assert opened(page, plan, tmp_path) == []
    titles = page.locator(".mark .glyph title").evaluate_all("all => all.map(t => t.textContent)")
    assert [title.split(" ", 1)[1] for title in titles] == [point.name for point in plan.points]
    page.click("button.choice >> nth=3")
    assert page.locator("figure.chosen").get_attribute("data-line") == plan.lines[3].name


def test_a_click_on_a_line_shows_its_section(page: Page, tmp_path: Path) -> None:
    assert opened(page, example_plan(), tmp_path) == []
    assert page.locator(".sections figure:visible").count() == 1
    page.mouse.click(*on_line(page, "distribution-trough", 0.5))
    assert page.locator("figure.chosen").get_attribute("data-line") == "distribution-trough"
    assert page.locator("button[aria-pressed=true]").inner_text().endswith("distribution-trough")
    assert shown_section(page).count() == 1


def test_the_pointer_along_the_section_marks_the_map(page: Page, tmp_path: Path) -> None:
    opened(page, example_plan(), tmp_path)
    box = page.locator("figure.chosen .catch:visible").bounding_box()
    assert box is not None
    for share in (0.25, 0.75):
        page.mouse.move(box["x"] + share * box["width"], box["y"] + box["height"] / 2)
        mark = page.locator("path.here").bounding_box()
        assert mark is not None
        x, y = on_line(page, "delivery", share)
        assert mark["x"] + mark["width"] / 2 == pytest.approx(x, abs=4)
        assert mark["y"] + mark["height"] / 2 == pytest.approx(y, abs=4)
        assert "pipe" in page.locator("figure.chosen .reading").inner_text()


def test_the_pointer_along_the_line_marks_the_section(page: Page, tmp_path: Path) -> None:
    opened(page, example_plan(), tmp_path)
    page.mouse.move(*on_line(page, "delivery", 0.4))
    page.mouse.move(*on_line(page, "delivery", 0.3))
    box = page.locator("figure.chosen .catch:visible").bounding_box()
    cursor = shown_section(page).locator(".cursor line").bounding_box()
    assert box is not None
    assert cursor is not None
    assert (cursor["x"] - box["x"]) / box["width"] == pytest.approx(0.3, abs=0.02)


def test_the_pointer_reads_place_and_ground(page: Page, tmp_path: Path) -> None:
    plan = example_plan()
    opened(page, plan, tmp_path)
    tank = plan.point("tank")
    box = page.locator(".mark:has(.name:text-is('tank'))").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 20, box["y"] + 20)
    latitude, longitude = page.locator(".where").inner_text().split(", ")
    assert float(latitude) == pytest.approx(tank.lonlat[1], abs=2e-5)
    assert float(longitude) == pytest.approx(tank.lonlat[0], abs=2e-5)
    words = page.locator(".live-map .level").inner_text().split()
    assert float(words[1]) == pytest.approx(tank.ground, abs=0.5)


def test_a_legend_tick_hides_its_layer(page: Page, tmp_path: Path) -> None:
    opened(page, example_plan(), tmp_path)
    assert page.locator(".mark .glyph").count() == 5
    page.uncheck("input[data-layer=points]")
    assert page.locator(".mark .glyph").count() == 0
    page.check("input[data-layer=points]")
    assert page.locator(".mark .glyph").count() == 5


def test_a_finding_leads_to_its_place_and_back(page: Page, tmp_path: Path) -> None:
    opened(page, example_plan(), tmp_path)
    page.click("button[data-line=supply]")
    page.click(".mark b[data-finding='1']")
    assert page.locator("li.chosen").get_attribute("data-finding") == "1"
    assert page.locator("figure.chosen").get_attribute("data-line") == "delivery"


def test_a_touch_target_is_forty_pixels(page: Page, tmp_path: Path) -> None:
    opened(page, example_plan(), tmp_path)
    box = page.locator(".mark:has(.name:text-is('ram'))").bounding_box()
    assert box is not None
    assert (box["width"], box["height"]) == (40, 40)


def test_a_phone_shows_figures_plan_and_section_in_this_order(page: Page, tmp_path: Path) -> None:
    opened(page, example_plan(), tmp_path)
    page.set_viewport_size({"width": 390, "height": 844})
    tops = []
    for part in (".figures", ".plan", ".sections", ".findings", ".legend"):
        box = page.locator(part).bounding_box()
        assert box is not None
        tops.append(box["y"])
        assert box["x"] + box["width"] <= 390
    assert tops == sorted(tops)
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_names_do_not_cover_each_other_on_a_phone(page: Page, tmp_path: Path) -> None:
    opened(page, example_plan(), tmp_path)
    page.set_viewport_size({"width": 390, "height": 844})
    page.wait_for_timeout(200)
    names = page.locator(".mark .name")
    boxes = [names.nth(k).bounding_box() for k in range(names.count())]
    assert len(boxes) == 5
    for place, a in enumerate(boxes):
        for b in boxes[:place]:
            assert a is not None
            assert b is not None
            beside = a["x"] >= b["x"] + b["width"] or b["x"] >= a["x"] + a["width"]
            above = a["y"] >= b["y"] + b["height"] or b["y"] >= a["y"] + a["height"]
            assert beside or above


def test_scripts_off_the_plan_the_sections_and_the_points_show(
    browser: Browser, tmp_path: Path
) -> None:
    write_map(example_plan(), tmp_path / "map.html")
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((tmp_path / "map.html").as_uri())
    assert page.locator(".still svg.drawing").is_visible()
    assert not page.locator(".folium-map").is_visible()
    assert page.locator("svg.section:visible").count() == 4
    assert page.locator(".tables table").first.is_visible()
    assert page.locator(".tables").inner_text().count("trough") >= 2
    assert not page.locator("button:visible").count()
    context.close()


def test_paper_carries_the_drawing_and_all_sections(page: Page, tmp_path: Path) -> None:
    opened(page, example_plan(), tmp_path)
    page.emulate_media(media="print")
    assert page.locator(".still svg.drawing").is_visible()
    assert not page.locator(".folium-map").is_visible()
    assert page.locator("svg.section.middle:visible").count() == 4
    assert page.locator("svg.section:visible").count() == 4
