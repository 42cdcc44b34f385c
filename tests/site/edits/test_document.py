"""The site file's text after a change: what it says, and what of the hand's writing stays."""

import datetime
import tomllib

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import SiteError
from planner.site.edits.document import add_table, changed, set_value

TEXT = """\
# ours
title = "Hollow"   # short

[need]
per_day = "1 m3" # guessed

[need.count]
sheep = 3

[source] # the creek
flow = "30 L/min"

# the end
"""


def test_only_the_line_of_the_value_changes() -> None:
    after = set_value(TEXT, ("need", "per_day"), "2 m3")
    assert after == TEXT.replace('"1 m3"', '"2 m3"')
    assert set_value(after, ("need", "per_day"), "1 m3") == TEXT


def test_a_new_key_joins_its_table_and_a_new_table_the_end() -> None:
    after = set_value(TEXT, ("need", "each"), {"sheep": "6 L"})
    assert 'per_day = "1 m3" # guessed\neach = {sheep = "6 L"}\n' in after
    after = set_value(after, ("lines", "delivery", "pipe"), "1 in")
    assert after.endswith('# the end\n\n[lines.delivery]\npipe = "1 in"\n')
    assert "[lines]\n" not in after
    assert set_value(after, ("units",), "us").startswith('# ours\ntitle = "Hollow"   # short\n')


@pytest.mark.parametrize("blank", [None, "", "  "])
def test_a_blank_takes_the_key_out_and_nothing_that_is_not_there(blank: str | None) -> None:
    after = set_value(TEXT, ("need", "per_day"), blank)
    assert after == TEXT.replace('per_day = "1 m3" # guessed\n', "")
    assert set_value(TEXT, ("tank", "volume"), blank) == TEXT
    assert set_value(TEXT, ("title", "volume"), blank) == TEXT


def test_text_becomes_what_the_field_takes() -> None:
    after = set_value(TEXT, ("source", "measured"), "2026-08-20")
    after = set_value(after, ("tank", "days"), 14.0)
    after = set_value(after, ("lines", "drive", "bend"), "yes")
    said = tomllib.loads(after)
    assert said["source"]["measured"] == datetime.date(2026, 8, 20)
    assert said["tank"]["days"] == 14
    assert said["lines"]["drive"]["bend"] is True


def test_tables_of_a_list_are_added_and_taken_out_one_by_one() -> None:
    one = add_table(TEXT, ("fit",), {"line": "delivery", "at": [1.5, 2.0]})
    assert one == f'{TEXT}[[fit]]\nline = "delivery"\nat = [1.5, 2.0]\n'
    two = add_table(one, ("fit",), {"line": "main"})
    assert [t["line"] for t in tomllib.loads(two)["fit"]] == ["delivery", "main"]
    assert set_value(two, ("fit", "1"), None) == one
    first = set_value(two, ("fit", "0"), None)
    assert [t["line"] for t in tomllib.loads(first)["fit"]] == ["main"]
    none = set_value(first, ("fit", "0"), None)
    assert "fit" not in tomllib.loads(none)
    assert "# guessed" in none
    inline = 'fit = [{line = "delivery"}]  # inline\n' + TEXT
    more = add_table(inline, ("fit",), {"line": "main"})
    assert [t["line"] for t in tomllib.loads(more)["fit"]] == ["delivery", "main"]
    assert "# inline" in more
    assert tomllib.loads(set_value(more, ("fit", "1", "line"), "waste"))["fit"][1] == {
        "line": "waste"
    }


def test_line_ends_of_another_machine_stay() -> None:
    windows = "\ufeff" + TEXT.replace("\n", "\r\n")
    after = set_value(windows, ("need", "per_day"), "2 m3")
    assert after == TEXT.replace('"1 m3"', '"2 m3"').replace("\n", "\r\n")
    assert "\n" not in after.replace("\r\n", "")


SCATTERED = """\
[lines.supply]
bore = "40 mm"

[source]
flow = "1 L/s"

[lines.delivery] # far from the other
bore = "26 mm"
"""


@pytest.mark.parametrize("role", ["supply", "drive", "delivery"])
def test_tables_that_stand_apart_are_found(role: str) -> None:
    said = tomllib.loads(set_value(SCATTERED, ("lines", role, "pipe"), "1 in"))
    wanted = tomllib.loads(SCATTERED)
    wanted["lines"].setdefault(role, {})["pipe"] = "1 in"
    assert said == wanted


@pytest.mark.parametrize("text", ["a = ", "a = 1\na = 2", "[" * 5000])
def test_what_is_no_toml_is_refused(text: str) -> None:
    with pytest.raises(SiteError, match="not TOML"):
        set_value(text, ("title",), "x")


KEYS = st.sampled_from(["a", "b", "c", "d e", 'f"', "ä"])
LEAVES = st.one_of(
    st.integers(-9, 9), st.booleans(), st.text("ab\"\\\n\x00#'ü💧", max_size=5), st.dates()
)
TABLES = st.dictionaries(
    KEYS,
    st.recursive(LEAVES, lambda inner: st.dictionaries(KEYS, inner, max_size=3), max_leaves=6),
    max_size=4,
)


@given(TABLES, st.lists(st.tuples(KEYS, KEYS, LEAVES), max_size=4))
def test_any_text_says_afterwards_what_was_meant(
    table: dict[str, object], steps: list[tuple[str, str, object]]
) -> None:
    text, meant = tomlkit.dumps(table), table
    for outer, inner, value in steps:
        if not isinstance(meant.get(outer, {}), dict):
            continue

        def put(document: dict[str, dict[str, object]]) -> None:
            document.setdefault(outer, {})[inner] = value  # noqa: B023

        text = changed(text, put)
        meant = {**meant, outer: {**meant.get(outer, {}), inner: value}}  # type: ignore[dict-item]
    assert tomllib.loads(text) == meant
