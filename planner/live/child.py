"""`Child`: a process started for work, seen from the server's event loop."""

import asyncio
import os
import signal
import sys
from contextlib import suppress
from typing import Any

from planner.live.frames import HEAD, Frame, packed, unpacked

PATIENCE = 1.0  # s, to clear up before it is killed
ONE_THREAD = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "NUMBA_NUM_THREADS")
# Each further arena of the allocator takes address space, which the memory limit counts.
FEW_ARENAS = {"MALLOC_ARENA_MAX": "2"}


class Child:
    """A running `planner.live.worker` and its pipe."""

    def __init__(self, process: asyncio.subprocess.Process) -> None:
        assert process.stdin is not None  # noqa: S101  it was started with pipes
        assert process.stdout is not None  # noqa: S101
        self._process, self._to, self._from = process, process.stdin, process.stdout

    @classmethod
    async def start(cls, desk: str, *, memory: int) -> "Child":
        """Start a process with `desk` in it, held to so many bytes of memory."""
        detached: dict[str, Any] = (
            {"start_new_session": True}  # a Ctrl+C in the terminal is the server's affair
            if os.name == "posix"
            else {"creationflags": 0x00000200}  # CREATE_NEW_PROCESS_GROUP
        )
        debugging = bool(os.environ.get("HEADFALL_DEBUG"))
        process = await asyncio.create_subprocess_exec(
            sys.executable,
            "-P",  # nothing is imported from the folder the user stands in
            "-m",
            "planner.live.worker",
            desk,
            str(memory),
            stdin=asyncio.subprocess.PIPE,
            stdout=asyncio.subprocess.PIPE,
            stderr=None if debugging else asyncio.subprocess.DEVNULL,
            env=os.environ | dict.fromkeys(ONE_THREAD, "1") | FEW_ARENAS,
            **detached,
        )
        return cls(process)

    @property
    def number(self) -> int:
        """The process's id."""
        return self._process.pid

    async def send(self, frame: Frame) -> None:
        """Hand a frame over; of a process that is gone nothing is said here but by `receive`."""
        with suppress(ConnectionError):
            self._to.write(packed(frame))
            await self._to.drain()

    async def receive(self) -> Frame | None:
        """The next frame, None once the process has ended."""
        try:
            (length,) = HEAD.unpack(await self._from.readexactly(HEAD.size))
            return unpacked(await self._from.readexactly(length))
        except (asyncio.IncompleteReadError, ConnectionError):
            return None

    async def end(self) -> None:
        """End the process, gently first, and wait until it is gone."""
        self._signal("SIGTERM")
        try:
            async with asyncio.timeout(PATIENCE):
                await self._gone()
        except TimeoutError:
            pass
        finally:
            self.kill()
        await self._gone()

    def kill(self) -> None:
        """End the process at once."""
        self._signal("SIGKILL")

    def _signal(self, name: str) -> None:
        if self._process.returncode is not None:
            return
        with suppress(ProcessLookupError):
            if os.name == "posix":  # `Process.kill` may bury it under its watcher's eyes
                os.kill(self._process.pid, getattr(signal, name))
            else:
                self._process.kill()

    async def _gone(self) -> None:
        await self._from.read()  # a pipe that nobody empties holds its process up
        await self._process.wait()
