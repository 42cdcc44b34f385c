"""Breaking work off in the main thread from another one, between two lines of this program.

A signal's handler may run while compiled code is at work, which bears no exception; so it raises
none, but has the lines of this program watched, and the next of them raises. Systems without such
signals have nothing of this: work is broken off where it tells what is being done.
"""

import signal
import sys
import threading
from collections.abc import Callable
from types import FrameType
from typing import Any

OURS = "planner."


def listen(check: Callable[[], object]) -> None:
    """Have `check` called before the next line of this program whenever there is a knock.

    Parameters
    ----------
    check : function
        Raises what is to break the work off, if anything is.
    """

    def line(_: FrameType, event: str, __: Any) -> Any:
        if event == "line":
            sys.settrace(None)
            check()
        return line

    def watch(frame: FrameType, *_: Any) -> Any:
        return line if _is_ours(frame) else None

    def knocked(_: int, frame: FrameType | None) -> None:
        while frame is not None:
            if _is_ours(frame):
                frame.f_trace = line
            frame = frame.f_back
        sys.settrace(watch)

    if hasattr(signal, "pthread_kill"):
        signal.signal(signal.SIGUSR1, knocked)


def knock() -> None:
    """Have the main thread check between two lines of its work."""
    if hasattr(signal, "pthread_kill"):
        signal.pthread_kill(threading.main_thread().ident or 0, signal.SIGUSR1)


def _is_ours(frame: FrameType) -> bool:
    return str(frame.f_globals.get("__name__", "")).startswith(OURS)
