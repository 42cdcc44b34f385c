"""Where a finding is: on which line, how far along, at which point of the map."""

import numpy as np

from planner.checks.value import Values
from planner.record.value import Finding, Level, Line


def on_line(line: Line, index: int, level: Level, code: str, values: Values) -> Finding:
    """A finding at one sample of a line's profile."""
    x, y = line.profile.xy[index]
    chainage = float(line.profile.chainage[index])
    return Finding(level, code, values, line.name, chainage, (float(x), float(y)))


def sample_at_run(line: Line, run: float) -> int:
    """The profile's sample nearest to a horizontal distance from the start [m]."""
    return int(np.argmin(np.abs(line.profile.run - run)))


def sample_at_chainage(line: Line, chainage: float) -> int:
    """The profile's sample nearest to a distance along the pipe [m]."""
    return int(np.argmin(np.abs(line.profile.chainage - chainage)))
