"""Quantities: text with a unit to SI (`parse`), and SI to text on every output (`show`)."""

from planner.units.parse import Kind, exact_text, parse, quoted
from planner.units.show import (
    Quantity,
    System,
    band_text,
    decimals_for,
    number_text,
    per_si,
    show,
    symbol,
)

__all__ = [
    "Kind",
    "Quantity",
    "System",
    "band_text",
    "decimals_for",
    "exact_text",
    "number_text",
    "parse",
    "per_si",
    "quoted",
    "show",
    "symbol",
]
