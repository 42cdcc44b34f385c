"""What a site says of the field, as tables of the site file; and its paths in a written one."""

from pathlib import Path
from typing import Any

from planner.site.field import Built, Measured, Papers, Rates
from planner.site.local_file import seen_from
from planner.site.value import Site
from planner.site.water_write import text_of


def field_tables(site: Site, folder: Path) -> dict[str, Any]:
    """What was measured and built, papers and rates, by the file's keys; None where not said."""
    return {
        "measured": _measured(site.measured, folder),
        "built": [_built(one, folder) for one in site.built],
        "papers": _papers(site.papers),
        "rates": _rates(site.rates, folder),
    }


def move_field_paths(document: dict[str, Any], site: Site, folder: Path) -> None:
    """Change the paths in a site file's own tables to what they are from another folder.

    Raises
    ------
    KeyError, TypeError, ValueError
        The document and the site do not belong together.
    """
    measured, said = document.get("measured", {}), site.measured
    levels = measured.get("levels", [])
    for number, (_, file) in enumerate(zip(levels, said.levels, strict=True)):
        levels[number] = seen_from(folder, file)
    _move(measured, "stakes", said.stakes, folder)
    for line in measured.get("walked", {}):
        measured["walked"][line] = seen_from(folder, said.walked[line])
    for table, built in zip(document.get("built", []), site.built, strict=True):
        _move(table, "along", built.along, folder)
        _move(table, "marks", built.marks, folder)
    _move(document.get("rates", {}), "prices", site.rates.prices, folder)


def _move(table: dict[str, Any], key: str, file: Path | None, folder: Path) -> None:
    if key in table:
        table[key] = _path(file, folder)


def _path(file: Path | None, folder: Path) -> str | None:
    return None if file is None else seen_from(folder, file)


def _measured(said: Measured, folder: Path) -> dict[str, Any]:
    return {
        "levels": [seen_from(folder, file) for file in said.levels],
        "unit": said.unit,
        "stakes": _path(said.stakes, folder),
        "reach": text_of(said.reach, "length"),
        "walked": {line: seen_from(folder, file) for line, file in said.walked.items()},
        "timings": [
            [text_of(volume, "volume"), text_of(seconds, "time")]
            for volume, seconds in said.timings
        ],
        "date": said.date,
        "flow_season": said.flow_season,
    }


def _built(built: Built, folder: Path) -> dict[str, Any]:
    return {
        "line": built.line,
        "along": _path(built.along, folder),
        "marks": _path(built.marks, folder),
        "date": built.date,
        "depth": text_of(built.depth, "length"),
        "photos": list(built.photos),
        "note": built.note or None,
    }


def _papers(papers: Papers) -> dict[str, Any]:
    return {
        "paper": papers.paper,
        "revision": papers.revision or None,
        "drawn_by": papers.drawn_by or None,
        "owner": papers.owner or None,
        "datum": papers.datum or None,
        "stake_interval": text_of(papers.stake_interval, "length"),
        "told": list(papers.told),
    }


def _rates(rates: Rates, folder: Path) -> dict[str, Any]:
    return {
        "allowance": text_of(rates.allowance, "ratio"),
        "rough_allowance": text_of(rates.rough_allowance, "ratio"),
        "trench_width": text_of(rates.trench_width, "length"),
        "bedding": text_of(rates.bedding, "length"),
        "ground": rates.ground,
        "dig": {ground: text_of(rate, "dig_rate") for ground, rate in rates.dig.items()},
        "lay": text_of(rates.lay, "lay_rate"),
        "load": text_of(rates.load, "mass"),
        "prices": _path(rates.prices, folder),
        "currency": rates.currency or None,
    }
