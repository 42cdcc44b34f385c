"""The demo site's list: every line is in it, and its metres are those of the profiles."""

from pathlib import Path

import pytest

from planner.demo.copy import copy_demo
from planner.output.materials.csvfile import write_materials_csv
from planner.output.materials.make import priced_materials
from planner.output.materials.xlsx import write_materials_xlsx
from planner.plan import make_plan
from planner.site.read import read_site


@pytest.mark.slow
def test_the_demo_can_be_ordered_from_its_list(tmp_path: Path) -> None:
    plan = make_plan(read_site(copy_demo(tmp_path)))
    got = priced_materials(plan)
    items = got.materials.items
    pipe = [item for item in items if item.article.group == "pipe"]
    net = sum(line.profile.length for line in plan.lines)
    share = plan.site.rates.allowance
    assert (1 + share) * net <= sum(item.used for item in pipe) <= 1.1 * net + 1e-6
    lines = {line.name for line in plan.lines}
    for group in ("pipe", "joints and bends", "labour", "land"):
        placed = {use.place for item in items for use in item.uses if item.article.group == group}
        assert lines <= placed
    vents = [one for line in plan.lines if line.air for one in line.air.vents if one.vent]
    fitted = [item for item in items if item.article.code.startswith(("air-", "standpipe"))]
    assert sum(item.quantity for item in fitted) == len(vents)
    ram, tank = (
        [item for item in items if item.article.code.startswith(start)]
        for start in ("ram-50-mm", "tank-4")
    )
    assert len(ram) == len(tank) == 1
    write_materials_csv(got, tmp_path / "materials.csv")
    write_materials_xlsx(got, tmp_path / "materials.xlsx")
    assert (tmp_path / "materials.csv").stat().st_size > 5_000
    assert (tmp_path / "materials.xlsx").stat().st_size > 10_000
