"""The files that travel inside the page: templates, style and scripts, read from packages."""

import base64
import hashlib
import re
from collections.abc import Iterable
from functools import cache
from importlib.resources import files

from jinja2 import Environment, PackageLoader, StrictUndefined

TEMPLATES = Environment(
    loader=PackageLoader("planner.output.map", "."),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)


@cache
def own_file(name: str) -> str:
    """Text of a style or script file that lies beside this module."""
    return _text("planner.output.map", name)


@cache
def leaflet_script() -> str:
    """Leaflet's script, without the pointer to a source map that only the network has."""
    script = _text("xstatic.pkg.leaflet", "data", "leaflet.js")
    return re.sub(r"^//# sourceMappingURL=.*$", "", script, flags=re.MULTILINE)


@cache
def leaflet_style() -> str:
    """Leaflet's style, without its pictures: the page draws its own marks."""
    style = _text("xstatic.pkg.leaflet", "data", "leaflet.css")
    return re.sub(r"url\([^)]*\)", "none", style)


def content_policy(scripts: Iterable[str]) -> str:
    """Content-Security-Policy under which exactly these inline scripts run and nothing loads.

    Scripts are admitted by their SHA-256 [1]_, so that markup which slipped in could not run even
    if it were there.

    References
    ----------
    .. [1] W3C, Content Security Policy Level 3, section 6.7.2, "Source list matching".
    """
    hashes = " ".join(f"'sha256-{_sha256(script)}'" for script in scripts)
    return (
        f"default-src 'none'; img-src data:; style-src 'unsafe-inline'; script-src {hashes}; "
        "base-uri 'none'; form-action 'none'"
    )


def _sha256(script: str) -> str:
    return base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()


def _text(package: str, *parts: str) -> str:
    # A browser hashes the script after turning CR LF into LF, so we keep LF alone.
    text = files(package).joinpath(*parts).read_text(encoding="utf-8")
    return text.replace("\r\n", "\n")
