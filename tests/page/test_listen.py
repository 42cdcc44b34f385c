"""The socket: where it listens, and what is said where it can't."""

import socket
from collections.abc import Iterator

import pytest

from planner.errors import InputError
from planner.page import listen
from planner.page.listen import bound, is_loopback


@pytest.fixture
def taken() -> Iterator[int]:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        yield other.getsockname()[1]


def test_it_listens_at_once_on_this_machine_alone() -> None:
    with bound("127.0.0.1", 0) as listener:
        host, port = listener.getsockname()
        assert host == "127.0.0.1"
        with socket.create_connection((host, port), timeout=2):
            pass


def test_a_port_that_is_taken_is_told(taken: int) -> None:
    with pytest.raises(InputError, match=f"--port {taken} is taken"):
        bound("127.0.0.1", taken)


def test_without_a_port_another_one_is_found(taken: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(listen, "PORT", taken)
    with bound("127.0.0.1", None) as listener:
        assert listener.getsockname()[1] not in (0, taken)


@pytest.mark.parametrize("port", [-1, 65_536, 10**9])
def test_a_number_that_is_no_port(port: int) -> None:
    with pytest.raises(InputError, match="from 1024 to 65535"):
        bound("127.0.0.1", port)


@pytest.mark.parametrize(
    ("host", "message"),
    [
        ("0.0.0.0", "would listen everywhere"),  # noqa: S104 - that it is refused
        ("::", "would listen everywhere"),
        ("localhost", "in numbers"),
        ("evil.invalid", "in numbers"),
        ("", "in numbers"),
        ("192.0.2.1", "no address of this machine"),  # RFC 5737: nobody's
    ],
)
def test_odd_hosts_are_refused(host: str, message: str) -> None:
    with pytest.raises(InputError, match=message):
        bound(host, 0)


def test_what_only_this_machine_can_reach() -> None:
    assert is_loopback("127.0.0.1")
    assert is_loopback("::1")
    assert not is_loopback("192.168.1.20")
