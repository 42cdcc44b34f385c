"""How far pressure may go beyond a pipe's class, by how often it does."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from planner.band import Figure
from planner.errors import InputError
from planner.hydraulics.domain import MOST_HEAD, between, plain
from planner.hydraulics.pipe import Material


@dataclass(frozen=True, slots=True)
class Allowance:
    """Greatest pressure over the pipe's rating, each 1 or more.

    Attributes
    ----------
    standing : float
        For what stands or runs for good.
    recurring : float
        With the surge of every day: a valve or float valve shutting, a pump stopping.
    occasional : float
        With the surge of a mishap: a valve slammed, a line filled too fast.
    source : str
    """

    standing: float
    recurring: float
    occasional: float
    source: str


# Editable: codes differ, and a local code goes before them.
ALLOWANCES: dict[Material, Allowance] = {
    "PE": Allowance(1.0, 1.5, 2.0, "AWWA C901/C906 (general knowledge, high)"),
    "PVC": Allowance(
        1.0, 1.0, 1.6, "occasional: AWWA (general knowledge, high); recurring: none, it fatigues"
    ),
    "steel": Allowance(1.0, 1.0, 1.0, "none taken: the threaded fittings set its class"),
}


def rating_needed(
    standing: npt.ArrayLike,
    recurring: npt.ArrayLike,
    occasional: npt.ArrayLike,
    material: Material,
) -> Figure:
    """Rating a pipe needs where it lies [m of water], after temperature derating.

    The most of standing / a, (standing + recurring) / b and (standing + occasional) / c, with the
    material's allowances a, b, c. Suction (standing below 0) needs none of it.

    Parameters
    ----------
    standing : float or array
        Greatest pressure that stands or runs [m of water], outlet closed or open. All broadcast.
    recurring, occasional : float or array
        Rise by the surge of every day, and by that of a mishap [m], 0 or more.
    material : {"PE", "PVC", "steel"}

    Raises
    ------
    OutsideRange
        A value is NaN, negative where it can't be, or absurd; the message names it.
    InputError
        There is no such material.

    Examples
    --------
    >>> rating_needed(60.0, 45.0, 80.0, "PE"), rating_needed(60.0, 45.0, 80.0, "PVC")
    (70.0, 105.0)
    """
    if material not in ALLOWANCES:
        msg = f"material must be one of {', '.join(ALLOWANCES)}; got {material!r:.40}"
        raise InputError(msg)
    allowed = ALLOWANCES[material]
    stands = between("standing", standing, -MOST_HEAD, MOST_HEAD)
    daily = stands + between("recurring", recurring, 0.0, MOST_HEAD)
    rare = stands + between("occasional", occasional, 0.0, MOST_HEAD)
    most = np.maximum(
        stands / allowed.standing,
        np.maximum(daily / allowed.recurring, rare / allowed.occasional),
    )
    return plain(np.maximum(most, 0.0))
