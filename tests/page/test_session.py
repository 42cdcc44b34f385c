"""A session: saved at every change, undone over its whole length, never over another's hand."""

import json
import os
import stat
import subprocess
import sys
from pathlib import Path
from unittest import mock

import pytest

from planner.demo.copy import copy_demo
from planner.errors import OutputError, SiteError, SketchError
from planner.page import session as session_file
from planner.page.session import OUTSIDE, Session
from planner.site.draft import Draft
from planner.site.edits.open import open_draft
from planner.site.edits.value import AddPoint, DeletePoint, MovePoint, RenamePoint, SetValue
from planner.site.read import read_site

PLACE = (-3.1995, 45.0112)  # on the demo's ground


@pytest.fixture
def site(tmp_path: Path) -> Path:
    return copy_demo(tmp_path)


def opened(site: Path) -> Session:
    return Session(open_draft(site))


def names(site: Path) -> set[str]:
    return {point.name for point in read_site(site).sketch.points}


def first_point(session: Session) -> str:
    return str(json.loads(session.draft.sketch)["features"][0]["properties"]["name"])


def on_disk(session: Session) -> bool:
    draft = session.draft
    sketch = draft.sketch_path
    same = draft.site_path.read_text(encoding="utf-8") == draft.site
    return same and (sketch is None or sketch.read_text(encoding="utf-8") == draft.sketch)


def test_every_change_is_on_disk_at_once(site: Path) -> None:
    session = opened(site)
    assert session.saved
    name = first_point(session)
    revisions = [session.revision]
    for edit in (
        MovePoint(name, PLACE),
        RenamePoint(name, "Upper spring"),
        SetValue(("title",), "Another Hollow"),
    ):
        session.do(edit)
        assert session.saved
        assert on_disk(session)
        revisions.append(session.revision)
    assert revisions == sorted(set(revisions))
    assert "Upper spring" in names(site)
    assert read_site(site).title == "Another Hollow"
    session.close()


def test_undo_and_redo_over_the_whole_session(site: Path) -> None:
    session = opened(site)
    drafts = [session.draft]
    name = first_point(session)
    for edit in (MovePoint(name, PLACE), RenamePoint(name, "A"), SetValue(("title",), "B")):
        session.do(edit)
        drafts.append(session.draft)
    assert session.undo_words == "set the title"
    assert session.redo_words == ""
    for draft in reversed(drafts[:-1]):
        session.undo()
        assert session.draft == draft
        assert on_disk(session)
    assert session.undo_words == ""
    session.undo()  # nothing to undo is no fault
    assert session.redo_words == f"move {name}"
    for draft in drafts[1:]:
        session.redo()
        assert session.draft == draft
        assert on_disk(session)
    session.redo()
    assert session.draft == drafts[-1]
    session.close()


def test_a_new_change_takes_the_place_of_what_was_undone(site: Path) -> None:
    session = opened(site)
    session.do(SetValue(("title",), "One"))
    session.undo()
    session.do(SetValue(("title",), "Two"))
    assert session.redo_words == ""
    assert read_site(site).title == "Two"
    session.close()


def test_a_refused_edit_changes_nothing(site: Path) -> None:
    session = opened(site)
    before, revision = session.draft, session.revision
    with pytest.raises(SketchError):
        session.do(DeletePoint("no such point"))
    assert (session.draft, session.revision, session.undo_words) == (before, revision, "")
    session.close()


def test_restore_is_one_step(site: Path) -> None:
    session = opened(site)
    kept = session.draft
    session.do(SetValue(("title",), "One"))
    session.do(SetValue(("title",), "Two"))
    session.restore(kept, "go back to the plan kept")
    assert session.draft == kept
    assert session.undo_words == "go back to the plan kept"
    session.undo()
    assert read_site(site).title == "Two"
    session.close()


def test_nothing_is_left_beside_the_site_but_the_lock(site: Path) -> None:
    before = {path.name for path in site.parent.iterdir()}
    session = opened(site)
    session.do(SetValue(("title",), "One"))
    session.close()
    after = {path.name for path in site.parent.iterdir()}
    assert after - before == {f".{site.name}.lock"}


# A new site


def test_a_new_site_is_written_by_its_first_change(tmp_path: Path) -> None:
    draft = Draft(
        tmp_path,
        "new.toml",
        'title = "New"\n[elevation]\nfiles = ["a.tif"]\n[sketch]\nfile = "new-sketch.geojson"\n',
        "new-sketch.geojson",
        '{"type": "FeatureCollection", "features": []}\n',
    )
    session = Session(draft, new=True)
    assert not session.saved
    assert not (tmp_path / "new.toml").exists()
    session.do(AddPoint("source", PLACE))
    assert on_disk(session)
    session.undo()
    assert on_disk(session)
    session.close()


def test_a_new_site_left_as_it_was_leaves_nothing(tmp_path: Path) -> None:
    Session(Draft(tmp_path, "new.toml", "title = 'a'\n"), new=True).close()
    assert [path.name for path in tmp_path.iterdir()] == [".new.toml.lock"]


def test_a_new_site_does_not_write_over_one_that_came_meanwhile(tmp_path: Path) -> None:
    text = "title = 'New'\n[elevation]\nfiles = ['a.tif']\n[sketch]\n"
    session = Session(Draft(tmp_path, "new.toml", text), new=True)
    other = text.replace("New", "Other")
    (tmp_path / "new.toml").write_text(other)
    session.do(SetValue(("units",), "us"))
    assert "Other" in (tmp_path / "new.toml").read_text()
    session.undo()
    assert (tmp_path / "new.toml").read_text() == other
    session.close()


# Another hand


def test_a_change_from_outside_becomes_a_step(site: Path) -> None:
    session = opened(site)
    name = first_point(session)
    session.do(RenamePoint(name, "Ours"))
    assert not session.changed_outside()
    theirs = site.read_text(encoding="utf-8") + "# by hand\n"
    site.write_text(theirs, encoding="utf-8")
    assert session.changed_outside()
    session.do(SetValue(("title",), "New"))
    assert not session.changed_outside()
    assert "# by hand" in site.read_text(encoding="utf-8")
    session.undo()
    assert site.read_text(encoding="utf-8") == theirs
    assert session.undo_words == OUTSIDE
    session.undo()
    assert "# by hand" not in site.read_text(encoding="utf-8")
    assert "Ours" in names(site)
    session.close()


def test_undo_after_a_change_from_outside_only_takes_it_in(site: Path) -> None:
    session = opened(site)
    session.do(SetValue(("title",), "Ours"))
    sketch = session.draft.sketch_path
    assert sketch is not None
    theirs = sketch.read_text(encoding="utf-8") + "\n"
    sketch.write_text(theirs, encoding="utf-8")
    session.undo()
    assert session.undo_words == OUTSIDE
    assert sketch.read_text(encoding="utf-8") == theirs
    assert read_site(site).title == "Ours"
    session.close()


def test_a_site_spoilt_from_outside_is_not_written_over_unseen(site: Path) -> None:
    session = opened(site)
    session.do(SetValue(("title",), "Ours"))
    good = site.read_bytes()
    site.write_bytes(b"title = \xff half sav")
    with pytest.raises(SiteError):
        session.do(SetValue(("title",), "More"))
    assert site.read_bytes() == b"title = \xff half sav"
    assert session.undo_words == OUTSIDE
    session.undo()
    assert site.read_bytes() == good
    session.close()


def test_a_file_taken_away_is_written_again(site: Path) -> None:
    session = opened(site)
    site.unlink()
    assert not session.changed_outside()
    session.do(SetValue(("title",), "Ours"))
    assert read_site(site).title == "Ours"
    assert session.undo_words == "set the title"
    session.close()


def test_line_ends_and_a_mark_of_byte_order_are_no_change_from_outside(site: Path) -> None:
    text = site.read_bytes().replace(b"\n", b"\r\n")
    site.write_bytes(b"\xef\xbb\xbf" + text)
    session = opened(site)
    assert session.saved
    assert not session.changed_outside()
    session.do(SetValue(("title",), "Ours"))
    assert not session.changed_outside()
    assert session.undo_words == "set the title"
    session.undo()
    assert site.read_bytes() == b"\xef\xbb\xbf" + text
    session.close()


def test_a_strange_file_under_a_new_sketch_s_name_stays(tmp_path: Path) -> None:
    site = tmp_path / "small.toml"
    site.write_text(
        '[elevation]\nfiles = ["a.tif"]\n[[sketch.points]]\nname = "spring"\nat = [-3.2, 45.01]\n'
    )
    session = opened(site)
    moved = session.do(MovePoint("spring", PLACE))
    assert moved.sketch_path is not None
    session.undo()
    moved.sketch_path.write_text("a stranger's")
    with pytest.raises(SketchError, match="is there already"):
        session.redo()
    assert session.saved
    again = session.do(MovePoint("spring", PLACE))
    assert again.sketch_path != moved.sketch_path
    assert moved.sketch_path.read_text() == "a stranger's"
    session.close()


def test_a_link_stays_a_link_and_a_mode_a_mode(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    site = copy_demo(tmp_path / "real")
    sketch = tmp_path / "real" / "larch-hollow-sketch.geojson"
    target = tmp_path / "elsewhere.geojson"
    sketch.rename(target)
    target.rename(tmp_path / "real" / "kept.geojson")
    sketch.symlink_to("kept.geojson")
    site.chmod(0o640)
    session = opened(site)
    session.do(RenamePoint(first_point(session), "Ours"))
    session.do(SetValue(("title",), "Ours"))
    assert sketch.is_symlink() or "kept" in session.draft.sketch_name
    assert "Ours" in (tmp_path / "real" / "kept.geojson").read_text(encoding="utf-8")
    assert stat.S_IMODE(site.stat().st_mode) == 0o640
    session.close()


# The disk refuses


def test_a_full_disk_is_told_and_tried_again(site: Path) -> None:
    session = opened(site)
    before = site.read_bytes()
    full = OSError(28, "No space left on device")
    with mock.patch.object(os, "fsync", side_effect=full):
        session.do(SetValue(("title",), "One"))
        session.do(SetValue(("title",), "Two"))
        assert "No space left" in session.trouble
        assert not session.saved
        assert not session.save()
    assert site.read_bytes() == before
    assert session.save()
    assert session.trouble == ""
    assert read_site(site).title == "Two"
    session.undo()
    assert read_site(site).title == "One"
    session.close()


def test_what_could_not_be_saved_is_in_the_journal_for_the_next_time(site: Path) -> None:
    session = opened(site)
    session.do(SetValue(("title",), "One"))
    full = OSError(28, "No space left on device")
    with mock.patch.object(session_file, "write_whole", side_effect=full):
        session.do(SetValue(("title",), "Two"))
        session.close()
    assert read_site(site).title == "One"
    again = opened(site)
    assert read_site(site).title == "Two"
    assert again.undo_words == "set the title"
    again.close()


def test_a_folder_that_can_not_be_written_is_told(site: Path) -> None:
    denied = PermissionError(13, "Permission denied")
    with (
        mock.patch("planner.page.lock.FileLock.acquire", side_effect=denied),
        pytest.raises(OutputError, match="copy the site to a folder of your own"),
    ):
        opened(site)


# A process that was killed

KILLED = """
import os, signal, sys
from pathlib import Path
from planner.page import disk, journal, session
from planner.site.edits.open import open_draft
from planner.site.edits.value import RenamePoint, SetValue, Several

site, when = Path(sys.argv[1]), sys.argv[2]
held = session.Session(open_draft(site))
held.do(SetValue(("title",), "First"))
both = Several("do two things", (RenamePoint("Tank", "Cistern"), SetValue(("title",), "Second")))
write = disk.write_whole

def die(*_):
    os.kill(os.getpid(), signal.SIGKILL)

def after(path, text):
    write(path, text)
    die()

def half(self, record, wait=True):
    with self.path.open("ab") as file:
        file.write(b'{"step": "half a rec')
    die()

if when == "after":
    held.do(both)
    die()
elif when == "journal":
    journal.Journal._append = half
elif when == "before":
    session.write_whole = die
elif when == "between":
    session.write_whole = after
elif when == "passing":
    Path.replace = die
held.do(both)
raise SystemExit("not killed")
"""


def killed(site: Path, when: str) -> None:
    """Change both files of a site in one step, and die in it."""
    words = [sys.executable, "-c", KILLED, str(site), when]
    done = subprocess.run(words, check=False, capture_output=True, text=True)  # noqa: S603
    assert done.returncode == -9, done.stderr


@pytest.mark.slow
@pytest.mark.parametrize(
    ("when", "second"),
    [("after", True), ("before", True), ("between", True), ("passing", True), ("journal", False)],
)
def test_the_next_session_goes_on_where_one_was_killed(
    site: Path, when: str, *, second: bool
) -> None:
    old = names(site)
    new = (old - {"Tank"}) | {"Cistern"}
    killed(site, when)
    again = opened(site)
    assert again.saved
    assert on_disk(again)
    assert (read_site(site).title, names(site)) == (("Second", new) if second else ("First", old))
    if second:
        assert again.undo_words == "do two things"
        again.undo()
    assert (read_site(site).title, names(site)) == ("First", old)
    again.undo()
    assert (read_site(site).title, again.undo_words) == ("Larch Hollow", "")
    again.redo()
    assert read_site(site).title == "First"
    again.do(SetValue(("title",), "Third"))
    again.close()
    assert not [path for path in site.parent.iterdir() if path.suffix in (".part", ".undo")]
    last = opened(site)
    assert (last.undo_words, read_site(site).title) == ("", "Third")
    last.close()


@pytest.mark.slow
def test_killed_twice_nothing_is_lost(site: Path) -> None:
    killed(site, "journal")
    killed(site, "between")
    again = opened(site)
    steps = [again.undo_words]
    while again.undo_words:
        again.undo()
        steps.append(again.undo_words)
    # The first step of the second run finds the title as it is: no step.
    assert steps == ["do two things", "set the title", ""]
    again.close()


@pytest.mark.slow
def test_a_change_made_by_hand_after_the_kill_is_kept(site: Path) -> None:
    killed(site, "after")
    theirs = site.read_text(encoding="utf-8").replace("Second", "By hand")
    site.write_text(theirs, encoding="utf-8")
    again = opened(site)
    assert site.read_text(encoding="utf-8") == theirs
    assert (again.draft.site, again.undo_words) == (theirs, OUTSIDE)
    again.undo()
    assert read_site(site).title == "Second"
    again.close()


def test_a_journal_made_to_write_elsewhere_is_not_followed(site: Path) -> None:
    outside = site.parent.parent / f"{site.parent.name}-outside.geojson"
    for name in ("../" + outside.name, str(outside), "start.py"):
        records: list[dict[str, object]] = [
            {"step": "", "site": site.read_text(), "sketch_name": name, "sketch": "planted"},
            {"at": 0},
        ]
        journal = site.with_name(f".{site.name}.undo")
        journal.write_text("".join(json.dumps(one) + "\n" for one in records))
        session = opened(site)
        assert session.undo_words == ""
        assert session.draft == open_draft(site)
        session.do(SetValue(("title",), "Ours"))
        session.close()
        assert not outside.exists()
        assert not (site.parent / "start.py").exists()


# One at a time


def test_a_second_session_of_the_same_site_is_refused(site: Path) -> None:
    session = opened(site)
    before = site.read_bytes()
    with pytest.raises(SiteError, match="is open already"):
        opened(site)
    assert site.read_bytes() == before
    session.close()
    opened(site).close()


def test_two_sites_in_one_folder_are_apart(site: Path) -> None:
    other = site.with_name("other.toml")
    other.write_bytes(site.read_bytes())
    first, second = opened(site), opened(other)
    first.close()
    second.close()


def test_closing_twice_is_no_fault(site: Path) -> None:
    session = opened(site)
    session.close()
    session.close()
