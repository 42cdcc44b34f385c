"""What the server says in its window: one line a fault, its traceback only where asked for."""

import logging
import os
import sys

# Theirs would print tracebacks and chatter of their own.
LOGGERS = ("uvicorn", "uvicorn.error", "nicegui", "asyncio", "engineio", "socketio")


class _OneLine(logging.Formatter):
    def format(self, record: logging.LogRecord) -> str:
        error = record.exc_info[1] if record.exc_info else None
        if os.environ.get("HEADFALL_DEBUG"):
            return super().format(record)
        if error is None:
            text = record.getMessage().strip().split("\n")[0]
        else:
            text = (
                f"a fault of the page itself ({type(error).__name__}: {error}); "
                "HEADFALL_DEBUG=1 shows where it rose"
            )
        return "headfall: " + "".join(c if c.isprintable() else " " for c in text)


def tell_plainly() -> None:
    """Have the server's libraries tell faults to the error stream, a line each."""
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(_OneLine())
    for name in LOGGERS:
        logger = logging.getLogger(name)
        logger.handlers, logger.propagate = [handler], False
        logger.setLevel(logging.WARNING)
    logging.getLogger("uvicorn").handlers = []  # its child has the handler
