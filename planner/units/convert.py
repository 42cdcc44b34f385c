"""How large each unit is, from `pint`."""

from functools import cache
from typing import Any

import pint

PASCAL_PER_METRE = 9806.65  # 1 m of water of 1000 kg/m³ under standard gravity


@cache
def _registry() -> Any:
    """All units, with heads of water; built when first needed, since that takes 0.2 s."""
    registry: Any = pint.UnitRegistry()
    registry.define(f"metre_of_water = {PASCAL_PER_METRE} * pascal")
    registry.define("foot_of_water = 0.3048 * metre_of_water")
    return registry


@cache
def factor(unit: str, target: str) -> float:
    """Targets in one unit, by pint's names; for units that share a zero (not temperatures).

    Raises
    ------
    pint.PintError
        A unit is unknown, or the two measure different things.

    Examples
    --------
    >>> factor("foot", "meter")
    0.3048
    """
    exact = 1.0 if unit == target else float(_registry().Quantity(1.0, unit).to(target).magnitude)
    return float(f"{exact:.15g}")  # pint's foot is 0.30479999999999996 m


def convert(value: float, unit: str, target: str) -> float:
    """A value in another unit, temperatures included."""
    if unit == target:
        return value
    if unit.startswith("deg"):
        return round(float(_registry().Quantity(value, unit).to(target).magnitude), 9)
    return value * factor(unit, target)
