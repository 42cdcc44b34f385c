"""The catalogue of pipes: real bores and ratings by standard, size and class."""

import csv
from collections.abc import Iterator, Sequence
from functools import cache
from importlib.resources import files
from typing import cast

from planner.errors import InputError
from planner.hydraulics.pipe import CataloguePipe, Confidence, Derating, Form, Material
from planner.hydraulics.sizes import LONGEST, NominalSize, nominal_size

MILLI = 1e-3
INFINITE, UNKNOWN = float("inf"), float("nan")


@cache
def catalogue() -> tuple[CataloguePipe, ...]:
    """Every pipe of the packaged catalogue, by standard, then size; read once.

    Covers 1/2 to 4 in and 20 to 110 mm; sources and confidence travel with each pipe. The figures
    are those of new pipe; where a maker's print line says otherwise, it is right.
    """
    groups = {row["standard"]: row for row in _rows("standards.csv")}
    return tuple(_pipe(row, groups[row["standard"]]) for row in _rows("pipes.csv"))


def find_pipes(
    size: str,
    *,
    standard: str | None = None,
    pressure_class: str | None = None,
    own: Sequence[CataloguePipe] = (),
) -> tuple[CataloguePipe, ...]:
    """The pipes of one standard that go by a trade size, weakest first.

    Parameters
    ----------
    size : str
        As for `nominal_size`: "3/4 in", "25 mm", "DN 25".
    standard : str, optional
        A standard or its family, whole or in part: "ASTM D2239", "D3035", "CTS", "PVC".
    pressure_class : str, optional
        What else is printed, parts divided by commas: "SIDR 15", "100 psi", "PN 16",
        "PE4710, 160 psi", "Schedule 40".
    own : sequence of CataloguePipe
        The user's pipes, searched beside the catalogue.

    Raises
    ------
    UnitError
        The size can't be read.
    InputError
        No pipe goes by these names, or pipes of several standards do: the message asks which,
        naming them with their bores.

    Examples
    --------
    >>> [round(p.bore * 1e3, 2) for p in find_pipes("3/4 in", standard="D2239")[:1]]
    [20.93]
    >>> [p.series for p in find_pipes("25 mm", pressure_class="PN 16")]
    ['SDR 11']
    """
    wanted = nominal_size(size)
    known = (*own, *catalogue())
    named = [p for p in known if _is_standard(p, standard)]
    if not named:
        msg = f"no standard {_short(standard)} is known; known are {_listed(_standards(known))}"
        raise InputError(msg)
    sized = [p for p in named if wanted in p.sizes]
    if not sized:
        names = _listed(dict.fromkeys(p.nominal for p in named))
        within = f" of {_short(standard)}" if standard is not None else ""
        msg = f"no pipe{within} goes by the size {_short(size)}; sizes are {names}"
        raise InputError(msg)
    fitting = [p for p in sized if _is_class(p, pressure_class)]
    if not fitting:
        names = _listed(_classes(sized))
        msg = f"no {_short(size)} pipe has the class {_short(pressure_class)}; there are {names}"
        raise InputError(msg)
    if len(_standards(fitting)) > 1:
        raise InputError(_which(size, fitting))
    return tuple(sorted(fitting, key=lambda p: p.rating))


def _which(size: str, candidates: Sequence[CataloguePipe]) -> str:
    """The question that an ambiguous size asks."""
    told = []
    for standard in _standards(candidates):
        of_it = [p for p in candidates if p.standard == standard]
        bores = sorted({f"{p.bore / MILLI:.1f}" for p in of_it}, key=float)
        span = bores[0] if len(bores) == 1 else f"{bores[0]} to {bores[-1]}"
        told.append(f"{standard} ({of_it[0].family}, {span} mm inside)")
    return f"{_short(size)} pipe is made to several standards; say which: {_listed(told)}"


def _standards(pipes: Sequence[CataloguePipe]) -> list[str]:
    return list(dict.fromkeys(p.standard for p in pipes))


def _classes(pipes: Sequence[CataloguePipe]) -> list[str]:
    return list(dict.fromkeys([*(p.series for p in pipes), *(p.pressure_class for p in pipes)]))


def _is_standard(pipe: CataloguePipe, text: str | None) -> bool:
    return text is None or _key(text) in _key(f"{pipe.standard} {pipe.family}")


def _is_class(pipe: CataloguePipe, text: str | None) -> bool:
    printed = {_key(name) for name in (pipe.series, pipe.pressure_class, pipe.grade)}
    return text is None or all(_key(part) in printed for part in text.split(","))


def _key(text: str) -> str:
    return "".join(text.casefold().split())


def _short(text: str | None) -> str:
    return repr(text)[: LONGEST + 2]


def _listed(names: Sequence[str] | dict[str, None]) -> str:
    return "; ".join(name[:100] for name in list(names)[:30])


def _rows(name: str) -> Iterator[dict[str, str]]:
    text = files("planner.hydraulics").joinpath(name).read_text(encoding="utf-8")
    yield from csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))


def _pipe(row: dict[str, str], group: dict[str, str]) -> CataloguePipe:
    units = (("nominal_in", "in"), ("nominal_mm", "mm"))
    sizes = tuple(NominalSize(float(row[k]), u) for k, u in units if row[k])  # type: ignore[arg-type]
    return CataloguePipe(
        standard=row["standard"],
        family=group["family"],
        material=cast("Material", group["material"]),
        grade=row["grade"],
        nominal=row["nominal"],
        sizes=sizes,
        series=row["series"],
        ratio=float(row["ratio"] or UNKNOWN),
        pressure_class=row["pressure_class"],
        bore=float(row["inside_mm"]) * MILLI,
        outside=float(row["outside_mm"]) * MILLI,
        wall_least=float(row["wall_least_mm"]) * MILLI,
        rating=float(row["rating_m"]),
        derating=cast("Derating", group["derating"]),
        density=float(group["density_kg_m3"]),
        roughness_new=float(group["roughness_new_mm"]) * MILLI,
        roughness=float(group["roughness_design_mm"]) * MILLI,
        bend_radius=float(row["bend_radius_m"] or INFINITE),
        form=cast("Form", row["form"]),
        lengths=tuple(float(length) for length in row["lengths_m"].split(";")),
        confidence=cast("Confidence", row["confidence"]),
        source=group["source"],
    )
