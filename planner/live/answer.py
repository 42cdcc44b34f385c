"""Why no answer came: errors and their sentences."""

from typing import Any

from planner.errors import HeadfallError
from planner.live.outcome import Fault, Lost, Superseded


def failure(kind: str, said: Any, memory: int) -> Exception:
    """The error that an answering frame of a kind other than "answer" tells.

    Parameters
    ----------
    kind : {"superseded", "refused", "memory", "fault"}
    said : object
        The error that was raised, or words on the fault.
    memory : int
        Bytes that the process may have.
    """
    if kind == "superseded":
        return Superseded()
    if kind == "refused" and isinstance(said, HeadfallError):
        return said
    if kind == "memory":
        return Lost(_too_much(memory))
    return Fault(
        f"a fault of the program itself ({said}); please report it with the site file; "
        "HEADFALL_DEBUG=1 shows where it rose"
    )


def gone(memory: int) -> Lost:
    """What is said of a process that ended without an answer."""
    return Lost(f"the work ended without a result, most likely because {_too_much(memory)}")


def too_slow(seconds: float) -> Lost:
    """What is said of a process that was ended for taking too long."""
    return Lost(f"it took longer than {seconds:g} s and was stopped; use a smaller area or file")


def _too_much(memory: int) -> str:
    return (
        f"it needed more memory than the {memory / 1e9:.1f} GB it may have; use a smaller area or "
        "coarser data"
    )
