"""A process that answers questions one at a time, with its memory limited.

Started as `python -m planner.live.worker DESK BYTES`: DESK is what stands in it, as
`pkgutil.resolve_name` takes it: a class made with one argument, the function to tell progress to,
whose public methods are asked. A class may hold `GIVES_WAY` (see `planner.live.inbox`). Questions
come on standard input, answers leave on what was standard output; whatever else is printed can't
get between them. The process ends with its input.
"""

import _thread
import os
import signal
import sys
import threading
import time
import traceback
import warnings
from collections.abc import Callable
from contextlib import suppress
from pkgutil import resolve_name
from typing import Any, BinaryIO, NoReturn

from planner.errors import HeadfallError, InputError, OutputError
from planner.live.frames import Frame, packed, read_frame
from planner.live.inbox import Inbox, Question
from planner.live.knock import knock, listen
from planner.live.outcome import Superseded

PATIENCE = 2.0  # s to clear up in when the other end is gone
LONGEST_FAULT = 300  # letters


def main() -> None:
    """Answer until the input ends."""
    name, memory = sys.argv[1], int(sys.argv[2])
    questions, answers = sys.stdin.buffer, _own_output()
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, signal.SIG_IGN if number == signal.SIGINT else _leave)
    warnings.simplefilter("ignore")  # what a user has to know is a finding
    _limit(memory)
    send = _sender(answers)
    try:
        stands = resolve_name(name)
        inbox = Inbox(getattr(stands, "GIVES_WAY", {}), knock)
        listen(inbox.check)
        threading.Thread(target=_listen, args=(questions, inbox, send), daemon=True).start()
        desk = stands(lambda words: send(("said", inbox.check(), words)))
    except Exception as error:  # told, whatever it is
        send(_why_not(error, 0))
        return
    send(("ready", 0, None))
    while True:
        question = inbox.take()
        try:
            answer = _answer(desk, question, inbox)
        except Superseded:  # told so at its very end
            answer = "superseded", question.number, None
        inbox.done()
        send(answer)


def _answer(desk: Any, question: Question, inbox: Inbox) -> Frame:
    """The answer to one question, or why there is none; the worker lives on."""
    number = question.number
    try:
        answer = getattr(desk, question.method)(*question.args)
        inbox.done()
    except Exception as error:  # told, whatever it is
        return _why_not(error, number)
    return "answer", number, answer


def _why_not(error: Exception, number: int) -> Frame:
    """What is sent in place of an answer."""
    if isinstance(error, Superseded):
        return "superseded", number, None
    if isinstance(error, HeadfallError):
        plain = type(error) if isinstance(error, InputError | OutputError) else HeadfallError
        return "refused", number, plain(error.message)
    if isinstance(error, MemoryError):
        return "memory", number, None
    if os.environ.get("HEADFALL_DEBUG"):
        traceback.print_exception(error)
    words = " ".join(f"{type(error).__name__}: {error}".split())
    return "fault", number, words[:LONGEST_FAULT]


def _listen(questions: BinaryIO, inbox: Inbox, send: Callable[[Frame], None]) -> None:
    """Take questions in until the other end is gone, then end the process."""
    while (frame := read_frame(questions.read)) is not None:
        kind, number, said = frame
        if kind == "ask":
            method, args = said
            needless = inbox.put(Question(number, method, args))
        else:
            needless = [number] if inbox.drop(number) else []
        for old in needless:
            send(("superseded", old, None))
    _thread.interrupt_main(signal.SIGTERM)  # so that what is half-written is cleared away
    time.sleep(PATIENCE)
    os._exit(1)


def _sender(answers: BinaryIO) -> Callable[[Frame], None]:
    """Sends whole frames, from either thread."""
    one_at_a_time = threading.Lock()

    def send(frame: Frame) -> None:
        body = packed(frame)
        with one_at_a_time, suppress(OSError):  # nobody reads: the listener ends the process
            answers.write(body)
            answers.flush()

    return send


def _own_output() -> BinaryIO:
    """Standard output for frames alone: what any library prints goes the way of errors."""
    own = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    return own


def _limit(memory: int) -> None:
    """No more address space than so many bytes, where the system can hold a process to that."""
    try:
        import resource  # noqa: PLC0415  not on every system
    except ImportError:
        return
    if memory:
        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))


def _leave(*_: object) -> NoReturn:
    raise SystemExit(1)


if __name__ == "__main__":
    try:
        main()
    finally:
        os._exit(0)  # the listener still reads: an orderly end would wait for it
