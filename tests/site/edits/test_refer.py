"""A point with a new name, and the lines that are called after it."""

from planner.site.edits.apply import edited
from planner.site.edits.open import draft_site
from planner.site.edits.refer import refer_anew
from planner.site.edits.value import AddTable, RenamePoint, SetValue
from tests.site.edits.drafts import geojson_draft


def test_lines_walked_laid_and_fitted_follow_the_new_name(tmp_path):
    draft = geojson_draft(tmp_path)
    walked = {"distribution-trough": "walk.gpx", "delivery": "d.gpx"}
    draft = edited(draft, SetValue(("measured", "walked"), walked))
    draft = edited(draft, AddTable(("built",), {"line": "distribution-trough", "note": "trough"}))
    fit = {"line": "distribution-trough", "kind": "washout", "at": [11.2, 47.3]}
    draft = edited(draft, AddTable(("fit",), fit))
    after = edited(draft, RenamePoint("trough", "Stock Trough 2"))
    site = draft_site(after)
    assert set(site.measured.walked) == {"distribution-stock-trough-2", "delivery"}
    assert [(one.line, one.note) for one in site.built] == [
        ("distribution-stock-trough-2", "trough")
    ]
    assert [one.line for one in site.fit] == ["distribution-stock-trough-2"]
    back = draft_site(edited(after, RenamePoint("stock trough 2", "trough")))
    assert back.measured == draft_site(draft).measured
    assert (back.built, back.fit) == (draft_site(draft).built, draft_site(draft).fit)


def test_where_nothing_speaks_of_the_point_nothing_changes():
    text = "# a\r\ntitle = 'x'\r\n"
    assert refer_anew(text, "trough", "tap") == text
    assert refer_anew(text, "trough", "Trough") is text
    assert refer_anew("not = toml = ", "\u6c34", "tap") == "not = toml = "
