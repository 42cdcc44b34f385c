"""A line as it was laid: the pipe's level from the depths that were noted, and what was noted."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from itertools import pairwise
from typing import TypeVar

import numpy as np

from planner.chain.built_marks import NO_STAKES, Noted, read_marks
from planner.chain.lay_role import keeps_rule
from planner.errors import InputError
from planner.levels.stakes_file import read_stakes
from planner.profile.along import chainage_of
from planner.profile.lay import Laid, lay
from planner.profile.value import FloatArray, HighPoint, LowPoint, Profile
from planner.record.value import Line
from planner.record.works import AsBuilt, BuiltMark
from planner.site.field import Built, LengthUnit
from planner.site.value import Laying, LineRole, Site
from planner.terrain.frame import to_local
from planner.terrain.value import Terrain

Point = TypeVar("Point", HighPoint, LowPoint)

TOLD = 0.03  # m; nearer than this no one tells how a pipe lies in its trench
BEYOND = 0.03  # of the line's length, by which a taped chainage may be longer
FARTHEST = 50.0  # m; a place farther from the line is on another
AT_END = 1.0  # m
SAME_PLACE, SAME_DEPTH = 0.05, 0.05  # m


def built_lines(site: Site, lines: Iterable[Line], terrain: Terrain) -> tuple[Line, ...]:
    """The lines, those that are laid already as they were laid.

    Raises
    ------
    InputError
        A file of marks or of stakes can't be used, or a mark lies off its line.
    """
    listed = site.measured.stakes if any(one.marks for one in site.built) else None
    stakes = NO_STAKES if listed is None else read_stakes(listed)
    unit = site.measured.unit or ("ft" if site.units == "us" else "m")
    built = {one.line: one for one in site.built}
    laid = []
    for line in lines:
        try:
            known = built.get(line.name)
            laid.append(line if known is None else as_built(line, known, terrain, unit, stakes))
        except InputError as error:
            msg = f"built {line.name}, marks: {error.message}"
            raise InputError(msg) from error
    return tuple(laid)


def as_built(
    line: Line,
    built: Built,
    terrain: Terrain,
    unit: LengthUnit,
    stakes: Mapping[str, tuple[float, float]] = NO_STAKES,
) -> Line:
    """The line with what is known of it as it was laid.

    Where depths were noted the pipe lies so deep under the ground, between two of them in
    proportion to the way; one depth told for the whole line counts where no mark tells any, and
    where nothing does it lies as planned. A drive pipe is rigid: it runs straight from one depth to
    the next, whatever the ground between.

    Parameters
    ----------
    line : Line
        As planned, or where it was laid.
    unit : {"m", "ft"}
        Of lengths in the file of marks that carry none.
    stakes : mapping of str to (lon, lat), optional
        Where the stakes stand that marks may name [degrees].

    Raises
    ------
    InputError
        The file of marks can't be used, or a mark lies off the line.
    """
    noted = () if built.marks is None else read_marks(built.marks, unit, stakes)
    profile = line.profile
    placed = sorted(
        ((_chainage(one, line, terrain), one) for one in noted), key=lambda pair: pair[0]
    )
    _refuse_contradictions(placed)
    about = AsBuilt(
        built.date,
        tuple(_mark(profile, chainage, one) for chainage, one in placed),
        built.photos,
        built.note,
    )
    told = [(chainage, one.depth) for chainage, one in placed if one.depth is not None]
    if not told and built.depth is not None:
        told = [(0.0, built.depth)]
    if not told:
        return replace(line, built=about)
    at, depth = np.array(told, dtype=np.float64).T
    laid = _laid(profile, line.role, line.settings.laying, at, depth)
    return replace(
        line,
        profile=laid.profile,
        high_points=laid.high_points,
        low_points=laid.low_points,
        flats=laid.flats,
        rule_kept=keeps_rule(line.role, laid),
        built=about,
    )


def _chainage(noted: Noted, line: Line, terrain: Terrain) -> float:
    """Where on the line a mark is [m]."""
    profile = line.profile
    if isinstance(noted.place, float):
        if noted.place > profile.length * (1.0 + BEYOND) + 1.0:
            msg = (
                f"{noted.row}: the chainage {noted.place:,.1f} m is beyond the end of "
                f"{line.name}, which is {profile.length:,.1f} m long; check the line and the unit"
            )
            raise InputError(msg)
        return min(noted.place, profile.length)
    away = np.hypot(*(profile.xy - to_local(terrain, [noted.place])[0]).T)
    nearest = int(np.argmin(away))
    if not away[nearest] <= FARTHEST:
        msg = (
            f"{noted.row}: its place is {away[nearest]:,.0f} m from {line.name}; check lon and "
            "lat, or tell the line where it was laid"
        )
        raise InputError(msg)
    return float(profile.chainage[nearest])


def _refuse_contradictions(placed: list[tuple[float, Noted]]) -> None:
    told = [(chainage, one) for chainage, one in placed if one.depth is not None]
    for (here, one), (there, other) in pairwise(told):
        gap = abs((one.depth or 0.0) - (other.depth or 0.0))
        if there - here < SAME_PLACE and gap > SAME_DEPTH:
            first, second = sorted((one, other), key=lambda noted: noted.row.line)
            msg = (
                f"{first.row} and line {second.row.line} tell two depths at {here:,.1f} m, "
                f"{first.depth:.2f} m and {second.depth:.2f} m; keep the right one"
            )
            raise InputError(msg)


def _mark(profile: Profile, chainage: float, noted: Noted) -> BuiltMark:
    x, y = (float(np.interp(chainage, profile.chainage, profile.xy[:, k])) for k in (0, 1))
    return BuiltMark(chainage, (x, y), noted.depth, noted.what, noted.photo, noted.remark)


def _laid(
    profile: Profile, role: LineRole, laying: Laying, at: FloatArray, depth: FloatArray
) -> Laid:
    """The pipe at its depth, with the high and low points of the plainest pipe that lies so.

    The ground between two marks is known from the elevation data, which has a roughness of its own
    that no pipe follows; nor is a depth taped to the centimetre. So of all pipes within 3 cm of the
    one told that with the fewest high points tells where air stays.
    """
    if role == "drive":
        return Laid(_rigid(profile, at, depth), (), (), ())
    pipe = profile.ground - np.interp(profile.chainage, at, depth)
    plain = lay(
        replace(profile, ground=pipe + TOLD),
        cover=0.0,
        slack=2.0 * TOLD,
        least=laying.least_grade,
        start="closed" if role == "delivery" else "open",
    )
    chainage = chainage_of(profile.run, pipe)

    def seen(point: Point) -> Point:
        k = point.index
        return replace(point, chainage_m=float(chainage[k]), level_m=float(pipe[k]))

    return Laid(
        replace(profile, pipe=pipe, chainage=chainage),
        tuple(map(seen, plain.high_points)),
        tuple(map(seen, plain.low_points)),
        plain.flats,
    )


def _rigid(profile: Profile, at: FloatArray, depth: FloatArray) -> Profile:
    """Straight from mark to mark; one within a metre of an end is the end's."""
    inner = at[(at > AT_END) & (at < profile.length - AT_END)]
    chainage = np.unique(np.concatenate([[0.0], inner, [profile.length]]))
    run = np.interp(chainage, profile.chainage, profile.run)
    level = np.interp(run, profile.run, profile.ground) - np.interp(chainage, at, depth)
    pipe = np.interp(profile.run, run, level)
    return replace(profile, pipe=pipe, chainage=chainage_of(profile.run, pipe))
