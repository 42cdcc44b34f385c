"""Set up and run headfall with nothing but Python 3.11 or newer.

    python3 start.py open [...]     open the page; what follows goes to `headfall open`
    python3 start.py demo           plan the demo site into the folder demo
    python3 start.py test [...]     run all tests; what follows goes to pytest

Each makes the virtual environment .venv beside this file when it is missing or out of date.
"""

from __future__ import annotations  # read by older Pythons, which must get as far as the message

import hashlib
import importlib.util
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
PROGRAMS = VENV / ("Scripts" if os.name == "nt" else "bin")
SUFFIX = ".exe" if os.name == "nt" else ""
PYTHON = PROGRAMS / f"python{SUFFIX}"
TARGETS = {"demo": ".", "test": ".[dev]"}


def main(words: list[str]) -> int:
    """Do what the command line asks; the exit status of what was run."""
    if sys.version_info < (3, 11):  # noqa: UP036 - the older Python is the case that is met here
        return _complain(f"headfall needs Python 3.11 or newer, this is {sys.version.split()[0]}")
    if words == ["demo"]:
        return set_up("demo") or _demo()
    if words[:1] == ["open"]:
        return set_up("demo") or _run(PROGRAMS / f"headfall{SUFFIX}", *words, here=Path.cwd())
    if words[:1] == ["test"]:
        return set_up("test") or _run(PYTHON, "-m", "pytest", "-m", "not benchmark", *words[1:])
    return _complain(
        "say `python3 start.py open`, `python3 start.py demo` or `python3 start.py test`"
    )


def set_up(target: str) -> int:
    """Make .venv and install the package in it, unless that is done; 0, or what went wrong."""
    if _stamp(target).is_file() and _stamp(target).read_text() == _wanted():
        return 0
    missing = [name for name in ("venv", "ensurepip") if not importlib.util.find_spec(name)]
    if missing:
        return _complain(
            f"this Python lacks its module {missing[0]}; on Debian and Ubuntu install the package "
            "python3-venv, then run this again"
        )
    print("Setting up .venv: a few minutes the first time, and about 1 GB of disk.", flush=True)
    pip = (PYTHON, "-m", "pip")
    if _run(*pip, "--version", quiet=True):
        failed = _run(sys.executable, "-m", "venv", "--clear", VENV)
        if failed:
            return failed
    failed = _run(*pip, "install", "--quiet", "-c", "constraints.txt", "-e", TARGETS[target])
    if failed:
        return _complain("set-up did not succeed; pip's message stands above")
    for name in TARGETS if target == "test" else ("demo",):  # the tests' set-up serves the demo
        _stamp(name).write_text(_wanted())
    return 0


def _demo() -> int:
    status = _run(PROGRAMS / f"headfall{SUFFIX}", "demo", "--out", "demo")
    page = ROOT / "demo" / "map.html"
    if status in (0, 1) and page.is_file():  # 1: planned, with a finding that stops the work
        print(f"Open the map in a browser: {page}")
    return status


def _stamp(target: str) -> Path:
    return VENV / f"headfall-{target}.stamp"


def _wanted() -> str:
    """A digest of all that decides what must be installed, and where."""
    digest = hashlib.sha256(f"{ROOT} {sys.version_info[:2]}".encode())
    for name in ("pyproject.toml", "constraints.txt"):
        digest.update((ROOT / name).read_bytes())
    return digest.hexdigest()


def _run(*command: str | Path, quiet: bool = False, here: Path = ROOT) -> int:
    words, sink = [str(word) for word in command], subprocess.DEVNULL if quiet else None
    try:
        return subprocess.run(words, check=False, cwd=here, stdout=sink, stderr=sink).returncode
    except OSError as error:
        return 2 if quiet else _complain(f"can't run {words[0]}: {error.strerror}")


def _complain(message: str) -> int:
    print(message, file=sys.stderr)
    return 2


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)
