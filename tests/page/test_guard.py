"""The guard round an app: what passes, what is answered, what every answer carries."""

import re

import pytest
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response
from starlette.routing import Route, WebSocketRoute
from starlette.types import ASGIApp
from starlette.websockets import WebSocket

from planner.page.gate import Gate
from planner.page.guard import SMALL, UPLOAD, Guard
from tests.page.asgi import ORIGIN, ask, connect

GATE = Gate(8123)
KEY = {"cookie": f"{GATE.cookie_name}={GATE.cookie}"}
OWN = KEY | ORIGIN
EVIL = {"origin": "http://evil.invalid"}
HTML = "<script>var a</script><script type=module src=b></script><p>&lt;script></p><scripted>"


async def home(request: Request) -> Response:
    return HTMLResponse(HTML, headers={"x-nicegui-content": "page"})


async def measure(request: Request) -> Response:
    return PlainTextResponse(str(len(await request.body())))


async def loose(request: Request) -> Response:
    return PlainTextResponse("a", headers={"access-control-allow-origin": "*"})


async def talk(socket: WebSocket) -> None:
    await socket.accept()
    await socket.send_text("hello")
    await socket.close()


@pytest.fixture
def app() -> ASGIApp:
    inner = Starlette(
        routes=[
            Route("/", home),
            Route("/loose", loose),
            Route("/measure", measure, methods=["GET", "POST"]),
            Route(UPLOAD, measure, methods=["POST"]),
            WebSocketRoute("/talk", talk),
        ]
    )
    return Guard(inner, GATE, {UPLOAD: 3 * SMALL})


def test_the_token_gives_a_cookie_and_goes_from_the_address(app: ASGIApp) -> None:
    answer = ask(app, f"/?token={GATE.token}")
    assert (answer.status, answer.headers["location"]) == (303, "/")
    cookie = answer.headers["set-cookie"].lower()
    for word in (f"headfall-8123={GATE.cookie.lower()}", "httponly", "samesite=strict", "path=/"):
        assert word in cookie
    assert GATE.token not in str(answer.headers)


@pytest.mark.parametrize("path", ["/", "/measure", "/no-such", "/?token=", "/?token=wrong"])
def test_without_a_key_there_is_one_sentence(app: ASGIApp, path: str) -> None:
    answer = ask(app, path)
    assert answer.status == 403
    assert "address that headfall printed" in answer.text
    assert "set-cookie" not in answer.headers


def test_the_token_opens_the_page_at_its_own_address_only(app: ASGIApp) -> None:
    assert ask(app, f"/measure?token={GATE.token}").status == 403
    host = {"host": "evil.invalid:8123"}
    assert ask(app, f"/?token={GATE.token}", headers=host).status == 403


def test_another_page_is_refused_with_the_cookie(app: ASGIApp) -> None:
    assert ask(app, headers=KEY).status == 200
    assert ask(app, headers=KEY | EVIL).status == 403
    assert ask(app, "/measure", "POST", KEY, b"abc").status == 403
    assert ask(app, "/measure", "POST", KEY | EVIL, b"abc").status == 403
    assert ask(app, "/measure", "POST", OWN, b"abc").text == "3"


@pytest.mark.parametrize("method", ["PUT", "DELETE", "OPTIONS", "PATCH", "TRACE"])
def test_other_methods_are_not_answered(app: ASGIApp, method: str) -> None:
    assert ask(app, "/", method, OWN).status == 405


def test_a_page_runs_no_script_but_its_own(app: ASGIApp) -> None:
    answer = ask(app, headers=KEY)
    policy = answer.headers["content-security-policy"]
    (nonce,) = re.findall(r"'nonce-([\w-]+)'", policy)
    marked = f'<script nonce="{nonce}"'
    first = HTML.replace("<script>", f"{marked}>", 1)
    assert answer.text == first.replace("<script type", f"{marked} type")
    assert answer.headers["content-length"] == str(len(answer.body))
    assert "unsafe-inline" not in policy.split("script-src ")[1].split(";")[0]
    assert ask(app, headers=KEY).headers["content-security-policy"] != policy  # for once only


def test_a_policy_lets_nothing_in_from_outside_or_out(app: ASGIApp) -> None:
    policy = ask(app, headers=KEY).headers["content-security-policy"]
    assert "default-src 'none'" in policy
    words = policy.replace(";", " ").split()
    hosts = {word for word in words if "." in word or word in ("*", "http:", "https:", "ws:")}
    assert hosts == {"ws://127.0.0.1:8123"}


@pytest.mark.parametrize("path", ["/", "/measure", "/no-such"])
@pytest.mark.parametrize("headers", [KEY, {}])
def test_every_answer_carries_the_headers(app: ASGIApp, path: str, headers: dict[str, str]) -> None:
    told = ask(app, path, headers=headers).headers
    assert told["x-content-type-options"] == "nosniff"
    assert told["x-frame-options"] == "DENY"
    assert told["referrer-policy"] == "same-origin"
    assert told["cross-origin-opener-policy"] == "same-origin"
    assert "frame-ancestors 'none'" in told["content-security-policy"]


def test_no_answer_is_opened_to_other_origins(app: ASGIApp) -> None:
    assert "access-control-allow-origin" not in ask(app, "/loose", headers=KEY).headers


def test_a_body_told_too_long_is_not_read(app: ASGIApp) -> None:
    assert ask(app, "/measure", "POST", OWN, b"a" * (SMALL + 1)).status == 413
    assert ask(app, "/measure", "POST", OWN, b"a" * SMALL).text == str(SMALL)
    large = ask(app, UPLOAD, "POST", OWN, b"a" * (3 * SMALL + 1))
    assert large.status == 413
    assert set(large.json()) == {"error"}
    assert ask(app, UPLOAD, "POST", OWN, b"a" * (3 * SMALL)).status == 200


def test_a_body_that_does_not_tell_its_length_is_counted(app: ASGIApp) -> None:
    many = [b"a" * 1000] * (SMALL // 1000 + 2)
    assert ask(app, "/measure", "POST", OWN, many).status == 413
    assert ask(app, "/measure", "POST", OWN, [b"a" * 1000] * 3).text == "3000"


@pytest.mark.parametrize("length", ["-1", "1e3", "x", ""])
def test_an_odd_length_is_refused(app: ASGIApp, length: str) -> None:
    headers = OWN | {"content-length": length}
    assert ask(app, "/measure", "POST", headers, b"a").status == 413


def test_sockets_go_through_the_same_gate(app: ASGIApp) -> None:
    said = connect(app, "/talk", OWN)
    assert [one.get("text") for one in said if one["type"] == "websocket.send"] == ["hello"]


@pytest.mark.parametrize(
    "headers",
    [
        ORIGIN,
        KEY,
        KEY | EVIL,
        OWN | {"host": "evil.invalid:8123"},
        OWN | {"sec-fetch-site": "same-site"},
    ],
)
def test_a_socket_from_elsewhere_is_never_accepted(app: ASGIApp, headers: dict[str, str]) -> None:
    assert [one["type"] for one in connect(app, "/talk", headers)] == ["websocket.close"]
