import os

import pytest

from planner.errors import InputError
from planner.levels.table import LARGEST_FILE, MOST_ROWS, read_table


def table(tmp_path, content, name="t.csv"):
    path = tmp_path / name
    path.write_bytes(content)
    return read_table(path)


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("start", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_each_line_keeps_its_number(tmp_path, separator, start, ending):
    lines = ["# made by hand", "", "a|b|c", "1| 2 |3", "||", "  # between", "4"]
    text = ending.join(lines).replace("|", separator)
    found = table(tmp_path, start + text.encode())
    assert found.header == ("a", "b", "c")
    assert found.head.line == 3
    assert [(row.line, cells) for row, cells in found.lines] == [
        (4, ("1", "2", "3")),
        (7, ("4", "", "")),
    ]
    assert found.decimal_comma == (separator != ",")


def test_quotes_hold_cells_together_and_inches_are_none(tmp_path):
    found = table(tmp_path, b'a,b,c\n"x, y", "4\' 3""",4\' 3"\n')
    assert found.lines[0][1] == ("x, y", "4' 3\"", "4' 3\"")


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", ("holds no readings",)),
        (b"\n\n# nothing\n", ("holds no readings",)),
        (b"a,b\n1,2,3\n", ("line 2", "3 cells", "2 columns", "decimal comma")),
        (b"a;b\n1;2;3\n", ("line 2", "3 cells", "2 columns")),
        (b"a,b\n\xe9,2\n", ("UTF-8",)),
        (b"a,b\n1\x00,2\n", ("line 2", "control characters")),
        (b"a,b\n1\x1b[31m,2\n", ("line 2", "control characters")),
        ("a,b\n1\u2028,2\n".encode(), ("line 2", "control characters")),
        (b'a,b\n"1,2\n', ("line 2", "quote")),
        (b"a,b\n#1,2\n", ("line 2", "without #")),
        (b"\x89PNG\r\n\x1a\n\x00\x00", ("UTF-8",)),
        (b"a," * 100 + b"b\n1\n", ("line 1", "101 columns")),
        (b"a,b\n" + b"1,2\n" * (MOST_ROWS + 1), (f"{MOST_ROWS + 1:,} rows", f"{MOST_ROWS:,}")),
        (b"x" * (LARGEST_FILE + 1), ("5 MB",)),
        ("a,b".encode("utf-16"), ("UTF-8",)),
    ],
    ids=lambda value: "" if isinstance(value, bytes) else None,
)
def test_what_is_no_table_is_refused(tmp_path, content, words):
    with pytest.raises(InputError) as caught:
        table(tmp_path, content)
    for word in ("t.csv", *words):
        assert word in caught.value.message


def test_what_is_no_file_is_refused(tmp_path):
    os.mkfifo(tmp_path / "pipe.csv")
    for name, word in (("", "folder"), ("pipe.csv", "device"), ("none.csv", "not there")):
        with pytest.raises(InputError, match=word):
            read_table(tmp_path / name)


def test_a_name_can_not_write_over_a_screen(tmp_path):
    with pytest.raises(InputError) as caught:
        table(tmp_path, b"", name="a\x1b[2J\u202e<b>.csv")
    assert caught.value.message.isprintable()
