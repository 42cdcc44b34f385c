"""The browser fixtures: a page on disk runs, and a request off the machine is seen."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browsing import off_machine


@pytest.mark.browser
def test_a_page_on_disk_runs_its_scripts(page: Page, tmp_path: Path) -> None:
    file = tmp_path / "map.html"
    file.write_text("<p id=a></p><script>document.getElementById('a').textContent = 6 * 7</script>")
    page.goto(file.as_uri())
    assert page.inner_text("#a") == "42"


@pytest.mark.browser
def test_a_request_off_the_machine_is_seen(browser: Browser, tmp_path: Path) -> None:
    file = tmp_path / "map.html"
    file.write_text('<img src="https://headfall.invalid/tile.png"><img src="data:image/png,">')
    asked: list[str] = []
    context = browser.new_context()
    context.on("request", lambda request: asked.append(request.url))
    context.new_page().goto(file.as_uri())
    context.close()
    assert off_machine(asked) == ["https://headfall.invalid/tile.png"]


@pytest.mark.parametrize(
    ("url", "leaves"),
    [
        ("file:///home/user/map.html", False),
        ("data:image/png;base64,AAAA", False),
        ("blob:null/1234", False),
        ("http://127.0.0.1:8000/plan", False),
        ("http://[::1]:8000/plan", False),
        ("http://localhost:8000/plan", False),
        ("http://localhost.headfall.invalid/plan", True),
        ("https://headfall.invalid/a.js", True),
        ("wss://headfall.invalid/live", True),
    ],
)
def test_off_machine(url: str, *, leaves: bool) -> None:
    assert bool(off_machine([url])) is leaves
