"""Which drive pipe or load puts a ram's beat right, and what other drive pipes do to it."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics.ram_cycle import Workings, ram_cycle
from planner.hydraulics.ram_remedy import drive_variants, paced_length, remedy


def test_beats_too_fast_lengthen_or_load() -> None:
    told = remedy(2.4, 24.0, 9.0, 0.0525, closing_velocity=0.8, beats=(40.0, 68.0, 90.0))
    assert told.trouble == "too fast"
    assert told.cycle.beats > 90.0
    # The worked example at 17 m: 0.62 s gathering, 0.03, 0.064, and a recoil of 17 * 0.163 /
    # 23.5 + 2 * 17 / 1133 = 0.15: some 68 beats a minute.
    assert told.length == pytest.approx(17.0, abs=0.5)
    assert told.longer is not None
    assert told.heavier is not None
    assert told.longer.beats == pytest.approx(68.0)
    assert told.heavier.beats == pytest.approx(68.0)
    assert told.load > 1.0
    again = ram_cycle(2.4, 24.0, 9.0, 0.0525, closing_velocity=0.8 * math.sqrt(told.load))
    assert again.beats == pytest.approx(68.0)


def test_beats_too_slow_shorten_or_lighten() -> None:
    told = remedy(2.4, 24.0, 40.0, 0.0525, closing_velocity=0.8)
    assert told.trouble == "too slow"
    assert told.length < 40.0
    assert told.load < 1.0


def test_nothing_amiss_nothing_told() -> None:
    told = remedy(2.4, 24.0, 17.0, 0.0525, closing_velocity=0.8)
    assert told.trouble == "none"
    assert math.isnan(told.length)
    assert math.isnan(told.load)
    assert told.longer is None
    assert told.heavier is None


def test_stalled_open_a_shorter_pipe_or_a_lighter_load() -> None:
    told = remedy(2.4, 24.0, 30.0, 0.0525, closing_velocity=1.6)
    assert told.trouble == "stalls open"
    assert told.length < 30.0
    assert told.load < 1.0
    assert told.longer is not None
    assert not told.longer.stalls


def test_out_of_reach_of_any_pipe() -> None:
    # Held open, even the shortest pipe lets the water no faster than √(2 g 2.4 / 5.5) = 2.9 m/s.
    told = remedy(2.4, 24.0, 12.0, 0.0525, closing_velocity=3.5)
    assert told.trouble == "stalls open"
    assert math.isnan(told.length)
    assert told.load < 1.0


def test_a_valve_that_shuts_too_gently_for_the_lift() -> None:
    # V_J = 9.8 * 97.6 / 1300 = 0.74 m/s: at 0.3 nothing is lifted, whatever the length.
    told = remedy(2.4, 100.0, 17.0, 0.0525, closing_velocity=0.3)
    assert told.trouble == "delivers nothing"
    assert math.isnan(told.length)
    assert told.longer is None
    assert told.load > 1.0
    assert told.heavier is not None
    assert told.heavier.delivered > 0.0
    assert told.heavier.beats == pytest.approx(40.0)  # 60 would still deliver nothing


@given(
    st.floats(1.0, 8.0), st.floats(3.0, 15.0), st.floats(0.025, 0.1), st.floats(0.4, 1.0),
    st.floats(40.0, 90.0),
)  # fmt: skip
def test_paced_length_makes_the_beats(
    fall: float, ratio: float, bore: float, speed: float, beats: float
) -> None:
    length = paced_length(beats, fall, fall * ratio, bore, closing_velocity=speed)
    if math.isnan(length):  # the recoil alone takes longer than the beat, or the ram stalls
        shortest = ram_cycle(fall, fall * ratio, 0.5, bore, closing_velocity=speed)
        assert shortest.beats < beats
        return
    cycle = ram_cycle(fall, fall * ratio, length, bore, closing_velocity=speed)
    assert cycle.beats == pytest.approx(beats, rel=1e-6) or cycle.free_velocity == pytest.approx(
        speed, rel=1e-3
    )


def test_longer_and_shorter() -> None:
    now, short, long = drive_variants(
        2.4, 24.0, 12.0, 0.0525, closing_velocity=0.8, lengths=[6.0, 24.0]
    )
    assert (now.length, short.length, long.length) == (12.0, 6.0, 24.0)
    assert now.cycle == ram_cycle(2.4, 24.0, 12.0, 0.0525, closing_velocity=0.8)
    assert short.cycle.beats > now.cycle.beats > long.cycle.beats
    assert short.cycle.delivered < now.cycle.delivered < long.cycle.delivered


def test_wider_and_narrower_shut_at_the_same_flow() -> None:
    now, narrow, wide = drive_variants(
        3.0, 15.0, 15.0, 0.0525, closing_velocity=0.8, bores=[0.041, 0.0627]
    )
    flow = {round(v.closing_velocity * v.bore**2, 12) for v in (now, narrow, wide)}
    assert len(flow) == 1
    # The same water in a wider pipe moves slower and is faster up to speed.
    assert narrow.cycle.beats < now.cycle.beats < wide.cycle.beats
    assert narrow.cycle.delivered > now.cycle.delivered > wide.cycle.delivered


def test_a_pipe_too_narrow_stalls_the_ram_a_pipe_too_wide_delivers_nothing() -> None:
    _, narrow, wide = drive_variants(
        2.4, 24.0, 12.0, 0.0525, closing_velocity=0.8, bores=[0.03, 0.12]
    )
    assert narrow.cycle.stalls
    assert not wide.cycle.stalls
    assert wide.cycle.delivered == 0.0


def test_refuses_by_name() -> None:
    ram = (2.4, 24.0, 12.0, 0.0525)
    with pytest.raises(OutsideRange, match="bore must be above 0"):
        drive_variants(*ram, closing_velocity=0.8, bores=[math.nan])
    with pytest.raises(OutsideRange, match="drive_length must be above 0"):
        drive_variants(*ram, closing_velocity=0.8, lengths=[-3.0])
    with pytest.raises(OutsideRange, match="at most 1000 together"):
        drive_variants(*ram, closing_velocity=0.8, lengths=[3.0] * 1001)
    with pytest.raises(OutsideRange, match="beats must be above 0"):
        paced_length(math.nan, 2.4, 24.0, 0.05, closing_velocity=0.8)
    with pytest.raises(OutsideRange, match=r"beats must rise .* got 90, 60, 40"):
        remedy(*ram, closing_velocity=0.8, beats=(90.0, 60.0, 40.0))
    with pytest.raises(OutsideRange, match="closing_velocity must be above 0"):
        remedy(*ram, closing_velocity=-1.0)
    with pytest.raises(OutsideRange, match="roughness"):
        remedy(*ram, closing_velocity=0.8, workings=Workings(roughness=0.04))
