"""Workers: answers, newer ones first, and processes that end by themselves or are ended."""

import asyncio
import os
import signal
import sys
from collections.abc import Awaitable, Callable
from pathlib import Path

import pytest

from planner.errors import HeadfallError, SiteError
from planner.live.process import Fault, Lost, Superseded, Worker
from tests import loops

TOY = "tests.live.desks:Toy"
MEMORY = 600_000_000


def run(work: Callable[[Worker], Awaitable[None]]) -> list[str]:
    """Do something with a worker; returns what it said between questions."""
    said: list[str] = []

    async def whole() -> None:
        worker = Worker(TOY, memory=MEMORY, say=said.append)
        try:
            await work(worker)
        finally:
            worker.close()
            await worker.wait_closed()

    loops.run(whole())
    return said


def alive(number: int) -> bool:
    try:
        os.kill(number, 0)
    except ProcessLookupError:
        return False
    return True


def test_it_answers_and_keeps_what_stands_there() -> None:
    async def work(worker: Worker) -> None:
        assert await worker.ask("count") == 1
        assert await worker.ask("count") == 2
        big = bytes(5_000_000)
        assert await worker.ask("echo", {"picture": big}) == {"picture": big}

    assert run(work) == ["unpacking"]


def test_it_imports_nothing_from_the_folder_the_user_stands_in(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "pickle.py").write_text("raise SystemExit('run by mistake')")
    monkeypatch.chdir(tmp_path)

    async def work(worker: Worker) -> None:
        _, path = await worker.ask("where")
        assert "" not in path
        assert str(tmp_path) not in path

    run(work)


def test_a_newer_answer_supersedes_the_one_at_work_and_the_one_that_waits() -> None:
    async def work(worker: Worker) -> None:
        await worker.start()
        said: list[str] = []
        asked = [
            asyncio.create_task(worker.ask("answer", n, 500 if n < 3 else 1, say=said.append))
            for n in (1, 2, 3)
        ]
        first, second, third = await asyncio.gather(*asked, return_exceptions=True)
        assert isinstance(first, Superseded)
        assert isinstance(second, Superseded)
        assert third == 3

    run(work)


@pytest.mark.skipif(sys.platform == "win32", reason="no signals between threads there")
def test_refining_gives_way_to_an_answer_at_once_but_levels_wait_their_turn() -> None:
    async def work(worker: Worker) -> None:
        refine = asyncio.create_task(worker.ask("refine", 1))
        await asyncio.sleep(0.3)
        echo = asyncio.create_task(worker.ask("echo", "levels"))
        await asyncio.sleep(0.1)
        assert not echo.done()
        async with asyncio.timeout(5):
            assert await worker.ask("answer", 2, 1) == 2
        with pytest.raises(Superseded):
            await refine
        assert await echo == "levels"

    run(work)


def test_questions_superseded_again_and_again_leave_the_process_whole() -> None:
    async def work(worker: Worker) -> None:
        await worker.ask("count")
        asked = []
        for number in range(200):
            asked.append(asyncio.create_task(worker.ask("answer", number, number % 3)))
            await asyncio.sleep(0.002 * (number % 7))
        told = await asyncio.gather(*asked, return_exceptions=True)
        assert told[-1] == 199
        for number, one in enumerate(told):
            assert one == number or isinstance(one, Superseded)
        assert any(isinstance(one, Superseded) for one in told)
        assert await worker.ask("count") == 2  # the same process all the while

    run(work)


def test_progress_reaches_the_one_who_asked() -> None:
    async def work(worker: Worker) -> None:
        said: list[str] = []
        await worker.ask("answer", 1, 3, say=said.append)
        assert said == ["step 0", "step 1", "step 2"]

    run(work)


def test_a_question_taken_back_stops() -> None:
    async def work(worker: Worker) -> None:
        await worker.start()
        asked = asyncio.create_task(worker.ask("answer", 1, 5000))
        await asyncio.sleep(0.1)
        asked.cancel()
        async with asyncio.timeout(5):
            assert await worker.ask("echo", "next") == "next"

    run(work)


def test_user_errors_come_back_as_they_were_raised() -> None:
    async def work(worker: Worker) -> None:
        with pytest.raises(SiteError, match="write such as 500 L"):
            await worker.ask("refused")
        with pytest.raises(HeadfallError, match="the way is closed"):
            await worker.ask("blocked")
        assert await worker.ask("count") == 1  # the same process goes on

    run(work)


def test_a_fault_is_one_sentence_and_the_process_goes_on() -> None:
    async def work(worker: Worker) -> None:
        await worker.ask("count")
        with pytest.raises(Fault) as told:
            await worker.ask("fault")
        assert "ZeroDivisionError: division by zero" in str(told.value)
        assert "Traceback" not in str(told.value)
        with pytest.raises(Fault, match="no_such"):
            await worker.ask("no_such")
        assert await worker.ask("count") == 2

    run(work)


def test_a_process_that_ends_is_told_and_replaced() -> None:
    async def work(worker: Worker) -> None:
        await worker.ask("count")
        with pytest.raises(Lost, match=r"more memory than the 0\.6 GB"):
            await worker.ask("crash")
        assert await worker.ask("count") == 1  # another process

    assert run(work) == ["unpacking", "the work was lost; it begins anew", "unpacking"]


@pytest.mark.skipif(sys.platform == "win32", reason="signals")
def test_a_process_killed_from_outside_loses_all_that_was_asked_of_it() -> None:
    async def work(worker: Worker) -> None:
        number, _ = await worker.ask("where")
        asked = [asyncio.create_task(worker.ask("answer", 1, 500))]
        asked.append(asyncio.create_task(worker.ask("refine", 1)))
        await asyncio.sleep(0.1)
        os.kill(number, signal.SIGKILL)
        for one in asked:
            with pytest.raises(Lost):
                await one
        new, _ = await worker.ask("where")
        assert new != number

    run(work)


def test_cancel_ends_what_says_nothing_and_starts_anew() -> None:
    async def work(worker: Worker) -> None:
        number, _ = await worker.ask("where")
        hung = asyncio.create_task(worker.ask("hang"))
        await asyncio.sleep(0.1)
        worker.cancel()
        with pytest.raises(Superseded):
            await hung
        assert await worker.ask("echo", 5) == 5
        assert not alive(number)

    run(work)


def test_a_question_with_a_time_limit_ends_the_process() -> None:
    async def work(worker: Worker) -> None:
        await worker.start()
        with pytest.raises(Lost, match=r"longer than 0\.5 s"):
            await worker.ask("hang", timeout=0.5)
        assert await worker.ask("echo", 5) == 5

    run(work)


@pytest.mark.skipif(sys.platform == "win32", reason="no memory limit there")
def test_memory_is_limited_and_the_process_survives_it() -> None:
    async def work(worker: Worker) -> None:
        await worker.ask("count")
        with pytest.raises(Lost, match="more memory"):
            await worker.ask("eat")
        assert await worker.ask("count") == 2

    run(work)


def test_two_workers_work_at_once() -> None:
    async def whole() -> None:
        workers = [Worker(TOY, memory=MEMORY), Worker(TOY, memory=MEMORY)]
        try:
            hung = asyncio.create_task(workers[0].ask("hang"))
            async with asyncio.timeout(10):
                assert await workers[1].ask("echo", 5) == 5
            assert not hung.done()
        finally:
            for worker in workers:
                worker.close()
                await worker.wait_closed()
        assert isinstance(hung.exception(), Superseded)

    loops.run(whole())


def test_what_can_t_be_made_is_told_once() -> None:
    async def whole() -> None:
        worker = Worker("tests.live.desks:Broken", memory=MEMORY)
        with pytest.raises(Fault, match="RuntimeError: no kernel"):
            await worker.start()
        with pytest.raises(Fault, match="RuntimeError: no kernel"):
            await worker.ask("count")
        await worker.wait_closed()

    loops.run(whole())


def test_closing_twice_or_before_it_ran_is_nothing() -> None:
    async def work(worker: Worker) -> None:
        worker.close()
        asked = asyncio.create_task(worker.ask("count"))
        await asyncio.sleep(0)
        worker.close()
        with pytest.raises(Superseded):
            await asked
        worker.close()

    run(work)


@pytest.mark.skipif(sys.platform == "win32", reason="signals")
def test_the_process_ends_with_the_server_even_if_that_is_killed(tmp_path: Path) -> None:
    script = (
        "import asyncio, sys\n"
        "from planner.live.process import Worker\n"
        "async def main():\n"
        f"    worker = Worker('{TOY}', memory={MEMORY})\n"
        "    number, _ = await worker.ask('where')\n"
        "    print(number, flush=True)\n"
        "    await worker.ask('answer', 1, 100000)\n"
        "asyncio.run(main())\n"
    )
    (tmp_path / "server.py").write_text(script)

    async def whole() -> None:
        server = await asyncio.create_subprocess_exec(
            sys.executable, str(tmp_path / "server.py"), stdout=asyncio.subprocess.PIPE
        )
        assert server.stdout is not None
        number = int(await server.stdout.readline())
        assert alive(number)
        server.kill()
        await server.communicate()
        async with asyncio.timeout(5):
            while alive(number):
                await asyncio.sleep(0.05)

    loops.run(whole())
