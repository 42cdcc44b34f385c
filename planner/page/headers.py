"""What every answer says to the browser: nothing from outside, nothing to outside."""

import re
import secrets

# Vue compiles its templates in the browser (unsafe-eval); scripts in the page itself run only with
# the number drawn for this answer, so that no text of a user can become one.
PAGE = (
    "default-src 'none'; script-src 'self' 'nonce-{nonce}' 'unsafe-eval'; "
    "style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; font-src 'self' data:; "
    "connect-src 'self' ws://{host}; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'; object-src 'none'"
)
OTHER = "default-src 'none'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'"
# A paper holds its own scripts; it is shown as if from nowhere, so that they reach nothing.
PAPER = (
    "sandbox allow-scripts allow-downloads allow-modals; default-src 'none'; "
    "script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data: blob:; font-src data:; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
ALWAYS = {
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
    "x-dns-prefetch-control": "off",
}
_SCRIPT = re.compile(rb"<script(?=[\s>])")


def with_nonce(html: bytes, host: str) -> tuple[bytes, str]:
    """A page with a number in each of its script elements, and the policy that asks for it.

    Texts of users stand in the page with "<" escaped; none can open a script element.
    """
    nonce = secrets.token_urlsafe(16)
    marked = _SCRIPT.sub(b'<script nonce="' + nonce.encode() + b'"', html)
    return marked, PAGE.format(nonce=nonce, host=host)
