"""The plan in a browser: drawn, dragged, sketched on, with mouse, keys and fingers.

The `page` fixture fails a test whose page asks for anything off this machine.
"""

from collections.abc import Iterator
from itertools import pairwise

import pytest
from playwright.sync_api import Browser, Page

from tests.page import small_views
from tests.page.served import heard, opened, served

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with served("tests.page.plan_app") as found:
        yield found


def middle(page: Page, name: str) -> tuple[float, float]:
    """Where a point stands on the screen, px."""
    box = page.locator(f'[data-point="{name}"]').bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def on_screen(page: Page, x: float, y: float) -> tuple[float, float]:
    """Where x, y [m] lie on the screen, told by two points that are far apart."""
    (u, v), (p, q) = middle(page, "Ram"), middle(page, "Tank")
    (a, b), (c, d) = small_views.WAYS["Ram"], small_views.WAYS["Tank"]
    return u + (x - a) * (p - u) / (c - a), v + (y - b) * (q - v) / (d - b)


def px_per_metre(page: Page) -> float:
    return on_screen(page, 1100.0, 2060.0)[0] / 100 - on_screen(page, 1000.0, 2060.0)[0] / 100


def drag(page: Page, start: tuple[float, float], by: tuple[float, float], steps: int = 12) -> None:
    page.mouse.move(*start)
    page.mouse.down()
    for k in range(1, steps + 1):
        page.mouse.move(start[0] + by[0] * k / steps, start[1] + by[1] * k / steps)
        page.wait_for_timeout(20)
    page.mouse.up()


def press(page: Page, name: str) -> None:
    """Press a button of the test page, without scrolling to it."""
    page.get_by_role("button", name=name).dispatch_event("click")


@pytest.mark.parametrize("query", ["", "?dark=true"])
@pytest.mark.parametrize("size", [(1440, 900), (1024, 768), (390, 844)])
def test_opens_without_a_complaint(
    page: Page, address: str, query: str, size: tuple[int, int]
) -> None:
    complaints = opened(page, address + query, *size)
    assert page.locator(".mark .glyph").count() == 5
    assert page.locator(".plan-sheet path.pipe").count() == 3
    assert page.locator("path.core").count() == 1, "the drive has a double edge"
    assert page.locator("b.number.stop").inner_text() == "1"
    assert page.locator(".rise.high").text_content() == "1.20 m"  # left out where it would cover
    assert page.locator(".arrow").count() > 2
    assert page.locator("img.shade").evaluate("(img) => img.naturalWidth") == 30
    assert complaints == []


def test_the_whole_plan_is_in_view_at_first(page: Page, address: str) -> None:
    opened(page, address, 390, 844)
    for name in ("Spring", "Ram", "Tank"):
        x, y = middle(page, name)
        assert 20 < x < 370
        assert 20 < y < 0.6 * 844 - 20


def test_the_view_can_not_leave_the_ground(page: Page, address: str) -> None:
    complaints = opened(page, address)
    for _ in range(3):
        page.mouse.move(1300, 510)  # an empty place
        page.mouse.down()
        page.mouse.move(300, 60, steps=5)
        page.mouse.up()
        page.wait_for_timeout(500)
    x, y = on_screen(page, small_views.EAST, small_views.SOUTH)
    assert (x, y) == pytest.approx((720, 270), abs=25), "the corner at the middle, no further"
    assert complaints == []


def test_with_less_room_the_whole_plan_stays_in_view(page: Page, address: str) -> None:
    opened(page, address)
    page.mouse.click(700, 500)  # a hand was on it: not fitted anew for nothing
    page.set_viewport_size({"width": 1440, "height": 420})
    page.wait_for_timeout(400)
    for name in ("Spring", "Ram", "Tank"):
        assert 0 < middle(page, name)[1] < 0.6 * 420


def test_pressing_north_brings_the_whole_plan_back(page: Page, address: str) -> None:
    opened(page, address)
    before = middle(page, "Tank")
    page.mouse.move(700, 300)
    page.mouse.wheel(0, -600)
    page.wait_for_timeout(500)
    assert middle(page, "Tank") != pytest.approx(before, abs=20)
    page.get_by_role("button", name="whole plan").click()
    page.wait_for_timeout(300)
    assert middle(page, "Tank") == pytest.approx(before, abs=1)


def test_light_and_dark_differ_in_ink_and_paper(page: Page, address: str) -> None:
    ink = "getComputedStyle(document.querySelector('path.pipe.delivery')).stroke"
    opened(page, address)
    assert page.evaluate(ink) == "rgb(23, 64, 139)"
    opened(page, address + "?dark=true")
    assert page.evaluate(ink) == "rgb(143, 180, 255)"


def test_tells_the_ground_under_the_pointer(page: Page, address: str) -> None:
    opened(page, address)
    page.mouse.move(*on_screen(page, 1100.0, 2120.0))
    said = page.locator("output.level").inner_text()
    assert float(said.split()[1]) == pytest.approx(small_views.level(1100.0, 2120.0), abs=0.35)
    page.mouse.move(*on_screen(page, 1001.0, 2199.0))  # beside a node without data
    page.wait_for_timeout(50)
    assert page.locator("output.level").inner_text() == ""


def test_a_dragged_point_tells_where_it_goes_and_its_line_follows(page: Page, address: str) -> None:
    opened(page, address)
    scale, start = px_per_metre(page), middle(page, "Ram")
    drag(page, start, (90.0, -60.0))
    (dropped,) = heard(page, "plan drop")
    assert dropped["name"] == "Ram"
    assert dropped["x"] == pytest.approx(1060.0 + 90 / scale, abs=1.5 / scale)
    assert dropped["y"] == pytest.approx(2060.0 + 60 / scale, abs=1.5 / scale)
    assert heard(page, "plan touch")[0] == {"name": "Ram"}
    begins = page.locator("path.pipe.delivery").evaluate(
        """(path) => { const p = path.getPointAtLength(0).matrixTransform(path.getScreenCTM());
                       return [p.x, p.y]; }"""
    )
    assert begins == pytest.approx([start[0] + 90, start[1] - 60], abs=3)
    assert "gone" in (page.locator("path.pipe.drive").get_attribute("class") or "")
    assert page.locator("b.number.stop.stale").count() == 1


def test_one_drag_at_a_time_and_the_newest_next(page: Page, address: str) -> None:
    opened(page, address + "?slow=true")
    x, y = middle(page, "Ram")
    drag(page, (x, y), (100.0, 0.0), steps=50)  # a second and more
    page.wait_for_timeout(400)
    assert middle(page, "Ram") == pytest.approx((x + 100, y), abs=1), "a late answer moves nothing"
    drags, (dropped,) = heard(page, "plan drag"), heard(page, "plan drop")
    assert len(drags) >= 3
    assert len(drags) < 25, "fewer than there were moves"
    places = [said["x"] for said in drags]
    assert places == sorted(places)
    assert places[-1] <= dropped["x"]
    times = page.evaluate("window.headfall.times.filter((t) => t.kind === 'drag')")
    assert len(times) >= len(drags) - 1
    for time in times:
        assert time["name"] == "Ram"
        assert time["begun"] <= time["sent"] <= time["answered"] <= time["drawn"]
        assert time["answered"] - time["sent"] >= 240, "an answer takes a quarter of a second"
    sent = [time["sent"] for time in times]
    assert all(b - a >= 240 for a, b in pairwise(sent)), "the next waited for it"


def test_the_plan_after_a_drop_is_timed(page: Page, address: str) -> None:
    opened(page, address)
    drag(page, middle(page, "Ram"), (30.0, 0.0))
    press(page, "newer")
    page.wait_for_function("window.headfall.times.some((t) => t.kind === 'drop')")
    (time,) = page.evaluate("window.headfall.times.filter((t) => t.kind === 'drop')")
    assert time["state"] == "plan"
    assert time["drawn"] > time["begun"]


def test_what_was_refused_is_drawn_back(page: Page, address: str) -> None:
    opened(page, address)
    start = middle(page, "Ram")
    drag(page, start, (80.0, 0.0))
    heard(page, "plan drop")
    press(page, "again")
    page.wait_for_timeout(200)
    assert middle(page, "Ram") == pytest.approx(start, abs=0.6)


def test_a_point_found_by_the_program_is_set_where_it_is_dropped(page: Page, address: str) -> None:
    opened(page, address)
    drag(page, middle(page, "Box"), (40.0, 30.0))
    (placed,) = heard(page, "plan place")
    assert placed["role"] == "chamber"
    assert placed["x"] > 1045.0


def test_arrow_keys_move_a_point_and_delete_takes_it_away(page: Page, address: str) -> None:
    opened(page, address)
    scale = px_per_metre(page)
    page.locator('[data-point="Tank"]').focus()
    page.keyboard.press("Shift+ArrowLeft")
    page.keyboard.press("ArrowUp")
    (dropped,) = heard(page, "plan drop")
    assert dropped["x"] == pytest.approx(1240.0 - 40 / scale, abs=0.1)
    assert dropped["y"] == pytest.approx(2150.0 + 4 / scale, abs=0.1)
    page.keyboard.press("Enter")
    assert heard(page, "plan pick") == [{"kind": "point", "name": "Tank"}]
    page.keyboard.press("Delete")
    assert heard(page, "plan remove") == [{"kind": "point", "name": "Tank"}]


def test_escape_puts_a_point_back_that_keys_moved(page: Page, address: str) -> None:
    opened(page, address)
    page.locator('[data-point="Tank"]').focus()
    page.keyboard.press("Shift+ArrowLeft")
    page.keyboard.press("Escape")
    (dropped,) = heard(page, "plan drop")
    assert (dropped["x"], dropped["y"]) == small_views.WAYS["Tank"]


def test_every_point_has_a_label_and_a_target_for_a_finger(page: Page, address: str) -> None:
    opened(page, address)
    for point in small_views.plan()["points"]:
        found = page.locator(f'[data-point="{point["name"]}"]')
        assert (found.get_attribute("aria-label") or "").startswith(
            f"{point['word']} {point['name']}, {point['level']}"
        )
        box = found.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 40


def test_a_finger_drags_a_point_on_a_phone(browser: Browser, address: str) -> None:
    context = browser.new_context(has_touch=True, is_mobile=True)
    page = context.new_page()
    opened(page, address, 390, 844)
    x, y = middle(page, "Ram")
    scale = px_per_metre(page)
    hand = context.new_cdp_session(page)
    hand.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for k in range(1, 11):
        spot = {"x": x + 6 * k, "y": y - 4 * k}
        hand.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [spot]})
        page.wait_for_timeout(20)
    hand.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    (dropped,) = heard(page, "plan drop")
    assert dropped["x"] == pytest.approx(1060.0 + 60 / scale, abs=2 / scale)
    assert page.evaluate("scrollY") == 0
    context.close()


def test_a_click_places_a_point(page: Page, address: str) -> None:
    opened(page, address + "?tool=place&role=outlet")
    page.mouse.click(*on_screen(page, 1100.0, 2150.0))
    (placed,) = heard(page, "plan place")
    assert placed["role"] == "outlet"
    assert (placed["x"], placed["y"]) == pytest.approx((1100.0, 2150.0), abs=0.5)


def test_enter_places_a_point_at_the_middle_of_the_view(page: Page, address: str) -> None:
    opened(page, address + "?tool=place&role=tank")
    page.locator(".plan-sheet").focus()
    page.keyboard.press("Enter")
    (placed,) = heard(page, "plan place")
    x, y = on_screen(page, placed["x"], placed["y"])
    assert (x, y) == pytest.approx((720, 270), abs=2)
    page.keyboard.press("Escape")
    assert heard(page, "plan stopped") == [{"tool": "place"}]


@pytest.mark.parametrize(("x", "y", "before"), [(1100.0, 2064.4, "Bend"), (1195.0, 2110.0, None)])
def test_a_peg_knows_its_line_and_what_comes_next(
    page: Page, address: str, x: float, y: float, before: str | None
) -> None:
    opened(page, address + "?tool=peg")
    page.mouse.click(*on_screen(page, x, y))
    (peg,) = heard(page, "plan peg")
    assert (peg["line"], peg["role"], peg["before"]) == ("delivery", "delivery", before)
    assert (peg["x"], peg["y"]) == pytest.approx((x, y), abs=0.6)


def test_a_peg_far_from_every_line_is_none(page: Page, address: str) -> None:
    opened(page, address + "?tool=peg")
    page.mouse.click(*on_screen(page, 1100.0, 2180.0))
    page.wait_for_timeout(200)
    assert page.evaluate("(window.heard ?? []).filter((h) => h[0] === 'plan peg')") == []


def test_a_ring_is_drawn_corner_by_corner(page: Page, address: str) -> None:
    opened(page, address + "?tool=area&role=avoid")
    corners = [(1090.0, 2120.0), (1150.0, 2125.0), (1150.0, 2160.0)]
    for corner in corners:
        page.mouse.click(*on_screen(page, *corner))
        page.wait_for_timeout(350)  # no double click
    page.mouse.click(*on_screen(page, *corners[0]))  # the first again closes it
    (ring,) = heard(page, "plan ring")
    assert ring["role"] == "avoid"
    assert [tuple(at) for at in ring["points"]] == [
        pytest.approx(corner, abs=0.5) for corner in corners
    ]


def test_corners_of_an_area_can_be_moved_and_added(page: Page, address: str) -> None:
    opened(page, address)
    page.locator(".area-name", has_text="Bog").click()
    assert heard(page, "plan pick")[0] == {"kind": "area", "index": 0}
    page.wait_for_selector(".corner")
    drag(page, on_screen(page, 1215.0, 2045.0), (30.0, 20.0))
    first = heard(page, "plan reshape")[0]
    assert first["index"] == 0
    scale = px_per_metre(page)
    moved = (1215.0 + 30 / scale, 2045.0 - 20 / scale)
    assert tuple(first["points"][1]) == pytest.approx(moved, abs=2 / scale)
    assert first["points"][0] == [1185.0, 2045.0]
    page.locator(".mark:has(> .between)").nth(2).focus()
    page.keyboard.press("Enter")
    assert len(heard(page, "plan reshape", 2)[1]["points"]) == 5
    page.locator(".mark:has(> .corner:not(.between))").nth(3).focus()
    page.keyboard.press("Delete")
    assert len(heard(page, "plan reshape", 3)[2]["points"]) == 4


def test_measuring_goes_from_click_to_point_and_shows_words_as_text(
    page: Page, address: str
) -> None:
    opened(page, address + "?tool=measure")
    page.mouse.click(*on_screen(page, 1120.0, 2150.0))
    page.wait_for_timeout(350)
    page.mouse.click(*(c + 5 for c in middle(page, "Ram")))  # beside its middle: taken as the point
    (measured,) = heard(page, "plan measure")
    assert measured["a"] == pytest.approx([1120.0, 2150.0], abs=0.5)
    assert measured["b"] == list(small_views.WAYS["Ram"])
    assert page.locator(".measured").inner_text() == "91.0 m <b>apart</b>\nfalls 4.5 m"


def test_names_are_shown_as_typed_and_do_nothing(page: Page, address: str) -> None:
    complaints = opened(page, address)
    press(page, "hostile")
    page.wait_for_function("document.querySelectorAll('.mark .name').length === 5")
    page.wait_for_timeout(300)
    names = page.locator(".mark .name").all_inner_texts()
    assert any(name.startswith("<img src=x") for name in names)
    assert page.locator(".plan-sheet img").count() == 1, "the hillshade alone"
    assert complaints == []


def test_numbers_of_findings_are_picked(page: Page, address: str) -> None:
    opened(page, address)
    page.locator("b.number.warn").click()
    assert heard(page, "plan pick") == [{"kind": "finding", "number": 2}]


def test_a_finding_chosen_elsewhere_is_marked_here(page: Page, address: str) -> None:
    opened(page, address)
    press(page, "finding")
    page.wait_for_selector("b.number.stop.chosen")
    assert page.locator("path.here").count() == 1


def test_a_kept_plan_is_pale_under_this_one(page: Page, address: str) -> None:
    opened(page, address)
    press(page, "kept")
    page.wait_for_selector("path.kept.delivery")
    opacity = page.locator("path.kept.delivery").evaluate(
        "(p) => getComputedStyle(p).strokeOpacity"
    )
    assert float(opacity) < 0.5
    assert page.locator("path.kept").count() == 1, "where both run alike, one is drawn"


def test_a_file_dropped_on_the_plan_is_no_point_dropped(page: Page, address: str) -> None:
    opened(page, address)
    page.locator(".plan-sheet").evaluate(
        "(e) => e.dispatchEvent(new DragEvent('drop', {bubbles: true}))"
    )
    page.wait_for_timeout(200)
    assert page.evaluate("window.heard ?? []") == []
