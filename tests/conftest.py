"""What all tests share: where the real elevation data lies, and a browser for maps and pages."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import NoReturn

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from tests.browsing import BROWSER_ARGS, BROWSER_NAMES, off_machine

SHARED_DATA = Path(__file__).resolve().parents[2] / "shared" / "data"


@pytest.fixture
def shared_data() -> Path:
    """The folder of real elevation data; its files are read from there, never copied.

    HEADFALL_REQUIRE_DATA=1 forbids the skip.
    """
    if not SHARED_DATA.is_dir():
        reason = "the folder ../shared/data with real elevation data is absent"
        if os.environ.get("HEADFALL_REQUIRE_DATA") == "1":
            pytest.fail(reason)
        pytest.skip(reason)
    return SHARED_DATA


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One headless browser for the whole run; HEADFALL_REQUIRE_BROWSER=1 forbids the skip."""
    found = next(filter(None, map(shutil.which, BROWSER_NAMES)), None)
    if found is None:
        _no_browser()
    with sync_playwright() as driver:
        running = driver.chromium.launch(executable_path=found, args=list(BROWSER_ARGS))
        yield running
        running.close()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A fresh page; at the end the test fails if the page asked for anything off this machine."""
    asked: list[str] = []
    context = browser.new_context()
    context.on("request", lambda request: asked.append(request.url))
    yield context.new_page()
    context.close()
    remote = off_machine(asked)
    assert not remote, f"the page asked for addresses off this machine: {remote}"


def _no_browser() -> NoReturn:
    reason = f"no browser on PATH (looked for {', '.join(BROWSER_NAMES)})"
    if os.environ.get("HEADFALL_REQUIRE_BROWSER") == "1":
        pytest.fail(reason)
    pytest.skip(reason)
