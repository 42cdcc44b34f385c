"""The table of checks. A new check is a function in its subject's file and a row here."""

from planner.checks import (
    air,
    crest,
    data,
    drive,
    fall,
    land,
    need,
    place,
    pressure,
    proof,
    route,
    scheme,
)
from planner.checks.value import Check

_C = Check

CHECKS: tuple[Check, ...] = (
    # Is there a scheme at all?
    _C("ram-above-source", ("stop",), scheme.ram_above_source),
    _C("tank-above-source", ("stop",), scheme.tank_above_source),
    _C("gravity-works", ("note",), scheme.gravity_works),
    _C("ram-needed", ("note",), scheme.ram_needed),
    _C("powered", ("note",), scheme.powered),
    _C("not-planned", ("warn", "note"), scheme.not_planned),
    _C("pump-not-used", ("note",), scheme.pump_not_used),
    _C("chamber-placed", ("note",), scheme.chamber_placed),
    # Where lines run
    _C("line-blocked", ("stop",), route.blocked),
    _C("leaves-stay", ("warn",), route.leaves_stay, (route.OUTSIDE_LEAST,)),
    _C(
        "stream-crossing",
        ("warn",),
        route.stream_crossing,
        (route.CROSSING_APART, route.CROSSING_END),
    ),
    _C("too-steep", ("warn",), route.too_steep, (route.STEEPEST, route.STEEP_WINDOW)),
    _C("crosses-owner", ("note",), land.crosses_owner, (land.METRES_LEAST,)),
    _C("nobodys-land", ("warn",), land.nobodys_land, (land.METRES_LEAST,)),
    # Elevation data and sketch
    _C(
        "fall-not-proven",
        ("stop", "warn", "note"),
        proof.fall_not_proven,
        (proof.UNCERTAINTIES_STOP, proof.UNCERTAINTIES_WARN),
    ),
    _C(
        "data-too-coarse",
        ("stop", "warn"),
        data.too_coarse,
        (data.CELLS_PER_FALL_STOP, data.CELLS_PER_FALL),
    ),
    _C("height-unit-assumed", ("warn",), data.height_unit_assumed),
    _C("height-unit-doubt", ("warn",), data.height_unit_doubt),
    _C("surface-model", ("warn",), data.surface_model),
    _C("sketch-ignored", ("warn",), data.sketch_ignored),
    _C("swapped-coordinates", ("warn",), data.swapped_coordinates),
    _C("on-filled-data", ("warn",), data.on_filled_data),
    _C("data-coarsened", ("note",), data.coarsened),
    _C("files-unused", ("note",), data.files_unused),
    # Fall and lift
    _C(
        "fall-low",
        ("stop", "warn", "note"),
        fall.low,
        (fall.FALL_STOP, fall.FALL_WARN, fall.FALL_NOTE),
    ),
    _C("fall-high", ("warn", "note"), fall.high, (fall.FALL_HIGHER, fall.FALL_HIGH)),
    _C("reach-too-far", ("stop",), fall.reach_too_far, (fall.RATIO_WARN,)),
    _C("lift-ratio", ("warn",), fall.lift_ratio, (fall.RATIO_STRONG, fall.RATIO_WARN)),
    _C("yield-unknown", ("warn",), fall.yield_unknown, (fall.RATIO_WARN,)),
    # The drive pipe
    _C(
        "drive-length-to-fall",
        ("warn",),
        drive.length_to_fall,
        (drive.FALLS_LEAST, drive.FALLS_MOST),
    ),
    _C(
        "drive-length-to-bore",
        ("warn",),
        drive.length_to_bore,
        (drive.BORES_LEAST, drive.BORES_MOST),
    ),
    _C("drive-too-flat", ("warn",), drive.too_flat, (drive.FLATTEST,)),
    _C("drive-too-steep", ("warn",), drive.too_steep, (drive.STEEPEST,)),
    _C("drive-not-straight", ("warn",), drive.not_straight, (drive.SWING,)),
    _C("drive-off-ground", ("warn",), drive.off_ground, (drive.SWING, drive.PROP)),
    _C("drive-rating", ("warn",), drive.rating, (drive.LIFTS_BORNE,)),
    # Air
    _C("reverse-grade", ("stop", "warn"), air.reverse_grade),
    _C(
        "crest-above-grade-line",
        ("stop", "warn", "note"),
        crest.crest_above_grade_line,
        (air.GRADE_LINE_TOLERANCE, crest.SIPHON_BREAKS, crest.SIPHON_WARN),
    ),
    _C("crest-low-pressure", ("warn",), crest.crest_low_pressure, (crest.CREST_LEAST,)),
    _C("air-trap", ("warn", "note"), air.air_trap, (air.VENT_SEALS,)),
    _C("air-lock", ("warn",), air.air_lock),
    _C("flat-stretch", ("warn", "note"), air.flat_stretch, (air.FLAT_LEAST,)),
    # Flow, need and pressure
    _C("takes-too-much", ("stop", "warn"), need.takes_too_much, (need.ROUNDING,)),
    _C("yield-below-need", ("warn", "note"), need.below_need),
    _C("share-left-low", ("warn",), need.share_left_low, (need.SHARE_LEFT,)),
    _C("flow-unknown", ("warn",), need.flow_unknown),
    _C("flow-not-dry-season", ("warn",), need.flow_not_dry_season),
    _C("tank-out-of-reach", ("stop",), pressure.tank_out_of_reach),
    _C("pressure-over-rating", ("stop", "warn"), pressure.over_rating, (pressure.RATING_NEAR,)),
    _C(
        "outlet-head-low",
        ("stop", "warn", "note"),
        pressure.outlet_head_low,
        (pressure.DRIP_LEAST, pressure.TAP_LEAST),
    ),
    _C("outlet-head-high", ("note",), pressure.outlet_head_high, (pressure.TAP_MOST,)),
    _C("velocity-high", ("warn",), pressure.velocity_high, (pressure.SPEED_MOST,)),
    _C("velocity-low", ("note",), pressure.velocity_low, (pressure.SPEED_LEAST,)),
    _C("pipe-part-full", ("warn",), pressure.part_full),
    # Frost, floods, and what was assumed
    _C("ram-below-flood", ("stop",), place.ram_below_flood),
    _C("flood-mark-missing", ("note",), place.flood_mark_missing),
    _C(
        "waste-drowned",
        ("warn",),
        place.waste_drowned,
        (place.STREAM_BESIDE, place.STREAM_LEAST),
    ),
    _C("cover-under-frost", ("warn",), place.cover_under_frost, (place.FROST_SPARE,)),
    _C("sag-wont-drain", ("warn", "note"), place.sag_wont_drain, (place.FROST_SPARE,)),
    _C("bore-assumed", ("note",), place.bore_assumed),
)
