"""Which lengths are cut from which coil or stick, so that what remains of one serves another."""

import math

from planner.output.materials.value import Cut, LaidRun, Piece

SAME = 1e-6  # m


def whole_and_rest(wanted: float, length: float) -> tuple[int, float]:
    """How many whole pieces a length takes, and what it takes of one more [m].

    Examples
    --------
    >>> whole_and_rest(217.0, 100.0)
    (2, 17.0)
    """
    whole = math.floor((wanted + SAME) / length)
    rest = wanted - whole * length
    return whole, rest if rest > SAME else 0.0


def pack(runs: tuple[LaidRun, ...], length: float) -> tuple[Piece, ...]:
    """Coils or sticks for the runs of one pipe: whole ones first, then the rests, longest first.

    Each rest goes into the first begun piece that holds it (first fit, decreasing): never more
    than 11/9 of the fewest pieces and one (Johnson 1973), and for a handful of lines the fewest.

    Parameters
    ----------
    runs : tuple of LaidRun
    length : float
        Of one piece [m], above 0.
    """
    pieces: list[Piece] = []
    rests: list[Cut] = []
    for run in runs:
        whole, rest = whole_and_rest(run.wanted_m, length)
        pieces += [Piece((Cut(run.line, length),), 0.0)] * whole
        rests += [Cut(run.line, rest)] if rest else []
    begun: list[Piece] = []
    for cut in sorted(rests, key=lambda cut: -cut.length):
        at = next((k for k, one in enumerate(begun) if one.left + SAME >= cut.length), None)
        if at is None:
            begun.append(Piece((cut,), length - cut.length))
        else:
            old = begun[at]
            begun[at] = Piece((*old.cuts, cut), max(old.left - cut.length, 0.0))
    return (*pieces, *begun)
