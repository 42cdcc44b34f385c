import re

import pytest

from planner.output.look import ROLES
from planner.page.plan_map.element import style
from planner.page.plan_map.looks import HANDED, looks, patterns, shared_script


def test_every_role_has_its_width_and_dash_from_the_one_table() -> None:
    for role, look in ROLES.items():
        assert looks()["roles"][role] == {
            "width": look.width,
            "dash": list(look.dash),
            "double": look.double,
        }


@pytest.mark.parametrize("role", ROLES)
def test_by_day_the_ink_of_a_role_is_that_of_map_and_sheets(role: str) -> None:
    found = re.search(rf"--{role}: light-dark\((#\w+), (#\w+)\)", style())
    assert found is not None
    assert found[1] == ROLES[role].colour  # type: ignore[index]
    assert found[2] != found[1]


def test_glyphs_are_drawn_for_every_kind_of_point_and_turn() -> None:
    assert set(looks()["points"]) == {"source", "chamber", "pump", "tank", "outlet", "way"}
    assert len({*looks()["points"].values()}) == 6
    turns = looks()["turns"]
    assert len({*turns.values()}) == 4
    assert "V-2" in turns["high fitted"]
    assert "V-2" not in turns["high"]


def test_the_hatchings_are_those_of_the_map() -> None:
    assert 'id="hatch-avoid"' in patterns()
    assert 'id="hatch-costly"' in patterns()


def test_what_is_handed_on_is_there() -> None:
    for name in HANDED:
        assert re.search(rf"^(function|const) {name}\b", shared_script(), re.MULTILINE), name


def test_the_style_loads_nothing_from_elsewhere() -> None:
    assert not re.findall(r"@import|url\((?!#)", style())
