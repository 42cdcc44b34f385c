"""Works of plans in trouble, computed by the hydraulics itself from a few plain numbers."""

from dataclasses import replace

import numpy as np

from planner.band import Band
from planner.chain.air_works import line_air
from planner.chain.pressure_works import line_pressure
from planner.hydraulics.catalogue import find_pipes
from planner.hydraulics.delivery_size import size_delivery
from planner.hydraulics.intake import intake_screen, least_cover
from planner.hydraulics.ram_cycle import Workings
from planner.hydraulics.ram_remedy import remedy
from planner.hydraulics.ram_size import recommend_rams
from planner.hydraulics.ram_start import ram_start
from planner.hydraulics.settling import settling_chamber
from planner.hydraulics.source import lowest_flow
from planner.hydraulics.surge_drive import drive_peak
from planner.hydraulics.tank import fill_time, smallest_tank, store, tank_load
from planner.record.value import Line, Plan
from planner.record.works import RamWorks, SourceWorks, TankWorks
from planner.site.value import FlowSeason, Tank
from tests.checks.altered import drawn, line_water, only, pipe, site, source, water

LITRE = 1e-3  # m³
DAYS = 14


def ram(
    length: float = 20.0,
    *,
    fall: float = 2.4,
    lift: float = 24.0,
    flow: float = 40 / 60000,
    bore: float = 0.0525,
    closing: float = 0.8,
    tuned: bool = False,
    line: tuple[float, float] = (400.0, 0.0209),
    bores: tuple[float, ...] = (0.0158, 0.0209, 0.0266),
    taken: float = 1.0,
) -> Plan:
    """The example with the ram of the worked example: 40 l/min, 2.4 m of fall, 24 m of lift."""
    beat = remedy(fall, lift, length, bore, closing_velocity=closing)
    works = RamWorks(
        closing_velocity=closing,
        tuned=tuned,
        beat=beat,
        peak=drive_peak(lift, Workings().wave_speed, beat.cycle.free_velocity),
        options=recommend_rams(flow, fall, lift),
        sizes=size_delivery(flow, Band.exact(fall), Band.exact(lift), line[0], bores),
        start=ram_start((length, bore), line, fall, lift, closing_velocity=closing),
    )
    plan = water(ram=works, fall=Band.exact(fall), lift=Band.exact(lift), taken=taken)
    plan = line_water("drive", pipe("drive", plan, bore=bore), flow=flow)
    return pipe("delivery", plan, bore=line[1])


def read(season: FlowSeason | None, factor: tuple[float, float] | None = None) -> Plan:
    """The example with a source read in a season."""
    share = None if factor is None else Band(factor[0], sum(factor) / 2.0, factor[1])
    works = SourceWorks(
        lowest=lowest_flow(Band(0.9e-3, 1e-3, 1.1e-3), season, share),
        screen=intake_screen(1e-3, 0.05),
        chamber=settling_chamber(1e-3),
        cover=least_cover(0.05),
    )
    return water(source(season=season, season_factor=factor), intake=works)


def tank(
    volume: float | None, *, delivered: float = 2.4, need: float = 2.4, stand: float = 0.0
) -> Plan:
    """A tank fed evenly, all its need drawn in one hour of the day [m³, m³/day]."""
    inflow = np.full(DAYS * 24, delivered / 24.0)
    drawn_off = np.tile(np.eye(24)[18] * need, DAYS)
    smallest = smallest_tank(inflow, drawn_off)
    holds = smallest if volume is None else volume
    works = TankWorks(
        volume=volume,
        smallest=smallest,
        days=DAYS,
        storage=store(inflow, drawn_off, holds),
        fill_time=fill_time(holds, delivered / 86400.0),
        load=tank_load(holds, 1.8, stand=stand),
    )
    plan = water(tank=works, delivered=Band.exact(delivered), need=need)
    return site(plan, tank=Tank(volume, None, stand))


def with_air(one: Line, source_level: float) -> Plan:
    return only(replace(one, air=line_air(one, source_level)))


def undulating(source_level: float, *, opened: float | None = None, friction: float = 0.1) -> Plan:
    """The worked case of three crests: 95, 94, 90; sags 88, 80; end 84."""
    run = [0.0, 100.0, 200.0, 300.0, 400.0, 500.0, 600.0]
    levels = [94.0, 95.0, 88.0, 94.0, 80.0, 90.0, 84.0]
    top = source_level if opened is None else opened
    one = drawn("main", run, levels, opened=top, closed=source_level)
    assert one.water is not None
    return with_air(replace(one, water=replace(one.water, friction=friction)), source_level)


def crest(
    role: str = "delivery", *, opened: float = 515.0, closed: float = 520.0, velocity: float = 0.1
) -> Plan:
    """One crest at 505 m, with its air."""
    one = drawn(
        role,  # type: ignore[arg-type]
        [0, 50, 100, 150],
        [500, 505, 490, 495],
        opened=opened,
        closed=closed,
        velocity=velocity,
    )
    return with_air(one, closed)


def pressed(
    drop: float,
    *,
    rating: float = 100.0,
    velocity: float = 0.1,
    size: str | None = None,
    length: float = 1000.0,
) -> Plan:
    """A main that falls evenly, with its pressures; `size`: a trade size of ISO 4427 pipe."""
    run = np.linspace(0.0, length, 101)
    one = drawn(
        "main",
        run.tolist(),
        (520.0 - drop * run / length).tolist(),
        opened=520.0,
        velocity=velocity,
    )
    plan = pipe("main", only(one), rating=rating)
    offered = () if size is None else find_pipes(size, standard="ISO 4427")
    laid = plan.lines[0]
    return only(replace(laid, pressure=line_pressure(laid, offered, 20.0)))
