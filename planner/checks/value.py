"""`Check` and `Limit`: one rule that makes findings, and the number it draws the line at."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from planner.hydraulics.limits import Limit as Published
from planner.record.value import Finding, Level, Plan

Values = dict[str, float | str]
Trust = Literal["published", "practice", "setting"]


@dataclass(frozen=True, slots=True)
class Limit:
    """A number at which a check draws the line, in SI, and where it comes from.

    `trust` tells how firm it is: read in a published source, common practice in the trade, or a
    setting of this program, chosen where sources disagree or say nothing.
    """

    value: float
    source: str
    trust: Trust = "practice"

    @classmethod
    def low(cls, published: Published) -> "Limit":
        """The low end of a published range."""
        return cls(
            float("nan") if published.low is None else published.low, published.source, "published"
        )

    @classmethod
    def high(cls, published: Published) -> "Limit":
        """The high end of a published range."""
        return cls(
            float("nan") if published.high is None else published.high,
            published.source,
            "published",
        )


@dataclass(frozen=True, slots=True)
class Check:
    """One rule.

    Attributes
    ----------
    code : str
        Code of its findings; `planner.wording` has the sentences.
    levels : tuple of Level
        Levels it can give, worst first.
    find : callable
        From a computed plan to its findings of this code; pure, compares and computes no water.
    limits : tuple of Limit
        Where it draws the line; empty where there is only yes or no.
    """

    code: str
    levels: tuple[Level, ...]
    find: Callable[[Plan], Iterator[Finding]]
    limits: tuple[Limit, ...] = ()
