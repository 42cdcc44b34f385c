"""The files for the field and the shop: papers to fill in, stakes, exchange, materials."""

from collections.abc import Sequence
from pathlib import Path

from planner.output.exchange.dxf import write_dxf
from planner.output.exchange.geopackage import write_geopackage
from planner.output.materials.csvfile import write_materials_csv
from planner.output.materials.make import priced_materials
from planner.output.materials.xlsx import write_materials_xlsx
from planner.output.owner.write import write_owner
from planner.output.stakes.csvfile import write_stakes_csv
from planner.output.stakes.geojson import write_stakes_geojson
from planner.output.stakes.gpx import write_stakes_gpx
from planner.output.stakes.kml import write_stakes_kml
from planner.output.stakes.value import StakedLine
from planner.output.walk.write import write_walk
from planner.record.value import Plan


def write_field_files(plan: Plan, staked: Sequence[StakedLine], folder: Path) -> None:
    """Write them into a folder that exists; their names are `planner.output.free.FIELD_FILES`.

    Raises
    ------
    InputError
        The user's price list can't be used.
    OSError
        A file can't be written.
    """
    materials = priced_materials(plan)
    write_walk(plan, staked, folder / "walk.pdf")
    write_owner(plan, folder / "owner.pdf")
    write_stakes_csv(plan, staked, folder / "stakes.csv")
    write_stakes_gpx(plan, staked, folder / "stakes.gpx")
    write_stakes_kml(plan, staked, folder / "stakes.kml")
    write_stakes_geojson(plan, staked, folder / "stakes.geojson")
    write_geopackage(plan, staked, folder / "plan.gpkg")
    write_dxf(plan, staked, folder / "plan.dxf")
    write_materials_csv(materials, folder / "materials.csv")
    write_materials_xlsx(materials, folder / "materials.xlsx")
