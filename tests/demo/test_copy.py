"""The packaged demo lands whole in the user's folder and never overwrites what they changed."""

from pathlib import Path

import pytest

from planner.demo.copy import FILES, copy_demo, demo_site
from planner.errors import OutputError


def test_all_files_arrive_and_nothing_else(tmp_path: Path) -> None:
    site = copy_demo(tmp_path / "new" / "demo")
    assert site.is_file()
    assert sorted(file.name for file in site.parent.iterdir()) == sorted(FILES)
    assert all(file.stat().st_size > 500 for file in site.parent.iterdir())


def test_a_changed_site_file_stays(tmp_path: Path) -> None:
    site = copy_demo(tmp_path)
    site.write_text("title = 'mine'")
    (tmp_path / FILES[1]).unlink()
    copy_demo(tmp_path)
    assert site.read_text() == "title = 'mine'"
    assert (tmp_path / FILES[1]).is_file()


def test_a_folder_that_is_a_file_is_told(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("")
    with pytest.raises(OutputError, match="taken") as caught:
        copy_demo(tmp_path / "taken")
    assert "\n" not in str(caught.value)


def test_an_interrupted_copy_leaves_no_half_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(OutputError, match="No space left"):
        copy_demo(tmp_path)
    assert not list(tmp_path.iterdir())


def _fail_with_the_demo(folder: Path) -> None:
    with demo_site(folder) as site:
        assert site.is_file()
        raise KeyboardInterrupt


def test_what_fails_with_the_demo_leaves_nothing_of_it(tmp_path: Path) -> None:
    with pytest.raises(KeyboardInterrupt):
        _fail_with_the_demo(tmp_path / "new" / "site")
    assert not list(tmp_path.iterdir())


def test_what_fails_with_an_earlier_demo_leaves_all_of_it(tmp_path: Path) -> None:
    site = copy_demo(tmp_path / "site")
    site.write_text("title = 'mine'")
    with pytest.raises(KeyboardInterrupt):
        _fail_with_the_demo(tmp_path / "site")
    assert sorted(path.name for path in (tmp_path / "site").iterdir()) == sorted(FILES)
    assert site.read_text() == "title = 'mine'"
