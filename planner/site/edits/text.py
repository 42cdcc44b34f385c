"""A text as it stands on disk, and as it is worked on: line ends may be a hand's or a machine's."""


def plain(text: str) -> str:
    """The text without a byte-order mark, each line ended by a single newline."""
    return text.removeprefix("\ufeff").replace("\r\n", "\n")


def ended_as(text: str, model: str) -> str:
    """A plain text with its lines ended as those of another text are."""
    return text.replace("\n", "\r\n") if "\r\n" in model else text
