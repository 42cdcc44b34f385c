"""Coroutines run to their end, on a loop of a thread of their own.

A browser that is open keeps a loop of its own running in this thread.
"""

import asyncio
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from typing import Any, TypeVar

T = TypeVar("T")


def run(whole: Coroutine[Any, Any, T]) -> T:
    """What a coroutine returns."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, whole).result()
