"""The screen in a browser: what is done on it reaches the hub, what the hub tells is read on it."""

from collections.abc import Iterator
from urllib.parse import quote

import pytest
from playwright.sync_api import Page, expect

from tests.page.served import served
from tests.page.small_views import HOSTILE

pytestmark = [pytest.mark.browser, pytest.mark.slow]
SIZES = ((1440, 900), (1024, 768), (390, 844))


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with served("tests.page.screen_app") as there:
        yield there


def opened(page: Page, address: str, kind: str = "plan", size: tuple[int, int] = SIZES[0]) -> Page:
    page.set_default_timeout(8000)
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.on("dialog", lambda _: pytest.fail("a script of a user's text ran"))
    page.goto(f"{address}?kind={kind}")
    page.wait_for_function("window.did_handshake")
    if kind != "start":
        page.wait_for_selector(".mark .glyph")
    return page


def asked(page: Page, address: str) -> list[str]:
    told: list[str] = page.request.get(f"{address}asked").json()
    return told


def until(page: Page, address: str, beginning: str) -> str:
    """The first question that begins so, once it is asked."""
    for _ in range(60):
        found = next((one for one in asked(page, address) if one.startswith(beginning)), None)
        if found is not None:
            return found
        page.wait_for_timeout(50)
    pytest.fail(f"never asked: {beginning}; but {asked(page, address)}")


def press(page: Page, words: str) -> None:
    page.get_by_role("button", name=words, exact=True).first.click()


@pytest.mark.parametrize("size", SIZES)
def test_nothing_sticks_out_and_nothing_is_cut(
    page: Page, address: str, size: tuple[int, int]
) -> None:
    opened(page, address, size=size)
    page.wait_for_selector(".section-sheet svg")
    assert page.evaluate("document.documentElement.scrollWidth") <= size[0]
    cut = page.evaluate(
        "[...document.querySelectorAll('.acts .word, .figures dd, .headline strong, .do')]"
        ".filter(e => e.offsetParent && (e.scrollWidth > e.clientWidth + 1"
        " || e.getBoundingClientRect().right > innerWidth)).map(e => e.textContent)"
    )
    assert cut == []


def test_on_a_phone_the_tools_stand_at_the_thumb_and_are_large_enough(
    page: Page, address: str
) -> None:
    width, height = SIZES[2]
    opened(page, address, size=(width, height))
    bar = page.locator(".thumb").bounding_box()
    assert bar is not None
    assert bar["y"] + bar["height"] == height
    assert bar["y"] > height * 0.8
    for tool in page.locator(".tool").all():
        box = tool.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 40
    figures, plan = (page.locator(one).bounding_box() for one in (".answer", ".plan"))
    assert figures is not None
    assert plan is not None
    assert figures["y"] < plan["y"] < height


def test_a_tool_places_a_point_and_is_put_down(page: Page, address: str) -> None:
    opened(page, address)
    press(page, "Tank")
    expect(page.locator(".tool.tank")).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_role("status").first).to_contain_text("Click where the tank stands")
    page.locator(".plan-sheet").click(position={"x": 200, "y": 80})
    told = until(page, address, "('place'")
    assert "'tank'" in told
    expect(page.locator(".tool.tank")).to_have_attribute("aria-pressed", "false")


def test_escape_puts_a_tool_down_and_closes_a_leaf(page: Page, address: str) -> None:
    opened(page, address)
    press(page, "Measure")
    page.keyboard.press("Escape")
    expect(page.locator(".tool.measure")).to_have_attribute("aria-pressed", "false")
    press(page, "Test Hollow: site, units and need")
    expect(page.get_by_label("Title")).to_be_visible()
    page.locator("h2:focus").wait_for()
    page.keyboard.press("Escape")
    expect(page.get_by_label("Title")).to_be_hidden()


def test_keys_undo_and_redo_but_not_while_a_word_is_typed(page: Page, address: str) -> None:
    opened(page, address)
    press(page, "Test Hollow: site, units and need")
    page.get_by_label("Title").fill("Test Hollow East")
    page.keyboard.press("Control+z")
    assert "('undo',)" not in asked(page, address)
    page.get_by_label("Title").press("Escape")
    page.locator("body").press("Control+z")
    until(page, address, "('undo'")
    page.locator("body").press("Control+Shift+z")
    until(page, address, "('redo'")


def test_a_field_hands_over_on_enter_and_says_what_is_wrong(page: Page, address: str) -> None:
    opened(page, address)
    page.get_by_label("Source Spring").click()
    flow = page.get_by_label("Flow, as measured")
    expect(flow).to_have_value("54 L/min")
    flow.fill("60 L/min")
    flow.press("Enter")
    told = until(page, address, "('do', SetValue")
    assert "('source', 'flow')" in told
    assert "60 L/min" in told
    page.request.get(f"{address}refuse?words={quote('flow: 60 has no unit')}")
    flow.fill("60")
    flow.press("Enter")
    expect(page.get_by_role("alert")).to_have_text("flow: 60 has no unit")
    expect(flow).to_have_value("60")


def test_a_remedy_is_a_button_and_a_finding_leads_to_its_place(page: Page, address: str) -> None:
    opened(page, address)
    press(page, "Fit a vent here")
    until(page, address, "('remedy', 1, 0)")
    expect(page.locator("h2:focus")).to_contain_text("Findings")
    page.locator(".finding[data-finding='1'] .told").click()
    expect(page.locator(".finding[data-finding='1']")).to_contain_class("chosen")
    expect(page.locator(".switch [aria-pressed='true']")).to_contain_text("Delivery")


def test_nothing_is_done_about_a_plan_that_is_no_more(page: Page, address: str) -> None:
    opened(page, address)
    remedy = page.get_by_role("button", name="Fit a vent here")
    keep = page.get_by_role("button", name="Keep", exact=True)
    page.request.get(f"{address}changed")
    expect(remedy).to_be_disabled()
    expect(keep).to_be_disabled()
    page.request.get(f"{address}planned")
    expect(remedy).to_be_enabled()
    expect(keep).to_be_enabled()


def test_a_refusal_can_be_read_though_a_plan_comes(page: Page, address: str) -> None:
    opened(page, address)
    page.request.get(f"{address}refuse?words=no")
    press(page, "Keep")
    said = page.locator(".status .said")
    expect(said).to_have_text("No")
    page.request.get(f"{address}planned")
    page.wait_for_timeout(300)
    expect(said).to_have_text("No")
    press(page, "Tank")
    expect(said).to_contain_text("Click where the tank stands")


def test_lines_are_switched_and_their_laying_opened(page: Page, address: str) -> None:
    opened(page, address)
    page.locator(".switch .drive").click()
    until(page, address, "('sections', 'drive')")
    expect(page.locator(".section-sheet")).to_contain_text("drive")
    page.locator(".switch .delivery").click()
    press(page, "Pipe and laying")
    expect(page.get_by_label("Pipe", exact=True)).to_have_value("1 in")


def test_a_file_dropped_is_sent_and_its_points_are_asked_about(page: Page, address: str) -> None:
    opened(page, address)
    page.evaluate(
        "window.dispatchEvent(new CustomEvent('headfall-files',"
        "{detail: [new File(['<gpx/>'], 'walk.gpx')]}))"
    )
    assert "b'<gpx/>'" in until(page, address, "('import_file'")
    page.get_by_label("WP 12").select_option("tank")
    press(page, "Put them on the plan")
    assert "'role': 'tank'" in until(page, address, "('add_features'")
    expect(page.locator("dialog[open]")).to_have_count(0)


def test_an_elevation_file_is_taken_for_the_ground(page: Page, address: str) -> None:
    opened(page, address, "start")
    page.evaluate(
        "window.dispatchEvent(new CustomEvent('headfall-files',"
        "{detail: [new File(['II*'], 'hill.TIF')]}))"
    )
    assert "hill.TIF" in until(page, address, "('use_elevation'")


def test_what_is_refused_is_said_in_the_status_line(page: Page, address: str) -> None:
    opened(page, address)
    page.request.get(f"{address}refuse?words={quote('the tank lies outside the data')}")
    press(page, "Keep")
    said = page.locator(".status .said")
    expect(said).to_have_text("The tank lies outside the data")
    expect(said).to_contain_class("stop")


def test_keep_compare_and_choose(page: Page, address: str) -> None:
    opened(page, address)
    expect(page.get_by_role("button", name="Compare")).to_be_disabled()
    press(page, "Keep")
    press(page, "Compare")
    row = page.get_by_role("row", name="Delivered")
    expect(row).to_contain_text("4,100 L/day")
    expect(row).to_contain_class("differs")
    expect(page.get_by_role("row", name="Vents")).not_to_contain_class("differs")
    press(page, "Go back to the kept plan")
    until(page, address, "('take_kept'")
    expect(row).to_have_count(0)


def test_papers_are_written_and_linked(page: Page, address: str) -> None:
    opened(page, address)
    press(page, "Papers")
    press(page, "Write the papers")
    link = page.get_by_role("link", name="map.html")
    assert page.request.get(f"{address}{link.get_attribute('href')}").text() == "map"
    expect(page.get_by_text("Section of the line delivery")).to_be_visible()


def test_first_look_before_there_is_a_map(page: Page, address: str) -> None:
    opened(page, address, "start")
    typed = {
        "The source gives": "54 L/min",
        "Fall, source to ram": "5 m",
        "Rise, ram to tank": "30 m",
    }
    for label, text in typed.items():
        page.get_by_label(label, exact=True).fill(text)
    press(page, "Will it work?")
    expect(page.locator(".verdict")).to_have_text("Go: a ram lifts enough")
    told = until(page, address, "('first_look'")
    assert "'fall': '5 m'" in told
    assert "'rise': '30 m'" in told


def test_a_sketch_says_what_comes_next(page: Page, address: str) -> None:
    opened(page, address, "sketch")
    expect(page.locator(".status .said")).to_have_text("Place the tank.")
    expect(page.locator(".guide .done")).to_have_count(1)
    expect(page.locator(".findings")).to_be_hidden()
    expect(page.get_by_role("button", name="Papers")).to_be_disabled()
    page.locator(".guide").get_by_role("button", name="Tank").click()
    expect(page.locator(".tool.tank")).to_have_attribute("aria-pressed", "true")


def test_names_stay_text(page: Page, address: str) -> None:
    opened(page, address, "hostile")
    expect(page.locator(".head .title")).to_have_text(HOSTILE)
    page.locator(".parts summary").click()
    expect(page.locator(".parts")).to_contain_text(HOSTILE)
    page.locator(".parts").get_by_role("button", name=HOSTILE[:12]).click()
    expect(page.get_by_label("Name")).to_have_value(HOSTILE)
    assert page.locator("img[src=x]").count() == 0


def test_evening_light_is_remembered(page: Page, address: str) -> None:
    opened(page, address)
    paper = page.evaluate("getComputedStyle(document.body).backgroundColor")
    press(page, "Evening")
    page.wait_for_function("document.documentElement.dataset.light === 'evening'")
    dark = page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert paper != dark
    page.reload()
    page.wait_for_selector(".mark .glyph")
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == dark


def test_every_control_has_a_name_and_can_be_reached_by_keys(page: Page, address: str) -> None:
    opened(page, address)
    nameless = page.evaluate(
        "[...document.querySelectorAll('button, input, select, summary, a')]"
        ".filter(e => e.offsetParent && !(e.textContent.trim() || e.ariaLabel || e.labels?.length))"
        ".map(e => e.outerHTML)"
    )
    assert nameless == []
    page.locator(".tool.source").focus()
    page.keyboard.press("Enter")
    expect(page.locator(".tool.source")).to_have_attribute("aria-pressed", "true")
