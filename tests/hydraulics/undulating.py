"""Lines that go up and down, for the tests of air locks and vents."""

from hypothesis import strategies as st

from planner.hydraulics.air_lock import Undulations

# The worked example of the reference notes, 3.4: source 100, three crests, two sags, outlet 84.
WORKED = Undulations(100.0, (95.0, 94.0, 90.0), (88.0, 80.0), 84.0)
WORKED_AIR = 10.1  # m


@st.composite
def undulating(draw: st.DrawFn, most: int = 6) -> Undulations:
    n = draw(st.integers(1, most))
    level = st.floats(60.0, 98.0)
    crests = draw(st.lists(level, min_size=n, max_size=n))
    climbs = draw(st.booleans())
    outlet = draw(st.floats(40.0, 95.0)) if climbs else crests[-1] - draw(st.floats(0.5, 30.0))
    ends = [*crests[1:], outlet] if climbs else crests[1:]
    depths = draw(st.lists(st.floats(0.1, 25.0), min_size=len(ends), max_size=len(ends)))
    sags = [
        min(left, right) - deep for left, right, deep in zip(crests, ends, depths, strict=False)
    ]
    return Undulations(100.0, tuple(crests), tuple(sags), outlet)
