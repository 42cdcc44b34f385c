"""Need from the tables, by season and hour."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.band import Band
from planner.errors import OutsideRange
from planner.hydraulics.need import (
    GRAZING_HOURS,
    HERD_HOURS,
    NORTHERN_SUMMER,
    PATTERNS,
    SOUTHERN_SUMMER,
    Use,
    daily_need,
    herd_flow,
    hourly_need,
    hourly_year,
    monthly_need,
    need_by_group,
    published_uses,
)

KEYS = sorted(published_uses())
COUNTS = st.dictionaries(st.sampled_from(KEYS), st.floats(0.0, 500.0), max_size=6)


def test_the_worked_village() -> None:
    # USAID, Water for the World, ram example: 60 people x 40 l = 2,400 l a day.
    assert daily_need({"person_village": 60}).expected == pytest.approx(2.4)


def test_a_farm_by_hand() -> None:
    # Summer: 4 people at 40-80 l, 10 sheep at 14 l, 100 m² at 3.6 l: 660 to 820 l, middle 740 l.
    farm = {"person_frugal": 4, "sheep": 10, "garden": 100}
    got = daily_need(farm, 1.0, spread=0.1)
    figures = (got.low, got.expected, got.high)
    assert figures == pytest.approx((0.66 * 0.9, 0.74, 0.82 * 1.1))
    # Winter: 160 to 320 l, sheep 3.6 l each, no garden.
    assert daily_need(farm, 0.0, spread=0.0).low == pytest.approx(0.160 + 0.036)


@pytest.mark.parametrize(
    ("key", "winter", "summer"),
    [
        ("person_basic", (15, 20), (15, 20)),  # WHO, medium term
        ("dairy_cow", (77, 77), (95, 95)),  # Agriculture Canada
        ("sheep", (3.6, 3.6), (14, 14)),
        ("garden", (0, 0), (3.6, 3.6)),  # 25 mm a week
    ],
)
def test_figures_are_the_published_ones(
    key: str, winter: tuple[float, float], summer: tuple[float, float]
) -> None:
    use = published_uses()[key]
    assert use.winter == pytest.approx([w / 1000 for w in winter])
    assert use.summer == pytest.approx([s / 1000 for s in summer])


def test_every_figure_has_its_source() -> None:
    assert {use.group for use in published_uses().values()} == set(PATTERNS)
    for key, use in published_uses().items():
        assert len(use.source) > 5, key
        assert use.confidence in {"high", "medium", "low"}, key
    # 25 mm a week is 25 l/m² in 7 days.
    assert published_uses()["garden"].summer[0] == pytest.approx(0.025 / 7, rel=0.01)


def test_the_users_own_figure_takes_over() -> None:
    own = {**published_uses(), "alpaca": Use("animals", "an alpaca", (0.005, 0.007), (0.01, 0.012))}
    assert daily_need({"alpaca": 10}, uses=own).expected == pytest.approx(0.11)
    with pytest.raises(TypeError):
        published_uses()["sheep"] = own["alpaca"]  # type: ignore[index]


@given(COUNTS, st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_groups_and_hours_sum_to_the_day(
    counts: dict[str, float], summer: float, spread: float
) -> None:
    day = daily_need(counts, summer, spread=spread)
    groups = need_by_group(counts, summer, spread=spread).values()
    hours = hourly_need(counts, summer, spread=spread)
    for edge in ("low", "expected", "high"):
        total = getattr(day, edge)
        assert sum(getattr(band, edge) for band in groups) == pytest.approx(total)
        assert getattr(hours, edge).shape == (24,)
        assert getattr(hours, edge).sum() == pytest.approx(total)


@given(COUNTS, st.sampled_from(KEYS), st.floats(0.0, 100.0))
def test_more_users_never_need_less(counts: dict[str, float], key: str, more: float) -> None:
    grown = {**counts, key: counts.get(key, 0.0) + more}
    assert float(daily_need(grown).low) >= float(daily_need(counts).low) - 1e-12


def test_the_months() -> None:
    months = monthly_need({"sheep": 10, "garden": 50})
    assert [float(m.expected) for m in months] == pytest.approx(
        [0.036 + warm * (0.104 + 0.18) for warm in NORTHERN_SUMMER]
    )
    assert SOUTHERN_SUMMER.index(max(SOUTHERN_SUMMER)) == 0


def test_the_year_is_its_months() -> None:
    counts = {"person_village": 5, "garden": 100}
    year, months = hourly_year(counts), monthly_need(counts)
    assert np.shape(year.expected) == (8760,)
    days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
    expected = sum(n * float(m.expected) for n, m in zip(days, months, strict=True))
    assert np.sum(year.expected) == pytest.approx(expected)
    july = np.asarray(year.expected)[24 * 181 : 24 * 182]
    assert july == pytest.approx(hourly_need(counts, 1.0).expected)


def test_when_water_is_drawn() -> None:
    garden = np.asarray(hourly_need({"garden": 100}).expected)
    assert np.flatnonzero(garden).tolist() == [18, 19]
    stock = {"dairy_cow": 20}
    grazing = hourly_need(stock, patterns={**PATTERNS, "animals": GRAZING_HOURS})
    herd = hourly_need(stock, patterns={**PATTERNS, "animals": HERD_HOURS})
    assert np.count_nonzero(herd.expected) == 2
    assert np.max(herd.expected) > 5 * np.max(grazing.expected)


def test_a_herd_at_the_trough() -> None:
    # 20 cows, half of 95 l at a visit, in 20 minutes: 0.95 m³ / 1200 s.
    assert herd_flow(0.95) == pytest.approx(0.95 / 1200.0)


def test_nobody_needs_nothing() -> None:
    got = daily_need({})
    assert isinstance(got, Band)
    assert (got.low, got.expected, got.high) == (0.0, 0.0, 0.0)


def test_refuses_by_name() -> None:
    with pytest.raises(OutsideRange, match="need has no figure for 'unicorn'; known are calf"):
        daily_need({"unicorn": 1})
    with pytest.raises(OutsideRange, match="number of sheep must be 0 or more"):
        daily_need({"sheep": -1})
    with pytest.raises(OutsideRange, match=r"number of sheep must be .* got nan"):
        daily_need({"sheep": np.nan})
    with pytest.raises(OutsideRange, match=r"summer must be 0 or more and at most 1, got 1\.5"):
        daily_need({"sheep": 1}, 1.5)
    with pytest.raises(OutsideRange, match="summer must have 12 months, got 2"):
        monthly_need({"sheep": 1}, (0.0, 1.0))
    with pytest.raises(OutsideRange, match="summer must have 12 months, got 1"):
        hourly_year({"sheep": 1}, (0.0,))
    with pytest.raises(OutsideRange, match="hours of people must be 24 parts"):
        hourly_need({"sheep": 1}, patterns={**PATTERNS, "people": [0.0] * 24})
    with pytest.raises(OutsideRange, match="hours of garden must be 24 parts"):
        hourly_need({"sheep": 1}, patterns={**PATTERNS, "garden": [1.0]})
    with pytest.raises(OutsideRange, match="group must be people, animals or garden"):
        Use("ghosts", "a ghost", (0.0, 0.0), (0.0, 0.0))  # type: ignore[arg-type]
    with pytest.raises(OutsideRange, match="summer need must be a lowest and a highest"):
        Use("people", "a person", (0.0, 0.1), (0.2, 0.1))
    with pytest.raises(OutsideRange, match="minutes must be above 0"):
        herd_flow(1.0, minutes=0.0)
