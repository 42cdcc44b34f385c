"""`Materials`: everything to buy, dig, carry and do, each with how its number came about.

Plain values, SI. One row is one article, as a shop sells it; what it is for stands beside it.
"""

import datetime
import math
from dataclasses import dataclass
from typing import Literal

from planner.hydraulics.pipe import Form
from planner.record.value import OwnerShare
from planner.site.field import GroundClass
from planner.site.value import Units

Group = Literal[
    "pipe",
    "joints and bends",
    "valves",
    "vents and washouts",
    "intake and chamber",
    "ram",
    "tank",
    "laying and marking",
    "earthwork",
    "labour",
    "land",
    "tools",
]
"""In the order of a list."""

Kind = Literal["buy", "work", "measure", "tool"]
"""Bought; days of work; only measured, so that whoever has a price for it can use it; brought."""

Unit = Literal["m", "m³", "kg", "coil", "stick", "roll", "piece", "pair", "set", "can", "day"]

DepthClass = Literal[0, 1, 2, 3]
"""Trench from the shallowest class to that which must be shored."""


@dataclass(frozen=True, slots=True)
class Article:
    """Something that is sold, dug or done, whatever for.

    Attributes
    ----------
    code : str
        Lower-case letters, figures and hyphens; the same in every plan of the same units.
    group, kind : Group, Kind
    words : str
        In the site's units.
    unit : Unit
    pack : float or None
        Metres in one coil, stick or roll.
    mass : float or None
        Of one unit [kg], empty; None: not known.
    labels : tuple of str
        What a price list may call it beside its code and words: a pipe's size and class.
    ground : GroundClass or None
        Of trench, and of digging it: the same work, by volume or by the day.
    """

    code: str
    group: Group
    kind: Kind
    words: str
    unit: Unit
    pack: float | None = None
    mass: float | None = None
    labels: tuple[str, ...] = ()
    ground: GroundClass | None = None


@dataclass(frozen=True, slots=True)
class Use:
    """What an article is for: a line or structure, how much of it, and why so much.

    `amount` is in the article's unit; in metres where it comes in packs.
    """

    place: str
    amount: float
    why: str


@dataclass(frozen=True, slots=True)
class Item:
    """A row of the list: `quantity` of an article in its unit; whole packs where it has any."""

    article: Article
    quantity: float
    uses: tuple[Use, ...]
    note: str = ""

    @property
    def mass(self) -> float | None:
        """Of all of it [kg]; None where it is not known."""
        return None if self.article.mass is None else self.article.mass * self.quantity

    @property
    def used(self) -> float:
        """Sum over its uses, in metres where it comes in packs."""
        return sum(use.amount for use in self.uses)


@dataclass(frozen=True, slots=True)
class Cut:
    """A length cut from a coil or stick for a line [m]."""

    line: str
    length: float


@dataclass(frozen=True, slots=True)
class Piece:
    """One coil or stick: what is cut from it, and what remains of its length [m]."""

    cuts: tuple[Cut, ...]
    left: float


@dataclass(frozen=True, slots=True)
class LaidRun:
    """Pipe of one article in a line.

    Attributes
    ----------
    line : str
    start_m, end_m : float
        Chainage [m].
    rough_m : float
        How much of it lies in stony ground or rock [m].
    spare_m : float
        Bought beyond its length [m].
    pieces : int
        Coils or sticks, whole or in part, that it is laid from.
    """

    line: str
    start_m: float
    end_m: float
    rough_m: float
    spare_m: float
    pieces: int

    @property
    def net_m(self) -> float:
        """Along the slope [m]."""
        return self.end_m - self.start_m

    @property
    def wanted_m(self) -> float:
        """With what is bought beyond [m]."""
        return self.net_m + self.spare_m


@dataclass(frozen=True, slots=True)
class PipeOrder:
    """All pipe of one article.

    Attributes
    ----------
    article : Article
    form, length, mass : str, float, float
        Coil or stick, its length [m] and its mass [kg].
    runs : tuple of LaidRun
    pieces : tuple of Piece
        Every coil or stick bought.
    """

    article: Article
    form: Form
    length: float
    mass: float
    runs: tuple[LaidRun, ...]
    pieces: tuple[Piece, ...]

    @property
    def left_m(self) -> float:
        """What remains of all pieces [m]."""
        return sum(piece.left for piece in self.pieces)


@dataclass(frozen=True, slots=True)
class Dug:
    """Trench of one line in one ground and depth class.

    `length_m` on the level; `side_m2` is its long side, depth times length [m²]; `volume`,
    `bedding` and `pipe` are of the trench, the bedding in it and the pipe in it [m³].
    """

    line: str
    ground: GroundClass
    depth: DepthClass
    length_m: float
    side_m2: float
    volume: float
    bedding: float
    pipe: float

    @property
    def backfill(self) -> float:
        """Earth that goes back [m³]."""
        return self.volume - self.bedding - self.pipe


@dataclass(frozen=True, slots=True)
class Work:
    """Work of one kind: so much of it, at so much a person and day, in person-days."""

    words: str
    ground: GroundClass | None
    amount: float
    unit: Literal["m", "m³"]
    rate: float

    @property
    def days(self) -> float:
        """One person's."""
        return self.amount / self.rate


@dataclass(frozen=True, slots=True)
class Carried:
    """Loads of one kind: `count` pieces of `mass` [kg] each.

    `carriers` bear `together` pieces at a time: several people one heavy piece, or one person
    several light ones.
    """

    words: str
    count: int
    mass: float
    carriers: int
    together: int = 1

    @property
    def trips(self) -> int:
        """Ways up the hill, one person's."""
        return math.ceil(self.count / self.together) * self.carriers


@dataclass(frozen=True, slots=True)
class Materials:
    """What a plan takes.

    Attributes
    ----------
    title, made, units
        Of the plan; `units` are those of the words and of every table written.
    items : tuple of Item
        By group, then in the order of the water.
    pipes : tuple of PipeOrder
    trench : tuple of Dug
    edges : tuple of float
        Depths at which the depth classes end [m]; below the last the trench is shored.
    work : tuple of Work
    carried : tuple of Carried
    unweighed : tuple of str
        Articles to be carried whose mass is not known.
    owned : tuple of OwnerShare
    notes : tuple of str
        What the list does not hold, or holds under a caution.
    trench_width, load : float
        Rates the tables need [m, kg].
    """

    title: str
    made: datetime.date
    units: Units
    items: tuple[Item, ...]
    pipes: tuple[PipeOrder, ...]
    trench: tuple[Dug, ...]
    edges: tuple[float, float, float]
    work: tuple[Work, ...]
    carried: tuple[Carried, ...]
    unweighed: tuple[str, ...]
    owned: tuple[OwnerShare, ...]
    notes: tuple[str, ...]
    trench_width: float
    load: float

    @property
    def trips(self) -> int:
        """Ways up the hill in all, one person's."""
        return sum(load.trips for load in self.carried)

    @property
    def days(self) -> float:
        """Person-days of digging and laying."""
        return sum(work.days for work in self.work)
