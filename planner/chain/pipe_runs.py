"""The pipes a line is made of, in turn, and in what lengths they come."""

import math

from planner.hydraulics.catalogue import catalogue
from planner.hydraulics.derating import derated_rating
from planner.hydraulics.pipe import CataloguePipe, Form, Material
from planner.record.value import Line
from planner.record.works import PipeRun
from planner.site.value import Units
from planner.units.show import show

MOST_CARRIED = 50.0  # kg, a coil that two people still carry over rough ground
PIECES: dict[Form, float] = {"coil": 100.0, "stick": 6.0}  # m, where the catalogue tells no length


def pipe_runs(
    line: Line, offered: tuple[CataloguePipe, ...], temperature: float, units: Units = "metric"
) -> tuple[PipeRun, ...]:
    """The runs of one size and class, from the line's start to its end.

    Parameters
    ----------
    line : Line
        With its pressure, where the class changes along it.
    offered : tuple of CataloguePipe
        The pipes its trade size can mean, weakest first; none where a bore was said, for which the
        nearest that is made stands: rigid ones for a drive pipe.
    temperature : float
        Of the pipe's wall [°C].
    units : {"metric", "us"}
        In which a bore is told.
    """
    classes = None if line.pressure is None else line.pressure.classes
    if classes is not None:
        return tuple(
            _run(part.start, part.end, part.pipe, temperature, named=True)
            for part in classes.stretches
        )
    end = line.profile.length
    if offered:
        return (_run(0.0, end, offered[-1], temperature, named=True),)
    return (_said(line, end, units),)


def _run(
    start: float, end: float, pipe: CataloguePipe, temperature: float, *, named: bool
) -> PipeRun:
    return PipeRun(
        start_m=start,
        end_m=end,
        label=" ".join(
            filter(None, (pipe.nominal, pipe.standard, pipe.series, pipe.pressure_class))
        ),
        bore=pipe.bore,
        rating=float(derated_rating(pipe, temperature)),
        pipe=pipe,
        named=named,
        form=pipe.form,
        piece=_piece(pipe),
    )


def _said(line: Line, end: float, units: Units) -> PipeRun:
    """A line of which only the bore is said."""
    pipe = line.settings.pipe
    like = _nearest(pipe.bore, pipe.rating, "steel" if line.role == "drive" else "PE")
    return PipeRun(
        start_m=0.0,
        end_m=end,
        label=f"{show(pipe.bore, 'bore', units)} bore",
        bore=pipe.bore,
        rating=pipe.rating,
        pipe=like,
        named=False,
        form=like.form,
        piece=_piece(like),
    )


def _nearest(bore: float, rating: float, material: Material) -> CataloguePipe:
    """The pipe nearest in bore; of those alike the weakest that bears the rating."""
    rows = [row for row in catalogue() if row.material == material]
    off = min(abs(math.log(row.bore / bore)) for row in rows)
    near = [row for row in rows if abs(math.log(row.bore / bore)) <= off + 0.02]
    strong = [row for row in near if row.rating >= rating]
    return min(strong or near, key=lambda row: (row.rating if strong else -row.rating, row.mass))


def _piece(pipe: CataloguePipe) -> float:
    """The longest usual length that two people can carry, else the shortest."""
    usual = sorted(pipe.lengths) or [PIECES[pipe.form]]
    light = [length for length in usual if length * pipe.mass <= MOST_CARRIED]
    return light[-1] if light else usual[0]
