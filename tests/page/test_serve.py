"""The real server without a browser: its address, who is let in, how it ends."""

import base64
import http.client
import os
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from planner.demo.copy import copy_demo
from tests.page.real import RUN, Server, headfall_open

pytestmark = pytest.mark.slow

SOCKET = "/_nicegui_ws/socket.io/?EIO=4&transport=websocket"


@pytest.fixture
def server(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Server]:
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    folder = tmp_path / "site"
    folder.mkdir()
    with headfall_open(folder=folder) as running:
        yield running


def place(server: Server) -> tuple[str, int]:
    parts = urlsplit(server.address)
    assert parts.hostname == "127.0.0.1"
    assert parts.port is not None
    return parts.hostname, parts.port


def get(server: Server, path: str, headers: dict[str, str]) -> http.client.HTTPResponse:
    """The answer to a request, read to its end; `Host` is the server's own unless given."""
    talk = http.client.HTTPConnection(*place(server), timeout=20)
    talk.request("GET", path, headers=headers)
    answer = talk.getresponse()
    answer.read()
    talk.close()
    return answer


def cookie(server: Server) -> str:
    """What a browser is given for the token."""
    parts = urlsplit(server.address)
    answer = get(server, f"{parts.path}?{parts.query}", {})
    assert (answer.status, answer.headers["location"]) == (303, "/")
    given: str = answer.headers["set-cookie"].split(";")[0]
    return given


def upgraded(server: Server, **headers: str) -> int:
    """The status a socket is answered with: 101 where it is opened."""
    host, port = place(server)
    key = base64.b64encode(os.urandom(16)).decode()
    asked = {
        "Host": f"{host}:{port}",
        "Connection": "Upgrade",
        "Upgrade": "websocket",
        "Sec-WebSocket-Version": "13",
        "Sec-WebSocket-Key": key,
        **headers,
    }
    lines = [f"GET {SOCKET} HTTP/1.1", *(f"{name}: {value}" for name, value in asked.items())]
    with socket.create_connection((host, port), timeout=20) as talk:
        talk.sendall("\r\n".join([*lines, "", ""]).encode())
        return int(talk.recv(100).split()[1])


def test_who_is_let_in(server: Server) -> None:
    host, port = place(server)
    own = {"Cookie": cookie(server)}
    assert get(server, "/", own).status == 200
    assert get(server, "/", {}).status == 403
    assert get(server, "/ground.png", {}).status == 403
    assert get(server, "/_nicegui/x", {}).status == 403
    assert get(server, "/", own | {"Host": f"evil.invalid:{port}"}).status == 403
    assert get(server, "/", own | {"Origin": "http://evil.invalid"}).status == 403
    assert upgraded(server, **own, Origin=f"http://{host}:{port}") == 101
    assert upgraded(server, Origin=f"http://{host}:{port}") == 403
    assert upgraded(server, **own, Origin="http://evil.invalid") == 403
    assert upgraded(server, **own) == 403


def test_it_listens_on_this_machine_alone(server: Server) -> None:
    _, port = place(server)
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as other:
        try:
            other.connect(("192.0.2.1", 9))  # sends nothing; tells the address towards a network
        except OSError:
            pytest.skip("this machine has no network")
        address = other.getsockname()[0]
    if address.startswith("127."):
        pytest.skip("this machine has no network")
    with pytest.raises(OSError, match="refused"):
        socket.create_connection((address, port), timeout=5)


def test_what_is_not_there_is_told_plainly(server: Server) -> None:
    answer = get(server, "/no-such", {"Cookie": cookie(server)})
    assert answer.status == 404
    assert answer.headers["content-type"].startswith("text/plain")


@pytest.mark.parametrize("name", ["SIGINT", "SIGTERM", "SIGHUP"])
def test_told_to_end_it_ends_cleanly(server: Server, tmp_path: Path, name: str) -> None:
    get(server, "/", {"Cookie": cookie(server)})  # one page is open
    server.process.send_signal(getattr(signal, name))
    assert server.process.wait(20) == 0
    assert server.process.stdout is not None
    assert server.process.stdout.read() == ""
    assert not list((tmp_path / "site").iterdir())
    assert not list(tmp_path.glob("headfall-uploads-*"))


def run(*words: str, folder: Path) -> tuple[int, str, str]:
    done = subprocess.run(  # noqa: S603
        [sys.executable, "-c", RUN, "open", "--no-browser", *words],
        cwd=folder,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    return done.returncode, done.stdout, done.stderr


def test_a_port_that_is_taken_is_told(tmp_path: Path) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        status, out, err = run("--port", str(port), folder=tmp_path)
    assert (status, out) == (2, "")
    assert err == (
        f"headfall: --port {port} is taken by another program; choose another, or leave it out\n"
    )


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["no-such.toml"], "is not there"),
        (["no-such.tif"], "there is no elevation file"),
        (["."], "is a folder"),
        (["--port", "70000"], "from 1024 to 65535"),
        (["--host", "0.0.0.0"], "would listen everywhere"),  # noqa: S104
        (["spoilt.toml"], "spoilt.toml"),
    ],
)
def test_what_can_not_be_opened_is_told_in_one_line(
    tmp_path: Path, words: list[str], message: str
) -> None:
    (tmp_path / "spoilt.toml").write_text("title = \n")
    status, out, err = run(*words, folder=tmp_path)
    assert (status, out, err.count("\n")) == (2, "", 1)
    assert err.startswith("headfall: ")
    assert message in err
    assert "Traceback" not in err
    assert [path.name for path in tmp_path.iterdir()] == ["spoilt.toml"]


def test_the_site_is_free_again_after_a_kill(tmp_path: Path) -> None:
    site = copy_demo(tmp_path)
    with headfall_open(site.name, folder=tmp_path) as first:
        first.process.kill()
        first.process.wait(20)
    with headfall_open(site.name, folder=tmp_path) as second:
        assert get(second, "/", {"Cookie": cookie(second)}).status == 200
        assert urlsplit(first.address).query != urlsplit(second.address).query
