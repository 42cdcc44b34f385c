"""A plan's folder: all files or none, the user's files safe, one sentence when it can't be."""

import dataclasses
import errno
import json
from collections.abc import Callable
from pathlib import Path

import pytest

from planner.errors import OutputError
from planner.output import folder as folder_module
from planner.output.folder import write_plan_folder
from planner.output.free import FIELD_FILES
from planner.record.value import Plan
from planner.site.read import read_site
from tests.example import example_plan

FILES = {
    "site.toml",
    "plan.json",
    "map.html",
    "profiles.pdf",
    "profile-supply.svg",
    "profile-drive.svg",
    "profile-delivery.svg",
    "profile-distribution-trough.svg",
} | FIELD_FILES

Quick = Callable[[], None]


def _names(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


@pytest.fixture(scope="module")
def plan() -> Plan:
    return example_plan()


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Stand-ins for the slow writers; `site.toml` and `plan.json` are the real ones."""

    def sheets(plan: Plan, folder: Path) -> None:
        (folder / "profiles.pdf").write_text("sheets")
        for line in plan.lines:
            (folder / f"profile-{line.name}.svg").write_text("svg")

    def field(plan: Plan, staked: object, folder: Path) -> None:
        for name in FIELD_FILES:
            (folder / name).write_text(plan.site.title)

    monkeypatch.setattr(folder_module, "write_map", lambda _, path: path.write_text("map"))
    monkeypatch.setattr(folder_module, "write_profiles", sheets)
    monkeypatch.setattr(folder_module, "write_field_files", field)


@pytest.mark.slow
def test_the_real_folder_holds_everything_and_can_be_planned_again(
    plan: Plan, tmp_path: Path
) -> None:
    written = write_plan_folder(plan, tmp_path / "out")
    assert _names(written) == FILES
    assert all(path.stat().st_size > 200 for path in written.iterdir())
    assert (written / "profiles.pdf").read_bytes().startswith(b"%PDF")
    assert read_site(written / "site.toml").title == "Larch Hollow"


def test_a_plan_s_files_stand_in_the_folder_and_nowhere_else(
    quick: Quick, plan: Plan, tmp_path: Path
) -> None:
    for _ in range(2):  # the second time over the first
        assert _names(write_plan_folder(plan, tmp_path / "out")) == FILES
    assert _names(tmp_path) == {"out"}


def test_an_earlier_plan_is_replaced_and_the_user_s_files_stay(
    quick: Quick, plan: Plan, tmp_path: Path
) -> None:
    out = write_plan_folder(plan, tmp_path / "out")
    (out / "profile-by-hand.svg").write_text("mine")
    shorter = dataclasses.replace(plan, lines=plan.lines[:1], findings=())
    write_plan_folder(shorter, out)
    assert (
        _names(out)
        == {
            "site.toml",
            "plan.json",
            "map.html",
            "profiles.pdf",
            "profile-supply.svg",
            "profile-by-hand.svg",
        }
        | FIELD_FILES
    )
    assert (out / "profile-by-hand.svg").read_text() == "mine"
    assert len(json.loads((out / "plan.json").read_text())["lines"]) == 1


def test_an_empty_folder_is_taken(quick: Quick, plan: Plan, tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    assert _names(write_plan_folder(plan, tmp_path / "out")) == FILES


def test_a_link_to_a_folder_stays_a_link(quick: Quick, plan: Plan, tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "out").symlink_to("real")
    write_plan_folder(plan, tmp_path / "out")
    assert (tmp_path / "out").is_symlink()
    assert _names(tmp_path / "real") == FILES


@pytest.mark.parametrize(
    "content",
    [
        {"holiday.jpg": "x"},
        {"plan.json": "{"},
        {"plan.json": '{"lines": []}'},
        {"plan.json": "[" * 100_000},
        {"plan.json": '{"made_by": "headfall", "lines": 3}'},
    ],
)
def test_a_stranger_s_folder_is_refused(
    quick: Quick, plan: Plan, tmp_path: Path, content: dict[str, str]
) -> None:
    out = tmp_path / "out"
    out.mkdir()
    for name, text in content.items():
        (out / name).write_text(text)
    with pytest.raises(OutputError, match="choose an empty or new folder"):
        write_plan_folder(plan, out)
    assert {path.name: path.read_text() for path in out.iterdir()} == content
    assert _names(tmp_path) == {"out"}


def test_the_site_s_own_folder_is_refused(quick: Quick, plan: Plan, tmp_path: Path) -> None:
    home = write_plan_folder(plan, tmp_path / "home")
    (home / "site.toml").write_text("by hand")
    own = dataclasses.replace(plan, site=dataclasses.replace(plan.site, folder=home))
    with pytest.raises(OutputError, match="holds the site file itself"):
        write_plan_folder(own, tmp_path / "x" / ".." / "home")
    assert (home / "site.toml").read_text() == "by hand"


def test_a_file_of_that_name_is_refused(quick: Quick, plan: Plan, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("mine")
    with pytest.raises(OutputError, match="is a file"):
        write_plan_folder(plan, tmp_path / "out")
    with pytest.raises(OutputError, match="part of its path is a file"):
        write_plan_folder(plan, tmp_path / "out" / "deeper")
    assert (tmp_path / "out").read_text() == "mine"


@pytest.mark.parametrize(
    "writer", ["portable", "write_plan", "write_map", "write_profiles", "write_field_files"]
)
@pytest.mark.parametrize(
    ("problem", "raised", "words"),
    [
        (OSError(errno.ENOSPC, "No space left on device"), OutputError, "the disk is full"),
        (OSError(errno.EROFS, "Read-only file system"), OutputError, "read-only"),
        (KeyboardInterrupt("by hand"), KeyboardInterrupt, "by hand"),
    ],
)
def test_a_failure_at_any_file_leaves_the_old_plan_untouched(
    quick: Quick,
    plan: Plan,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    writer: str,
    problem: BaseException,
    raised: type[BaseException],
    words: str,
) -> None:
    out = write_plan_folder(plan, tmp_path / "out")
    before = {path.name: path.read_bytes() for path in out.iterdir()}

    def broken(*_: object, **__: object) -> None:
        raise problem

    monkeypatch.setattr(folder_module, writer, broken)
    with pytest.raises(raised, match=words):
        write_plan_folder(plan, out)
    with pytest.raises(raised):
        write_plan_folder(plan, tmp_path / "new" / "out")
    assert {path.name: path.read_bytes() for path in out.iterdir()} == before
    assert _names(tmp_path) == {"out"}


def test_a_place_one_may_not_write_is_told(
    quick: Quick, plan: Plan, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Simulated, since a test run by root may write everywhere.
    def refuse(self: Path, *_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied", str(self))

    monkeypatch.setattr(Path, "mkdir", refuse)
    with pytest.raises(OutputError, match="out can't be written: you may not write there"):
        write_plan_folder(plan, tmp_path / "out")
    assert _names(tmp_path) == set()
