"""The section in a browser, and one place marked on it and on the plan."""

import math
from collections.abc import Iterator

import pytest
from playwright.sync_api import Page

from tests.page import small_views
from tests.page.served import heard, opened, served

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with served("tests.page.plan_app") as found:
        yield found


def section_place(page: Page, chainage: float) -> tuple[float, float]:
    """Where a chainage lies on the drawing, px on the screen."""
    x, y = page.locator(".section-sheet svg").evaluate(
        """(svg, chainage) => {
          const seen = svg.getBoundingClientRect(), by = seen.width / svg.viewBox.baseVal.width;
          const { left, along } = svg.dataset;
          return [seen.left + (Number(left) + chainage * Number(along)) * by, seen.top + 120 * by];
        }""",
        chainage,
    )
    return x, y


def marked(page: Page) -> tuple[float, float]:
    """Where the plan's mark stands, px on the screen."""
    box = page.locator("path.here").bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def bend(page: Page) -> tuple[float, float]:
    box = page.locator('[data-point="Bend"]').bounding_box()
    assert box is not None
    return box["x"] + 20, box["y"] + 20


@pytest.mark.parametrize(
    ("width", "page_format"), [(1440, "wide"), (1024, "wide"), (700, "medium"), (390, "narrow")]
)
def test_the_format_that_fits_is_shown(
    page: Page, address: str, width: int, page_format: str
) -> None:
    opened(page, address, width)
    assert page.locator(f".section-sheet svg.{page_format}").count() == 1
    assert page.locator(".section-sheet svg").count() == 1


def test_another_width_shows_another_format(page: Page, address: str) -> None:
    opened(page, address, 1440)
    page.set_viewport_size({"width": 390, "height": 844})
    page.wait_for_selector(".section-sheet svg.narrow")


def test_a_place_pointed_at_is_marked_on_the_plan(page: Page, address: str) -> None:
    opened(page, address)
    chainage = math.hypot(90.0, 10.0)  # of the bend
    page.mouse.move(*section_place(page, chainage))
    page.wait_for_selector("path.here")
    assert marked(page) == pytest.approx(bend(page), abs=2.5)
    assert heard(page, "section mark")[-1]["chainage"] == pytest.approx(chainage, abs=0.5)
    page.mouse.move(5, 5)
    page.wait_for_selector("path.here", state="detached")
    assert page.locator(".cursor").get_attribute("visibility") == "hidden"


def test_a_place_on_the_plan_is_marked_on_the_section(page: Page, address: str) -> None:
    opened(page, address)
    spot = page.locator("path.pipe.delivery").evaluate(
        """(path) => { const p = path.getPointAtLength(path.getTotalLength() * 0.75);
                       const q = p.matrixTransform(path.getScreenCTM()); return [q.x, q.y]; }"""
    )
    page.mouse.move(*spot)
    page.wait_for_selector('.cursor[visibility="visible"]')
    x = float(page.locator(".cursor line").get_attribute("x1") or "nan")
    svg = page.locator(".section-sheet svg")
    left, along = (float(svg.get_attribute(f"data-{key}") or "nan") for key in ("left", "along"))
    total = small_views.delivery()["chainage"][-1]
    assert (x - left) / along == pytest.approx(0.75 * total, rel=0.02)
    dot = float(page.locator(".cursor circle").get_attribute("cy") or "nan")
    assert 60 < dot < 180, "on the pipe's level"


def test_arrow_keys_go_along_the_line(page: Page, address: str) -> None:
    opened(page, address)
    page.locator(".section-sheet").focus()
    for _ in range(5):
        page.keyboard.press("Shift+ArrowRight")
    said = heard(page, "section mark")[-1]
    total = small_views.delivery()["chainage"][-1]
    assert said == {"line": "delivery", "chainage": pytest.approx(total / 2, abs=0.01)}
    assert page.locator("path.here").count() == 1


def test_a_number_on_the_section_is_picked(page: Page, address: str) -> None:
    opened(page, address)
    number = page.locator(".section-sheet g.number rect").bounding_box()
    assert number is not None
    page.mouse.click(number["x"] + 5, number["y"] + 5)
    assert heard(page, "section pick") == [{"kind": "finding", "number": 1}]


def test_a_click_beside_it_picks_the_place(page: Page, address: str) -> None:
    opened(page, address)
    page.mouse.click(*section_place(page, 100.0))
    (picked,) = heard(page, "section pick")
    assert picked["kind"] == "line"
    assert picked["line"] == "delivery"
    assert picked["chainage"] == pytest.approx(100.0, abs=0.5)
