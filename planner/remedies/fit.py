"""Vents and washouts: decided where they are wanted, or taken out where they do nothing."""

from collections.abc import Iterable, Iterator

from planner.checks.fitted import fitted
from planner.record.value import Finding, Line, Plan
from planner.remedies.found import line_of, lonlat_at, sample_of
from planner.remedies.value import Remedy
from planner.site.edits.value import AddTable, Edit, SetValue, Several
from planner.site.fit import FittingKind

VENTS = {  # by the case of an air trap; those left out take no vent
    None: "vent",
    "doubtful": "vent",
    "clears": "hand cock",
    "standpipe": "standpipe",
    "air-valve": "air valve",
    "hand-cock": "hand cock",
}


def vent(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A vent at the high point, of the kind that the finding asks for."""
    case = finding.values.get("case")
    word = VENTS.get(None if case is None else str(case))
    edit = _here(plan, finding, "vent")
    if word is not None and edit is not None:
        yield Remedy("vent", f"Fit {_a(word)} here", edit)


def vents(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """The fewest vents with which a gravity line starts and runs, those not decided yet."""
    line = line_of(plan, finding)
    if line is None or line.air is None or not line.air.enough:
        return
    wanted = [
        one.index
        for one in line.air.vents
        if one.vent is not None and not fitted(line, one.chainage_m, "vent")
    ]
    edit = _fitted(plan, line, wanted, "vent")
    if edit is not None:
        words = "Fit the vent it needs" if len(wanted) == 1 else f"Fit the {len(wanted)} vents"
        yield Remedy("vent", words, edit)


def washout(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A washout at the low point."""
    edit = _here(plan, finding, "washout")
    if edit is not None:
        yield Remedy("washout", "Fit a washout here", edit)


def taken_out(_: Plan, finding: Finding) -> Iterator[Remedy]:
    """One that is decided and does nothing, taken out of the site file."""
    number = int(finding.values["number"]) - 1
    yield Remedy("take-out", "Take it out", SetValue(("fit", str(number)), None))


def _here(plan: Plan, finding: Finding, kind: FittingKind) -> Edit | None:
    line = line_of(plan, finding)
    index = None if line is None else sample_of(line, finding)
    return None if line is None or index is None else _fitted(plan, line, [index], kind)


def _fitted(plan: Plan, line: Line, where: Iterable[int], kind: FittingKind) -> Edit | None:
    """One change for all samples of a line at which something is fitted."""
    places = [line.profile.xy[index].tolist() for index in where]
    edits = tuple(
        AddTable(("fit",), {"line": line.name, "kind": kind, "at": list(lonlat_at(plan, (x, y)))})
        for x, y in places
    )
    if len(edits) > 1:
        return Several(f"fit {len(edits)} {kind}s", edits)
    return edits[0] if edits else None


def _a(word: str) -> str:
    return f"an {word}" if word[0] in "aeiou" else f"a {word}"
