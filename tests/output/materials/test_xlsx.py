"""materials.xlsx read back by openpyxl: cells, formulas, and values that are what they compute."""

import math
import re
import time
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.utils import column_index_from_string

from planner.output.materials.cost import Priced
from planner.output.materials.make import materials_of, priced_materials
from planner.output.materials.xlsx import write_materials_xlsx
from planner.record.value import Plan
from planner.site.field import Rates
from planner.site.value import Units
from tests.output.materials.hand import hand_plan
from tests.output.worked import worked_plan

PRICES = """item;unit;price;currency
32 mm ISO 4427 SDR 17 PN 10;m;1,20;EUR
Compression coupling, 32 mm ISO 4427;piece;5.00;EUR
laying-joining-and-backfilling;hour;25;EUR
peg;piece;0,35;EUR
unobtainium;piece;1;EUR
"""
SHEETS = [
    "Order",
    "Work and land",
    "By line",
    "Cost",
    "Coils and sticks",
    "Trench and labour",
    "Owners",
    "Take along",
]


def with_prices(plan: Plan, folder: Path) -> Plan:
    file = folder / "prices.csv"
    file.write_text(PRICES, encoding="utf-8")
    return replace(plan, site=replace(plan.site, rates=Rates(prices=file, currency="EUR")))


def written(plan: Plan, folder: Path) -> tuple[Priced, Any, Any]:
    """What was written, its values and its formulas."""
    got, file = priced_materials(plan), folder / "materials.xlsx"
    write_materials_xlsx(got, file)
    values, formulas = (openpyxl.load_workbook(file, data_only=only) for only in (True, False))
    return got, values, formulas


def columns(sheet: Any, wanted: str) -> dict[str, Any]:
    """The cells below a header of row 3, by the item's code."""
    heads = {cell.value: cell.column for cell in sheet[3]}
    place = next(at for head, at in heads.items() if str(head).startswith(wanted))
    code = heads["Code"]
    rows = range(4, sheet.max_row + 1)
    return {
        sheet.cell(row, code).value: sheet.cell(row, place).value
        for row in rows
        if sheet.cell(row, code).value
    }


def test_sheets_headers_and_widths(tmp_path: Path) -> None:
    _, book, _ = written(hand_plan(), tmp_path)
    assert book.sheetnames == SHEETS
    for name in SHEETS:
        assert book[name].freeze_panes == "A4"
        assert all(side.width > 5 for side in book[name].column_dimensions.values())
        assert "Larch Hollow" in book[name]["A1"].value


def test_numbers_are_numbers(tmp_path: Path) -> None:
    got, book, _ = written(with_prices(hand_plan(), tmp_path), tmp_path)
    quantity, price, cost = (columns(book["Order"], head) for head in ("Quantity", "Price", "Cost"))
    pipe = next(code for code in quantity if code.startswith("pipe-32-mm-iso-4427-sdr-17"))
    assert (quantity[pipe], price[pipe], cost[pipe]) == (3, 1.2, 360)
    amounts = columns(book["Order"], "Amount")
    assert amounts[pipe] == 300  # metres bought
    bought = [one for one in got.materials.items if one.article.kind == "buy"]
    assert list(quantity) == [one.article.code for one in bought]
    assert list(quantity.values()) == pytest.approx([one.quantity for one in bought])


@pytest.mark.parametrize("units", ["metric", "us"])
def test_kept_values_are_what_the_formulas_compute(tmp_path: Path, units: Units) -> None:
    for plan in (with_prices(hand_plan(units), tmp_path), worked_plan(units)):
        _, values, formulas = written(plan, tmp_path)
        count = 0
        for sheet in formulas:
            for cell in (cell for line in sheet for cell in line if cell.data_type == "f"):
                kept = values[sheet.title][cell.coordinate].value
                computed = compute(cell.value, values, sheet.title)
                assert (kept or 0) == pytest.approx(computed or 0, abs=1e-4), cell.coordinate
                count += 1
        assert count > 100


def test_sums_are_those_of_the_list(tmp_path: Path) -> None:
    got, book, _ = written(with_prices(hand_plan(), tmp_path), tmp_path)
    cost = {row[0].value: row[1].value for row in book["Cost"].iter_rows(min_row=4)}
    assert cost["Total of what has a price"] == pytest.approx(got.total)
    assert cost["pipe"] == pytest.approx(360.0)
    assert cost["delivery"] == pytest.approx(got.by_place()["delivery"])
    lacks = {row[0].value: row[2].value for row in book["Cost"].iter_rows(min_row=4)}
    assert lacks["pipe"] == 1  # PN 16
    assert lacks["labour"] == 3  # digging: ordinary of both lines, rock of one
    assert lacks["earthwork"] == 0  # measured; whoever has a price for it can use it
    texts = list(cost)
    named = texts[texts.index("No price, not in the total") :]
    assert "Marking tape, detectable" in named
    assert "line 6: unobtainium" in named
    weight = columns(book["Order"], "Weight")
    total = book["Order"].cell(book["Order"].max_row, 6).value
    assert total == pytest.approx(sum(value or 0 for value in weight.values()))


def test_no_sum_is_silent_about_what_has_no_price(tmp_path: Path) -> None:
    _, book, _ = written(hand_plan(), tmp_path)
    rows = list(book["Cost"].iter_rows(min_row=4, values_only=True))
    valves = next(row for row in rows if row[0] == "valves")
    assert valves[1] == 0
    assert valves[2] == sum(
        len(item.uses) for item in materials_of(hand_plan()).items if item.article.group == "valves"
    )


def test_blank_prices_leave_cost_blank_until_one_is_written(tmp_path: Path) -> None:
    _, values, formulas = written(hand_plan(), tmp_path)
    assert not any(columns(values["Order"], "Cost").values())
    texts = columns(formulas["Order"], "Cost").values()
    assert all(re.fullmatch(r'=IF\(G\d+="","",G\d+\*I\d+\)', text) for text in texts)
    assert not any(columns(values["Order"], "Freight").values())
    assert not any(columns(values["Order"], "Owner supplies").values())


def test_trench_and_labour_by_hand(tmp_path: Path) -> None:
    _, book, _ = written(hand_plan(), tmp_path)
    rows = list(book["Trench and labour"].iter_rows(min_row=4, values_only=True))
    assert rows[0][:3] == ("delivery", "ordinary ground", "up to 0.6 m deep")
    assert rows[0][3:7] == pytest.approx((200.0, 0.5, 0.3, 30.0))
    totals = [row for row in rows if row[0] == "Total"]
    assert totals[0][6] == pytest.approx(30.0 + 11.955 + 13.5 + 9.0)
    assert totals[1][4] == pytest.approx(25.4775 + 33.75 + 6.0)
    assert totals[2][5] == 14


def test_a_deep_trench_is_warned_of_where_it_is_listed(tmp_path: Path) -> None:
    plan = hand_plan()
    delivery, tap = plan.lines
    deep = replace(delivery, profile=replace(delivery.profile, ground=delivery.profile.pipe + 1.6))
    for lines, warned in (((deep, tap), True), ((delivery, tap), False)):
        _, book, _ = written(replace(plan, lines=lines), tmp_path)
        cells = [row[0].value for row in book["Trench and labour"].iter_rows(min_row=4)]
        assert any("can bury" in str(cell) for cell in cells) is warned


def test_the_cut_list_by_hand(tmp_path: Path) -> None:
    # 189.0 m and 63.0 m of PN 10, 128.5 m of PN 16, all in coils of 100 m; see test_make.
    _, book, _ = written(hand_plan(), tmp_path)
    rows = [row[1:] for row in book["Coils and sticks"].iter_rows(min_row=4, values_only=True)]
    assert rows == [
        ("1", "delivery", 100, 0),
        ("2", "delivery", 89, 11),
        ("3", "distribution-trough", 63, 37),
        ("1", "delivery", 100, 0),
        ("2", "delivery", 28.5, 71.5),
    ]


def test_paper_is_that_of_the_units(tmp_path: Path) -> None:
    for units, paper in (("metric", 9), ("us", 1)):
        _, book, _ = written(hand_plan(units), tmp_path)  # type: ignore[arg-type]
        assert {sheet.page_setup.paperSize for sheet in book} == {paper}


def test_owners(tmp_path: Path) -> None:
    _, book, _ = written(hand_plan(), tmp_path)
    rows = list(book["Owners"].iter_rows(min_row=4, values_only=True))
    assert ("delivery", "nobody listed", 180) in rows
    assert (None, "Upper Pasture", 180) in rows
    assert next(row for row in rows if row[0] == "Total")[2] == 360


@pytest.mark.parametrize("name", ["=1+1", "+1", "-1", "@x", "=cmd|' /c calc'!A0"])
def test_text_never_becomes_a_formula(tmp_path: Path, name: str) -> None:
    plan = hand_plan()
    points = tuple(
        replace(point, name=name) if point.role == "source" else point for point in plan.points
    )
    owners = tuple(replace(share, owner=name) for share in plan.owners)
    site = replace(plan.site, title=name)
    _, values, formulas = written(replace(plan, points=points, owners=owners, site=site), tmp_path)
    assert values["Owners"]["B4"].value == name
    found = {cell.value for sheet in formulas for line in sheet for cell in line}
    assert name in found
    for sheet in formulas:
        for cell in (cell for line in sheet for cell in line if cell.value == name):
            assert cell.data_type == "s"


def test_the_same_plan_gives_the_same_bytes(tmp_path: Path) -> None:
    got = priced_materials(hand_plan())
    one, other = tmp_path / "one.xlsx", tmp_path / "other.xlsx"
    write_materials_xlsx(got, one)
    time.sleep(0.01)
    write_materials_xlsx(priced_materials(hand_plan()), other)
    assert one.read_bytes() == other.read_bytes()
    made = openpyxl.load_workbook(one).properties.created
    assert made.date() == materials_of(hand_plan()).made


def test_a_place_that_can_t_be_written_is_an_os_error(tmp_path: Path) -> None:
    with pytest.raises(OSError, match="missing"):
        write_materials_xlsx(priced_materials(hand_plan()), tmp_path / "missing" / "m.xlsx")


def compute(text: str, book: Any, sheet: str) -> float | str:
    """The value of a formula of the kinds that this workbook holds, from the cells' values."""
    python = text.removeprefix("=").replace('="","",', '=="","",lambda:')
    python = re.sub(r"--\(([^=<>()]+)=([^()]+)\)", r"EQUAL(\1, \2)", python)
    python = re.sub(r"--\(([^=<>()]+)<>([^()]+)\)", r"DIFFER(\1, \2)", python)
    python = re.sub(
        r"(?:'([^']+)'!)?\$?([A-Z]+)\$?(\d+)(?::\$?([A-Z]+)\$?(\d+))?", _cells(book, sheet), python
    )
    value: float | str = eval(python, {"__builtins__": {}}, FUNCTIONS)  # noqa: S307 - our own
    return value


def _cells(book: Any, sheet: str) -> Any:
    def value(found: re.Match[str]) -> str:
        page = book[found[1] or sheet]
        column = column_index_from_string(found[2])
        if found[4] is None:
            return repr(_plain(page.cell(int(found[3]), column).value))
        assert found[4] == found[2]
        rows = range(int(found[3]), int(found[5]) + 1)
        return repr([_plain(page.cell(row, column).value) for row in rows])

    return value


def _plain(value: Any) -> Any:
    return "" if value is None else value


def _numbers(values: list[Any]) -> list[float]:
    return [value if isinstance(value, int | float) else 0.0 for value in values]


def _roundup(value: float, places: int) -> float:
    assert places == 0
    return float(-(-value // 1))


FUNCTIONS = {
    "IF": lambda test, yes, no: yes if test else no(),
    "SUM": lambda values: sum(_numbers(values)),
    "EQUAL": lambda values, wanted: [float(value == wanted) for value in values],
    "DIFFER": lambda values, unwanted: [float(value != unwanted) for value in values],
    "SUMPRODUCT": lambda *columns: sum(
        math.prod(row) for row in zip(*map(_numbers, columns), strict=True)
    ),
    "ROUNDUP": _roundup,
}
