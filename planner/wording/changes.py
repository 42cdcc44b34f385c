"""What measuring on the ground changed, in words."""

from planner.record.value import Change
from planner.site.value import Units
from planner.wording.fill import fill

# Of a figure: "2.31 m measured (good to ± 0.02 m), 2.05 m from the elevation data".
TEXTS: dict[str, str] = {
    "fall": "Fall {after:levelled}[ ± {error_after:levelled}] with what was measured,"
    " {before:levelled}[ ± {error_before:levelled}] from the elevation data.",
    "lift": "Lift {after:levelled}[ ± {error_after:levelled}] with what was measured,"
    " {before:levelled}[ ± {error_before:levelled}] from the elevation data.",
    "yield": "Delivered {before:day_held} → {after:day_held}.",
    "yield/new": "Delivered {after:day_held}; without what was measured it could not be told.",
    "yield/lost": "Delivered {before:day_held} from the elevation data; with what was measured"
    " it can no longer be told.",
    "source": "Flow of the source {before:flow} → {after:flow}.",
    "source/new": "Flow of the source {after:flow}; it was not known before.",
    "ram": "The ram gives {after:percent} of the falling water's power as it was measured;"
    " {before:percent} is published for such a fall and lift.",
    "ram/new": "The ram gives {after:percent} of the falling water's power as it was measured;"
    " nothing is published for such a fall and lift.",
    "length": "The {name} line is {after:length} long, not {before:length}.",
    "high-point/gone": "The high point of the {name} line at {before:station} is not there.",
    "high-point/new": "The {name} line has a high point at {after:station} that the elevation data"
    " does not show.",
    "high-point/moved": "The high point of the {name} line at {before:station} stands at"
    " {after:station}.",
    "line/found": "The {name} line, for which there was no way, is found.",
    "line/lost": "The {name} line has no way any more.",
    "level": "The ground at {name} lies {higher:levelled} higher than the elevation data says.",
    "level/lower": "The ground at {name} lies {lower:levelled} lower than the elevation data says.",
}


def change_sentence(change: Change, units: Units) -> str:
    """One change as a sentence in plain text.

    Examples
    --------
    >>> change_sentence(Change("fall", "", 2.05, 2.31, 0.7, 0.02), "metric")
    'Fall 2.31 m ± 0.02 m with what was measured, 2.05 m ± 0.70 m from the elevation data.'
    >>> change_sentence(Change("high-point/gone", "delivery", 64.0, None), "metric")
    'The high point of the delivery line at chainage 64.0 m is not there.'
    """
    return fill(TEXTS[change.code], _values(change), units)


def _values(change: Change) -> dict[str, float | str | None]:
    values: dict[str, float | str | None] = {
        "name": change.name,
        "before": change.before,
        "after": change.after,
        "error_before": change.error_before,
        "error_after": change.error_after,
    }
    if change.before is not None and change.after is not None:
        values["higher"] = change.after - change.before
        values["lower"] = change.before - change.after
    return values
