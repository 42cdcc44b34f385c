"""Trench, bedding and backfill in m³, and the days that digging and laying take."""

from collections.abc import Iterator

from planner.output.materials.gather import Need
from planner.output.materials.ground import EDGES, GROUNDS
from planner.output.materials.shown import shown
from planner.output.materials.sizes import slug
from planner.output.materials.value import Article, DepthClass, Dug, Work
from planner.record.value import Line, Plan
from planner.site.field import GroundClass, Rates
from planner.site.value import Units
from planner.units.show import show

GROUND_WORDS: dict[GroundClass, str] = {
    "soft": "soft ground",
    "ordinary": "ordinary ground",
    "stony": "stony ground",
    "rock": "rock",
}
CAUTION = (
    "A trench this deep can bury the one who digs it: hold or slope its sides, keep the spoil back "
    "from its edge and a ladder in it, and follow the local rules."
)


def depth_words(depth: DepthClass, units: Units) -> str:
    """A depth class in words.

    Examples
    --------
    >>> depth_words(1, "metric"), depth_words(3, "us")
    ('0.6 m to 1.0 m deep', 'over 5.0 ft deep, sides held or sloped')
    """
    ends = [show(edge, "length", units, decimals=2 if edge == 1.25 else 1) for edge in EDGES[units]]
    if depth == 0:
        return f"up to {ends[0]} deep"
    if depth == 3:
        return f"over {ends[2]} deep, sides held or sloped"
    return f"{ends[depth - 1]} to {ends[depth]} deep"


def earth_needs(trench: tuple[Dug, ...], units: Units) -> Iterator[Need]:
    """Trench by ground and depth class, the bedding it takes, the earth that goes back."""
    for row in sorted(trench, key=lambda row: (GROUNDS.index(row.ground), row.depth)):
        words = f"Trench in {GROUND_WORDS[row.ground]}, {depth_words(row.depth, units)}"
        trench_of = _measured(words, row.ground)
        yield Need(trench_of, row.line, row.volume, "depth × width × length")
    for row in trench:
        bed = _measured("Bedding, sand or sifted earth")
        yield Need(bed, row.line, row.bedding, "under, beside and over the pipe in rough ground")
    for row in trench:
        yield Need(_measured("Backfill"), row.line, row.backfill, "trench less bedding and pipe")


def work_of(rates: Rates, trench: tuple[Dug, ...], lines: tuple[Line, ...]) -> tuple[Work, ...]:
    """Digging by ground, and laying."""
    digging = []
    for ground in GROUNDS:
        volume = sum(row.volume for row in trench if row.ground == ground)
        if volume > 0.0:
            words = f"Digging in {GROUND_WORDS[ground]}"
            digging.append(Work(words, ground, volume, "m³", rates.dig[ground]))
    laid = sum(line.profile.length for line in lines)
    words = "Laying, joining and backfilling"
    return (*digging, *([Work(words, None, laid, "m", rates.lay)] if laid else []))


def work_needs(plan: Plan, trench: tuple[Dug, ...], lines: tuple[Line, ...]) -> Iterator[Need]:
    """Person-days by line, at the user's rates."""
    rates = plan.site.rates
    for work in work_of(rates, trench, lines):
        article = Article(slug(work.words), "labour", "work", work.words, "day", ground=work.ground)
        rate, sign = shown(work.rate, work.unit, plan.site.units)
        why = f"{rate:.3g} {sign} a person and day"
        if work.ground is None:
            for line in lines:
                yield Need(article, line.name, line.profile.length / work.rate, why)
        for row in trench:
            if row.ground == work.ground:
                yield Need(article, row.line, row.volume / work.rate, why)


def land_needs(plan: Plan) -> Iterator[Need]:
    """Metres of pipe on each owner's land."""
    for share in plan.owners:
        owner = "land of nobody listed" if share.owner is None else f"the land of {share.owner}"
        words = f"Pipe on {owner}"
        article = Article(slug(words), "land", "measure", words, "m")
        yield Need(article, share.line, share.metres, "along the slope")


def _measured(words: str, ground: GroundClass | None = None) -> Article:
    return Article(slug(words), "earthwork", "measure", words, "m³", ground=ground)
