import pytest

from planner.site.defaults import default_line
from planner.site.read import LINE_ROLES
from planner.site.value import LineRole


@pytest.mark.parametrize("role", LINE_ROLES)
@pytest.mark.parametrize("manner", ["buried", "surface"])
def test_every_default_can_be_laid(role: LineRole, manner: str) -> None:
    for frost in (None, 0.0, 0.6, 2.5):
        for season in ("all-year", "summer"):
            settings = default_line(role, season, frost, manner)  # type: ignore[arg-type]
            assert settings.laying.slack > 0.0
            assert settings.laying.least_grade > 0.0
            assert settings.pipe.bore_assumed
            assert (settings.laying.dig_cost > 0.0) == (manner == "buried")
            assert settings.pipe.rating > 0.0


def test_frost_deepens_the_cover_where_water_runs_all_year() -> None:
    # 6 in below the frost line: shared reference on hydraulics, section 5, [S81].
    assert default_line("delivery", "all-year", 0.6).laying.least_cover == pytest.approx(0.75)
    assert default_line("delivery", "all-year", 0.1).laying.least_cover == 0.5
    summer = default_line("delivery", "summer", 0.6).laying
    assert (summer.manner, summer.least_cover, summer.deepest_trench) == ("surface", -0.3, 0.0)


def test_a_drive_pipe_stands_on_supports_in_any_season() -> None:
    assert default_line("drive").laying.manner == "surface"
    assert default_line("drive").pipe.roughness == 1.5e-4
