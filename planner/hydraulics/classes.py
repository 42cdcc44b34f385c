"""Which class of pipe lies where along a line, so that strong pipe is bought only where needed."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from planner.errors import InputError, OutsideRange
from planner.hydraulics.allowance import rating_needed
from planner.hydraulics.derating import derated_rating
from planner.hydraulics.domain import MOST_HEAD, MOST_LENGTH, FloatArray, between
from planner.hydraulics.pipe import CataloguePipe, Material
from planner.hydraulics.stretches import Stretch

LEAST_STRETCH = 30.0  # m, a short coil
# What a change of class costs, in length of the one class that would do all along: a coupling, and
# one more kind of pipe to buy, carry and not mistake. An editable guess.
CHANGE_LENGTH = 5.0  # m
REACH = 3  # least stretches on either side of a crossing that a change may lie away from it
SAME_PLACE = 1e-3  # m, places nearer than this are one
SAME_HEAD = 0.01  # m of head, finer than any level is known
MOST_PLACES = 4000  # where the class may change; more is noise, and thinned


@dataclass(frozen=True, slots=True)
class ClassedStretch:
    """Part of a line in one class of pipe.

    Attributes
    ----------
    start, end : float
        Chainage [m].
    pipe : CataloguePipe
    needed : float
        Greatest rating needed in it, after temperature derating [m of water].
    """

    start: float
    end: float
    pipe: CataloguePipe
    needed: float


@dataclass(frozen=True, slots=True)
class ClassedLine:
    """The classes chosen for a line.

    Attributes
    ----------
    stretches : tuple of ClassedStretch
        From the first chainage to the last.
    mass, mass_spared : float
        Of the pipe chosen, and how much less that is than the lightest one class that would do
        all along [kg].
    too_weak : tuple of (float, float)
        Chainages [m] between which no pipe offered bears the pressure; the strongest lies there.
        Empty where all is well. Another pipe, or a tank that breaks the pressure, is needed.
    """

    stretches: tuple[ClassedStretch, ...]
    mass: float
    mass_spared: float
    too_weak: tuple[tuple[float, float], ...]


def needed_along(
    pipe_level: npt.ArrayLike,
    closed_level: npt.ArrayLike,
    working_level: npt.ArrayLike,
    recurring: npt.ArrayLike,
    occasional: npt.ArrayLike,
    material: Material,
) -> FloatArray:
    """Rating needed at each sample of a line [m of water], after temperature derating.

    Parameters
    ----------
    pipe_level, closed_level, working_level : (n,) array
        Level of the pipe, and levels to which water would stand with the outlet closed and with
        the water running [m]; the higher counts. A delivery line's working level is the higher.
    recurring, occasional : float or (n,) array
        Rise by the surge of every day, and by that of a mishap [m], 0 or more.
    material : {"PE", "PVC", "steel"}
        Of the pipes to choose from; it sets the allowances.

    Raises
    ------
    OutsideRange
        A value is NaN, negative where it can't be, or absurd; the message names it.
    InputError
        There is no such material.

    Examples
    --------
    >>> needed_along([500, 440], [502, 502], [502, 495], 16.0, 0.0, "PE").tolist()
    [12.0, 62.0]
    """
    z = between("pipe_level", pipe_level, -MOST_HEAD, MOST_HEAD)
    closed = between("closed_level", closed_level, -MOST_HEAD, MOST_HEAD)
    working = between("working_level", working_level, -MOST_HEAD, MOST_HEAD)
    standing = np.maximum(closed, working) - z
    return np.atleast_1d(np.asarray(rating_needed(standing, recurring, occasional, material)))


def choose_classes(
    chainage: npt.ArrayLike,
    needed: npt.ArrayLike,
    pipes: Sequence[CataloguePipe],
    *,
    temperature: float = 20.0,
    least_stretch: float = LEAST_STRETCH,
    change_length: float = CHANGE_LENGTH,
) -> ClassedLine:
    """Choose the class of pipe stretch by stretch from the rating needed along the line.

    The lightest choice, and with it about the cheapest, since plastic pipe is sold by weight: the
    sum of mass, and for each change as much as `change_length` of the one class that would do all
    along. It is exact over the places where a change can pay: where the rating needed passes a
    class, and up to three least stretches from these and from the ends.

    Parameters
    ----------
    chainage : (n,) array
        Along the pipe [m], rising, at least two.
    needed : (n,) array
        Rating needed [m of water], 0 or more: see `needed_along`. Between samples, linear.
    pipes : sequence of CataloguePipe
        What can be bought, of one material: see `find_pipes`. Where the bore differs by class,
        work with the narrowest, or solve again with the bores chosen.
    temperature : float
        Of the pipe's wall [°C], 0..60: see `wall_temperature`.
    least_stretch : float
        No stretch is shorter [m], 0 or more, unless the line is.
    change_length : float
        What a change must save, in length of the class that would do all along [m], 0 or more.

    Raises
    ------
    InputError
        There is no pipe to choose from, or pipes of several materials.
    OutsideRange
        A value is NaN, negative or absurd, or the chainage does not rise.

    Examples
    --------
    >>> from planner.hydraulics.catalogue import find_pipes
    >>> pe = find_pipes("32 mm", standard="ISO 4427")
    >>> chosen = choose_classes([0.0, 1000.0], [0.0, 150.0], pe)
    >>> [(round(s.start), round(s.end), s.pipe.pressure_class) for s in chosen.stretches]
    [(0, 667, 'PN 10'), (667, 833, 'PN 12.5'), (833, 1000, 'PN 16')]
    """
    s, need = _along(chainage, needed)
    least = float(between("least_stretch", least_stretch, 0.0, MOST_LENGTH))
    change = float(between("change_length", change_length, 0.0, MOST_LENGTH))
    ladder = _ladder(pipes, temperature)
    ratings = np.array([float(derated_rating(p, temperature)) for p in ladder])
    price = np.array([p.mass for p in ladder])
    places = _places(s, need, ratings, least)
    greatest = np.minimum(_greatest(s, need, places), ratings[-1])
    one_class = ladder[int(_steps(ratings, greatest.max()))]
    toll = max(change, SAME_PLACE) * one_class.mass  # never nothing: no joint within one class
    joints = _cheapest(places, greatest, ratings, price, least, toll)
    parts = tuple(
        ClassedStretch(
            float(places[a]),
            float(places[b]),
            ladder[int(_steps(ratings, greatest[a:b].max()))],
            float(_greatest(s, need, places[[a, b]])[0]),
        )
        for a, b in pairwise(joints)
    )
    mass = sum((p.end - p.start) * p.pipe.mass for p in parts)
    whole = float(s[-1] - s[0]) * one_class.mass
    return ClassedLine(parts, mass, whole - mass, _above(s, need, float(ratings[-1])))


def laid_stretches(line: ClassedLine) -> tuple[Stretch, ...]:
    """The line as `line_loss` and its kin take it: true bores, and roughness as one designs."""
    return tuple(
        Stretch(part.end - part.start, part.pipe.bore, part.pipe.roughness)
        for part in line.stretches
    )


def _along(chainage: npt.ArrayLike, needed: npt.ArrayLike) -> tuple[FloatArray, FloatArray]:
    s = between("chainage", chainage, -1e9, 1e9)
    need = between("needed", needed, 0.0, MOST_HEAD)
    if s.ndim != 1 or s.size < 2 or np.any(np.diff(s) <= 0) or need.shape != s.shape:
        msg = "chainage must be at least two rising distances, with one rating needed for each"
        raise OutsideRange(msg)
    return s, need


def _ladder(pipes: Sequence[CataloguePipe], temperature: float) -> list[CataloguePipe]:
    """The pipes worth choosing, weakest first: none that is weaker and no lighter than another."""
    materials = sorted({p.material for p in pipes})
    if len(materials) != 1:
        told = " and ".join(materials) or "no pipe"
        msg = f"classes are chosen among pipes of one material, got {told}"
        raise InputError(msg)
    ladder: list[CataloguePipe] = []
    for pipe in sorted(pipes, key=lambda p: (-float(derated_rating(p, temperature)), p.mass)):
        if not ladder or pipe.mass < ladder[-1].mass:
            ladder.append(pipe)
    return ladder[::-1]


def _places(s: FloatArray, need: FloatArray, ratings: FloatArray, least: float) -> FloatArray:
    """(m,) chainages where the class may change, both ends among them."""
    passes = np.concatenate([_crossings(s, need, float(rating)) for rating in ratings])
    ends = np.array([s[0], s[-1]])
    anchors = np.concatenate([passes, ends])
    near = np.concatenate([anchors + k * least for k in range(-REACH, REACH + 1)])
    inner = np.unique(near[(near > s[0] + SAME_PLACE) & (near < s[-1] - SAME_PLACE)])
    if inner.size:
        inner = inner[np.concatenate([[True], np.diff(inner) > SAME_PLACE])]
    if inner.size > MOST_PLACES:
        inner = inner[np.linspace(0, inner.size - 1, MOST_PLACES).round().astype(int)]
    return np.concatenate([ends[:1], inner, ends[1:]])


def _crossings(s: FloatArray, need: FloatArray, rating: float) -> FloatArray:
    """Chainages where the rating needed passes a rating, between samples by the straight line."""
    over = need - rating
    k = np.flatnonzero((over[:-1] > 0) != (over[1:] > 0))
    return np.asarray(s[k] + (s[k + 1] - s[k]) * over[k] / (over[k] - over[k + 1]))


def _greatest(s: FloatArray, need: FloatArray, places: FloatArray) -> FloatArray:
    """(m - 1,) greatest rating needed from each place to the next."""
    at = np.interp(places, s, need)
    most = np.maximum(at[:-1], at[1:])
    cell = np.searchsorted(places, s, side="right") - 1
    inside = (cell >= 0) & (cell < most.size)
    np.maximum.at(most, cell[inside], need[inside])
    return np.asarray(most)


def _steps(ratings: FloatArray, need: npt.ArrayLike) -> npt.NDArray[np.intp]:
    """Index of the weakest rating that bears a need, to a centimetre."""
    return np.searchsorted(ratings, np.asarray(need) - SAME_HEAD)


def _cheapest(
    places: FloatArray,
    greatest: FloatArray,
    ratings: FloatArray,
    price: FloatArray,
    least: float,
    change: float,
) -> list[int]:
    """Indices of the places at which the cheapest choice of classes changes, both ends among them.

    Shortest path over the places: a step from one to a later one is a stretch in the cheapest
    pipe that bears all of it. `price` rises with `ratings`.
    """
    m = places.size
    least = min(least, float(places[-1] - places[0])) - 2.0 * SAME_PLACE
    cost, came = np.full(m, np.inf), np.zeros(m, dtype=np.int64)
    cost[0] = -change  # the first stretch is no change
    worst = np.zeros(m)  # greatest need from each place to the one under way
    for k in range(1, m):
        np.maximum(worst[:k], greatest[k - 1], out=worst[:k])
        run = places[k] - places[:k]
        each = cost[:k] + change + run * price[_steps(ratings, worst[:k])]
        each[run < least] = np.inf
        came[k] = int(np.argmin(each))
        cost[k] = each[came[k]]
    joints = [m - 1]
    while joints[-1] > 0:
        joints.append(int(came[joints[-1]]))
    return joints[::-1]


def _above(s: FloatArray, need: FloatArray, rating: float) -> tuple[tuple[float, float], ...]:
    """Stretches of chainage whose need is above a rating."""
    edges = np.concatenate([s[:1], _crossings(s, need, rating + SAME_HEAD), s[-1:]])
    return tuple(
        (float(a), float(b))
        for a, b in pairwise(edges)
        if np.interp((a + b) / 2.0, s, need) > rating + SAME_HEAD
    )
