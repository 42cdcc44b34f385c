"""The source at its lowest, and what an intake on it needs."""

import pytest

from planner.chain.source_works import source_flow, source_works
from planner.hydraulics.source import LowestFlow
from planner.site.value import Fill, Source
from tests.chain.small import settings_of, site


def lowest(**source: object) -> LowestFlow:
    got = source_flow(site(source=Source(**source)))  # type: ignore[arg-type]
    assert got is not None
    return got


def test_several_timings_give_their_mean_and_a_band() -> None:
    fills = tuple(Fill(0.020, seconds) for seconds in (38.0, 40.0, 42.0))
    got = lowest(timings=fills, season="dry")
    mean = (20 / 38 + 20 / 40 + 20 / 42) / 3 / 1000
    assert got.flow.expected == pytest.approx(mean)
    assert got.flow.low < mean < got.flow.high
    # 3 % of the bucket and 0.5 s of 40; the scatter, 5 %, by Student's t 2.92 / sqrt(3) more.
    assert (got.flow.high - mean) / mean == pytest.approx(0.0908, abs=0.003)
    assert got.basis == "dry reading"


def test_a_flow_as_told_is_good_to_five_per_cent() -> None:
    got = lowest(flow=1e-3, season="dry")
    assert (got.flow.low, got.flow.high) == pytest.approx((0.95e-3, 1.05e-3))


def test_a_wet_reading_bare_and_with_its_factor() -> None:
    bare = lowest(flow=1e-3, season="wet")
    assert (bare.basis, bare.for_design) == ("wet reading", False)
    assert bare.flow.expected == 1e-3
    less = lowest(flow=1e-3, season="wet", season_factor=(0.3, 0.7))
    assert (less.basis, less.for_design) == ("wet reading, reduced", False)
    assert less.flow.expected == pytest.approx(0.5e-3)
    assert (less.flow.low, less.flow.high) == pytest.approx((0.3 * 0.95e-3, 0.7 * 1.05e-3))


def test_a_season_not_told_counts_as_wet() -> None:
    assert lowest(flow=1e-3).basis == "wet reading"
    assert lowest(flow=1e-3, season_factor=(0.5, 0.5)).flow.expected == pytest.approx(0.5e-3)


def test_a_dry_reading_needs_no_factor() -> None:
    assert lowest(flow=1e-3, season="dry", season_factor=(0.3, 0.7)).flow.expected == 1e-3


def test_the_intake_by_hand() -> None:
    lines = site().lines | {"supply": settings_of("supply", bore=0.04)}
    made = site(lines=lines)
    got = source_works(made, source_flow(made), 5e-4)
    assert got is not None
    assert got.screen.area == pytest.approx(4 * 3.14159265 / 4 * 0.04**2 / 0.4)
    assert got.chamber.volume == pytest.approx(900 * 5e-4)  # a quarter of an hour
    assert got.cover == 0.3


def test_nothing_is_told_of_a_source_that_is_not_known() -> None:
    unknown = site(source=Source())
    assert source_flow(unknown) is None
    assert source_works(unknown, None, None) is None
    assert source_works(site(), source_flow(site()), 0.0) is None
