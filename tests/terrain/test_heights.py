"""Units of height."""

import pytest
from pyproj import CRS

from planner.terrain.heights import METRES_PER, plan_in_feet, unit_in_file
from planner.terrain.value import HeightUnit


@pytest.mark.parametrize(
    ("tag", "crs", "unit"),
    [
        (None, None, None),
        ("", "EPSG:32633", None),
        ("Metre", None, "m"),
        ("feet", None, "ft"),
        ("US survey foot", None, "us_ft"),
        ("furlong", None, None),
        (None, "EPSG:2228", None),  # feet on plan say nothing of heights
        (None, "EPSG:26910+5703", "m"),
        (None, "EPSG:26910+6360", "us_ft"),
        (None, "EPSG:26910+8228", "ft"),  # NAVD88 height (ft)
        ("m", "EPSG:26910+6360", "m"),  # the band's own tag is nearer to the data
        (None, "EPSG:4979", "m"),
    ],
)
def test_unit_in_file(tag: str | None, crs: str | None, unit: HeightUnit | None) -> None:
    assert unit_in_file(tag, None if crs is None else CRS(crs)) == unit


def test_feet_are_exact() -> None:
    assert METRES_PER["ft"] == 0.3048
    assert METRES_PER["us_ft"] * 3937 == pytest.approx(1200, rel=1e-15)


def test_plan_in_feet() -> None:
    assert plan_in_feet(CRS("EPSG:2228"))
    assert not plan_in_feet(CRS("EPSG:32610"))
    assert not plan_in_feet(CRS("EPSG:4326"))
