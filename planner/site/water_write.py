"""What a site says of its water, as tables of the site file; None where nothing is said."""

from typing import Any

from planner.site.value import Pipe, PoweredPump, Ram, Site, Source
from planner.units.parse import Kind, exact_text


def water_tables(site: Site) -> dict[str, Any]:
    """Source, pump, need, water, tank and own pipes, by the file's keys."""
    tank = site.tank
    return {
        "source": _source(site.source),
        "pump": _ram(site.ram) | ({} if site.powered is None else _powered(site.powered)),
        "need": {
            "per_day": text_of(site.need, "volume_per_day"),
            "count": {key: float(count) for key, count in site.demand.items()},
            "each": {key: text_of(one, "volume_per_day") for key, one in site.each.items()},
        },
        "water": {"temperature": text_of(site.temperature, "temperature")},
        "tank": {
            "volume": text_of(tank.volume, "volume"),
            "base": text_of(tank.base, "area"),
            "stand": text_of(tank.stand, "length"),
            "days": tank.days,
        },
        "pipes": [
            {
                "standard": pipe.standard,
                "size": pipe.size,
                "bore": text_of(pipe.bore, "length"),
                "outside": text_of(pipe.outside, "length"),
                "rating": text_of(pipe.rating, "pressure_head"),
                "roughness": text_of(pipe.roughness, "length"),
                "bend_radius": text_of(pipe.bend_radius, "length"),
                "coil": text_of(pipe.coil, "length"),
            }
            for pipe in site.own_pipes
        ],
    }


def line_pipe(pipe: Pipe, usual: Pipe) -> dict[str, Any]:
    """The keys of a line that tell its pipe: by its trade size, or by its own figures."""
    named = {
        "pipe": pipe.size,
        "standard": pipe.standard,
        "pressure_class": pipe.pressure_class,
        "fittings": {name.replace(" ", "_"): count for name, count in pipe.fittings},
    }
    if pipe.size is not None:
        return named
    assumed = pipe.bore_assumed and pipe.bore == usual.bore
    return named | {
        "bore": None if assumed else text_of(pipe.bore, "length"),
        "rating": text_of(pipe.rating, "pressure_head"),
        "roughness": text_of(pipe.roughness, "length"),
    }


def text_of(value: float | None, kind: Kind) -> str | None:
    """The text that is read back as exactly this value; None for a value not known."""
    return None if value is None else exact_text(float(value), kind)


def _source(source: Source) -> dict[str, Any]:
    factor = source.season_factor
    return {
        "flow": None if source.timings else text_of(source.flow, "flow"),
        "timings": [
            [text_of(fill.volume, "volume"), text_of(fill.seconds, "time")]
            for fill in source.timings
        ],
        "measured": source.measured,
        "season": source.season,
        "season_factor": None if factor is None else [text_of(end, "ratio") for end in factor],
        "share_left": text_of(source.share_left, "ratio"),
    }


def _ram(ram: Ram) -> dict[str, Any]:
    return {
        "kind": "ram",
        "make": ram.make,
        "closing_velocity": text_of(ram.closing_velocity, "speed"),
        "measured": [
            {
                "drive_flow": text_of(one.drive_flow, "flow"),
                "fall": text_of(one.fall, "length"),
                "lift": text_of(one.lift, "length"),
                "delivered": text_of(one.delivered, "flow"),
            }
            for one in ram.measured
        ],
    }


def _powered(pump: PoweredPump) -> dict[str, Any]:
    return {
        "kind": "powered",
        "hours_per_day": float(pump.hours_per_day),
        "curve": [
            [text_of(flow, "flow"), text_of(head, "pressure_head")] for flow, head in pump.curve
        ],
    }
