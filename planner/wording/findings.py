"""Findings to sentences."""

from planner.record.value import Finding
from planner.site.value import Units
from planner.wording.fill import fill
from planner.wording.texts.air import AIR
from planner.wording.texts.data import DATA
from planner.wording.texts.drive import DRIVE
from planner.wording.texts.levels import LEVELS
from planner.wording.texts.place import PLACE
from planner.wording.texts.pressure import PRESSURE
from planner.wording.texts.ram import RAM
from planner.wording.texts.route import ROUTE
from planner.wording.texts.scheme import SCHEME
from planner.wording.texts.source import SOURCE
from planner.wording.texts.water import WATER
from planner.wording.value import Wording

TEXTS: dict[str, Wording] = (
    DATA | LEVELS | SCHEME | ROUTE | AIR | DRIVE | RAM | WATER | SOURCE | PRESSURE | PLACE
)


def sentence(finding: Finding, units: Units) -> Wording:
    """What a finding says, and what to do about it, in plain text.

    Parameters
    ----------
    finding : Finding
        Its code, with `values["case"]` where a code has several texts, picks the text.
    units : {"metric", "us"}
        Units to show.

    Returns
    -------
    Wording

    Raises
    ------
    KeyError
        No text is written for the code; a test holds that every check has one.

    Examples
    --------
    >>> sentence(Finding("note", "powered"), "metric").message
    'A powered pump lifts the water.'
    """
    case = finding.values.get("case")
    text = TEXTS[f"{finding.code}/{case}" if case else finding.code]
    values = {**finding.values, "line": finding.line, "chainage_m": finding.chainage_m}
    return Wording(fill(text.message, values, units), fill(text.remedy, values, units))
