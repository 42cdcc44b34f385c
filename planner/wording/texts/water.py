"""Of flows, heads and pressures."""

from planner.wording.value import Wording

_FALL = "The fall to the ram is {fall_m:height}"
_RAISE = "Take the water in higher up, or set the ram lower"

WATER: dict[str, Wording] = {
    "fall-low/stop": Wording(
        _FALL + ", less than the {limit_m:height} a ram needs to run.",
        _RAISE + ", until the fall is {limit_m:height} or more.",
    ),
    "fall-low/warn": Wording(
        _FALL + ", less than {limit_m:height}; few rams run well on so little.",
        _RAISE + ", and ask the maker for a low-fall ram.",
    ),
    "fall-low/note": Wording(
        _FALL + ", less than {limit_m:height}; it works, but delivers little.",
        _RAISE + " if the ground allows.",
    ),
    "fall-high": Wording(
        _FALL + ", more than {limit_m:height}; the valves will be pounded.",
        "Set the ram higher up, or break the fall with a tank above it.",
    ),
    "lift-ratio/warn": Wording(
        "The lift is {ratio:ratio} times the fall, more than {limit:ratio}; the ram works poorly"
        " that far up.",
        "Gain fall, lower the tank, or shorten the delivery line's losses with a larger bore.",
    ),
    "lift-ratio/strong": Wording(
        "The lift is {ratio:ratio} times the fall, more than {limit:ratio}; few rams keep running"
        " there and little water arrives.",
        "Gain fall or lower the tank, or lift in two stages with a tank and a second ram.",
    ),
    "reach-too-far": Wording(
        "The reach is too far for the ram[: a lift of {lift_m:height} on a fall of"
        " {fall_m:height}]; no published figures go so far, so no yield is given.",
        "Gain fall, lower the tank, lift in two stages, or use a powered pump.",
    ),
    "yield-unknown": Wording(
        "No published figures cover this ram's fall and flow, so no yield is given.",
        "Ask the ram's maker for the yield.",
    ),
    "yield-below-need": Wording(
        "About {expected_m3:day} would be delivered[ ({low_m3:day} to {high_m3:day})], less than"
        " the {need_m3:day} needed.",
        "Gain fall, lower the tank, take in more water, or find a second source.",
    ),
    "yield-below-need/far": Wording(
        "Even at best {high_m3:day} would be delivered, less than the {need_m3:day} needed.",
        "This scheme cannot serve the need; gain fall, lower the tank, or find another source.",
    ),
    "yield-below-need/maybe": Wording(
        "About {expected_m3:day} would be delivered, but it may be as little as {low_m3:day}, less"
        " than the {need_m3:day} needed.",
        "Level the fall and measure the source's flow again at its lowest before counting on it.",
    ),
    "takes-too-much/all": Wording(
        "The plan needs {asked:flow}, more than the {source:flow} the source gives.",
        "Reduce the need, use a smaller bore, or find a second source.",
    ),
    "takes-too-much/share": Wording(
        "The plan needs {asked:flow}; only {taken:flow} may be taken if {share_left:percent} of"
        " the source's {source:flow} is to stay in the stream.",
        "Reduce the need, use a smaller bore, or find a second source.",
    ),
    "outlet-head-low/stop": Wording(
        'No water reaches the outlet "{outlet}": with the outlet open the head falls short by'
        " {short_m:height}.",
        "Use a larger bore, shorten the line, or raise the tank by at least {short_m:height}.",
    ),
    "outlet-head-low/warn": Wording(
        'The pressure at the outlet "{outlet}" is only {head_m:head} with the outlet open: enough'
        " to fill a bucket, not for a drip line or a hose.",
        "Use a larger bore or raise the tank, if more than a bucket is to be filled.",
    ),
    "outlet-head-low/note": Wording(
        'The pressure at the outlet "{outlet}" is {head_m:head} with the outlet open: enough for a'
        " trough or a drip line, little for a tap or a hose.",
        "Use a larger bore or raise the tank, if a tap or a hose is to run there.",
    ),
    "outlet-head-high": Wording(
        'The pressure at the outlet "{outlet}" is {head_m:head} with the outlet open, more than a'
        " tap likes.",
        "Fit a throttling valve or a break-pressure tank, or use a smaller bore.",
    ),
    "velocity-high": Wording(
        "Water runs at {velocity:speed} in the {line} line, faster than {limit:speed}; it wears"
        " the pipe and strikes hard when a valve shuts.",
        "Use a larger bore or throttle the outlet.",
    ),
    "velocity-low": Wording(
        "Water runs at {velocity:speed} in the {line} line; slower than {limit:speed}, silt"
        " settles in it.",
        "Use a smaller bore, or fit washouts at the low points and flush the line often.",
    ),
    "pipe-part-full": Wording(
        "The source gives less than the {line} line could carry: from {start_m:station} to"
        " {end_m:station} it runs part full and draws in air.",
        "Use a smaller bore or throttle the lower end, so that the pipe stays full.",
    ),
    "tank-out-of-reach/gravity": Wording(
        'The water does not reach the inlet of "{end}": with the outlet open the head falls short'
        " by {short_m:height}.",
        "Use a larger bore, lower the inlet by at least {short_m:height}, or take the water in"
        " higher up.",
    ),
    "tank-out-of-reach/powered": Wording(
        "The pump cannot lift the water to the tank[: {lift_m:height} and {friction_m:height} of"
        " friction are needed, and its curve ends at {head_m:height}].",
        "Use a pump with more head, a larger bore, or a lower tank.",
    ),
}
