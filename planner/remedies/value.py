"""`Remedy`: what a button beside a finding does."""

from dataclasses import dataclass

from planner.site.edits.value import Edit


@dataclass(frozen=True, slots=True)
class Remedy:
    """One thing that can be done about a finding.

    Attributes
    ----------
    key : str
        Its kind, such as "vent", "deepen", "way-point", "pipe".
    words : str
        On the button, in the site's units: "Fit a vent here", "Dig to 1.82 m".
    edit : Edit
        The change of the site that does it.
    """

    key: str
    words: str
    edit: Edit
