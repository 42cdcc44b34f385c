"""Block means and the factor of coarsening."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from planner.terrain.mosaic import block_means, coarsening
from planner.terrain.value import FloatArray


@given(
    z=arrays(np.float64, (12, 18), elements=st.one_of(st.floats(-400, 8000), st.just(np.nan))),
    factor=st.sampled_from([1, 2, 3, 6]),
)
def test_block_means_equal_their_plain_twin(z: FloatArray, factor: int) -> None:
    means = block_means(z, factor)
    for row in range(12 // factor):
        for col in range(18 // factor):
            block = z[row * factor : (row + 1) * factor, col * factor : (col + 1) * factor]
            known = block[np.isfinite(block)]
            if known.size:
                assert means[row, col] == pytest.approx(known.mean(), abs=1e-9)
            else:
                assert np.isnan(means[row, col])


@given(st.integers(1, 5000), st.integers(1, 5000), st.integers(1, 100_000))
def test_coarsening_is_the_least_that_fits(rows: int, cols: int, most: int) -> None:
    factor = coarsening((rows, cols), most)
    assert (rows // factor) * (cols // factor) <= most
    if factor > 1:
        assert (rows // (factor - 1)) * (cols // (factor - 1)) > most
