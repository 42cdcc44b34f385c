"""What goes through the pipe between the server and a process of its own: one pickle a frame.

Both ends are this program, started by the same person; nothing from outside is ever unpickled.
"""

import pickle
import struct
from collections.abc import Callable
from typing import Any

HEAD = struct.Struct("<Q")  # bytes of the pickle that follows

Frame = tuple[str, int, Any]
"""A kind, the number of the question it belongs to (0: none), and what is said."""


def packed(frame: Frame) -> bytes:
    """A frame as bytes, its length first."""
    body = pickle.dumps(frame, protocol=pickle.HIGHEST_PROTOCOL)
    return HEAD.pack(len(body)) + body


def unpacked(body: bytes) -> Frame:
    """The frame of which these are the bytes after its length."""
    kind, number, said = pickle.loads(body)  # noqa: S301  our own process wrote it
    return kind, number, said


def read_frame(read: Callable[[int], bytes]) -> Frame | None:
    """The next frame of a blocking stream; None where the other end has closed it."""
    head = read(HEAD.size)
    if len(head) < HEAD.size:
        return None
    (length,) = HEAD.unpack(head)
    body = read(length)
    return unpacked(body) if len(body) == length else None
