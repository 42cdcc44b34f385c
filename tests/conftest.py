"""What all tests share: where the real elevation data lies."""

from pathlib import Path

import pytest

SHARED_DATA = Path(__file__).resolve().parents[2] / "shared" / "data"


@pytest.fixture
def shared_data() -> Path:
    """The folder of real elevation data; its files are read from there, never copied."""
    if not SHARED_DATA.is_dir():
        pytest.skip("the folder ../shared/data with real elevation data is absent")
    return SHARED_DATA
