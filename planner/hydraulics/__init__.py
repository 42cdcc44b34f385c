"""Water in pipes, rams and tanks: plain numbers in, plain numbers out, no maps.

All is SI: m, m³/s, Pa, head in m of water, temperature in °C. The public names load lazily.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from planner.errors import OutsideRangeWarning
    from planner.hydraulics.delivery import Delivered, delivered_flow
    from planner.hydraulics.friction import friction_loss, hazen_williams_loss, velocity
    from planner.hydraulics.full_flow import pipe_flow
    from planner.hydraulics.pump import pump_duty
    from planner.hydraulics.ram import ram_yield
    from planner.hydraulics.surge import surge_head, wave_speed

_HOMES = {
    "Delivered": "planner.hydraulics.delivery",
    "OutsideRangeWarning": "planner.errors",
    "delivered_flow": "planner.hydraulics.delivery",
    "friction_loss": "planner.hydraulics.friction",
    "hazen_williams_loss": "planner.hydraulics.friction",
    "pipe_flow": "planner.hydraulics.full_flow",
    "pump_duty": "planner.hydraulics.pump",
    "ram_yield": "planner.hydraulics.ram",
    "surge_head": "planner.hydraulics.surge",
    "velocity": "planner.hydraulics.friction",
    "wave_speed": "planner.hydraulics.surge",
}

__all__ = [
    "Delivered",
    "OutsideRangeWarning",
    "delivered_flow",
    "friction_loss",
    "hazen_williams_loss",
    "pipe_flow",
    "pump_duty",
    "ram_yield",
    "surge_head",
    "velocity",
    "wave_speed",
]


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        msg = f"module {__name__!r} has no attribute {name!r}"
        raise AttributeError(msg)
    return getattr(import_module(_HOMES[name]), name)


def __dir__() -> list[str]:
    return sorted([*globals(), *_HOMES])
