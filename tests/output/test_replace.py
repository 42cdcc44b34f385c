"""A folder is replaced whole or not at all, and keeps what is the user's."""

from pathlib import Path

import pytest

from planner.output.replace import replacing


def _ours(name: str) -> bool:
    return name == "plan.json"


@pytest.fixture
def old(tmp_path: Path) -> Path:
    folder = tmp_path / "out"
    (folder / "photos").mkdir(parents=True)
    (folder / "plan.json").write_text("old")
    (folder / "notes.txt").write_text("mine")
    (folder / "photos" / "spring.jpg").write_bytes(b"jpg")
    (folder / "link").symlink_to("nowhere")
    return folder


def _names(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


def _all(folder: Path) -> dict[str, str]:
    return {
        str(path.relative_to(folder)): path.read_text() if path.is_file() else ""
        for path in folder.rglob("*")
    }


def test_a_new_folder_appears_with_its_parents(tmp_path: Path) -> None:
    folder = tmp_path / "a" / "b"
    with replacing(folder, _ours) as fresh:
        assert not folder.exists()
        (fresh / "plan.json").write_text("new")
    assert _all(tmp_path) == {"a": "", "a/b": "", "a/b/plan.json": "new"}


def test_the_user_s_files_stay(old: Path) -> None:
    with replacing(old, _ours) as fresh:
        (fresh / "map.html").write_text("new")
    assert _names(old) == {"link", "map.html", "notes.txt", "photos"}
    assert (old / "notes.txt").read_text() == "mine"
    assert (old / "photos" / "spring.jpg").read_bytes() == b"jpg"
    assert (old / "link").readlink() == Path("nowhere")
    assert _names(old.parent) == {"out"}


def test_files_are_kept_without_being_copied(old: Path) -> None:
    before = (old / "notes.txt").stat().st_ino
    with replacing(old, _ours):
        pass
    assert (old / "notes.txt").stat().st_ino == before


@pytest.mark.parametrize("problem", [OSError(28, "No space left"), KeyboardInterrupt()])
def test_a_failure_leaves_the_old_folder_and_nothing_else(
    old: Path, problem: BaseException
) -> None:
    before = _all(old)
    with pytest.raises(type(problem)):
        _fail_half_way(old, problem)
    assert _all(old) == before
    assert _names(old.parent) == {"out"}


def _fail_half_way(folder: Path, problem: BaseException) -> None:
    with replacing(folder, _ours) as fresh:
        (fresh / "plan.json").write_text("half")
        raise problem


def test_a_failure_takes_the_parents_it_made_away(tmp_path: Path) -> None:
    with pytest.raises(KeyboardInterrupt), replacing(tmp_path / "a" / "b", _ours):
        raise KeyboardInterrupt
    assert _names(tmp_path) == set()


def test_a_move_that_fails_puts_the_old_folder_back(
    old: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = _all(old)
    rename = Path.rename

    def broken(self: Path, target: Path) -> Path:
        if self.name.endswith(".part"):
            raise OSError(16, "busy")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", broken)
    with pytest.raises(OSError, match="busy"), replacing(old, _ours) as fresh:
        (fresh / "plan.json").write_text("new")
    monkeypatch.undo()
    assert _all(old) == before
    assert _names(old.parent) == {"out"}
