"""Which pipes there are to take instead, and the change of the site file that takes one."""

from collections.abc import Callable, Iterator

from planner.errors import InputError
from planner.hydraulics.catalogue import catalogue, find_pipes
from planner.hydraulics.classes import needed_along
from planner.hydraulics.derating import Lying, derated_rating, wall_temperature
from planner.hydraulics.pipe import CataloguePipe
from planner.record.value import Line, Plan
from planner.remedies.value import Remedy
from planner.site.edits.value import SetValue, Several

Fits = Callable[[CataloguePipe], bool]

PLASTIC = {"metric": "ISO 4427", "us": "ASTM D2239"}
STEEL = {"metric": "ISO 65", "us": "ASTM A53"}
SAME_BORE = 1.02  # bores nearer than this are sold as one size


def shelf(plan: Plan, line: Line) -> tuple[str, ...]:
    """Standards of pipe a line may take: its own, then plastic and steel; a drive pipe steel."""
    steel, plastic = STEEL[plan.site.units], PLASTIC[plan.site.units]
    if line.role == "drive":  # each beat strikes it
        return (steel,)
    usual, pipe = (plastic, steel), line.settings.pipe
    if pipe.size is None:
        return usual
    try:
        named = find_pipes(pipe.size, standard=pipe.standard, pressure_class=pipe.pressure_class)
    except InputError:  # one of the user's own
        return usual
    return tuple(dict.fromkeys((named[-1].standard, *usual)))


def strong_enough(plan: Plan, line: Line, standard: str, head: float) -> Iterator[CataloguePipe]:
    """Of each size of a standard the weakest pipe that bears a head for good, by bore."""
    lying: Lying = "sun" if line.settings.laying.manner == "surface" else "buried"
    warmth = float(wall_temperature(plan.site.temperature, lying))
    rows = [row for row in catalogue() if row.standard == standard]
    by_size = {
        row.nominal: row
        for row in sorted(rows, key=lambda row: -row.rating)
        if float(derated_rating(row, warmth)) >= head
    }
    yield from sorted(by_size.values(), key=lambda row: row.bore)


def head_of(line: Line) -> float:
    """Rating the line's pressure asks for [m of water], surge and all; 0 where none is known."""
    pressure, water = line.pressure, line.water
    if pressure is None or water is None:
        return 0.0
    heads = pressure.heads
    rise = (heads.surge - heads.closed).clip(min=0.0)
    needed = needed_along(line.profile.pipe, water.closed_level, water.open_level, rise, 0.0, "PE")
    return float(needed.max())


def wider(plan: Plan, line: Line, fits: Fits) -> CataloguePipe | None:
    """The narrowest pipe wider than the line's own that fits, of its own standard if it can be."""
    bore = line.settings.pipe.bore
    for standard in shelf(plan, line):
        for row in strong_enough(plan, line, standard, head_of(line)):
            if row.bore > SAME_BORE * bore and fits(row):
                return row
    return None


def nearest(plan: Plan, line: Line, bore: float, fits: Fits, head: float) -> CataloguePipe | None:
    """The pipe nearest to a bore that fits, of its own standard if it can be."""
    for standard in shelf(plan, line):
        rows = [row for row in strong_enough(plan, line, standard, head) if fits(row)]
        if rows:
            return min(rows, key=lambda row: max(row.bore / bore, bore / row.bore))
    return None


def take(line: Line, row: CataloguePipe) -> Remedy:
    """The line's pipe named by its trade size and class, in place of all that was said of it."""
    size, place = row.nominal.split(" (")[0], ("lines", line.role)
    kind = "steel" if row.material == "steel" else row.pressure_class
    words = f"Use {size} {kind} pipe"
    said = {
        "bore": None,
        "rating": None,
        "roughness": None,
        "pipe": size,
        "standard": row.standard,
        "pressure_class": row.pressure_class or None,
    }
    edits = tuple(SetValue((*place, key), value) for key, value in said.items())
    return Remedy("pipe", words, Several(f"{words[0].lower()}{words[1:]}", edits))
