"""Of pressure against what the pipe bears."""

from planner.wording.value import Wording

_REACHES = "The pressure in the {line} line reaches {head_m:head} at {chainage_m:station} with the"

PRESSURE: dict[str, Wording] = {
    "pressure-over-rating/closed": Wording(
        _REACHES + " outlet closed, more than the {rating_m:head} its pipe is rated for.",
        "Use a higher pipe class there, or set a break-pressure tank above.",
    ),
    "pressure-over-rating/open": Wording(
        _REACHES + " outlet open, more than the {rating_m:head} its pipe is rated for.",
        "Use a higher pipe class or a larger bore.",
    ),
    "pressure-over-rating/surge": Wording(
        "With the surge of a valve shut by hand the pressure in the {line} line reaches"
        " {head_m:head} at {chainage_m:station}, more than the {rating_m:head} of surge its pipe"
        " bears.",
        "Fit an outlet valve that can only be shut slowly, use a larger bore, or a higher pipe"
        " class there.",
    ),
    "pressure-over-rating/closed-near": Wording(
        _REACHES + " outlet closed, {share:percent} of the {rating_m:head} its pipe is rated for;"
        " little is left for surge.",
        "Use the next higher pipe class there, and valves that close slowly.",
    ),
    "pressure-over-rating/open-near": Wording(
        _REACHES + " outlet open, {share:percent} of the {rating_m:head} its pipe is rated for;"
        " little is left for surge.",
        "Use the next higher pipe class there, and valves that close slowly.",
    ),
    "break-pressure": Wording(
        "The {line} line bears its pressure with the outlet closed only if tanks break it on the"
        " way.",
        "Set a break-pressure tank with a float valve at {places:stations}, or use a higher pipe"
        " class below there.",
    ),
    "break-pressure/blocked": Wording(
        "No break-pressure tanks can spare the {line} line beyond {chainage_m:station}: too much"
        " pressure with the outlet closed, or too little level left with the outlet open.",
        "Use a higher pipe class there, or move the line.",
    ),
    "pipe-classes": Wording(
        "By its pressure, outlet open, outlet closed and with surge, the {line} line takes pipe of"
        " {classes:classes}.",
        "Buy so much of each class, and mark the stretches when laying.",
    ),
    "pipe-classes/weak": Wording(
        "No class of the pipe named bears the {line} line from {chainage_m:station} to"
        " {end_m:station}: it needs {needed_m:head} for its pressure, outlet open, outlet closed or"
        " surge.",
        "Name a stronger pipe for it, or break the pressure, outlet closed, with a tank above.",
    ),
}
