"""The map in the field, in a real browser: one stake at a time, ticks that stay, where am I."""

import json
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from planner.chain.built_marks import read_marks
from planner.levels.read import read_levels
from planner.output.map.make import write_map
from planner.output.stakes.make import stakes_of
from planner.output.stakes.value import Stake
from planner.record.value import Plan
from tests.example import example_plan
from tests.output.map.field_plan import field_plan
from tests.output.map.opening import PHONE, SCREEN, SMALL_SCREEN, boxes, meet, opened
from tests.output.map.plans import NASTY, bare_plan

pytestmark = pytest.mark.browser

CARD = ".card"
PLAN = example_plan()


def stakes(line: str, plan: Plan = PLAN) -> tuple[Stake, ...]:
    return next(one.stakes for one in stakes_of(plan) if one.line.name == line)


def figure(page: Page, part: str) -> str:
    return page.locator(f"{CARD} dd[data-part={part}]").inner_text()


def name(page: Page) -> str:
    return page.locator(f"{CARD} h2").inner_text()


def row(page: Page, stake: str) -> None:
    page.locator(f"tbody[data-stake='{stake}'] button").click()


def open_list(page: Page) -> None:
    page.click(".outward summary")
    expect(page.locator(".outward textarea")).not_to_have_value("")


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport=PHONE, has_touch=True)  # type: ignore[arg-type]
    yield context
    context.close()


def test_a_row_of_the_list_shows_its_stake_and_the_next_is_one_tap_away(
    page: Page, tmp_path: Path
) -> None:
    complaints = opened(page, PLAN, tmp_path / "map.html", PHONE)
    third, fourth = stakes("delivery")[2:4]
    row(page, third.name)
    for stake in (third, fourth):
        assert name(page) == stake.name
        assert float(figure(page, "ground")) == pytest.approx(stake.ground_m, abs=0.006)
        assert float(figure(page, "pipe")) == pytest.approx(stake.pipe_m, abs=0.006)
        assert figure(page, "depth") == "0.50"
        assert page.locator(".peg-ring").count() == 1
        assert page.locator("figure.chosen .peg-flag").count() == 4  # one for each width
        page.locator("[data-step='1']").click()
    page.locator("[data-step='-1']").click()
    assert name(page) == fourth.name
    page.keyboard.press("ArrowLeft")
    assert name(page) == third.name
    page.keyboard.press("Escape")
    assert not page.locator(CARD).is_visible()
    assert complaints == []


def test_the_ends_of_a_line_have_no_neighbour(page: Page, tmp_path: Path) -> None:
    opened(page, PLAN, tmp_path / "map.html", SCREEN)
    row(page, "De 01")
    assert page.locator("[data-step='-1']").is_disabled()
    row(page, stakes("delivery")[-1].name)
    assert page.locator("[data-step='1']").is_disabled()


def test_a_tap_on_the_plan_means_the_nearest_stake(page: Page, tmp_path: Path) -> None:
    complaints = opened(page, PLAN, tmp_path / "map.html", SCREEN)
    for _ in range(3):
        page.click("[data-tool=closer]")
        page.wait_for_timeout(350)
    label = next(b for b in boxes(page, ".peg-name") if b["left"] > 100 and b["top"] > 180)
    tick = page.locator(f".mark:has(.peg-name:text-is('{label['words']}')) .peg").bounding_box()
    assert tick is not None
    page.mouse.click(tick["x"] + tick["width"] / 2 + 14, tick["y"] + 8)  # a finger is not exact
    assert name(page) == label["words"]
    assert complaints == []


def test_from_afar_no_stake_crowds_the_plan(page: Page, tmp_path: Path) -> None:
    opened(page, PLAN, tmp_path / "map.html", PHONE)
    assert page.locator(".mark .peg").count() == 0


@pytest.mark.parametrize("size", [PHONE, {"width": 844, "height": 390}, SCREEN])
def test_a_stake_that_is_opened_stands_in_sight_with_names_round_it(
    size: dict[str, int], page: Page, tmp_path: Path
) -> None:
    opened(page, PLAN, tmp_path / "map.html", size)
    page.click("[data-tool=stakes]")
    for _ in range(5):
        page.click("[data-step='1']")
        page.wait_for_timeout(100)
        ring, card, frame = (boxes(page, one)[0] for one in (".peg-ring", CARD, ".live-map"))
        assert not meet(ring, card)
        assert meet(ring, frame)
    assert ring["bottom"] < size["height"]
    assert {"De 05", "De 06"} & {box["words"] for box in boxes(page, ".peg-name")}
    assert name(page) == "De 06"


def test_a_tap_on_the_section_means_the_nearest_stake(page: Page, tmp_path: Path) -> None:
    opened(page, PLAN, tmp_path / "map.html", SCREEN)
    box = page.locator("figure.chosen .catch:visible").bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + 30)
    line = stakes("delivery")
    near = min(line, key=lambda s: abs(s.chainage_m - line[-1].chainage_m / 2))
    assert name(page) == near.name


def test_targets_are_large_enough_for_gloves(page: Page, tmp_path: Path) -> None:
    opened(page, PLAN, tmp_path / "map.html", PHONE)
    row(page, "De 03")
    for box in boxes(page, f"{CARD} button, {CARD} input, .bar button, .stakes .pegs.chosen tbody"):
        assert box["bottom"] - box["top"] >= 40, box
        assert box["right"] - box["left"] >= 40, box
    sizes = page.eval_on_selector_all(
        f"{CARD} dd, {CARD} p:not(:empty), {CARD} button, .stakes .pegs.chosen td",
        "all => all.map(one => parseFloat(getComputedStyle(one).fontSize))",
    )
    assert min(sizes) >= 15  # the list's figures; what is read standing is 16 px, 12 point
    assert (
        min(
            page.eval_on_selector_all(
                f"{CARD} dd", "all => all.map(o => parseFloat(getComputedStyle(o).fontSize))"
            )
        )
        >= 20
    )


def test_ticks_and_levels_stay_when_the_page_is_opened_again(
    phone: BrowserContext, tmp_path: Path
) -> None:
    page = phone.new_page()
    complaints = opened(page, PLAN, tmp_path / "map.html", PHONE)
    row(page, "De 03")
    page.click("[data-done=pegged]")
    page.fill("[data-entry=level]", "499,98")  # a decimal comma
    page.fill("[data-entry=depth]", "0.55")
    page.keyboard.press("Tab")
    row(page, "De 04")
    page.click("[data-done=pegged]")
    page.click("[data-done=pegged]")  # taken back
    page.close()
    again = phone.new_page()
    complaints += opened(again, PLAN, tmp_path / "map.html", PHONE)
    row(again, "De 03")
    pressed = again.locator("[data-done][aria-pressed=true]").all_inner_texts()
    assert [word.strip() for word in pressed] == ["Pegged", "Levelled", "Dug"]
    assert again.input_value("[data-entry=level]") == "499.98"
    assert again.input_value("[data-entry=depth]") == "0.55"
    done = again.locator("tbody[data-stake='De 03'] .done").inner_text()
    assert done == "pegged, levelled, dug; level 499.98 m; depth 0.55 m"
    assert again.locator(".pegs.chosen .count").inner_text() == (
        f"{len(stakes('delivery'))} stakes: 1 pegged, 1 levelled, 1 dug, 0 laid"
    )
    assert complaints == []


def test_two_windows_do_not_write_over_each_other(phone: BrowserContext, tmp_path: Path) -> None:
    first, second = phone.new_page(), phone.new_page()
    for page in (first, second):
        opened(page, PLAN, tmp_path / "map.html", PHONE)
    for page, stake in ((first, "De 02"), (second, "De 05"), (first, "De 06")):
        row(page, stake)
        page.click("[data-done=laid]")
        page.click("[data-close]")
    first.reload()
    first.wait_for_selector(".mark .glyph")
    assert first.locator(".pegs.chosen .count").inner_text().endswith("3 laid")


def test_a_newer_plan_keeps_ticks_by_name_and_place_and_tells_of_the_others(
    phone: BrowserContext, tmp_path: Path
) -> None:
    page = phone.new_page()
    opened(page, PLAN, tmp_path / "map.html", PHONE)
    old = stakes("delivery")
    papers = replace(PLAN.site.papers, stake_interval=25.0)
    newer = replace(PLAN, site=replace(PLAN.site, papers=papers))
    new = stakes("delivery", newer)
    gone = next(s for s in old if s.reasons == ("interval",) and not _beside(s, new))
    moved = next(s for s in old if (there := _beside(s, new)) and there.name != s.name)
    for name_ in (old[0].name, gone.name, moved.name):
        row(page, name_)
        page.click("[data-done=pegged]")
    page.close()
    later = phone.new_page()
    opened(later, newer, tmp_path / "newer.html", PHONE)
    there = _beside(moved, new)
    assert there is not None
    assert later.locator(f"tbody[data-stake='{old[0].name}'] .done").inner_text() == "pegged"
    assert later.locator(f"tbody[data-stake='{there.name}'] .done").inner_text() == (
        f"pegged; its peg says {moved.name}"
    )
    kept = later.locator(".kept").inner_text()
    assert "Some of it comes from the plan of 24 November 2026." in kept
    assert f"{gone.name} (pegged)" in kept
    open_list(later)
    assert f"{gone.name}: pegged" in later.input_value(".outward textarea")
    opened(later, PLAN, tmp_path / "map.html", PHONE)  # and the older page has lost nothing
    assert later.locator(".pegs.chosen .count").inner_text().split(": ")[1].startswith("3 pegged")


def _beside(stake: Stake, others: tuple[Stake, ...]) -> Stake | None:
    return next((o for o in others if abs(o.run_m - stake.run_m) < 1.0), None)


def test_plans_of_other_titles_keep_their_ticks_to_themselves(
    phone: BrowserContext, tmp_path: Path
) -> None:
    page = phone.new_page()
    longer = replace(PLAN, site=replace(PLAN.site, title="Larch Hollow two"))
    opened(page, longer, tmp_path / "map.html", PHONE)
    row(page, "De 03")
    page.click("[data-done=laid]")
    opened(page, PLAN, tmp_path / "map.html", PHONE)
    assert page.locator(".pegs.chosen .count").inner_text().endswith("0 laid")
    assert "comes from" not in page.locator(".kept").inner_text()


def test_a_browser_that_keeps_nothing_is_named(page: Page, tmp_path: Path) -> None:
    page.add_init_script(
        "Object.defineProperty(window, 'localStorage', { get() { throw new Error('denied'); } })"
    )
    complaints = opened(page, PLAN, tmp_path / "map.html", PHONE)
    assert "This browser keeps nothing" in page.locator(".kept").inner_text()
    row(page, "De 03")
    page.click("[data-done=dug]")  # it serves all the same, while the page is open
    assert page.locator("tbody[data-stake='De 03'] .done").inner_text() == "dug"
    assert complaints == []


@pytest.mark.parametrize(
    "damage",
    ["{oh", "null", '{"stakes": null}', '{"stakes": {"De 03": null}}', '{"stakes": {"De 03": 7}}'],
)
def test_a_store_that_is_full_or_damaged_is_survived(
    damage: str, page: Page, tmp_path: Path
) -> None:
    opened(page, PLAN, tmp_path / "map.html", PHONE)
    row(page, "De 03")
    page.click("[data-done=dug]")
    page.evaluate(
        "damage => { for (const k of Object.keys(localStorage)) localStorage.setItem(k, damage); }",
        damage,
    )
    complaints = opened(page, PLAN, tmp_path / "map.html", PHONE)
    page.evaluate("() => { Storage.prototype.setItem = () => { throw new Error('full'); }; }")
    row(page, "De 03")
    page.click("[data-done=laid]")
    assert "copy the list out before you close" in page.locator(".kept").inner_text()
    assert complaints == []


@pytest.mark.parametrize("said", ["high up", "99999", "1e999"])
def test_what_is_no_level_is_not_kept(said: str, page: Page, tmp_path: Path) -> None:
    opened(page, PLAN, tmp_path / "map.html", PHONE)
    row(page, "De 03")
    page.fill("[data-entry=level]", said)
    page.keyboard.press("Tab")
    assert "not kept" in page.locator(".card-word").inner_text()
    assert page.locator("tbody[data-stake='De 03'] .done").inner_text() == ""
    page.fill("[data-entry=level]", "459.98")  # a slip of forty metres: kept, and doubted
    page.keyboard.press("Tab")
    assert "from the plan's ground" in page.locator(".card-word").inner_text()
    assert "level 459.98 m" in page.locator("tbody[data-stake='De 03'] .done").inner_text()


def test_levels_and_depths_are_saved_as_headfall_reads_them(page: Page, tmp_path: Path) -> None:
    opened(page, PLAN, tmp_path / "map.html", PHONE)
    line = stakes("delivery")
    for stake, level, depth in ((line[2], "500.02", "0.45"), (line[5], "501.90", "")):
        row(page, stake.name)
        page.fill("[data-entry=level]", level)
        page.fill("[data-entry=depth]", depth)
        page.keyboard.press("Tab")
    page.click("[data-close]")
    open_list(page)
    with page.expect_download() as saved:
        page.click("[data-out=levels]")
    saved.value.save_as(tmp_path / "levels.csv")
    assert saved.value.suggested_filename == "levels-larch-hollow.csv"
    read = read_levels([tmp_path / "levels.csv"], unit="m", stakes=[s.name for s in line])
    assert {k.station: k.level for k in read.knowns} == {line[2].name: 500.02, line[5].name: 501.9}
    assert read.places[line[2].name] == pytest.approx(line[2].lonlat, abs=1e-7)
    with page.expect_download() as saved:
        page.click("[data-out=depths]")
    saved.value.save_as(tmp_path / "built.csv")
    (noted,) = read_marks(tmp_path / "built.csv", "m")
    assert (noted.depth, noted.remark) == (0.45, line[2].name)
    assert noted.place == pytest.approx(line[2].chainage_m, abs=0.006)


def test_feet_go_out_as_feet(page: Page, tmp_path: Path) -> None:
    plan = replace(PLAN, site=replace(PLAN.site, units="us"))
    opened(page, plan, tmp_path / "map.html", SCREEN)
    stake = stakes("delivery", plan)[2]
    row(page, stake.name)
    page.fill("[data-entry=level]", f"{stake.ground_m / 0.3048 + 0.5:.2f} ft")
    page.keyboard.press("Tab")
    assert page.locator(".card-word").inner_text() == ""
    page.click("[data-close]")
    open_list(page)
    with page.expect_download() as saved:
        page.click("[data-out=levels]")
    saved.value.save_as(tmp_path / "levels.csv")
    (known,) = read_levels([tmp_path / "levels.csv"], unit="m").knowns
    assert known.level == pytest.approx(stake.ground_m + 0.5 * 0.3048, abs=0.002)


def test_the_list_goes_out_as_text_and_comes_in_again(page: Page, tmp_path: Path) -> None:
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    opened(page, PLAN, tmp_path / "map.html", PHONE)
    row(page, "De 03")
    page.click("[data-done=pegged]")
    page.fill("[data-entry=depth]", "0.62")
    page.keyboard.press("Tab")
    page.click("[data-close]")
    open_list(page)
    page.click("[data-out=copy]")
    expect(page.locator(".outward output")).to_have_text("Copied.")
    text = page.input_value(".outward textarea")
    assert "De 03: pegged, dug; depth 0.62 m" in text
    assert page.evaluate("navigator.clipboard.readText()") == text
    page.evaluate("localStorage.clear()")
    opened(page, PLAN, tmp_path / "map.html", PHONE)
    open_list(page)
    page.fill(".outward textarea", f"{text}\nDe 999: laid")
    page.click("[data-out=take]")
    told = page.locator(".outward output").inner_text()
    assert told == "Stakes taken in: 1. Not on this plan: De 999."
    assert (
        page.locator("tbody[data-stake='De 03'] .done").inner_text() == "pegged, dug; depth 0.62 m"
    )


def where(page: Page) -> str:
    page.click("[data-tool=here]")
    expect(page.locator(".position")).to_have_text(re.compile("^(?!Asking).+"))
    return page.locator(".position").inner_text()


def test_where_am_i_names_the_nearest_stake(browser: Browser, tmp_path: Path) -> None:
    context = browser.new_context(permissions=["geolocation"])
    stake = stakes("delivery")[6]
    lon, lat = stake.lonlat
    # 12 m to the north-east: 8.5 m either way; a degree of latitude is 111.2 km at 47.3 degrees.
    here = {
        "latitude": lat + 8.5 / 111_170,
        "longitude": lon + 8.5 / (111_400 * 0.678),
        "accuracy": 4,
    }
    context.set_geolocation(here)  # type: ignore[arg-type]
    page = context.new_page()
    complaints = opened(page, PLAN, tmp_path / "map.html", PHONE)
    said = where(page)
    found = re.fullmatch(r"(\d+) m ([a-z-]+) of (De \d+), good to 4 m\.", said)
    assert found is not None, said
    near = next(s for s in stakes("delivery") if s.name == found[3])
    assert near.run_m == pytest.approx(stake.run_m, abs=15.0)
    assert page.locator(".me").count() == page.locator(".me-ring").count() == 1
    row(page, "De 02")
    context.set_geolocation({**here, "accuracy": 5})  # type: ignore[arg-type]
    expect(page.locator(".position")).to_contain_text("good to 5")
    assert re.search(r"De 02 is \d+ m to the south-west\.$", page.locator(".position").inner_text())
    page.click("[data-tool=here]")
    assert page.locator(".me").count() == 0
    assert page.locator(".position").inner_text() == ""
    assert complaints == []
    context.close()


def test_a_place_beside_one_stake_is_told_to_the_metre(browser: Browser, tmp_path: Path) -> None:
    context = browser.new_context(permissions=["geolocation"])
    lon, lat = stakes("supply")[0].lonlat  # the spring, the westernmost stake of all
    context.set_geolocation(
        {"latitude": lat, "longitude": lon - 12 / (111_400 * 0.678), "accuracy": 3}
    )
    page = context.new_page()
    opened(page, PLAN, tmp_path / "map.html", PHONE)
    assert where(page) == "12 m west of Su 01, good to 3 m."
    context.close()


def test_a_browser_that_does_not_allow_it_says_what_to_do_instead(
    page: Page, tmp_path: Path
) -> None:
    complaints = opened(page, PLAN, tmp_path / "map.html", PHONE)  # a new context allows nothing
    said = where(page)
    assert said.startswith("No position: the browser or the phone does not allow it")
    assert "Nothing on site hangs on it" in said
    assert page.locator("[data-tool=here]").get_attribute("aria-pressed") == "false"
    assert [c for c in complaints if "eolocation" not in c] == []


@pytest.mark.parametrize(
    ("script", "words"),
    [
        ("delete Navigator.prototype.geolocation", "This browser tells pages no position."),
        (
            "Object.defineProperty(window, 'isSecureContext', { value: false })",
            "to a page opened in this way",
        ),
        (
            "navigator.geolocation.watchPosition = (ok, no) => { no({ code: 3 }); return 1; }",
            "it takes too long",
        ),
        (
            "navigator.geolocation.watchPosition = (ok, no) => { no({ code: 2 }); return 1; }",
            "can't tell where it is just now",
        ),
    ],
)
def test_each_way_of_having_no_position_has_its_words(
    script: str, words: str, page: Page, tmp_path: Path
) -> None:
    page.add_init_script(script)
    complaints = opened(page, PLAN, tmp_path / "map.html", PHONE)
    said = where(page)
    assert words in said
    assert "stakes.gpx" in said
    assert complaints == []


def test_a_plan_without_lines_tells_the_place_alone(browser: Browser, tmp_path: Path) -> None:
    context = browser.new_context(permissions=["geolocation"])
    context.set_geolocation({"latitude": 47.3, "longitude": 11.2, "accuracy": 9})
    page = context.new_page()
    write_map(bare_plan(), tmp_path / "map.html")
    page.goto((tmp_path / "map.html").as_uri())
    assert where(page) == "47.300000, 11.200000, good to 9 m."
    context.close()


@pytest.mark.parametrize("size", [PHONE, SMALL_SCREEN, SCREEN])
def test_nothing_runs_off_the_side_and_no_word_covers_another(
    size: dict[str, int], page: Page, tmp_path: Path
) -> None:
    complaints = opened(page, field_plan(), tmp_path / "map.html", size)
    frame = boxes(page, ".live-map")[0]
    for step in range(4):
        words = [
            b
            for b in boxes(
                page,
                ".mark .name, .mark .rise, .mark .numbers b, .mark .peg-name, .mark .area-name",
            )
            if meet(b, frame)
        ]
        marks = boxes(page, ".mark .glyph > :first-child + *")
        for place, a in enumerate(words):
            assert not [b["words"] for b in words[:place] if meet(a, b, 1.0)], a
            assert not [b for b in marks if meet(a, b, 2.0)], a
        if step == 0:
            assert {"ram", "chamber", "tank", "trough"} <= {b["words"] for b in words}
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
        page.click("[data-tool=closer]")
        page.wait_for_timeout(400)
    row(page, "De 03")
    inside = boxes(page, f"{CARD}, {CARD} button, {CARD} dd, {CARD} input")
    assert max(b["right"] for b in inside) <= size["width"]
    assert complaints == []


def test_ram_and_chamber_stand_apart_on_a_phone(page: Page, tmp_path: Path) -> None:
    opened(page, PLAN, tmp_path / "map.html", PHONE)
    chamber, ram = (
        boxes(page, f".mark:has(.name:text-is('{point}')) .glyph > title + *")[0]
        for point in ("chamber", "ram")
    )
    assert not meet(chamber, ram)


def test_hostile_names_reach_the_card_and_the_list_as_text(page: Page, tmp_path: Path) -> None:
    page.add_init_script("window.alert = (m) => console.error('alert ' + m)")
    plan = field_plan(NASTY)
    plan = replace(plan, site=replace(plan.site, title=NASTY))
    complaints = opened(page, plan, tmp_path / "map.html", PHONE)
    crossing = next(s for s in stakes("delivery", plan) if NASTY[:12] in s.remark)
    row(page, crossing.name)
    assert NASTY[:12] in page.locator(".card-remark").inner_text()
    page.click("[data-done=pegged]")
    page.click("[data-close]")
    open_list(page)
    assert page.input_value(".outward textarea").startswith(NASTY)
    page.reload()
    page.wait_for_selector(".mark .glyph")
    assert page.locator(f"tbody[data-stake='{crossing.name}'] .done").inner_text() == "pegged"
    assert page.locator("img[src=x]").count() == 0
    assert complaints == []


def test_scripts_off_every_stake_stands_in_a_table(browser: Browser, tmp_path: Path) -> None:
    write_map(PLAN, tmp_path / "map.html")
    context = browser.new_context(java_script_enabled=False, viewport=PHONE)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto((tmp_path / "map.html").as_uri())
    assert page.locator(".stakes table:visible").count() == 4
    every = [s.name for one in stakes_of(PLAN) for s in one.stakes]
    assert page.locator(".stakes tbody th:visible").all_inner_texts() == every
    assert not page.locator(f":is({CARD}, div.bar, .outward, .kept):visible").count()
    assert page.locator(".stakes").evaluate("one => one.scrollWidth <= one.clientWidth")
    context.close()


def test_paper_carries_every_stake_in_twelve_point(page: Page, tmp_path: Path) -> None:
    opened(page, PLAN, tmp_path / "map.html", SCREEN)
    row(page, "De 03")
    page.emulate_media(media="print")
    assert page.locator(".stakes table:visible").count() == 4
    assert not page.locator(f":is({CARD}, div.bar):visible").count()
    size = page.locator(".stakes td").first.evaluate(
        "one => parseFloat(getComputedStyle(one).fontSize)"
    )
    assert size == pytest.approx(16.0)


def test_the_store_holds_a_plain_value_under_the_title_and_the_set_of_stakes(
    page: Page, tmp_path: Path
) -> None:
    opened(page, PLAN, tmp_path / "map.html", PHONE)
    row(page, "De 03")
    page.click("[data-done=laid]")
    kept = page.evaluate("Object.entries(localStorage)")
    assert len(kept) == 1
    key, value = kept[0]
    assert re.fullmatch(r"headfall stakes Larch Hollow [0-9a-f]{12}", key)
    assert json.loads(value)["stakes"]["De 03"]["done"] == ["laid"]
