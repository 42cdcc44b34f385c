"""The papers of the page and those of the command, byte for byte."""

from pathlib import Path

import pytest

from planner.errors import OutputError
from planner.live.once import once
from planner.live.papers import write_papers
from tests.command import RAM_POINTS, headfall, write_site
from tests.loops import run


@pytest.mark.slow
def test_they_are_what_the_command_writes_byte_for_byte(tmp_path: Path) -> None:
    site = write_site(tmp_path / "site", sketch=RAM_POINTS)
    said: list[str] = []
    folder = run(
        once(
            write_papers,
            site,
            tmp_path / "site" / "plan",
            seconds=200,
            memory=4 << 30,
            say=said.append,
        )
    )
    assert folder == (tmp_path / "site" / "plan").resolve()
    written = {path.name: path.read_bytes() for path in folder.iterdir()}
    assert "drawing the map and the sheets" in said
    headfall("plan", site, "--out", folder)
    again = {path.name: path.read_bytes() for path in folder.iterdir()}
    assert written.keys() == again.keys()
    different = [name for name in written if written[name] != again[name]]
    assert different == []


def test_a_folder_that_holds_something_else_is_refused_before_any_work(tmp_path: Path) -> None:
    site = write_site(tmp_path / "site")
    (tmp_path / "plan").mkdir()
    (tmp_path / "plan" / "letter.txt").touch()
    said: list[str] = []
    with pytest.raises(OutputError, match="choose an empty or new folder"):
        write_papers(site, tmp_path / "plan", said.append)
    assert said == []
