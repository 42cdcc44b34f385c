"""The ram: its beat, its size, its delivery pipe, its start."""

import math

from planner.band import Band
from planner.hydraulics.delivery_size import DeliverySizes, size_delivery
from planner.hydraulics.ram_calibration import Reading, measured_efficiency
from planner.hydraulics.ram_cycle import Workings
from planner.hydraulics.ram_remedy import remedy
from planner.hydraulics.ram_size import recommend_rams
from planner.hydraulics.ram_start import ram_start
from planner.hydraulics.ram_tune import tuned_velocity
from planner.hydraulics.surge_drive import drive_peak
from planner.record.value import Line, Water
from planner.record.works import RamWorks
from planner.site.value import Site

# Inside diameters of ID-controlled polyethylene (ASTM D2239), 1/2 to 2 in: what is on the shelf.
DELIVERY_BORES = (0.0158, 0.02093, 0.02664, 0.03505, 0.04089, 0.0525)
SAME_BORE = 0.01  # of the bore that lies: nearer ones are the same pipe, measured otherwise
USUAL_CLOSING = 0.8  # m/s, where no speed takes just the water there is


def measured_ram(site: Site) -> Band | None:
    """Efficiency of the user's own ram, from what it was measured to deliver."""
    readings = [
        Reading(one.drive_flow, one.fall, one.lift, one.delivered) for one in site.ram.measured
    ]
    return measured_efficiency(readings) if readings else None


def ram_works(site: Site, water: Water, drive: Line, delivery: Line) -> RamWorks | None:
    """The ram of a scheme whose fall, lift and flow are known; None where they are not."""
    if water.delivered is None or water.fall is None or water.lift is None:
        return None
    flow = 0.0 if drive.water is None else drive.water.flow
    fall, static = float(water.fall.expected), float(water.lift.expected)
    lift = static + (water.lift_friction or 0.0)
    if not (flow > 0.0 and math.isfinite(lift) and lift > fall > 0.0):
        return None
    length, bore = drive.profile.length, drive.settings.pipe.bore
    workings = Workings(roughness=drive.settings.pipe.roughness, temperature=site.temperature)
    tuned = tuned_velocity(flow, fall, lift, length, bore, workings=workings)
    closing = site.ram.closing_velocity or (tuned if math.isfinite(tuned) else USUAL_CLOSING)
    beat = remedy(fall, lift, length, bore, closing_velocity=closing, workings=workings)
    delivered = float(water.delivered.expected) / 86400.0
    return RamWorks(
        closing_velocity=closing,
        tuned=site.ram.closing_velocity is None,
        beat=beat,
        peak=drive_peak(lift, workings.wave_speed, beat.cycle.free_velocity),
        options=recommend_rams(flow, fall, lift, kind=site.ram.make, measured=measured_ram(site)),
        sizes=_sizes(site, water, flow, delivery),
        start=ram_start(
            (length, bore),
            (delivery.profile.length, delivery.settings.pipe.bore),
            fall,
            static,
            closing_velocity=closing,
            delivered=delivered if delivered > 0.0 else None,
        ),
    )


def _sizes(site: Site, water: Water, flow: float, delivery: Line) -> DeliverySizes | None:
    """The bores on the shelf and the one that lies in the plan; None where none can be told."""
    if water.fall is None or water.lift is None or water.delivered is None:
        return None
    if not math.isfinite(float(water.delivered.expected)):
        return None
    laid = delivery.settings.pipe.bore
    beside = [bore for bore in DELIVERY_BORES if abs(bore - laid) > SAME_BORE * laid]
    bores = sorted([*beside, laid])
    return size_delivery(
        flow,
        water.fall,
        water.lift,
        delivery.profile.length,
        bores,
        kind=site.ram.make,
        roughness=delivery.settings.pipe.roughness,
        temperature=site.temperature,
        efficiency=measured_ram(site),
    )
