"""Desks for the tests of workers: what a good one and a bad one might do."""

import os
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import ClassVar

from planner.errors import NoRoute, SiteError

Say = Callable[[str], None]


class Toy:
    """Answers at once, slowly, wrongly, or never."""

    GIVES_WAY: ClassVar = {
        "answer": frozenset({"answer"}),
        "refine": frozenset({"answer", "refine"}),
    }

    def __init__(self, say: Say) -> None:
        say("unpacking")
        os.write(1, b"a library greets\n")
        self._say = say
        self._count = 0

    def echo(self, said: object) -> object:
        return said

    def count(self) -> int:
        self._count += 1
        return self._count

    def where(self) -> tuple[int, list[str]]:
        return os.getpid(), sys.path

    def answer(self, number: int, steps: int) -> int:
        for step in range(steps):
            self._say(f"step {step}")
            time.sleep(0.01)
        return number

    def refine(self, number: int) -> int:
        """Long work of lines of the program itself, and without a word."""
        while number:
            SiteError("again")
        return number

    def refused(self) -> None:
        message = "site.toml: need.per_day: 3 has no unit; write such as 500 L"
        raise SiteError(message)

    def blocked(self) -> None:
        message = "the way is closed"
        raise NoRoute(message, obstacle="closed", where=(1.0, 2.0))

    def fault(self) -> float:
        return 1 / 0

    def crash(self) -> None:
        os._exit(9)

    def hang(self) -> None:
        hang()

    def eat(self) -> None:
        eat()


class Broken:
    """Can't be made."""

    def __init__(self, say: Say) -> None:
        message = "no kernel"
        raise RuntimeError(message)


def hang() -> None:
    """As a parser might on a hostile file: without a pause in which to say anything."""
    while True:
        pass


def eat() -> int:
    """As a parser might that believes a header: all the memory there is."""
    return len([bytearray(1 << 24) for _ in range(1 << 16)])


def crash() -> None:
    os._exit(9)


def refused() -> None:
    Toy(lambda _: None).refused()


def doubled(number: int) -> int:
    return 2 * number


def told(number: int, say: Say) -> int:
    say("halfway")
    return 2 * number


def half_written(folder: Path, say: Say) -> None:
    """Makes a file, and takes it away again whatever ends it."""
    part = folder / "part"
    part.touch()
    try:
        say("writing")
        time.sleep(60)
    finally:
        part.unlink()
