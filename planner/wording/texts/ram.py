"""Of the ram and its delivery pipe."""

from planner.hydraulics.ram_start import STEPS, Step
from planner.wording.value import Wording

# The order of the valves, by the codes of the steps.
STEP_WORDS: dict[Step, str] = {
    "keep fingers and face clear of the waste valve, which slams": (
        "keep fingers and face clear of the waste valve, which slams"
    ),
    "shut the delivery valve": "shut the delivery valve",
    "open the drive valve": "open the drive valve",
    "hold the waste valve open until the water runs clear of air": (
        "hold the waste valve open until the water runs clear of air"
    ),
    "let the waste valve shut, push it open again, stroke by stroke": (
        "let the waste valve shut and push it open again, stroke by stroke, with a tool and not by"
        " finger, until it beats by itself"
    ),
    "open the delivery valve a little and keep it throttled until the line is full": (
        "open the delivery valve a little and keep it throttled until the line is full"
    ),
    "count the beats": "count the beats",
}
_ORDER = "; ".join(STEP_WORDS[step] for step in STEPS)
_ORDER = _ORDER[0].upper() + _ORDER[1:]

_SLOWER = (
    "[lengthen the drive pipe to about {length_m:about}, or ]"
    "[use the heavier valve load (about {load:ratio} times the force, drawing {draws:flow}), or ]"
    "use a narrower drive pipe."
)
_USUAL = "{beats:count} beats a minute, where {least:count} to {most:count} are usual."
_RAM = "drive pipe of {bore_m:size}"
_BESIDE = "[; the next size smaller is {smaller_m:size}][, the next larger {larger_m:size}]"
_NEIGHBOURS = (
    "[; {narrower_m:bore} would cost {cost_m3:day}]"
    "[; {wider_m:bore} would bring {gain_m3:day} more]"
)

RAM: dict[str, Wording] = {
    "ram-stalls": Wording(
        "The ram stalls with its waste valve open: the water reaches only {free:speed}, and the"
        " valve shuts at {closing:speed}.",
        "Lighten the load of the waste valve until it shuts at well under {free:speed}, or gain"
        " fall.",
    ),
    "ram-beats/fast": Wording(
        "The ram beats too fast: about " + _USUAL,
        "Beats too fast: " + _SLOWER,
    ),
    "ram-beats/slow": Wording(
        "The ram beats too slowly: about " + _USUAL,
        "Beats too slowly: [shorten the drive pipe to about {length_m:about}, or ]"
        "[use the lighter valve load (about {load:ratio} times the force), or ]"
        "use a wider drive pipe.",
    ),
    "ram-beats/nothing": Wording(
        "The ram beats but delivers nothing: the water in its drive pipe, stopped, does not reach"
        " the head of the delivery.",
        "Delivers nothing: " + _SLOWER,
    ),
    "pump-draws-more": Wording(
        "The pump would draw {draws:flow} on this line, more than the {there:flow} that may be"
        " taken; it would run dry.",
        "Fit a float switch that stops the pump before its intake is bare, throttle it, or choose a"
        " smaller one.",
    ),
    "ram-draws-more": Wording(
        "As its waste valve is set, the ram draws {draws:flow}, more than the {there:flow} that may"
        " be taken; its drive pipe would draw in air and the ram stop.",
        "Lighten the load of the waste valve until it draws no more than comes, or use a smaller"
        " ram.",
    ),
    "ram-peak/beating": Wording(
        "The drive pipe bears {rating_m:head}, less than the {beating_m:head} of surge to allow for"
        " at each beat.",
        "Use steel pipe, or a class that bears at least {wanted_m:head} of surge.",
    ),
    "ram-peak/blocked": Wording(
        "The drive pipe bears {rating_m:head}, which is enough for the {beating_m:head} of surge at"
        " each beat; were the delivery valve to stick, the surge would reach {blocked_m:head}.",
        "Never shut the delivery while the ram runs; use pipe and fittings that bear"
        " {blocked_m:head} of surge, or have a relief valve fitted.",
    ),
    "ram-size/single": Wording(
        "One ram with a " + _RAM + " suits the {flow:flow} there is" + _BESIDE + ".",
        "Ask for a ram of that drive pipe's bore.",
    ),
    "ram-size/parallel": Wording(
        "A flow of {flow:flow} is too much for one ram: {rams:count} side by side suit it, each"
        " with a " + _RAM + _BESIDE + ".",
        "Give each ram its own drive pipe; when the source is low, let one rest.",
    ),
    "ram-size/stages": Wording(
        "The lift asks for two stages: a ram with a " + _RAM + " lifts to a tank {tank_m:height}"
        " above it, which drives a second ram {second_fall_m:height} lower[, with a drive pipe of"
        " {second_m:size}][; about {staged_m3:day} would arrive].",
        "Compare two stages with a lower tank or a powered pump before buying.",
    ),
    "ram-size/wide": Wording(
        "The drive pipe of {given_m:bore} is wide for the {flow:flow} there is: the water runs at"
        " {speed:speed}, under the {slowest:speed} of makers' sizes.",
        "Take a ram with a " + _RAM + _BESIDE + ".",
    ),
    "ram-size/narrow": Wording(
        "The drive pipe of {given_m:bore} is narrow for the {flow:flow} there is: the water runs"
        " at {speed:speed}, over the {fastest:speed} of makers' sizes, so less may be delivered"
        " than is told.",
        "Use a " + _RAM + "[ for each of {rams:count} rams]" + _BESIDE + ".",
    ),
    "ram-size/none": Wording(
        "No usual size of ram suits the {flow:flow} there is.",
        "Ask makers for a ram that beats on so little, or share a larger flow among many.",
    ),
    "delivery-size/fits": Wording(
        "The delivery pipe of {laid_m:bore} suits its flow" + _NEIGHBOURS + ".",
        "Buy the delivery pipe with an inside diameter of {chosen_m:bore}.",
    ),
    "delivery-size/wide": Wording(
        "The delivery pipe of {laid_m:bore} is wider than it need be: {chosen_m:bore} would do, at"
        " {lost_m3:day} lost to friction" + _NEIGHBOURS + ".",
        "Compare the price of both bores before buying.",
    ),
    "delivery-size/narrow": Wording(
        "The delivery pipe of {laid_m:bore} is narrow for its flow: {chosen_m:bore} is the least"
        " that will do" + _NEIGHBOURS + ".",
        "Buy the delivery pipe with an inside diameter of {chosen_m:bore} or more.",
    ),
    "delivery-size/none": Wording(
        "No bore on the shelf keeps the delivery's friction low; the best of them is"
        " {chosen_m:bore}[, which loses {lost_m3:day}].",
        "Shorten the delivery line, or lay two pipes side by side.",
    ),
    "ram-start": Wording(
        "To start, the ram takes {drive_m3:volume} to fill the drive pipe and, by hand, some"
        " {few:count} strokes with the delivery valve shut (up to {many:count} if it stands open),"
        " until {back_m:head} stand on that valve[; the fall alone gives {by_itself_m:head} there];"
        " the delivery line holds {delivery_m3:volume}[ and takes {filling_s:duration} to fill].",
        _ORDER + ".",
    ),
}
