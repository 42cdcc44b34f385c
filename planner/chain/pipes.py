"""Pipes named as the trade does, to their true bores and ratings."""

import math
from dataclasses import replace

from planner.errors import InputError
from planner.hydraulics.catalogue import find_pipes
from planner.hydraulics.derating import Lying, derated_rating, wall_temperature
from planner.hydraulics.pipe import CataloguePipe
from planner.hydraulics.sizes import nominal_size
from planner.site.value import LineRole, LineSettings, OwnPipe, Pipe, Site

PE_DENSITY = 950.0  # kg/m³

Offered = dict[LineRole, tuple[CataloguePipe, ...]]


def named_pipes(site: Site) -> tuple[Site, Offered]:
    """The site with bore, rating and roughness of every pipe named by its trade size.

    Where the size comes in several classes and the site names none, the strongest stands, whose
    bore is the narrowest, and `Offered` holds them all, weakest first, to choose from.

    Raises
    ------
    InputError
        No pipe goes by the name, or pipes of several standards do.
    """
    lines, offered = dict(site.lines), Offered()
    for role, settings in site.lines.items():
        pipe = settings.pipe
        if pipe.size is None:
            continue
        try:
            rows = find_pipes(
                pipe.size,
                standard=pipe.standard,
                pressure_class=pipe.pressure_class,
                own=[_own(row) for row in site.own_pipes],
            )
        except InputError as error:
            msg = f"lines.{role}.pipe: {error}"
            raise InputError(msg) from error
        offered[role] = rows
        lines[role] = replace(settings, pipe=_as(pipe, rows[-1], settings, site.temperature))
    return replace(site, lines=lines), offered


def wall(settings: LineSettings, temperature: float) -> float:
    """Temperature to rate a line's pipe at [°C]: a pipe on the surface lies in the sun."""
    lying: Lying = "sun" if settings.laying.manner == "surface" else "buried"
    return float(wall_temperature(temperature, lying))


def _own(row: OwnPipe) -> CataloguePipe:
    """A row of the user's, which is taken for polyethylene: coils are what people bring."""
    wall = (row.outside - row.bore) / 2.0
    return CataloguePipe(
        standard=row.standard,
        family="the user's own",
        material="PE",
        grade="",
        nominal=row.size,
        sizes=(nominal_size(row.size),),
        series="",
        ratio=row.outside / wall if wall > 0.0 else math.nan,
        pressure_class="",
        bore=row.bore,
        outside=row.outside,
        wall_least=wall,
        rating=row.rating,
        derating="PE metric",
        density=PE_DENSITY,
        roughness_new=row.roughness,
        roughness=row.roughness,
        bend_radius=20.0 * row.outside if row.bend_radius is None else row.bend_radius,
        form="coil",
        lengths=() if row.coil is None else (row.coil,),
        confidence="high",
        source="the site file",
    )


def _as(pipe: Pipe, row: CataloguePipe, settings: LineSettings, temperature: float) -> Pipe:
    return replace(
        pipe,
        bore=row.bore,
        roughness=row.roughness,
        rating=float(derated_rating(row, wall(settings, temperature))),
        bore_assumed=False,
    )
