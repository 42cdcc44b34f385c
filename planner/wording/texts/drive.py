"""Of the drive pipe."""

from planner.wording.value import Wording

DRIVE: dict[str, Wording] = {
    "drive-length-to-fall/short": Wording(
        "The drive pipe is short: {ratio:ratio} times its fall, where {least:ratio} to"
        " {most:ratio} times is usual.",
        "Move the chamber or the ram so that the drive pipe is at least {least:ratio} times as"
        " long as its fall; too short, the ram beats too fast and gets no air.",
    ),
    "drive-length-to-fall/long": Wording(
        "The drive pipe is long: {ratio:ratio} times its fall, where {least:ratio} to"
        " {most:ratio} times is usual.",
        "Bring the water to a chamber or standpipe nearer the ram, so that the drive pipe is at"
        " most {most:ratio} times as long as its fall.",
    ),
    "drive-length-to-bore/short": Wording(
        "The drive pipe is short for its bore: {ratio:count} bores long, where {least:count} to"
        " {most:count} is the working range.",
        "Use a smaller bore or a longer drive pipe.",
    ),
    "drive-length-to-bore/long": Wording(
        "The drive pipe is long for its bore: {ratio:count} bores long, where {least:count} to"
        " {most:count} is the working range.",
        "Use a larger bore, or set the chamber nearer the ram.",
    ),
    "drive-too-flat": Wording(
        "The drive pipe falls at only {angle:degrees}; flatter than {limit:degrees} it holds air"
        " and the ram beats unsteadily.",
        "Set the ram lower or the chamber nearer, and lay the pipe straight without any hump.",
    ),
    "drive-too-steep": Wording(
        "The drive pipe falls at {angle:degrees}; steeper than {limit:degrees} it is hard to"
        " anchor and wears the valves.",
        "Set the ram farther from the chamber, and anchor the pipe well.",
    ),
    "drive-not-straight": Wording(
        "The drive pipe is not straight: it swings {off_m:height} off the straight line[ at"
        " {chainage_m:station}].",
        "Move the chamber or the ram so that one straight pipe joins them; every bend wastes the"
        " force of the water.",
    ),
    "drive-not-straight/profile": Wording(
        "The drive pipe bends up or down: it lies {off_m:height} off the straight slope[ at"
        " {chainage_m:station}].",
        "Dig or prop it to one straight slope, or move the chamber or the ram.",
    ),
    "drive-not-straight/asked": Wording(
        "The drive pipe has one bend, of {turn:degrees}[, at {chainage_m:station}].",
        "Make it one long sweep, never an elbow, and anchor it on both sides: each beat pushes it"
        " outward.",
    ),
    "drive-supports/propped": Wording(
        "The drive pipe stands up to {propped_m:height} above the ground[ at"
        " {chainage_m:station}].",
        "Carry it on firm, anchored supports, close enough that it can't spring.",
    ),
    "drive-supports/dug": Wording(
        "The drive pipe lies up to {dug_m:height} in the ground[ at {chainage_m:station}].",
        "Dig its trench to one straight slope, by a line between its ends.",
    ),
    "drive-supports/both": Wording(
        "The drive pipe stands up to {propped_m:height} above the ground[ at"
        " {chainage_m:station}], and lies up to {dug_m:height} in it elsewhere.",
        "Dig and prop it to one straight slope, by a line between its ends, on firm, anchored"
        " supports.",
    ),
    "drive-off-ground/dug": Wording(
        "A straight drive pipe would lie {depth_m:height} under the ground[ at"
        " {chainage_m:station}], deeper than the trench of {limit_m:height}.",
        "Move the chamber or the ram to where the ground between falls evenly, or allow the deeper"
        " trench, shored.",
    ),
    "drive-off-ground/propped": Wording(
        "A straight drive pipe would hang {height_m:height} above the ground[ at"
        " {chainage_m:station}].",
        "Carry it on firm, anchored supports, or move the chamber or the ram to where the ground"
        " between falls evenly.",
    ),
}
