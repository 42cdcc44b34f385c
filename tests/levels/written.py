"""Files of readings for tests, written and read in one step."""

from collections.abc import Collection
from pathlib import Path

import pytest

from planner.errors import InputError
from planner.levels.read import read_levels
from planner.levels.value import Readings
from planner.site.field import LengthUnit


def write(folder: Path, text: str, name: str = "book.csv") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def read(
    folder: Path, text: str, *, unit: LengthUnit = "m", stakes: Collection[str] = ()
) -> Readings:
    return read_levels([write(folder, text)], unit=unit, stakes=stakes)


def refusal(
    folder: Path, text: str, *, unit: LengthUnit = "m", stakes: Collection[str] = ()
) -> str:
    """The one sentence with which a file is refused."""
    with pytest.raises(InputError) as caught:
        read(folder, text, unit=unit, stakes=stakes)
    message = caught.value.message
    assert message.isprintable()
    assert len(message) < 500
    return message


def levels(readings: Readings, start: str, level: float) -> dict[str, float]:
    """Levels of all stations that hang on one, following the differences as they were read."""
    found = {start: level}
    for one in readings.differences:
        found.setdefault(one.end, found[one.start] + one.rise)
    return found
