"""Names of files that arrive are hostile; what is there already is never overwritten."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.page.arrivals import free_file, free_folder, put, safe_name


@given(st.text(max_size=300))
def test_a_safe_name_stays_in_its_folder(name: str) -> None:
    safe = safe_name(name)
    assert safe
    assert len(safe) <= 100
    assert Path(safe).name == safe
    assert not safe.startswith((".", "-"))
    assert safe.isascii()


@pytest.mark.parametrize(
    ("name", "safe"),
    [
        ("dem.tif", "dem.tif"),
        ("../../etc/passwd", "etc-passwd"),
        ("..\\dem.tif", "dem.tif"),
        ("my hill <b>.tif", "my-hill--b-.tif"),
        ("", "file"),
        ("...", "file"),
    ],
)
def test_names(name: str, safe: str) -> None:
    assert safe_name(name) == safe


def test_what_is_there_keeps_its_name(tmp_path: Path) -> None:
    (tmp_path / "dem.tif").write_text("old")
    new = free_file(tmp_path / "dem.tif")
    assert new == tmp_path / "dem-2.tif"
    source = tmp_path / "upload"
    source.write_text("new")
    assert put(source, new).read_text() == "new"
    assert (tmp_path / "dem.tif").read_text() == "old"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["dem-2.tif", "dem.tif", "upload"]


def test_a_folder_that_is_free(tmp_path: Path) -> None:
    assert free_folder(tmp_path, "hill") == tmp_path / "hill"
    (tmp_path / "hill").mkdir()
    assert free_folder(tmp_path, "hill") == tmp_path / "hill-2"
