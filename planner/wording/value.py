"""`Wording`: what is said of a finding, and what to do about it."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Wording:
    """A message and its remedy, as text to show or as patterns to fill.

    In a pattern `{rise_m:height}` stands for the value `rise_m` shown as a height, and
    `[, or dig {deeper_m:height} deeper]` is left out when a value in it is missing or not
    finite. Text that comes out is plain: outputs escape it.
    """

    message: str
    remedy: str
