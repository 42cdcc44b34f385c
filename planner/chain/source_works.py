"""The source: its flow at its lowest, and what an intake on it needs."""

from planner.band import Band
from planner.hydraulics.intake import intake_screen, least_cover
from planner.hydraulics.settling import settling_chamber
from planner.hydraulics.source import LowestFlow, bucket_flow, lowest_flow
from planner.record.works import SourceWorks
from planner.site.value import Site

READING_ERROR = 0.05  # of one flow told without its timings: bucket and watch, 3 - 5 %


def source_flow(site: Site) -> LowestFlow | None:
    """The source's flow at its lowest known, from timings or as told; None if unknown."""
    source = site.gauged
    if source.timings:
        reading = bucket_flow(
            [fill.volume for fill in source.timings], [fill.seconds for fill in source.timings]
        ).flow
    elif source.flow is not None:
        flow = source.flow
        reading = Band(flow * (1.0 - READING_ERROR), flow, flow * (1.0 + READING_ERROR))
    else:
        return None
    factor = None
    if source.season_factor is not None and source.season != "dry":
        low, high = source.season_factor
        factor = Band(low, (low + high) / 2.0, high)
    return lowest_flow(reading, source.season, factor)


def source_works(site: Site, lowest: LowestFlow | None, taken: float | None) -> SourceWorks | None:
    """Screen and settling chamber for the flow taken; None where that is unknown."""
    if lowest is None or not taken:
        return None
    bore = site.lines["supply"].pipe.bore
    return SourceWorks(
        lowest=lowest,
        screen=intake_screen(taken, bore),
        chamber=settling_chamber(taken, temperature=site.temperature),
        cover=least_cover(bore),
    )
