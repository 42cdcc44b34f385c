"""The three little schemes, their lines found once."""

import pytest

from planner.chain.lines import find_lines
from planner.chain.place import land_of, place_areas, place_points
from planner.chain.scheme import Scheme, choose_scheme
from planner.record.value import Line
from planner.terrain.value import Terrain
from tests.chain.small import KINDS, site
from tests.example import example_terrain

Found = tuple[Scheme, Terrain, tuple[Line, ...]]


@pytest.fixture(scope="session")
def valley() -> dict[str, Found]:
    """Scheme, terrain and dry lines by kind of scheme."""
    found: dict[str, Found] = {}
    terrain = example_terrain()
    for kind in KINDS:
        made = site(kind)
        areas = place_areas(terrain, made.sketch.areas)
        lands = land_of(terrain, areas), land_of(terrain, areas, stay=False)
        scheme = choose_scheme(made, place_points(terrain, made.sketch))
        lines = find_lines(made, scheme, lands, (), lambda _: None)
        found[kind] = lines.scheme, terrain, lines.lines
    return found
