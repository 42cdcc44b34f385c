"""A function called in a process of its own, with its time and memory limited."""

import asyncio
from collections.abc import Callable
from typing import Any

from planner.live.answer import failure, gone, too_slow
from planner.live.child import Child

CALL = "planner.live.call:Call"


async def once(
    function: str | Callable[..., Any],
    *args: Any,
    seconds: float,
    memory: int,
    say: Callable[[str], None] | None = None,
) -> Any:
    """Call a function in a process made for it, which is ended afterwards, come what may.

    Parameters
    ----------
    function : str or callable
        "package.module:name", or a function of a module, of which only the name is taken.
    args
        Its arguments, such as can be pickled; so must what it returns.
    seconds : float
        How long it may take, its imports included.
    memory : int
        Bytes of address space; some 300 MB of it are the libraries'.
    say : function, optional
        Told the progress; the function is given a `say` of its own as its last argument then.

    Raises
    ------
    HeadfallError
        What the function itself raised; `Lost` where it took too long or too much memory, `Fault`
        where it failed otherwise.
    """
    method = "plain" if say is None else "telling"
    child = await Child.start(CALL, memory=memory)
    try:
        async with asyncio.timeout(seconds):
            await child.send(("ask", 1, (method, (_name(function), args))))
            return await _result(child, say, memory)
    except TimeoutError as error:
        raise too_slow(seconds) from error
    finally:
        await child.end()


async def _result(child: Child, say: Callable[[str], None] | None, memory: int) -> Any:
    while (frame := await child.receive()) is not None:
        kind, _, said = frame
        if kind == "answer":
            return said
        if kind == "said" and say is not None:
            say(said)
        elif kind not in ("said", "ready"):
            raise failure(kind, said, memory)
    raise gone(memory)


def _name(function: str | Callable[..., Any]) -> str:
    if isinstance(function, str):
        return function
    return f"{function.__module__}:{function.__qualname__}"
