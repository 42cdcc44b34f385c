"""A page of the tests' own, served by a process of its own, and what a browser heard of it."""

import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from playwright.sync_api import Page

ROOT = Path(__file__).resolve().parents[2]
PATIENCE = 30.0  # s


@contextmanager
def served(module: str) -> Iterator[str]:
    """The address of `python -m module PORT`, up; it ends with the block."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    own = {key: value for key, value in os.environ.items() if not key.startswith("PYTEST")}
    command = [sys.executable, "-m", module, str(port)]
    with subprocess.Popen(command, cwd=ROOT, env=own) as process:  # noqa: S603  # our own module
        try:
            _wait(port, process)
            yield f"http://127.0.0.1:{port}/"
        finally:
            process.terminate()


def _wait(port: int, process: subprocess.Popen[bytes]) -> None:
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end and process.poll() is None:
        try:
            socket.create_connection(("127.0.0.1", port), timeout=5).close()
        except OSError:
            time.sleep(0.1)
        else:
            return
    msg = f"{process.args!r} does not answer"
    raise TimeoutError(msg)


def opened(page: Page, address: str, width: int = 1440, height: int = 900) -> list[str]:
    """Open the page; what its console complains of lands in the list."""
    complaints: list[str] = []
    page.on("console", lambda m: complaints.append(m.text) if m.type != "log" else None)
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("dialog", lambda dialog: complaints.append(f"dialog {dialog.message}"))
    page.set_default_timeout(8000)
    page.set_viewport_size({"width": width, "height": height})
    page.goto(address)
    page.wait_for_selector(".mark .glyph")
    page.wait_for_selector(".section-sheet svg")
    page.wait_for_timeout(250)  # labels settle
    return complaints


def heard(page: Page, kind: str, least: int = 1) -> list[Any]:
    """What events of a kind told the server, once there are so many."""
    page.wait_for_function(
        "([kind, least]) => (window.heard ?? []).filter((h) => h[0] === kind).length >= least",
        arg=[kind, least],
    )
    found: list[Any] = page.evaluate("kind => window.heard.filter((h) => h[0] === kind)", kind)
    return [said for _, said in found]
