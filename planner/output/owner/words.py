"""`Section` and `Item`: what the owner's sheet says, before it is known how much has room."""

from dataclasses import dataclass

from planner.output.print.type import printable
from planner.record.value import Plan
from planner.site.value import LineRole, PointRole

MOST_NAME = 32  # letters of a name on the sheet


@dataclass(frozen=True, slots=True)
class Item:
    """One thing said, in plain text; `lead` stands before it in bold."""

    text: str
    lead: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """Things said under one title, the weightiest first.

    `least` of them stand on the sheet as long as other sections have more than theirs; `run_in`:
    short things that follow each other in one paragraph.
    """

    title: str
    items: tuple[Item, ...]
    least: int = 2
    run_in: bool = False


def name_of(name: str) -> str:
    """A name as the sheet has it."""
    return printable(name, MOST_NAME)


def the(plan: Plan, role: PointRole, otherwise: str) -> str:
    """The name of the first point of a role."""
    names = (point.name for point in plan.points if point.role == role)
    found = next(names, None)
    return otherwise if found is None else name_of(found)


def has(plan: Plan, *roles: LineRole) -> bool:
    """Whether the plan has a line of one of these roles."""
    return any(line.role in roles for line in plan.lines)


def listed(parts: list[str], most: int = 4) -> str:
    """A list in a sentence, cut where it is long.

    Examples
    --------
    >>> listed(["cabin", "trough", "barn"]), listed(["a", "b", "c"], most=1)
    ('cabin, trough and barn', 'a and 2 more')
    """
    if len(parts) > most:
        parts = [*parts[:most], f"{len(parts) - most} more"]
    return " and ".join(part for part in (", ".join(parts[:-1]), *parts[-1:]) if part)


def freezes(plan: Plan) -> bool:
    """Whether the ground is known to freeze."""
    frost = plan.site.frost_depth
    return frost is not None and frost > 0.0
