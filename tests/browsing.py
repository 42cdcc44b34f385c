"""What browser tests need to know: which browsers there are, and which addresses leave home."""

from urllib.parse import urlsplit

BROWSER_NAMES = ("chromium", "chromium-browser", "google-chrome")

# Without these the browser itself looks for hosts on the network at every start.
BROWSER_ARGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)

ON_THIS_MACHINE = ("", "localhost", "127.0.0.1", "::1")


def off_machine(urls: list[str]) -> list[str]:
    """Those of the addresses that leave this machine; file:, data:, blob: and loopback do not."""
    return [url for url in urls if (urlsplit(url).hostname or "") not in ON_THIS_MACHINE]
