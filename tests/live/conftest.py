"""Processes started by these tests find the desks of the tests."""

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def _findable(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONPATH", str(Path(__file__).resolve().parents[2]))
