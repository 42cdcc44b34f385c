"""Feet read as metres, or metres as feet: the ground rises and falls in another measure."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np

from planner.errors import InputError
from planner.levels.adjust import adjust, alone
from planner.levels.ground import solved
from planner.levels.network import Network, network
from planner.levels.stations import Sited
from planner.levels.value import FloatArray, Readings

FOOT = 0.3048  # m, the international foot
OFF = 25.0  # mean square misfit, in variances, beyond which levels do not fit at all (setting)
BETTER = 25.0  # times smaller: the misfit in the right unit (setting)


def check_units(net: Network, readings: Readings, sited: Sited, data: FloatArray) -> None:
    """That the levels of each file fit the elevation data in the unit they were read in.

    Judged only where they do not fit at all: by the generalized least-squares misfit of levels
    and elevation data, as read and in the other unit.

    Parameters
    ----------
    data : (n, n) ndarray
        Covariance of the sited stations' levels as the elevation data tell them [m²].

    Raises
    ------
    InputError
        The levels of a file fit at least five times better in the other unit.
    """
    place = {net.names[number]: own for own, number in enumerate(sited.index)}
    for file, own in _by_file(readings):
        part = network(own)
        found = [(number, place[name]) for number, name in enumerate(part.names) if name in place]
        if len(found) < 2:
            continue
        index, at = (np.array(side, dtype=np.int64) for side in zip(*found, strict=True))
        here = replace(sited, index=index, xy=sited.xy[at], model=sited.model[at])
        _check(file, part, here, data[np.ix_(at, at)])


def _by_file(readings: Readings) -> Iterator[tuple[str, Readings]]:
    files = [one.row.file for one in readings.differences]
    files += [one.row.file for one in readings.knowns]
    for file in dict.fromkeys(files):
        yield (
            file,
            Readings(
                tuple(one for one in readings.differences if one.row.file == file),
                tuple(one for one in readings.knowns if one.row.file == file),
            ),
        )


def _check(file: str, part: Network, here: Sited, data: FloatArray) -> None:
    free = adjust(part, alone(part))
    level = free.level[here.index]
    own = free.covariance[np.ix_(here.index, here.index)]
    groups = part.group()[here.index]
    spare = len(groups) - len(set(groups.tolist()))
    if spare < 1:
        return
    as_read = _misfit(level - here.model, data + own, groups)
    if as_read <= OFF * spare:
        return
    in_feet = _misfit(FOOT * level - here.model, data + FOOT**2 * own, groups)
    in_metres = _misfit(level / FOOT - here.model, data + own / FOOT**2, groups)
    if min(in_feet, in_metres) * BETTER < as_read:
        raise InputError(_message(file, feet=in_feet < in_metres))


def _misfit(off: FloatArray, covariance: FloatArray, groups: Iterable[int]) -> float:
    """χ² of differences from the elevation data, each group's shift taken out."""
    own = np.fromiter(groups, dtype=np.int64)
    shifts = (own[:, None] == np.unique(own)[None, :]).astype(np.float64)
    both = solved(covariance, np.column_stack([off, shifts]))
    pulled, held = both[:, 0], both[:, 1:]
    shift = np.linalg.solve(shifts.T @ held, shifts.T @ pulled)
    return float(off @ (pulled - held @ shift))


def _message(file: str, *, feet: bool) -> str:
    times, seem, unit = (
        ("3.28", "feet read as metres", "ft") if feet else ("0.305", "metres read as feet", "m")
    )
    return (
        f"{file}: its levels rise and fall {times} times as much as the elevation data: they look "
        f'like {seem}; write unit = "{unit}" under [measured], or the unit in its header, in '
        f"brackets: ({unit})"
    )
