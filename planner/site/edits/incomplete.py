"""`Incomplete`: a site while points are still to be placed."""

from dataclasses import dataclass

from planner.site.draft import Draft
from planner.site.edits.open import sketch_content
from planner.site.edits.text import plain
from planner.site.read import unfinished_site
from planner.site.value import Area, Elevation, Point, Site, Units


@dataclass(frozen=True, slots=True)
class Incomplete:
    """A site of which no plan may be possible yet.

    Attributes
    ----------
    site : Site
        All that is said so far; its sketch may lack a source, a tank or an outlet.
    missing : str
        One sentence on what to place next, "" where nothing is missing.
    """

    site: Site
    missing: str

    @property
    def title(self) -> str:
        """The site's title."""
        return self.site.title

    @property
    def units(self) -> Units:
        """Units to show figures in."""
        return self.site.units

    @property
    def elevation(self) -> Elevation:
        """Which elevation data to read."""
        return self.site.elevation

    @property
    def points(self) -> tuple[Point, ...]:
        """Points placed so far."""
        return self.site.sketch.points

    @property
    def areas(self) -> tuple[Area, ...]:
        """Areas drawn so far."""
        return self.site.sketch.areas


def incomplete_site(draft: Draft) -> Incomplete:
    """What a draft says so far, and what is missing for a plan.

    Raises
    ------
    SiteError, SketchError
        What is said can't be used; that something is not said yet is no error.
    """
    site = unfinished_site(plain(draft.site), draft.folder, draft.site_name, sketch_content(draft))
    return Incomplete(site, _missing(site))


def _missing(site: Site) -> str:
    roles = {point.role for point in site.sketch.points}
    if "source" not in roles:
        return "Place the source: where the spring rises or the intake is."
    if not roles & {"tank", "outlet"}:
        return "Place a tank, or an outlet: where the water is to arrive."
    return ""
