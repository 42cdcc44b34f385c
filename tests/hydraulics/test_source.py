"""Bucket and watch, the dry season, and what may be taken."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.band import Band
from planner.errors import OutsideRange
from planner.hydraulics.source import (
    DRY_SHARES,
    bucket_flow,
    design_flow,
    fill_seconds,
    lowest_flow,
    stream_share_left,
)

READING = Band(0.9e-3, 1.0e-3, 1.1e-3)


def test_a_jerrycan_at_a_tenth_of_a_litre_a_second() -> None:
    # NGO spring note: 0.1 l/s fills a 20 l can in just over 3 min.
    assert 180.0 < fill_seconds(0.020, 1e-4) <= 210.0
    assert bucket_flow(0.020, 200.0).flow.expected == pytest.approx(1e-4)


def test_by_hand() -> None:
    # 10 l in 20, 22 and 24 s: 0.5, 0.4545, 0.4167 l/s; mean 0.45707, deviation 0.041727.
    # Shared: hypot(0.03, 0.5/22) = 0.037637 of the mean; Student's t (90 %, 2) 2.9200.
    got = bucket_flow(0.010, [20.0, 22.0, 24.0])
    half = math.hypot(0.037637 * 0.45707, 2.9200 * 0.041727 / math.sqrt(3.0)) * 1e-3
    assert got.flow.expected == pytest.approx(0.45707e-3, rel=1e-4)
    assert got.flow.high - got.flow.expected == pytest.approx(half, rel=1e-3)
    assert got.spread == pytest.approx(0.041727 / 0.45707, rel=1e-4)


@pytest.mark.parametrize("seconds", [13.0, 20.0, 60.0])
def test_above_ten_seconds_three_to_five_percent(seconds: float) -> None:
    got = bucket_flow(0.010, [seconds] * 3).flow
    assert 0.03 <= got.high / got.expected - 1.0 <= 0.05


def test_one_reading_says_nothing_of_its_scatter() -> None:
    got = bucket_flow(0.010, 20.0)
    assert got.readings == 1
    assert math.isnan(got.spread)
    assert got.flow.low > 0.0


def test_quick_fills_are_less_sure() -> None:
    slow, quick = (bucket_flow(0.010, [t] * 3).flow for t in (20.0, 2.0))
    assert quick.low / quick.expected < slow.low / slow.expected


@given(st.lists(st.floats(1.0, 1000.0), min_size=1, max_size=20), st.floats(1e-3, 1.0))
def test_the_mean_lies_within_its_readings(seconds: list[float], volume: float) -> None:
    got = bucket_flow(volume, seconds).flow
    assert volume / max(seconds) * (1 - 1e-9) <= got.expected
    assert got.expected <= volume / min(seconds) * (1 + 1e-9)
    assert 0.0 <= got.low < got.expected < got.high


@given(st.permutations([9.0, 11.0, 14.0, 30.0]))
def test_the_order_of_readings_is_nothing(seconds: list[float]) -> None:
    here, there = bucket_flow(0.01, seconds), bucket_flow(0.01, sorted(seconds))
    assert here.flow.high == pytest.approx(float(there.flow.high))


def test_a_dry_reading_is_the_lowest() -> None:
    got = lowest_flow(READING, "dry")
    assert (got.flow, got.basis, got.for_design) == (READING, "dry reading", True)


@pytest.mark.parametrize("season", ["wet", None])
def test_without_a_dry_reading_nothing_is_for_design(season: None) -> None:
    bare, reduced = lowest_flow(READING, season), lowest_flow(READING, season, DRY_SHARES["deep"])
    assert (bare.basis, bare.for_design) == ("wet reading", False)
    assert (reduced.basis, reduced.for_design) == ("wet reading, reduced", False)
    assert reduced.flow.low == pytest.approx(0.9e-3 * 0.7)
    assert reduced.flow.high == pytest.approx(1.1e-3 * 0.9)


def test_the_lesser_of_what_is_left_and_what_is_safe() -> None:
    assert design_flow(READING, 0.5).low == pytest.approx(0.45e-3)
    assert design_flow(READING, 0.0).expected == pytest.approx(0.8e-3)
    assert design_flow(READING, 1.0).high == 0.0


@given(st.floats(1e-6, 1.0), st.floats(0.0, 1.0))
def test_share_left_and_taken_make_the_whole(flow: float, share: float) -> None:
    assert stream_share_left(flow, flow * share) == pytest.approx(1.0 - share)
    assert stream_share_left(flow, flow * (1.0 + share)) == 0.0


@pytest.mark.parametrize(
    ("volume", "seconds", "words"),
    [
        (0.01, [20.0, 0.5], "seconds must be 1 or more .* got 0.5 at index 1"),
        (0.01, [], "seconds must hold 1 to 1000 fills"),
        (0.01, [20.0] * 1001, "seconds must hold 1 to 1000 fills"),
        (0.01, np.nan, "seconds must be .* got nan"),
        (-0.01, 20.0, "volume must be above 0"),
        (20.0, 20.0, "volume must be above 0 and at most 10, got 20"),
        ([0.01, 0.02], [20.0, 20.0, 20.0], "one for each of 3 fills"),
        ("a bucket", 20.0, "volume must be a number"),
    ],
)
def test_refuses_timings_by_name(volume: object, seconds: object, words: str) -> None:
    with pytest.raises(OutsideRange, match=words):
        bucket_flow(volume, seconds)  # type: ignore[arg-type]


def test_refuses_shares_by_name() -> None:
    with pytest.raises(OutsideRange, match="factor belongs to a wet-season reading"):
        lowest_flow(READING, "dry", DRY_SHARES["deep"])
    with pytest.raises(OutsideRange, match=r"high factor must be .* at most 1"):
        lowest_flow(READING, "wet", Band(0.5, 0.9, 1.1))
    with pytest.raises(OutsideRange, match="factor must be above 0"):
        lowest_flow(READING, "wet", Band(0.0, 0.5, 0.6))
    with pytest.raises(OutsideRange, match="low reading must be 0 or more"):
        lowest_flow(Band(-1.0, 0.0, 1.0), "dry")
    with pytest.raises(OutsideRange, match=r"share_left must be .* at most 1"):
        design_flow(READING, 1.2)
    with pytest.raises(OutsideRange, match="taken must be 0 or more"):
        stream_share_left(1e-3, -1e-4)
