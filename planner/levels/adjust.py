"""Levels from readings that do not quite agree: least squares, each weighed by its error."""

from dataclasses import dataclass

import numpy as np
from scipy.linalg import cho_factor, cho_solve

from planner.levels.network import Network
from planner.levels.value import FloatArray

# Share of its variance by which a reading must be held by others for them to say anything of it.
LEAST_HELD = 1e-9


@dataclass(frozen=True, eq=False, slots=True)
class Prior:
    """What is known of the stations' levels besides the readings.

    Attributes
    ----------
    information : (m, m) ndarray
        Inverse of their covariance [1/m²]; rows and columns of 0 for stations nothing is known of.
    level : (m,) ndarray
        [m]; of those, any level near theirs, from which the sums are reckoned.
    """

    information: FloatArray
    level: FloatArray


@dataclass(frozen=True, eq=False, slots=True)
class Adjusted:
    """The levels that fit the readings best.

    Attributes
    ----------
    level : (m,) ndarray
        Of the network's stations [m].
    covariance : (m, m) ndarray
        [m²]
    """

    level: FloatArray
    covariance: FloatArray


@dataclass(frozen=True, eq=False, slots=True)
class Verdict:
    """What each reading looks like beside all that speaks for or against it.

    Attributes
    ----------
    size : (n,) ndarray
        By how much it is too large, if it alone is wrong [m]; NaN if nothing else tells.
    w : (n,) ndarray
        That over its standard error; normal with variance 1 if nothing is wrong. 0 for NaN.
    """

    size: FloatArray
    w: FloatArray


def adjust(net: Network, prior: Prior) -> Adjusted:
    """Levels by least squares, with their covariance.

    Solves (AᵀWA + P) x = AᵀW (r − Ah), where each row of A is a reading's end less its start, r
    the readings, W the inverse squares of their errors, h and P the prior's levels and
    information; h + x are the levels.

    Parameters
    ----------
    net : Network
    prior : Prior
        It must hold each group of stations that hang together.

    References
    ----------
    Ghilani, C. D., 2017: Adjustment computations, 6th ed., chapters 11 and 12.
    """
    weight = 1.0 / net.error**2
    normal = np.array(prior.information)
    np.add.at(normal, (net.start, net.start), weight)
    np.add.at(normal, (net.end, net.end), weight)
    np.add.at(normal, (net.start, net.end), -weight)
    np.add.at(normal, (net.end, net.start), -weight)
    off = weight * (net.rise - net.above(prior.level))
    right = np.zeros(len(net.names))
    np.add.at(right, net.end, off)
    np.add.at(right, net.start, -off)
    factor = cho_factor(normal)
    covariance = cho_solve(factor, np.eye(len(right)))
    return Adjusted(prior.level + cho_solve(factor, right), 0.5 * (covariance + covariance.T))


def alone(net: Network) -> Prior:
    """A prior that tells nothing but where to start: the first station of each group at level 0.

    Differences within a group, their errors and all tests of readings do not depend on it.
    """
    count = len(net.names)
    held = np.unique(net.group(), return_index=True)[1]
    information = np.zeros((count, count))
    information[held, held] = 1.0 / np.mean(net.error) ** 2
    return Prior(information, np.zeros(count))


def judge(net: Network, adjusted: Adjusted) -> Verdict:
    """Baarda's test of each reading: its residual over the residual's standard error.

    References
    ----------
    Baarda, W., 1968: A testing procedure for use in geodetic networks. Netherlands Geodetic
    Commission, Publications on Geodesy 2, no. 5.
    """
    residual = net.rise - net.above(adjusted.level)
    variance = net.error**2
    held = 1.0 - net.variance_of(adjusted.covariance) / variance
    told = held > LEAST_HELD
    held = np.where(told, held, 1.0)
    return Verdict(
        np.where(told, residual / held, np.nan),
        np.where(told, residual / (net.error * np.sqrt(held)), 0.0),
    )


def misfit(net: Network, adjusted: Adjusted) -> tuple[float, int]:
    """χ² of the readings, adjusted alone, and how many of them were not needed."""
    residual = (net.rise - net.above(adjusted.level)) / net.error
    groups = int(net.group().max()) + 1
    return float(residual @ residual), len(net.read) - len(net.names) + groups
