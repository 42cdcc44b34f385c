"""Whose land each line crosses, in metres."""

from shapely import union_all

from planner.record.value import Line, OwnerShare, PlacedArea

LEAST = 0.05  # m; less is rounding along a border


def owner_shares(lines: tuple[Line, ...], areas: tuple[PlacedArea, ...]) -> tuple[OwnerShare, ...]:
    """Metres of pipe of each line on each owner's land; owner None: land of nobody listed."""
    owners = [area for area in areas if area.role == "owner"]
    listed = union_all([area.shape for area in owners])
    shares = []
    for line in lines:
        # Pipe is bought along the slope, so plan lengths are scaled by the line's own slope.
        slope = line.profile.length / line.path.length
        parts: list[tuple[str | None, float]] = [
            (area.name, line.path.intersection(area.shape).length) for area in owners
        ]
        rest = line.path.difference(listed) if owners else line.path
        parts.append((None, rest.length))
        shares += [OwnerShare(line.name, who, m * slope) for who, m in parts if m > LEAST]
    return tuple(shares)
