"""What every blank form has: lines to write on, and how its readings come back."""

from reportlab.platypus import Table

from planner.output.print.table import named, ruled
from planner.output.print.type import paragraph

LABEL = 92.0  # pt


def signed(width: float, *labels: str) -> Table:
    """Labels in a row, each beside a box."""
    box = (width - LABEL * len(labels)) / len(labels)
    cells = [cell for label in labels for cell in (paragraph(label), "")]
    return ruled([cells], [LABEL, box] * len(labels))


def filled(width: float, label: str) -> Table:
    """A label beside a box as wide as the page."""
    return named([label], (2.0 * LABEL, width - 2.0 * LABEL))
