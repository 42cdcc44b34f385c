"""Who is let in: Host, Origin, the page a request comes from, the cookie."""

import pytest

from planner.page.gate import NO_KEY, WRONG_HOST, WRONG_PAGE, Asked, Gate

GATE = Gate(8123)
HOST = "127.0.0.1:8123"


def asked(kind: str = "http", method: str = "GET", **headers: str) -> Asked:
    known = {"host": HOST, "cookie": f"{GATE.cookie_name}={GATE.cookie}"}
    return Asked(kind, method, known | {k.replace("_", "-"): v for k, v in headers.items()})


def test_its_own_page_is_let_in() -> None:
    own = {"origin": f"http://{HOST}", "sec_fetch_site": "same-origin"}
    assert GATE.refused(asked()) is None
    assert GATE.refused(asked(sec_fetch_site="none")) is None  # typed, or opened by another program
    assert GATE.refused(asked("http", "POST", **own)) is None
    assert GATE.refused(asked("websocket", **own)) is None


@pytest.mark.parametrize("host", [HOST, "localhost:8123", "[::1]:8123", "LOCALHOST:8123"])
def test_the_names_of_this_machine(host: str) -> None:
    assert GATE.refused(asked(host=host)) is None


@pytest.mark.parametrize(
    "host",
    [
        "",
        "127.0.0.1",
        "127.0.0.1:8124",
        "evil.invalid:8123",
        "localhost.evil.invalid:8123",
        "127.0.0.1.evil.invalid:8123",
        "evil.invalid@127.0.0.1:8123",
        "127.0.0.1:8123@evil.invalid",
        "127.0.0.1:8123/x",
        "127.0.0.1:x",
        "[::1:8123",
        "192.168.1.20:8123",
        "0.0.0.0:8123",
    ],
)
def test_names_led_here_by_a_foreign_server_are_refused(host: str) -> None:
    assert GATE.refused(asked(host=host)) == WRONG_HOST


def test_in_a_network_any_numeric_address_may_be_the_host() -> None:
    gate = Gate(8123, loopback=False)
    for host in ("192.168.1.20:8123", "[fe80::1]:8123", "localhost:8123"):
        assert gate.refused_anyone(asked(host=host)) is None
    assert gate.refused_anyone(asked(host="evil.invalid:8123")) == WRONG_HOST


@pytest.mark.parametrize(
    "origin",
    [
        "http://evil.invalid",
        "null",
        "https://127.0.0.1:8123",
        "http://127.0.0.1:9",
        "http://localhost:8123",
    ],
)
@pytest.mark.parametrize(
    ("kind", "method"), [("http", "GET"), ("http", "POST"), ("websocket", "GET")]
)
def test_another_origin_is_refused_cookie_or_not(origin: str, kind: str, method: str) -> None:
    assert GATE.refused(asked(kind, method, origin=origin)) == WRONG_PAGE


@pytest.mark.parametrize("site", ["cross-site", "same-site", "odd"])
def test_a_request_made_by_another_page_is_refused(site: str) -> None:
    # same-site is another port of this machine: browsers send it our cookie
    assert GATE.refused(asked(sec_fetch_site=site)) == WRONG_PAGE


def test_what_changes_something_must_tell_its_origin() -> None:
    assert GATE.refused(asked("http", "POST")) == WRONG_PAGE
    assert GATE.refused(asked("websocket")) == WRONG_PAGE


@pytest.mark.parametrize(
    "cookie",
    ["", "headfall-8123=", "headfall-8123=wrong", "headfall-8124={right}", "x={right}", "é=; ;=;;"],
)
def test_without_the_cookie_nobody_is_let_in(cookie: str) -> None:
    sent = cookie.replace("{right}", GATE.cookie)
    assert GATE.refused(asked(cookie=sent)) == NO_KEY


def test_cookies_of_other_ports_do_not_hide_ours() -> None:
    sent = f"headfall-1=x; bad[key]=1; {GATE.cookie_name}={GATE.cookie}; b=2"
    assert GATE.refused(asked(cookie=sent)) is None


def test_secrets_are_long_apart_and_not_shown() -> None:
    other = Gate(8123)
    four = {GATE.token, GATE.cookie, other.token, other.cookie}
    assert len(four) == 4
    assert all(len(secret) >= 43 for secret in four)  # 32 random bytes
    assert GATE.token not in repr(GATE)
    assert GATE.cookie not in repr(GATE)
    assert GATE.fits(GATE.token)
    assert not GATE.fits(GATE.token[:-1])
    assert not GATE.fits("é")
