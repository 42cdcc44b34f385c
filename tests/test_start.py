"""start.py: what it sets up, when it leaves well alone, and what it says when it can't."""

import importlib.util
import sys
from pathlib import Path

import pytest

import start


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A bare copy of what set-up reads, so that no test touches the real .venv."""
    for name in ("pyproject.toml", "constraints.txt"):
        (tmp_path / name).write_text(name)
    monkeypatch.setattr(start, "ROOT", tmp_path)
    monkeypatch.setattr(start, "VENV", tmp_path / ".venv")
    return tmp_path


@pytest.fixture
def ran(project: Path, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The commands that would have been run; a new environment comes up empty."""
    commands: list[str] = []

    def run(*words: object, quiet: bool = False, here: Path = project) -> int:
        assert here in (project, Path.cwd())
        command = " ".join(map(str, words))
        commands.append(command)
        if " venv " in command:
            (project / ".venv").mkdir()
        return 1 if quiet and not (project / ".venv").is_dir() else 0

    monkeypatch.setattr(start, "_run", run)
    return commands


def steps(commands: list[str]) -> list[str]:
    """Each command by the word that tells it apart."""
    words = ("--version", " venv ", " install ", " pytest ", "headfall")
    return [next((word.strip() for word in words if word in line), line) for line in commands]


def test_tests_set_up_once_and_serve_the_demo_too(project: Path, ran: list[str]) -> None:
    assert start.main(["test", "-k", "name"]) == 0
    assert steps(ran) == ["--version", "venv", "install", "pytest"]
    assert ran[2].endswith("-c constraints.txt -e .[dev]")
    assert ran[3].endswith("-m pytest -m not benchmark -k name")
    ran.clear()
    assert start.main(["test"]) == 0
    assert start.main(["demo"]) == 0
    assert [line.rsplit("/", 1)[-1].split("\\")[-1] for line in ran][1:] in (
        ["headfall demo --out demo"],
        ["headfall.exe demo --out demo"],
    )


def test_the_demo_alone_needs_no_test_tools(project: Path, ran: list[str]) -> None:
    assert start.main(["demo"]) == 0
    assert steps(ran)[:3] == ["--version", "venv", "install"]
    assert ran[2].endswith("-e .")
    ran.clear()
    assert start.main(["test"]) == 0
    assert steps(ran) == ["--version", "install", "pytest"]


@pytest.mark.parametrize("name", ["pyproject.toml", "constraints.txt"])
def test_a_change_of_the_lists_installs_anew(project: Path, ran: list[str], name: str) -> None:
    start.set_up("test")
    (project / name).write_text("changed")
    ran.clear()
    start.set_up("test")
    assert steps(ran) == ["--version", "install"]


def test_a_failed_install_is_no_set_up(
    project: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (project / ".venv").mkdir()
    monkeypatch.setattr(start, "_run", lambda *words, quiet=False: int("install" in words))
    assert start.main(["demo"]) == 2
    assert "did not succeed" in capsys.readouterr().err
    assert not list((project / ".venv").iterdir())


def test_a_python_without_ensurepip_is_told_what_to_install(
    project: Path,
    ran: list[str],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    real = importlib.util.find_spec
    monkeypatch.setattr(
        importlib.util, "find_spec", lambda name: None if name == "ensurepip" else real(name)
    )
    assert start.main(["test"]) == 2
    said = capsys.readouterr().err
    assert "python3-venv" in said
    assert said.count("\n") == 1
    assert not ran


def test_an_old_python_is_told_in_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 10, 4))
    assert start.main(["demo"]) == 2
    said = capsys.readouterr().err
    assert "3.11" in said
    assert said.count("\n") == 1


def test_the_page_is_opened_with_what_follows(ran: list[str]) -> None:
    assert start.main(["open", "my site.toml", "--no-browser"]) == 0
    assert ran[-1].endswith(" open my site.toml --no-browser")


@pytest.mark.parametrize("words", [[], ["plan"], ["demo", "more"]])
def test_other_words_are_answered_with_the_three_that_work(
    words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert start.main(words) == 2
    assert "start.py demo" in capsys.readouterr().err


def test_a_program_that_is_not_there_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    assert start._run("no-such-program") == 2
    assert "can't run no-such-program" in capsys.readouterr().err
