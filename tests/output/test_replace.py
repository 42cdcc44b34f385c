"""New files take the old one's places, all or none, and what is the user's stays."""

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


def _write_both(folder: Path) -> None:
    with replacing(folder, _ours) as fresh:
        (fresh / "map.html").write_text("new")
        (fresh / "plan.json").write_text("new")


def test_a_failure_takes_the_parents_it_made_away(tmp_path: Path) -> None:
    with pytest.raises(KeyboardInterrupt), replacing(tmp_path / "a" / "b", _ours):
        raise KeyboardInterrupt
    assert _names(tmp_path) == set()


@pytest.mark.parametrize("problem", [OSError(16, "busy"), KeyboardInterrupt()])
@pytest.mark.parametrize("done", [False, True])
@pytest.mark.parametrize("move", range(4))
def test_a_failure_at_any_move_puts_all_back(
    old: Path, monkeypatch: pytest.MonkeyPatch, move: int, done: bool, problem: BaseException
) -> None:
    (old / "map.html").write_text("old map")
    before = _all(old)
    rename, moves = Path.rename, iter(range(100))

    def broken(self: Path, target: Path) -> Path:
        if next(moves) != move:
            return rename(self, target)
        if done:
            rename(self, target)
        raise problem

    monkeypatch.setattr(Path, "rename", broken)
    with pytest.raises(type(problem)):
        _write_both(old)
    assert next(moves) > move
    monkeypatch.undo()
    assert _all(old) == before
    assert _names(old.parent) == {"out"}


def test_the_folder_stays_the_same_folder(old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = old.stat().st_ino
    monkeypatch.chdir(old)
    with replacing(old, _ours) as fresh:
        (fresh / "plan.json").write_text("new")
    assert old.stat().st_ino == before
    assert Path("plan.json").read_text() == "new"


def test_a_user_s_folder_of_a_result_s_name_is_not_deleted(old: Path) -> None:
    (old / "map.html").mkdir()
    (old / "map.html" / "mine").write_text("mine")
    before = _all(old)
    with pytest.raises(OSError, match="directory"):
        _write_both(old)
    assert _all(old) == before
