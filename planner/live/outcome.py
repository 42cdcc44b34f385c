"""How a question to a worker can end without an answer."""

from planner.errors import HeadfallError


class Superseded(Exception):
    """A newer question made this one needless, or it was taken back; nobody has to be told."""


class Fault(HeadfallError):
    """A fault of the program itself met in a worker; the worker goes on."""


class Lost(HeadfallError):
    """The worker ended, or was ended for taking too long or too much memory."""
