"""Lines with the points they need: profiles are sampled more finely than a file must be."""

import numpy as np
import numpy.typing as npt
from shapely.geometry import LineString

from planner.profile.value import FloatArray

STRAY = 0.005  # m; so near the thinned line stays to every point left out


def needed_samples(points: FloatArray) -> npt.NDArray[np.int64]:
    """Indices of the (n, 2) points [m] that their line needs, the ends among them."""
    # The third coordinate is not looked at by Douglas and Peucker; it tells which point is kept.
    numbered = LineString(np.column_stack([points, np.arange(len(points))]))
    kept = np.asarray(numbered.simplify(STRAY, preserve_topology=False).coords)
    return kept[:, 2].astype(np.int64)
