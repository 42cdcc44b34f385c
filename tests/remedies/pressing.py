"""A remedy pressed: the draft edited, the site planned again, the finding looked for again."""

import math
import shutil
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from planner.plan import make_plan
from planner.record.value import Finding, Level, Plan
from planner.remedies.table import remedies
from planner.remedies.value import Remedy
from planner.site.draft import Draft
from planner.site.edits.apply import edited
from planner.site.edits.open import draft_site, open_draft
from planner.site.edits.value import Edit

DEMO = Path(__file__).resolve().parents[2] / "planner" / "demo"
ORDER: dict[Level, int] = {"note": 0, "warn": 1, "stop": 2}
NEAR = 15.0  # m along a line; a finding farther off is of another place
GONE = -1


@dataclass(frozen=True, eq=False)
class Pressed:
    """What stood before and what stands after."""

    before: Plan
    finding: Finding
    remedy: Remedy
    draft: Draft
    after: Plan

    @property
    def left(self) -> list[Finding]:
        """Findings of the same code at the same place of the same line."""
        return [one for one in self.after.findings if _same(one, self.finding)]

    @property
    def level(self) -> int:
        """How bad it still is: `GONE`, or as `ORDER` has it."""
        return max((ORDER[one.level] for one in self.left), default=GONE)

    @property
    def eased(self) -> bool:
        return self.level < ORDER[self.finding.level]

    @property
    def worse(self) -> set[tuple[str, str | None]]:
        """Codes, with their lines, that stop the work only now."""
        before, after = (
            {(one.code, one.line) for one in plan.findings if one.level == "stop"}
            for plan in (self.before, self.after)
        )
        return after - before


def _same(one: Finding, other: Finding) -> bool:
    if (one.code, one.line) != (other.code, other.line):
        return False
    if one.chainage_m is None or other.chainage_m is None:
        return one.values.get("point") == other.values.get("point")
    return math.isclose(one.chainage_m, other.chainage_m, abs_tol=NEAR)


def demo_draft(folder: Path, *edits: Edit) -> Draft:
    """The demo in a folder of its own, changed."""
    for file in DEMO.glob("larch-hollow*"):
        shutil.copy(file, folder)
    draft = open_draft(folder / "larch-hollow.toml")
    for edit in edits:
        draft = edited(draft, edit)
    return draft


@cache
def planned(draft: Draft) -> Plan:
    return make_plan(draft_site(draft))


def offered(plan: Plan, code: str) -> list[tuple[Finding, Remedy]]:
    """Every remedy of every finding of a code."""
    return [
        (finding, remedy)
        for finding in plan.findings
        if finding.code == code
        for remedy in remedies(plan, finding)
    ]


def press(draft: Draft, code: str, key: str, *, number: int = 0) -> Pressed:
    """Press a button: of the findings of a code that have it, that of one."""
    before = planned(draft)
    found = [pair for pair in offered(before, code) if pair[1].key == key]
    assert found, f"no remedy {key} for {code} among {[f.code for f in before.findings]}"
    finding, remedy = found[number]
    changed = edited(draft, remedy.edit)
    return Pressed(before, finding, remedy, changed, planned(changed))
