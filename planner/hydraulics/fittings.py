"""Head lost in fittings: inlet, outlet, elbows, tees, valves and barbed inserts."""

from collections.abc import Callable, Mapping

import numpy.typing as npt
from fluids.fittings import (
    Hooper2K,
    contraction_sharp,
    diffuser_sharp,
    entrance_sharp,
    exit_normal,
)

from planner.band import Figure
from planner.errors import InputError
from planner.hydraulics.domain import MOST_BORE, MOST_FLOW, between, plain, positive
from planner.hydraulics.friction import area
from planner.hydraulics.water import GRAVITY

INCH = 0.0254  # m
MOST_FITTINGS = 100_000
MOST_K = 1e6
# Reynolds number at which fittings are counted where the flow is not known yet: 0.2 l/s in 25 mm.
USUAL_REYNOLDS = 1e4
# A barbed insert's bore over the pipe's: 75 to 80 % (general knowledge, medium).
INSERT_BORE = 0.78

# Hooper's two-K method ("The two-K method predicts head losses in pipe fittings", Chem. Eng.
# 88(17), 1981) by the names `fluids` keeps it under; it grows in small bores and slow flow.
HOOPER = {
    "elbow": "Elbow, 90°, Standard (R/D = 1), Screwed",
    "half elbow": "Elbow, 45°, Standard (R/D = 1), All types",
    "tee branch": "Elbow, Used as, Standard, Screwed",  # a tee used as an elbow
    "tee run": "Tee, Run, Screwed",
    "gate valve": "Valve, Gate, Full line size, Beta = 1",
    "ball valve": "Valve, Gate, Full line size, Beta = 1",  # one row of Hooper's: gate, ball, plug
    "globe valve": "Valve, Globe, Standard",
    "swing check": "Valve, Check, Swing",
}


def _barbed_insert(insert_bore: float) -> float:
    """Sharp narrowing and sharp widening, in speed heads of the pipe."""
    of_insert = contraction_sharp(1.0, insert_bore) + diffuser_sharp(insert_bore, 1.0)
    return float(of_insert) / insert_bore**4


FIXED: dict[str, Callable[[], float]] = {
    "entrance": entrance_sharp,
    "exit": exit_normal,
    "barbed insert": lambda: _barbed_insert(INSERT_BORE),
}
FITTINGS = (*FIXED, *HOOPER)


def fitting_k(fitting: str, bore: float, reynolds: float = USUAL_REYNOLDS) -> float:
    """Loss coefficient of one fitting, in speed heads of the pipe.

    Parameters
    ----------
    fitting : str
        One of `FITTINGS`: entrance (sharp), exit, barbed insert, elbow, half elbow, tee branch,
        tee run, gate valve, ball valve, globe valve (a tap), swing check; valves fully open.
    bore : float
        Of the pipe [m], above 0.
    reynolds : float
        Of the flow in it, above 0.

    Raises
    ------
    InputError
        There is no such fitting.
    OutsideRange
        A number is NaN, not positive or absurd.

    References
    ----------
    Hooper (1981) and Rennels' sharp entrance, contraction and expansion, as in `fluids.fittings`.

    Examples
    --------
    >>> round(fitting_k("elbow", 0.02664), 2)
    0.86
    """
    inches = float(positive("bore", bore, MOST_BORE)) / INCH
    re = float(positive("reynolds", reynolds, 1e12))
    if fitting in FIXED:
        return float(FIXED[fitting]())
    if fitting not in HOOPER:
        msg = f"a fitting must be one of {', '.join(FITTINGS)}; got {fitting!r:.40}"
        raise InputError(msg)
    return float(Hooper2K(inches, re, name=HOOPER[fitting]))


def k_sum(counts: Mapping[str, int], bore: float, reynolds: float = USUAL_REYNOLDS) -> float:
    """Sum of the loss coefficients of counted fittings, for `minor_loss` and `pipe_flow`.

    Parameters
    ----------
    counts : mapping of str to int
        How many of each fitting, 0 or more.
    bore, reynolds : float
        As for `fitting_k`.

    Raises
    ------
    InputError
        There is no such fitting.
    OutsideRange
        A count or number is NaN, negative or absurd; the message names it.

    Examples
    --------
    >>> round(k_sum({"entrance": 1, "elbow": 2, "exit": 1}, 0.02664), 2)
    3.29
    """
    positive("bore", bore, MOST_BORE)
    total = 0.0
    for fitting, count in counts.items():
        coefficient = fitting_k(fitting, bore, reynolds)
        total += float(between(f"count of {fitting}", count, 0.0, MOST_FITTINGS)) * coefficient
    return total


def minor_loss(flow: npt.ArrayLike, bore: npt.ArrayLike, k_sum: npt.ArrayLike) -> Figure:
    """Head lost in fittings [m of water]: K V²/2g.

    Parameters
    ----------
    flow : float or array
        Discharge [m³/s], 0 or more. All arguments broadcast.
    bore : float or array
        Inside diameter of the pipe [m], above 0.
    k_sum : float or array
        Sum of the loss coefficients, 0 to 1e6.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.

    Examples
    --------
    >>> round(minor_loss(5e-4, 0.025, 3.0), 3)
    0.159
    """
    q = between("flow", flow, 0.0, MOST_FLOW)
    d = positive("bore", bore, MOST_BORE)
    k = between("k_sum", k_sum, 0.0, MOST_K)
    return plain(k * (q / area(d)) ** 2 / (2.0 * GRAVITY))
