"""`Journal`: all steps of a session on disk, so that undo outlives the process.

One record a line, JSON, each on the disk before the files it tells of are changed:

    {"step": words, "site": ..., "sketch_name": ..., "sketch": ...}   what was done, the new draft
    {"at": n}                                                         undone or redone to step n
    {"saved": true}                                                   the files hold that draft

A text that is as in the draft before is left out. A line without its end was never finished.
"""

import json
import os
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from planner.page.disk import write_whole
from planner.site.draft import Draft

LARGEST = 500_000_000  # bytes; a longer one is not ours
TEXTS = ("site", "sketch_name", "sketch")


@dataclass(frozen=True, slots=True)
class Step:
    """A draft, and in words the change that led to it."""

    words: str
    draft: Draft


@dataclass(frozen=True, slots=True)
class Story:
    """What a journal tells.

    Attributes
    ----------
    steps : tuple of Step
        One or more, the first as the session began.
    at : int
        Which of them is current.
    saved : bool
        Whether the files are known to hold it; if not, the process was killed while it saved.
    """

    steps: tuple[Step, ...]
    at: int
    saved: bool


class Journal:
    """The journal of one site, a hidden file beside it.

    Parameters
    ----------
    site : Path
        The site file.
    """

    def __init__(self, site: Path) -> None:
        self.path = site.with_name(f".{site.name}.undo")

    def begin(self, steps: Sequence[Step], at: int) -> None:
        """Write the whole anew; the files are not said to hold it yet.

        Raises
        ------
        OSError
        """
        last: Draft | None = None
        records: list[dict[str, Any]] = []
        for step in steps:
            records.append(_record(step, last))
            last = step.draft
        records.append({"at": at})
        write_whole(self.path, "".join(map(_line, records)))

    def stepped(self, step: Step, last: Draft) -> None:
        """A new draft after `last`, the one that was current."""
        self._append(_record(step, last))

    def moved(self, at: int) -> None:
        """Another step is current."""
        self._append({"at": at})

    def saved(self) -> None:
        """The files hold the current draft; on the disk whenever the system likes."""
        self._append({"saved": True}, wait=False)

    def told(self, folder: Path, site_name: str) -> Story | None:
        """What the journal tells, as far as it can be read; None where it tells nothing."""
        try:
            if not self.path.is_file() or self.path.stat().st_size > LARGEST:
                return None
            lines = self.path.read_bytes().splitlines(keepends=True)
        except OSError:
            return None
        reading = _Reading(Draft(folder, site_name, ""))
        for line in lines:
            if not line.endswith(b"\n") or not reading.takes(line):
                break
        return reading.story()

    def end(self) -> None:
        """The session is over and all is saved."""
        with suppress(OSError):
            self.path.unlink(missing_ok=True)

    def _append(self, record: dict[str, Any], *, wait: bool = True) -> None:
        with self.path.open("r+b") as file:  # it must be there: `begin` came before
            file.seek(0, os.SEEK_END)
            file.write(_line(record).encode())
            file.flush()
            if wait:
                os.fsync(file.fileno())


class _Reading:
    """Takes record after record; one that makes no sense is not taken."""

    def __init__(self, empty: Draft) -> None:
        self._empty = empty
        self._steps: list[Step] = []
        self._at = 0
        self._saved = False

    def takes(self, line: bytes) -> bool:
        """Whether the record could be read."""
        try:
            record = json.loads(line)
            if "step" in record:
                self._step(record)
            elif "at" in record:
                self._move(record["at"])
            else:
                self._saved = bool(record["saved"])
        except (ValueError, TypeError, KeyError, IndexError, RecursionError):
            return False
        return True

    def story(self) -> Story | None:
        if not self._steps:
            return None
        return Story(tuple(self._steps), self._at, self._saved)

    def _step(self, record: dict[str, Any]) -> None:
        texts = {key: record[key] for key in TEXTS if key in record}
        if not all(isinstance(text, str) for text in (record["step"], *texts.values())):
            raise TypeError
        last = self._steps[self._at].draft if self._steps else self._empty
        step = Step(record["step"], replace(last, **texts))
        self._steps[self._at + 1 :] = [step]
        self._at, self._saved = len(self._steps) - 1, False

    def _move(self, at: int) -> None:
        if not 0 <= at < len(self._steps):
            raise IndexError
        self._at, self._saved = at, False


def _record(step: Step, last: Draft | None) -> dict[str, Any]:
    texts = {key: getattr(step.draft, key) for key in TEXTS}
    new = {k: text for k, text in texts.items() if last is None or text != getattr(last, k)}
    return {"step": step.words, **new}


def _line(record: dict[str, Any]) -> str:
    return json.dumps(record, ensure_ascii=True) + "\n"
