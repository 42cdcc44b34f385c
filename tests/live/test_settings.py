"""What the site file says, key by key."""

from datetime import date

import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from planner.live.settings import settings_of

KEYS = st.text("abcdefgh_", min_size=1, max_size=6).filter(lambda key: key != "sketch")
LEAVES = st.one_of(st.text(max_size=20), st.booleans(), st.integers(-999, 999), st.dates())


@given(st.dictionaries(KEYS, st.one_of(LEAVES, st.dictionaries(KEYS, LEAVES, max_size=3))))
def test_every_value_stands_under_its_path(site: dict[str, object]) -> None:
    said = settings_of(tomlkit.dumps(site))
    for key, value in site.items():
        for path, leaf in (
            [(f"{key}.{inner}", one) for inner, one in value.items()]
            if isinstance(value, dict)
            else [(key, value)]
        ):
            plain = leaf.isoformat() if isinstance(leaf, date) else str(leaf)
            assert said[path] == (plain.lower() if isinstance(leaf, bool) else plain)


def test_the_sketch_is_drawn_and_not_listed() -> None:
    text = 'title = "Hollow"\n[sketch]\nfile = "a.geojson"\n'
    assert settings_of(text) == {"title": "Hollow"}


def test_a_text_that_is_no_toml_says_nothing() -> None:
    assert settings_of("title = ") == {}


def test_tables_without_end_are_not_followed() -> None:
    deep = ".".join("a" * 200)
    assert settings_of(f"{deep} = 1\ntitle = 'x'") == {"title": "x"}
