"""Readings as a network: stations, and what was read between them."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from planner.levels.value import Difference, FloatArray, Readings

IntArray = npt.NDArray[np.int64]
DATUM = "\0"  # before the name of a file; no station's name holds it
LEAST_ERROR = 0.0005  # m; nothing read outdoors is surer


@dataclass(frozen=True, eq=False, slots=True)
class Network:
    """Stations and the differences read between them.

    The datum of each file of known points is a station too, from which its levels were read: that
    is all that is known of it.

    Attributes
    ----------
    names : tuple of str
        Of m stations.
    read : tuple of Difference
        n of them.
    start, end : (n,) ndarray
        Indices of their stations.
    rise, error : (n,) ndarray
        As read, with standard errors [m].
    """

    names: tuple[str, ...]
    read: tuple[Difference, ...]
    start: IntArray
    end: IntArray
    rise: FloatArray
    error: FloatArray

    def above(self, level: FloatArray) -> FloatArray:
        """(n,) how far each reading's end stands above its start, by (m,) levels."""
        return np.asarray(level[self.end] - level[self.start])

    def variance_of(self, covariance: FloatArray) -> FloatArray:
        """(n,) variance of those rises, by the (m, m) covariance of levels."""
        own = np.diag(covariance)
        return np.asarray(own[self.end] + own[self.start] - 2.0 * covariance[self.end, self.start])

    def group(self) -> IntArray:
        """(m,) which stations hang together by readings, numbered from 0."""
        count = len(self.names)
        links = coo_array((np.ones(len(self.start)), (self.start, self.end)), shape=(count, count))
        return np.asarray(connected_components(links, directed=False)[1], dtype=np.int64)


def network(readings: Readings) -> Network:
    """All readings as one network; stations in the order of their names."""
    read = (
        *readings.differences,
        *(
            Difference(
                DATUM + known.row.file, known.station, known.level, known.error, "known", known.row
            )
            for known in readings.knowns
        ),
    )
    names = tuple(dict.fromkeys(name for one in read for name in (one.start, one.end)))
    index = {name: number for number, name in enumerate(names)}
    return Network(
        names,
        read,
        np.array([index[one.start] for one in read], dtype=np.int64),
        np.array([index[one.end] for one in read], dtype=np.int64),
        np.array([one.rise for one in read], dtype=np.float64),
        np.array([max(one.error, LEAST_ERROR) for one in read], dtype=np.float64),
    )


def is_datum(name: str) -> bool:
    """Whether a station of a network is the datum of a file."""
    return name.startswith(DATUM)
