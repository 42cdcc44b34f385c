"""materials.csv read back: every row, no formula, and prices filled in by hand."""

import csv
from dataclasses import replace
from pathlib import Path

import pytest

from planner.output.materials.csvfile import write_materials_csv
from planner.output.materials.make import materials_of, priced_materials
from planner.record.value import Plan
from planner.site.field import Rates
from planner.site.value import Units
from tests.output.materials.hand import PN10, hand_plan


def rows_of(plan: Plan, file: Path) -> list[dict[str, str]]:
    write_materials_csv(priced_materials(plan), file)
    with file.open(encoding="utf-8-sig", newline="") as table:
        return list(csv.DictReader(table))


def row(rows: list[dict[str, str]], start: str) -> dict[str, str]:
    (found,) = [one for one in rows if one["code"].startswith(start)]
    return found


def test_every_item_stands_in_it_with_blanks_to_fill(tmp_path: Path) -> None:
    rows = rows_of(hand_plan(), tmp_path / "materials.csv")
    items = materials_of(hand_plan()).items
    notes = [one["item"] for one in rows if one["group"] == "note"]
    assert notes == list(materials_of(hand_plan()).notes)
    rows = [one for one in rows if one["group"] != "note"]
    assert [one["code"] for one in rows] == [item.article.code for item in items]
    for one, item in zip(rows, items, strict=True):
        assert float(one["quantity"]) == pytest.approx(item.quantity, abs=5e-4)
        assert one["price"] == one["cost"] == one["freight"] == one["owner_supplies"] == ""
    pipe = row(rows, "pipe-32-mm-iso-4427-sdr-17")
    assert (pipe["quantity"], pipe["unit"], pipe["per"]) == ("3", "coil", "coil")
    assert pipe["for"] == "delivery 189 m; distribution-trough 63 m"
    assert float(pipe["weight_kg"]) == pytest.approx(300 * PN10.mass, abs=5e-4)
    assert row(rows, "peg")["weight_kg"] == ""


def test_us_units(tmp_path: Path) -> None:
    rows = rows_of(hand_plan("us"), tmp_path / "materials.csv")
    pipe = row(rows, "pipe-32-mm-iso-4427-sdr-17")
    assert (
        pipe["for"] == f"delivery {189 / 0.3048:.1f} ft; distribution-trough {63 / 0.3048:.1f} ft"
    )
    assert float(pipe["weight_lb"]) == pytest.approx(300 * PN10.mass / 0.45359237, abs=5e-4)
    rock = row(rows, "trench-in-rock")
    assert rock["unit"] == "yd³"
    assert float(rock["quantity"]) == pytest.approx(13.5 / 0.9144**3, abs=5e-4)


@pytest.mark.parametrize("units", ["metric", "us"])
def test_prices_filled_in_are_read_back(tmp_path: Path, units: Units) -> None:
    # A shop writes 2.00 in every row's price; the list is then the site's price list.
    file = tmp_path / "materials.csv"
    rows = rows_of(hand_plan(units), file)
    priced_rows = [one for one in rows if one["group"] not in ("labour", "tools", "land", "note")]
    filled = tmp_path / "filled.csv"
    with filled.open("w", encoding="utf-8", newline="") as table:
        writer = csv.DictWriter(table, rows[0].keys())
        writer.writeheader()
        writer.writerows({**one, "price": "2.00"} for one in priced_rows)
    plan = hand_plan(units)
    again = replace(plan, site=replace(plan.site, rates=Rates(prices=filled)))
    got = priced_materials(again)
    assert got.unused == ()
    written = sum(2 * float(one["quantity"]) for one in priced_rows)
    assert got.total == pytest.approx(written, abs=0.1)
    rows = rows_of(again, file)
    assert sum(float(one["cost"] or 0) for one in rows) == pytest.approx(got.total, abs=0.1)


@pytest.mark.parametrize("name", ["=HYPERLINK(1)", "+1", "-1", "@x"])
def test_no_name_becomes_a_formula(tmp_path: Path, name: str) -> None:
    plan = hand_plan()
    points = tuple(
        replace(point, name=name) if point.role == "source" else point for point in plan.points
    )
    rows = rows_of(replace(plan, points=points), tmp_path / "materials.csv")
    assert row(rows, "intake-screen")["for"] == f"'{name} 1"
    for one in rows:
        assert not any(cell.startswith(("=", "+", "-", "@")) for cell in one.values())


def test_the_same_plan_gives_the_same_bytes(tmp_path: Path) -> None:
    one, other = tmp_path / "one.csv", tmp_path / "other.csv"
    write_materials_csv(priced_materials(hand_plan()), one)
    write_materials_csv(priced_materials(hand_plan()), other)
    assert one.read_bytes() == other.read_bytes()
