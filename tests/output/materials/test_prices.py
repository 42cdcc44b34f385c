"""A price list that is not trusted: what is read, and what is refused, with file and line."""

from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import InputError
from planner.output.materials.prices import MOST_BYTES, PriceList, read_prices


def read(folder: Path, text: str | bytes, currency: str = "") -> PriceList:
    file = folder / "prices.csv"
    file.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return read_prices(file, currency)


def price_of(folder: Path, text: str) -> float:
    return read(folder, f"item;unit;price\nTank;piece;{text}\n").prices[0].price


@pytest.mark.parametrize(
    ("text", "price"),
    [
        ("12", 12.0),
        ("12.5", 12.5),
        ("12,5", 12.5),
        ("0,125", 0.125),
        ("0.125", 0.125),
        ("1,250.00", 1250.0),
        ("1.250,00", 1250.0),
        ("1 250,5", 1250.5),
        ("1'250.50", 1250.5),
        ("1250", 1250.0),
        ("0", 0.0),
    ],
)
def test_decimal_point_and_comma(tmp_path: Path, text: str, price: float) -> None:
    assert price_of(tmp_path, text) == price


@pytest.mark.parametrize("text", ["1,250", "1.250", "12,345"])
def test_what_can_be_read_in_two_ways_is_refused(tmp_path: Path, text: str) -> None:
    with pytest.raises(InputError, match=r"prices\.csv, line 2: .* two ways"):
        price_of(tmp_path, text)


@pytest.mark.parametrize(
    "text",
    ["=1+1", "+5", "-5", "@SUM(A1)", "nan", "inf", "1e3", "€ 5", "5 EUR", "1,2,3", "0x10", "٣"],
)
def test_no_formulas_signs_or_odd_numbers(tmp_path: Path, text: str) -> None:
    with pytest.raises(InputError, match=r"prices\.csv, line 2"):
        price_of(tmp_path, text)


def test_a_price_too_large_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="line 2"):
        price_of(tmp_path, "999999999999")


@given(st.floats(0.0, 1e6).map(lambda value: round(value, 2)))
def test_any_price_written_plainly_is_read_back(price: float) -> None:
    with TemporaryDirectory() as folder:
        for sign in ".,":
            text = f"{price:.2f}".replace(".", sign)
            assert price_of(Path(folder), text) == price


@pytest.mark.parametrize("parted", [",", ";", "\t"])
def test_columns_by_any_of_their_names_and_signs(tmp_path: Path, parted: str) -> None:
    rows = [["Price", "Code", "Per", "Note"], ["5.50", "tank", "Piece", "x"], ["", "pump", "", ""]]
    got = read(tmp_path, "\n".join(parted.join(row) for row in rows))
    assert [(one.item, one.unit, one.price, one.line) for one in got.prices] == [
        ("tank", "piece", 5.5, 2)
    ]


def test_per_goes_before_unit(tmp_path: Path) -> None:
    got = read(tmp_path, "item,unit,price,per\nPipe,coil,1.10,m\nTape,roll,9.00,\n")
    assert [one.unit for one in got.prices] == ["m", "roll"]


def test_currency_of_the_list_and_of_the_site(tmp_path: Path) -> None:
    text = "item;unit;price;currency\nA;piece;1;EUR\nB;piece;2;eur\nC;piece;3;\n"
    assert read(tmp_path, text).currency == "EUR"
    assert read(tmp_path, text, "EUR").currency == "EUR"
    with pytest.raises(InputError, match=r'"NZD" \(the site file\) and "EUR" \(line 2\)'):
        read(tmp_path, text, "NZD")
    with pytest.raises(InputError, match="one currency"):
        read(tmp_path, text + "D;piece;1;USD\n")


def test_two_prices_for_the_same_are_refused_and_the_same_twice_is_not(tmp_path: Path) -> None:
    head = "item;unit;price\nBall valve;piece;11.20\n"
    assert len(read(tmp_path, head + "ball  VALVE;piece;11.20\n").prices) == 2
    with pytest.raises(InputError, match=r"lines 2 and 3: .* 11\.2 and 12; keep one"):
        read(tmp_path, head + "ball  VALVE;piece;12\n")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "no table"),
        ("item;price\nA;1\n", "it needs item, unit and price"),
        ("item;unit;price\nA;furlong;1\n", "line 2: .*furlong.* no unit"),
        ("item;unit;price\n;piece;1\n", "line 2: .* for nothing"),
        ("item;unit;price\n" + "x" * 300 + ";piece;1\n", "line 2: .* too long"),
        ("item;unit;price\nA;piece;" + "9" * 300 + "\n", "line 2: .* too long"),
        (b"item;unit;price\n\xff\xfe;piece;1\n", "UTF-8"),
        (b"item;unit;price\n" + b"A;piece;1\n" * (MOST_BYTES // 10), "too large"),
        (
            "item;unit;price\n" + "".join(f"A{n};piece;1\n" for n in range(20_001)),
            "more than 20000 rows",
        ),
    ],
)
def test_tables_that_are_none(tmp_path: Path, text: str | bytes, told: str) -> None:
    with pytest.raises(InputError, match=told):
        read(tmp_path, text)


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r'"none\.csv" can.t be read'):
        read_prices(tmp_path / "none.csv")
    with pytest.raises(InputError, match="can't be read"):
        read_prices(tmp_path)


@given(st.binary(max_size=400))
def test_no_content_does_more_than_be_refused(content: bytes) -> None:
    with TemporaryDirectory() as folder, suppress(InputError):
        got = read(Path(folder), content)
        assert all(one.price >= 0.0 for one in got.prices)
