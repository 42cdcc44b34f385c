"""A site begun from an elevation file: names that are free, nothing written, ready to be edited."""

import tomllib

import pytest

from planner.errors import SiteError
from planner.site.edits.apply import edited
from planner.site.edits.incomplete import incomplete_site
from planner.site.edits.names import file_stem, free_name
from planner.site.edits.open import draft_site, open_draft
from planner.site.edits.start import draft_for_elevation
from planner.site.edits.value import AddPoint


@pytest.fixture
def dem(tmp_path):
    path = tmp_path / "upper_valley-DEM.tif"
    path.write_bytes(b"II*\0")
    return path


def test_the_draft_lies_beside_the_elevation_and_lacks_its_points_alone(dem):
    before = sorted(dem.parent.iterdir())
    draft = draft_for_elevation(dem)
    assert sorted(dem.parent.iterdir()) == before
    assert draft.folder == dem.parent.resolve()
    assert (draft.site_name, draft.sketch_name) == (
        "upper_valley.toml",
        "upper_valley-sketch.geojson",
    )
    begun = incomplete_site(draft)
    assert begun.title == "Upper valley"
    assert begun.units == "metric"
    assert begun.elevation.files == (dem.resolve(),)
    assert (begun.points, begun.areas) == ((), ())


def test_it_is_opened_again_as_it_was_saved(dem):
    draft = draft_for_elevation(dem, title="Anna's <valley>")
    draft = edited(draft, AddPoint("source", (11.2, 47.3)))
    draft = edited(draft, AddPoint("tank", (11.201, 47.301)))
    draft.site_path.write_text(draft.site, encoding="utf-8")
    (draft.folder / draft.sketch_name).write_text(draft.sketch, encoding="utf-8")
    assert open_draft(draft.site_path) == draft
    assert draft_site(draft).title == "Anna's <valley>"


def test_no_file_that_is_there_is_taken(dem):
    (dem.parent / "upper_valley.toml").write_text("mine", encoding="utf-8")
    draft = draft_for_elevation(dem)
    assert draft.site_name == "upper_valley-2.toml"
    (dem.parent / draft.sketch_name).write_text("mine too", encoding="utf-8")
    assert draft_for_elevation(dem).sketch_name == "upper_valley-2-sketch-2.geojson"


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ('a"b\\n.tif', "a-b-n"),
        ("dem.tif", "dem"),
        ("<b>.tif", "b"),
        ("..tif", "site"),
        ("Grüner Grund (1 m).asc", "Grüner-Grund-1-m"),
        ("x" * 200 + ".tif", "x" * 80),
    ],
)
def test_any_name_of_an_elevation_file_is_taken(name, stem, tmp_path):
    (tmp_path / name).write_bytes(b"II*\0")
    draft = draft_for_elevation(tmp_path / name)
    assert draft.site_name == f"{stem}.toml"
    assert tomllib.loads(draft.site)["elevation"]["files"] == [name]
    assert incomplete_site(draft).elevation.files == ((tmp_path / name).resolve(),)


def test_what_is_no_file_is_refused(tmp_path):
    for path in (tmp_path / "none.tif", tmp_path):
        with pytest.raises(SiteError, match="there is no elevation file"):
            draft_for_elevation(path)


def test_free_names_count_on_and_stay_short():
    assert free_name("Tank", []) == "Tank"
    assert free_name("TANK", ["tank", "Tank 2"]) == "TANK 3"
    long = "x" * 80
    assert free_name(long, [long]) == "x" * 78 + " 2"


def test_a_stem_is_never_a_path():
    for text in ("../../etc/passwd", "a/b", "a\\b", ".hidden", "\x00", "", "C:"):
        stem = file_stem(text)
        assert stem
        assert not set(stem) & set('/\\:\0"<>|?*')
        assert not stem.startswith(".")
