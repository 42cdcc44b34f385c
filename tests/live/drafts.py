"""Drafts of the small site of the command's tests."""

from pathlib import Path

import pytest

import planner.live.grounds as grounds_module
import planner.terrain.reach as reach_module
from planner.site.draft import Draft
from planner.site.edits.open import open_draft
from planner.site.edits.start import draft_for_elevation
from tests.command import POINTS, RAM_POINTS, write_dem, write_site


def gravity_draft(folder: Path) -> Draft:
    """A spring above a tank."""
    return open_draft(write_site(folder, sketch=POINTS))


def ram_draft(folder: Path) -> Draft:
    """A ram, a tank above it and a trough."""
    return open_draft(write_site(folder, sketch=RAM_POINTS))


def bare_draft(folder: Path) -> Draft:
    """Elevation data and nothing else; nothing is written."""
    return draft_for_elevation(write_dem(folder / "dem.tif"))


def read_whole(monkeypatch: pytest.MonkeyPatch, cells: int) -> None:
    """Let only so many cells be read whole, as if the ground were large."""
    for module in (grounds_module, reach_module):
        monkeypatch.setattr(module, "READ_WHOLE", cells)
