"""From files to a draft, as they stand, and from a draft to its site without them."""

from dataclasses import replace
from pathlib import Path

import pytest

from planner.errors import SiteError, SketchError
from planner.site.edits.apply import edited
from planner.site.edits.open import draft_site, open_draft
from planner.site.edits.value import MovePoint, SetValue
from planner.site.read import read_site
from planner.site.write import same_site
from tests.site.edits.drafts import WAYS, geojson_draft, table_draft, write, written_draft

DEMO = Path(__file__).parents[3] / "planner" / "demo" / "larch-hollow.toml"


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
def test_a_draft_says_what_its_files_say(way, tmp_path):
    draft = way(tmp_path)
    assert draft.site_path.read_text(encoding="utf-8") == draft.site
    assert same_site(draft_site(draft), read_site(draft.site_path))


def test_the_demo_is_opened_byte_for_byte():
    draft = open_draft(DEMO)
    assert draft.site.encode() == draft.site_path.read_bytes()
    assert draft.sketch_path is not None
    assert draft.sketch.encode() == draft.sketch_path.read_bytes()


def test_a_draft_that_is_not_saved_needs_no_file_of_its_own(tmp_path):
    draft = edited(geojson_draft(tmp_path), MovePoint("tank", (11.2022, 47.3012)))
    draft.site_path.unlink()
    assert draft.sketch_path is not None
    draft.sketch_path.unlink()
    assert draft_site(draft).sketch.points[4].at == (11.2022, 47.3012)


def test_text_from_another_machine_is_opened_as_it_is_and_keeps_its_line_ends(tmp_path):
    text = "\ufeff" + geojson_draft(tmp_path).site.replace("\n", "\r\n")
    (tmp_path / "hollow.toml").write_bytes(text.encode())
    draft = open_draft(tmp_path / "hollow.toml")
    assert draft.site == text
    after = edited(draft, SetValue(("need", "per_day"), "2 m3"))
    assert after.site.replace("\r\n", "").count("\n") == 0
    assert "# bucket and watch\r\n" in after.site
    assert draft_site(after).need == 2.0


def test_a_sketch_of_another_kind_or_elsewhere_stays_where_it_is(tmp_path):
    assert written_draft(tmp_path).sketch_name == ""
    assert table_draft(tmp_path).sketch_name == ""
    below = tmp_path / "site"
    below.mkdir()
    sketch = geojson_draft(tmp_path).sketch
    draft = write(below, '\n[sketch]\nfile = "../s.geojson"\n', {})
    assert draft.sketch_name == ""
    after = edited(draft, MovePoint("tank", (11.2022, 47.3012)))
    assert after.sketch_path == below.resolve() / "hollow-sketch.geojson"
    assert (tmp_path / "s.geojson").read_text(encoding="utf-8") == sketch
    (below / "sixteen.geojson").write_bytes(sketch.encode("utf-16"))
    draft = write(below, '\n[sketch]\nfile = "sixteen.geojson"\n', {})
    assert draft.sketch_name == ""
    assert len(draft_site(draft).sketch.points) == 6


def test_a_sketch_in_a_folder_below_is_the_drafts_own(tmp_path):
    (tmp_path / "drawn").mkdir()
    sketch = geojson_draft(tmp_path).sketch
    draft = write(tmp_path, '\n[sketch]\nfile = "drawn/s.json"\n', {"drawn/s.json": sketch})
    assert draft.sketch_name == "drawn/s.json"
    assert draft.sketch == sketch


@pytest.mark.parametrize(
    ("text", "error", "words"),
    [
        ("title = ", SiteError, "hollow.toml, line"),
        ("[sketch]\n", SiteError, "elevation"),
        ('[elevation]\nfiles = ["a"]\n[sketch]\nfile = "no.geojson"\n', SketchError, "not there"),
    ],
)
def test_what_cannot_be_opened_is_told(text, error, words, tmp_path):
    (tmp_path / "hollow.toml").write_text(text, encoding="utf-8")
    with pytest.raises(error, match=words):
        open_draft(tmp_path / "hollow.toml")


def test_a_sketch_text_that_no_file_can_hold_is_refused(tmp_path):
    with pytest.raises(SiteError, match="half a character"):
        draft_site(replace(geojson_draft(tmp_path), sketch="\ud83d"))
