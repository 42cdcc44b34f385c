"""To the field and back: a plan's own stake lists, taken for the walked lines, give it again."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from planner.output.exchange.geopackage import write_geopackage
from planner.output.stakes.csvfile import write_stakes_csv
from planner.output.stakes.geojson import write_stakes_geojson
from planner.output.stakes.gpx import write_stakes_gpx
from planner.output.stakes.kml import write_stakes_kml
from planner.output.stakes.make import stakes_of
from planner.output.stakes.value import StakedLine
from planner.plan import make_plan
from planner.record.value import Plan
from planner.site.field import Built, Measured
from tests.chain.scene import ram_site, valley

Write = Callable[[Plan, Sequence[StakedLine], Path], None]
WRITERS: dict[str, Write] = {
    "stakes.csv": write_stakes_csv,
    "stakes.gpx": write_stakes_gpx,
    "stakes.kml": write_stakes_kml,
    "stakes.geojson": write_stakes_geojson,
    "plan.gpkg": write_geopackage,
}


@pytest.fixture(scope="module")
def plan() -> Plan:
    return make_plan(ram_site(), valley())


@pytest.mark.slow
@pytest.mark.parametrize("name", WRITERS)
def test_staked_as_planned_every_line_lies_as_planned(
    name: str, plan: Plan, tmp_path: Path
) -> None:
    file = tmp_path / name
    WRITERS[name](plan, stakes_of(plan), file)
    walked = {line.name: file for line in plan.lines}
    again = make_plan(ram_site(measured=Measured(walked=walked)), valley())
    assert [line.name for line in again.lines] == list(walked)
    for line, planned in zip(again.lines, plan.lines, strict=True):
        assert line.walked
        # Bends that leave the straight by some decimetres have no stake of their own.
        assert line.path.hausdorff_distance(planned.path) < 0.3
        assert line.profile.length == pytest.approx(planned.profile.length, rel=0.005)
        assert len(line.high_points) == len(planned.high_points)
        assert line.rule_kept == planned.rule_kept
        assert line.choices == ()
    assert again.water.delivered is not None
    assert plan.water.delivered is not None
    assert again.water.delivered.expected == pytest.approx(plan.water.delivered.expected, rel=1e-3)


@pytest.mark.slow
@pytest.mark.parametrize("column", ["chainage_m", "stake"])
def test_laid_at_the_depths_of_its_stakes_a_line_lies_as_planned(
    column: str, plan: Plan, tmp_path: Path
) -> None:
    """A mark at each stake with the depth on the stake list."""
    marks = tmp_path / "marks.csv"
    (staked,) = (one for one in stakes_of(plan) if one.line.name == "delivery")
    rows = (
        f"{stake.name if column == 'stake' else stake.chainage_m},{stake.depth_m:.3f}"
        for stake in staked.stakes
    )
    marks.write_text("\n".join([f"{column},depth_m", *rows]), encoding="utf-8")
    stakes = tmp_path / "stakes.csv"
    write_stakes_csv(plan, stakes_of(plan), stakes)
    built = (Built("delivery", marks=marks),)
    again = make_plan(ram_site(built=built, measured=Measured(stakes=stakes)), valley())
    laid, planned = again.line("delivery"), plan.line("delivery")
    assert laid.built is not None
    assert len(laid.built.marks) == len(staked.stakes)
    np.testing.assert_allclose(laid.profile.xy, planned.profile.xy)
    np.testing.assert_allclose(laid.profile.pipe, planned.profile.pipe, atol=0.15)
    assert len(laid.high_points) == len(planned.high_points)
    assert replace(laid, built=None).walked is False
