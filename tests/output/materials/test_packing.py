"""Cutting stock: nothing lost, nothing over-long, near the fewest."""

import math

from hypothesis import given
from hypothesis import strategies as st

from planner.output.materials.packing import pack, whole_and_rest
from planner.output.materials.value import LaidRun

LENGTHS = st.floats(0.5, 900.0)
PIECES = st.sampled_from([6.0, 25.0, 30.5, 100.0, 152.0])


def laid(lengths: list[float]) -> tuple[LaidRun, ...]:
    return tuple(LaidRun(f"line {k}", 0.0, m, 0.0, 0.0, 1) for k, m in enumerate(lengths))


@given(st.lists(LENGTHS, min_size=1, max_size=12), PIECES)
def test_all_is_cut_and_no_piece_is_longer_than_it_is(lengths: list[float], piece: float) -> None:
    pieces = pack(laid(lengths), piece)
    for k, wanted in enumerate(lengths):
        got = sum(cut.length for one in pieces for cut in one.cuts if cut.line == f"line {k}")
        assert math.isclose(got, wanted, abs_tol=1e-5)
    for one in pieces:
        used = sum(cut.length for cut in one.cuts)
        assert used <= piece + 1e-5
        assert math.isclose(used + one.left, piece, abs_tol=1e-5)


@given(st.lists(LENGTHS, min_size=1, max_size=12), PIECES)
def test_never_far_above_the_fewest(lengths: list[float], piece: float) -> None:
    fewest = math.ceil(sum(lengths) / piece - 1e-6)
    whole = sum(whole_and_rest(length, piece)[0] for length in lengths)
    rests = [whole_and_rest(length, piece)[1] for length in lengths]
    # No more than two begun pieces for every one that the rests fill: first fit leaves at most one
    # of them less than half full.
    count = len(pack(laid(lengths), piece))
    assert fewest <= count <= whole + max(1, math.ceil(2.0 * sum(rests) / piece))


@given(LENGTHS, PIECES)
def test_whole_and_rest_make_up_the_length(length: float, piece: float) -> None:
    whole, rest = whole_and_rest(length, piece)
    assert math.isclose(whole * piece + rest, length, abs_tol=1e-5)
    assert 0.0 <= rest < piece


def test_a_rest_goes_into_the_first_begun_piece_that_holds_it() -> None:
    # 60, 50 and 40 m of 100 m coils: 60 and 40 share one, 50 takes another.
    pieces = pack(laid([50.0, 60.0, 40.0]), 100.0)
    assert [[cut.length for cut in one.cuts] for one in pieces] == [[60.0, 40.0], [50.0]]
