"""What the hand-made plan costs, and prices that don't fit it."""

from dataclasses import replace
from pathlib import Path

import pytest

from planner.errors import InputError
from planner.hydraulics.catalogue import find_pipes
from planner.output.materials.cost import Priced, priced
from planner.output.materials.make import materials_of, priced_materials
from planner.output.materials.prices import Price, PriceList
from planner.site.field import Rates
from tests.output.materials.hand import PN10, along, hand_plan, line_of

PIPE10 = "32 mm ISO 4427 SDR 17 PN 10"
COUPLING = "Compression coupling, 32 mm ISO 4427"


def with_prices(*rows: tuple[str, str, float]) -> Priced:
    prices = tuple(
        Price(name, unit, price, line) for line, (name, unit, price) in enumerate(rows, start=2)
    )
    return priced(materials_of(hand_plan()), PriceList("prices.csv", "EUR", prices))


def cost_of(got: Priced, start: str) -> float:
    pairs = zip(got.materials.items, got.costs, strict=True)
    (total,) = [cost.total for item, cost in pairs if cost and item.article.code.startswith(start)]
    return total


@pytest.mark.parametrize(
    ("unit", "price", "total"),
    [
        ("coil", 120.0, 3 * 120.0),  # three coils
        ("m", 1.2, 300 * 1.2),  # by the metre all that is bought counts, 300 m
        ("ft", 0.4, 300 / 0.3048 * 0.4),
        ("100 m", 118.0, 3 * 118.0),
        ("kg", 4.0, 300 * PN10.mass * 4.0),
    ],
)
def test_pipe_by_the_coil_the_metre_and_the_kilogram(unit: str, price: float, total: float) -> None:
    got = with_prices((PIPE10, unit, price))
    assert cost_of(got, "pipe-32-mm-iso-4427-sdr-17") == pytest.approx(total)
    assert got.total == pytest.approx(total)


def test_totals_by_group_and_by_line_by_hand() -> None:
    got = with_prices(
        (PIPE10, "coil", 120.0),  # 3 coils: 360, shared 189 to 63
        (COUPLING.upper(), "piece", 5.0),  # 4: 20; delivery 3, spare 1
        ("laying-joining-and-backfilling", "hour", 25.0),  # 6 days of 8 h: 1200; 300 m to 60 m
        ("trench-in-rock-0-6-m-to-1-0-m-deep", "m³", 90.0),  # 13.5 m3: 1215
    )
    assert got.total == pytest.approx(360 + 20 + 1200 + 1215)
    assert got.by_group() == pytest.approx(
        {"pipe": 360.0, "joints and bends": 20.0, "earthwork": 1215.0, "labour": 1200.0}
    )
    assert got.by_place() == pytest.approx(
        {
            "delivery": 360 * 189 / 252 + 15 + 1000 + 1215,
            "distribution-trough": 360 * 63 / 252 + 200,
            "spare": 5.0,
        }
    )


def test_what_has_no_price_is_named_never_free() -> None:
    got = with_prices((PIPE10, "coil", 120.0), ("ground-anchor", "piece", 3.0))
    unpriced = {item.article.code for item in got.unpriced}
    assert {"peg", "marking-tape", "laying-joining-and-backfilling"} <= unpriced
    assert not any(code.startswith(("pipe-32-mm-iso-4427-sdr-17", "pipe-on")) for code in unpriced)
    assert {item.article.kind for item in got.unpriced} <= {"buy", "work"}
    assert [price.item for price in got.unused] == ["ground-anchor"]
    none = priced(materials_of(hand_plan()), None)
    assert none.total == 0.0
    assert len(none.unpriced) > len(got.unpriced)


def test_a_price_of_nothing_is_a_price() -> None:
    got = with_prices(("peg", "piece", 0.0))
    assert "peg" not in {item.article.code for item in got.unpriced}


@pytest.mark.parametrize(
    ("name", "unit", "told"),
    [
        (PIPE10, "day", "line 2: .* per day, .* a price per coil or m"),
        (COUPLING, "m", "line 2: .* per m, .* a price per piece"),
        ("peg", "kg", "a price per piece"),
        ("marking-tape", "m³", "a price per roll or m"),
        ("backfill", "m", "a price per m³"),
    ],
)
def test_a_unit_that_does_not_fit_is_refused(name: str, unit: str, told: str) -> None:
    with pytest.raises(InputError, match=told):
        with_prices((name, unit, 1.0))


def test_two_prices_that_find_one_item_must_agree() -> None:
    agreed = with_prices((PIPE10, "coil", 120.0), (PIPE10, "m", 1.2))
    assert agreed.total == pytest.approx(360.0)
    with pytest.raises(InputError, match="lines 2 and 3: two prices"):
        with_prices((PIPE10, "coil", 120.0), (PIPE10, "m", 1.3))


def test_the_trench_by_volume_and_by_the_day_is_refused() -> None:
    rock = ("trench-in-rock-0-6-m-to-1-0-m-deep", "m³", 90.0)
    with pytest.raises(InputError, match="counts it twice"):
        with_prices(rock, ("digging-in-rock", "day", 200.0))
    # Rock by the m3 leaves rock's own days without need of a price, the others' not.
    unpriced = {item.article.code for item in with_prices(rock).unpriced}
    assert "digging-in-rock" not in unpriced
    assert "digging-in-ordinary-ground" in unpriced
    both = with_prices(rock, ("digging-in-ordinary-ground", "day", 200.0))
    assert both.total == pytest.approx(13.5 * 90 + (39 + 11.955) / 2 * 200)


def test_a_pair_is_two_pieces() -> None:
    barbed = find_pipes("1 in", standard="ASTM D2239")[0]
    line = line_of(along([(0, 0, 1), (4, 0, 1)]), barbed)
    listed = materials_of(replace(hand_plan(), lines=(line,)))
    (clamps,) = [one for one in listed.items if one.article.code.startswith("clamps")]
    rows = (Price(clamps.article.code, "piece", 0.5, 2),)
    assert priced(listed, PriceList("p.csv", "", rows)).total == pytest.approx(clamps.quantity)


def test_priced_materials_reads_the_site_s_list(tmp_path: Path) -> None:
    file = tmp_path / "prices.csv"
    file.write_text(f"item;unit;price\n{PIPE10};coil;120,50\n", encoding="utf-8")
    plan = hand_plan()
    rates = Rates(prices=file, currency="EUR")
    got = priced_materials(replace(plan, site=replace(plan.site, rates=rates)))
    assert got.total == pytest.approx(361.5)
    assert got.prices is not None
    assert got.prices.currency == "EUR"
    assert priced_materials(plan).prices is None


def test_a_pipe_of_which_the_bore_was_said_is_found_by_it() -> None:
    plan = hand_plan()
    run = replace(plan.lines[1].runs[0], named=False, label="26.6 mm bore")
    wide = replace(run, label="40 mm bore", bore=0.04)
    lines = tuple(
        replace(line, runs=(one,)) for line, one in zip(plan.lines, (run, wide), strict=True)
    )
    listed = materials_of(replace(plan, lines=lines))
    prices = (Price("40 mm bore", "coil", 100.0, 2), Price("26.6 mm bore", "coil", 70.0, 3))
    got = priced(listed, PriceList("p.csv", "", prices))
    assert got.total == pytest.approx(100.0 + 70.0)
    assert got.unused == ()
