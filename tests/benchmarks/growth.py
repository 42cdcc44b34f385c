"""How the searches grow from a quarter of a million to 25 million cells, as a plot.

python -m tests.benchmarks.growth FILE.svg
"""

import sys
from collections import defaultdict
from collections.abc import Iterator

import matplotlib.pyplot as plt

from tests.benchmarks.table import Row, median_of
from tests.benchmarks.test_corridor_speed import growth as corridor_growth
from tests.benchmarks.test_field_speed import mountain, ours, rising

SIZES = (250_000, 1_000_000, 4_000_000, 25_000_000)
RUNS = 3


def field_rows() -> Iterator[Row]:
    """The plain field, and the one that rises, over all cells."""
    for cells in SIZES:
        yield Row("plain field", cells, 8, median_of(ours(cells), RUNS))
        call, _ = rising(mountain(cells), 8)
        yield Row("rising field, all reached", cells, 8, median_of(call, RUNS))


def draw(rows: list[Row], path: str) -> None:
    """Seconds against cells, both in powers of ten."""
    lines: dict[str, list[Row]] = defaultdict(list)
    for row in rows:
        lines[f"{row.what.split(';')[0]}, {row.neighbours} neighbours"].append(row)
    figure, axes = plt.subplots(figsize=(8.0, 5.0))
    for name, found in sorted(lines.items()):
        axes.loglog([row.cells for row in found], [row.seconds for row in found], "o-", label=name)
    axes.set_xlabel("cells")
    axes.set_ylabel("seconds")
    axes.grid(visible=True, which="both", alpha=0.3)
    axes.legend(fontsize="small")
    figure.savefig(path, bbox_inches="tight")


if __name__ == "__main__":
    draw([*field_rows(), *corridor_growth()], sys.argv[1])
