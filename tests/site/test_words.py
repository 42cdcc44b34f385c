import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import SketchError
from planner.site.words import POINT_PHRASES, area_roles, clean_name, point_roles


@pytest.mark.parametrize(
    ("name", "roles"),
    [
        ("spring", {"source"}),
        ("Spring box", {"source"}),
        ("creek intake 1", {"source"}),
        ("tank 2", {"tank"}),
        ("TANK2", {"tank"}),
        ("header tank", {"chamber"}),
        ("stock tank", {"outlet"}),
        ("outlet trough", {"outlet"}),
        ("troughs", {"outlet"}),
        ("hydraulic ram", {"pump"}),
        ("waypoint 7", {"way"}),
        ("spring tank", {"source", "tank"}),
        ("Ramsau", set()),
        ("camp", set()),
        ("001", set()),
        ("", set()),
    ],
)
def test_names_tell_the_role(name: str, roles: set[str]) -> None:
    assert point_roles(name) == roles


def test_every_word_of_the_list_tells_its_own_role() -> None:
    for role, words in POINT_PHRASES.items():
        for word in words.split(","):
            assert point_roles(word) == {role}


def test_areas_are_told_by_name_too() -> None:
    assert area_roles("avoid: old orchard") == {"avoid"}
    assert area_roles("orchard") == set()


@given(st.text(max_size=80))
def test_a_clean_name_is_one_line_and_stays_clean(name: str) -> None:
    clean = clean_name(name, "here")
    assert clean_name(clean, "here") == clean
    assert not set(clean) & set("\n\r\t\x1b\x00\u202e\u2028")
    clean.encode("utf-8")


def test_long_names_are_refused_with_the_limit() -> None:
    with pytest.raises(SketchError, match="81 characters; give one of at most 80"):
        clean_name("n" * 81, "here")
