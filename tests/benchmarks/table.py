"""One table of all benchmarks.

A benchmark is a module `tests/benchmarks/test_*_speed.py` with a function

    def rows(cells: int) -> Iterator[Row]

that measures and yields, plus tests marked `benchmark` that call it and assert the ratios the
program promises. Every row is the median of seven warm runs (`median_of`); a ratio is taken against
another way run by turns with it (`medians_of`); the bytes are those in use at the peak over the
ones in use before, inputs excluded, divided by the cells (`peak_bytes`, in a process of its own).

    python -m tests.benchmarks.table        # every module's rows at 1 and 4 million cells
"""

import platform
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from statistics import median

RUNS = 7
SIZES = (1_000_000, 4_000_000)


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the table.

    Attributes
    ----------
    what : str
        The search, or the library it is compared with.
    cells : int
    neighbours : int or None
    seconds : float
        Median, warm.
    ratio : float or None
        How many times as long the way `against` took in the same run.
    against : str
    bytes_a_cell : float or None
        At the peak, the input excluded.
    """

    what: str
    cells: int
    neighbours: int | None
    seconds: float
    ratio: float | None = None
    against: str = ""
    bytes_a_cell: float | None = None


def median_of(call: Callable[[], object], runs: int = RUNS) -> float:
    """Median time of several runs after one that warms up [s]."""
    return medians_of({"": call}, runs)[""]


def medians_of(calls: Mapping[str, Callable[[], object]], runs: int = RUNS) -> dict[str, float]:
    """Median times of several ways, run by turns so that a busy moment meets all of them [s]."""
    times: dict[str, list[float]] = {name: [] for name in calls}
    for call in calls.values():
        call()
    for _ in range(runs):
        for name, call in calls.items():
            start = time.perf_counter()
            call()
            times[name].append(time.perf_counter() - start)
    return {name: median(found) for name, found in times.items()}


def peak_bytes(module: str, function: str, *arguments: object) -> int:
    """What a call takes at its peak over what it began with [bytes], in a process of its own.

    The function makes its inputs and returns the call to be measured; a first, tiny call of its
    own has to load and compile whatever is needed.
    """
    code = (
        f"from {module} import {function}; from {__name__} import print_peak; "
        f"print_peak({function}(*{arguments!r}))"
    )
    done = subprocess.run(  # noqa: S603 - our own code
        [sys.executable, "-c", code], check=True, capture_output=True, text=True
    )
    return int(done.stdout)


def print_peak(call: Callable[[], object]) -> None:
    """Run a call and print by how much the peak of resident memory rose."""
    # The peak so far may be higher than what is in use now: fill up to it first.
    ballast = bytearray(max(peak() - in_use(), 0))
    before = in_use()
    kept = call()
    print(max(peak() - before, 0))  # noqa: T201 - read by `peak_bytes`
    del kept, ballast


def peak() -> int:
    """Greatest resident memory of this process so far [bytes]."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


def in_use() -> int:
    """Resident memory of this process [bytes]."""
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * resource.getpagesize()


def table(rows: Iterable[Row]) -> str:
    """The rows as a table in Markdown, the machine below it."""
    lines = [
        "| what | cells | neighbours | seconds | ratio | bytes a cell |",
        "|---|---|---|---|---|---|",
    ]
    for row in rows:
        ratio = "" if row.ratio is None else f"{row.ratio:.1f} x {row.against}".rstrip()
        size = "" if row.bytes_a_cell is None else f"{row.bytes_a_cell:.1f}"
        lines.append(
            f"| {row.what} | {row.cells / 1e6:g} M | {row.neighbours or ''} "
            f"| {row.seconds:.4f} | {ratio} | {size} |"
        )
    return "\n".join([*lines, "", f"{platform.processor() or platform.machine()}, {machine()}"])


def machine() -> str:
    """What the figures were measured on."""
    try:
        told = Path("/proc/cpuinfo").read_text()
        model = next(line for line in told.splitlines() if line.startswith("model name"))
    except (OSError, StopIteration):
        model = f": {platform.platform()}"
    return f"{model.split(':', 1)[1].strip()}, Python {platform.python_version()}"


def all_rows() -> Iterable[Row]:
    """Rows of every benchmark module that has any."""
    for path in sorted(Path(__file__).parent.glob("test_*_speed.py")):
        module = import_module(f"tests.benchmarks.{path.stem}")
        if hasattr(module, "rows"):
            for cells in SIZES:
                yield from module.rows(cells)


if __name__ == "__main__":
    print(table(all_rows()))  # noqa: T201 - a command
