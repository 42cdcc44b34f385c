"""Which folders a result may be written to: nobody's files are written over."""

import json
from pathlib import Path

import pytest

from planner.errors import OutputError
from planner.output.free import earlier_plan, free_for_line, free_for_plan

PLAN = json.dumps({"made_by": "headfall 0.1.0", "lines": [{"name": "main"}]})
LINE = json.dumps({"high_points": [], "profile": {}, "length_m": 3.0})


def test_new_and_empty_folders_are_free(tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    (tmp_path / "empty" / ".DS_Store").write_text("")
    for name in ("empty", "new", "new/deep"):
        assert free_for_plan(tmp_path / name, None) == tmp_path / name
        assert free_for_line(tmp_path / name) == tmp_path / name


def test_an_earlier_plan_s_folder_is_free(tmp_path: Path) -> None:
    (tmp_path / "plan.json").write_text(PLAN)
    (tmp_path / "notes.txt").write_text("mine")
    assert free_for_plan(tmp_path, None) == tmp_path
    names = earlier_plan(tmp_path)
    assert names is not None
    assert "profile-main.svg" in names
    assert "notes.txt" not in names


def test_files_of_an_older_plan_are_told_from_the_user_s_own(tmp_path: Path) -> None:
    (tmp_path / "plan.json").write_text(PLAN)
    (tmp_path / "materials.csv").write_text("mine")
    with pytest.raises(OutputError, match=r"holds a materials\.csv that is not of its plan"):
        free_for_plan(tmp_path, None)
    (tmp_path / "plan.json").write_text(json.dumps({**json.loads(PLAN), "stakes": []}))
    assert free_for_plan(tmp_path, None) == tmp_path


def test_what_a_plan_is_made_from_is_not_written_over(tmp_path: Path) -> None:
    plan = tmp_path / "plan"
    inputs = [tmp_path / "stakes.csv", plan / "levels.csv"]
    assert free_for_plan(plan, tmp_path, inputs) == plan
    with pytest.raises(OutputError, match=r"reads stakes\.csv from .*; copy it beside the site"):
        free_for_plan(plan, tmp_path, [*inputs, plan / "stakes.csv"])


def test_a_folder_with_the_site_s_folder_alone_is_free(tmp_path: Path) -> None:
    site = tmp_path / "site"
    site.mkdir()
    assert free_for_plan(tmp_path, site) == tmp_path
    (tmp_path / "holiday.jpg").write_text("x")
    with pytest.raises(OutputError, match="choose an empty or new folder"):
        free_for_plan(tmp_path, site)


def test_a_folder_far_above_the_site_is_not_free(tmp_path: Path) -> None:
    site = tmp_path / "sites" / "hollow"
    site.mkdir(parents=True)
    with pytest.raises(OutputError, match="choose an empty or new folder"):
        free_for_plan(tmp_path, site)


def test_a_line_s_folder_may_hold_anything_but_files_of_those_names(tmp_path: Path) -> None:
    (tmp_path / "dem.tif").write_text("mine")
    assert free_for_line(tmp_path) == tmp_path
    (tmp_path / "profile.json").write_text('{"type": "FeatureCollection"}')
    with pytest.raises(OutputError, match=r"holds a profile\.json that is not of this program"):
        free_for_line(tmp_path)
    (tmp_path / "profile.json").write_text(LINE)
    assert free_for_line(tmp_path) == tmp_path


@pytest.mark.parametrize("content", ["", "[]", "{", '{"made_by": 3}', "[" * 100_000])
def test_a_plan_that_is_none_of_ours(tmp_path: Path, content: str) -> None:
    (tmp_path / "plan.json").write_text(content)
    assert earlier_plan(tmp_path) is None


def test_a_circle_of_links_and_a_file(tmp_path: Path) -> None:
    (tmp_path / "loop").symlink_to("loop")
    (tmp_path / "file").write_text("mine")
    for name, words in (("loop", "circle of links"), ("file", "is a file")):
        with pytest.raises(OutputError, match=words):
            free_for_plan(tmp_path / name, None)
