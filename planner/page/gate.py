"""`Gate`: who may speak to the page: which request is let in, and why another is not.

The page listens on this machine alone, but every page open in the same browser could speak to it,
and so could every program of the machine. So: a secret in the opened address gives a cookie that
no other site can send or read; the Host must be this machine's (against names that are led here by
a foreign name server); and where the browser tells from which page a request comes, it must be
from this one.
"""

import ipaddress
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from http.cookies import CookieError, SimpleCookie
from urllib.parse import urlsplit

LOOPBACK_NAMES = ("localhost", "127.0.0.1", "::1")
SAFE_METHODS = ("GET", "HEAD")
METHODS = (*SAFE_METHODS, "POST")

NO_KEY = (
    "This page opens with the address that headfall printed in its window, secret included. "
    "After a new start of headfall the old address is void."
)
WRONG_HOST = "This address is not the one headfall listens at; use the address it printed."
WRONG_PAGE = "Another page asked for this; headfall answers its own page alone."


def _secret() -> str:
    return secrets.token_urlsafe(32)


@dataclass(frozen=True, slots=True)
class Asked:
    """What of a request decides about it; header names in lower case."""

    kind: str  # "http" or "websocket"
    method: str
    headers: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Gate:
    """The secrets of one run.

    Attributes
    ----------
    port : int
        Where the page listens.
    loopback : bool
        Whether on this machine alone; else any numeric address may be its Host.
    token : str
        In the address that is opened.
    cookie : str
        What the browser is given for it.
    """

    port: int
    loopback: bool = True
    token: str = field(default_factory=_secret, repr=False)
    cookie: str = field(default_factory=_secret, repr=False)

    @property
    def cookie_name(self) -> str:
        """With the port in it: browsers don't keep the cookies of two ports apart."""
        return f"headfall-{self.port}"

    def fits(self, token: str) -> bool:
        """Whether it is the token."""
        return secrets.compare_digest(token.encode(), self.token.encode())

    def refused_anyone(self, asked: Asked) -> str | None:
        """Why a request is refused whoever sends it, None where it is not."""
        host = asked.headers.get("host", "")
        if not self._ours(host):
            return WRONG_HOST
        origin = asked.headers.get("origin")
        if origin is not None and origin != f"http://{host}":
            return WRONG_PAGE
        if asked.headers.get("sec-fetch-site", "none") not in ("none", "same-origin"):
            return WRONG_PAGE
        # A browser always tells the origin of these.
        must_tell = asked.kind == "websocket" or asked.method not in SAFE_METHODS
        return WRONG_PAGE if must_tell and origin is None else None

    def refused(self, asked: Asked) -> str | None:
        """Why a request without the token is refused, None where it is let in."""
        return self.refused_anyone(asked) or (None if self._known(asked) else NO_KEY)

    def _known(self, asked: Asked) -> bool:
        jar = SimpleCookie()
        for pair in asked.headers.get("cookie", "").split(";"):  # one bad pair spoils not all
            try:
                jar.load(pair.strip())
            except CookieError:
                continue
        sent = jar[self.cookie_name].value if self.cookie_name in jar else ""
        return secrets.compare_digest(sent.encode(), self.cookie.encode())

    def _ours(self, host: str) -> bool:
        try:
            parts = urlsplit(f"//{host}")
            name, port = parts.hostname or "", parts.port or 80
        except ValueError:
            return False
        if port != self.port or parts.netloc != host or "@" in host:
            return False
        if self.loopback:
            return name in LOOPBACK_NAMES
        return name == "localhost" or _numeric(name)


def _numeric(name: str) -> bool:
    """Whether it is an address in numbers, which no name server can lead elsewhere."""
    try:
        ipaddress.ip_address(name)
    except ValueError:
        return False
    return True
