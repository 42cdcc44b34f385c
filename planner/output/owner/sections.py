"""All that the owner's sheet has to say, in its order."""

from collections.abc import Sequence

from planner.output.owner.care import care_section
from planner.output.owner.duties import caution_section, told_section
from planner.output.owner.faults import fault_section
from planner.output.owner.fittings import Fitting, key_section
from planner.output.owner.running import running_section
from planner.output.owner.scheme import readings_section, scheme_section
from planner.output.owner.words import Section
from planner.record.value import Plan


def sections_of(plan: Plan, found: Sequence[Fitting]) -> tuple[Section, ...]:
    """What was built, how it runs, what to do about it; `found` are the fittings on the map."""
    numbered = tuple(found)
    return (
        scheme_section(plan),
        key_section(numbered),
        readings_section(plan),
        running_section(plan, numbered),
        fault_section(plan, numbered),
        care_section(plan, numbered),
        caution_section(plan),
        told_section(plan),
    )
