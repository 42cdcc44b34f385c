"""Single functions in processes of their own: hostile ones are stopped."""

import asyncio
import sys
import time
from pathlib import Path

import pytest

from planner.errors import SiteError
from planner.live.once import once
from planner.live.process import Fault, Lost
from tests.live import desks
from tests.loops import run

LIMITS = {"seconds": 20.0, "memory": 500_000_000}


def test_it_returns_what_the_function_returns() -> None:
    assert run(once(desks.doubled, 21, **LIMITS)) == 42  # type: ignore[arg-type]
    by_name = once("tests.live.desks:doubled", 4, **LIMITS)  # type: ignore[arg-type]
    assert run(by_name) == 8


def test_progress_is_told() -> None:
    said: list[str] = []
    told = once(desks.told, 21, seconds=20, memory=1 << 30, say=said.append)
    assert run(told) == 42
    assert said == ["halfway"]


def test_a_function_that_hangs_is_stopped_in_time() -> None:
    began = time.monotonic()
    with pytest.raises(Lost, match="longer than 1 s"):
        run(once(desks.hang, seconds=1.0, memory=1 << 30))
    assert time.monotonic() - began < 4.0


@pytest.mark.skipif(sys.platform == "win32", reason="no memory limit there")
def test_a_function_that_eats_memory_is_told_so() -> None:
    with pytest.raises(Lost, match=r"more memory than the 0\.5 GB"):
        run(once(desks.eat, **LIMITS))  # type: ignore[arg-type]


def test_crash_refusal_and_fault_are_told_apart() -> None:
    with pytest.raises(Lost, match="without a result"):
        run(once(desks.crash, **LIMITS))  # type: ignore[arg-type]
    with pytest.raises(SiteError, match="has no unit"):
        run(once(desks.refused, **LIMITS))  # type: ignore[arg-type]
    with pytest.raises(Fault, match="TypeError"):
        run(once(desks.doubled, **LIMITS))  # type: ignore[arg-type]


def test_cancelled_it_clears_up_what_it_had_half_written(tmp_path: Path) -> None:
    async def whole() -> None:
        said = asyncio.Event()
        work = asyncio.create_task(
            once(desks.half_written, tmp_path, seconds=60, memory=1 << 30, say=lambda _: said.set())
        )
        await said.wait()
        assert [path.name for path in tmp_path.iterdir()] == ["part"]
        work.cancel()
        with pytest.raises(asyncio.CancelledError):
            await work

    run(whole())
    assert list(tmp_path.iterdir()) == []
