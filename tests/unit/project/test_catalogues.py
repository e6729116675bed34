"""The price table: what comes along, and every fault of an edited one."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from loftwright.core.errors import ProjectFault
from loftwright.project.catalogues import COLUMNS, MOST_BYTES, read_prices

HEAD = ",".join(COLUMNS)
GOOD = "hinge pair,pair,15,90,EUR,2026-11,judgement"


def written(folder: Path, *lines: str, head: str = HEAD) -> Path:
    path = folder / "mine.csv"
    path.write_text("\n".join([head, *lines, ""]), encoding="utf-8")
    return path


def faults_of(path: Path) -> list[str]:
    with pytest.raises(ProjectFault) as caught:
        read_prices(path)
    return [fault.sentence() for fault in caught.value.faults]


def test_the_table_that_comes_along_is_judgement_and_dated() -> None:
    prices = read_prices()
    assert len(prices) > 15
    for price in prices.values():
        assert 0 < price.low < price.high
        assert price.currency == "EUR"
        assert price.dated == "2026-11"
        assert price.basis.startswith("judgement: ")


def test_a_good_table(tmp_path: Path) -> None:
    (price,) = read_prices(written(tmp_path, GOOD, "")).values()
    assert (price.part, price.unit, price.low, price.high) == ("hinge pair", "pair", 15.0, 90.0)


def test_a_table_from_a_spreadsheet(tmp_path: Path) -> None:
    path = tmp_path / "mine.csv"
    path.write_bytes(
        b"\xef\xbb\xbfNote;" + HEAD.replace(",", ";").encode() + b"\r\nx;hinge pair;pair;15,50;90;EUR;2026-11;\r\n"
    )
    assert read_prices(path)["hinge pair"].low == 15.5


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        (
            "seal,m,three,12,EUR,2026-11,x",
            'row 3, low is "three": it must be a plain number; write a price such as 12.50.',
        ),
        ("seal,m,,12,EUR,2026-11,x", "row 3, low is empty: it must be a plain number; write a price such as 12.50."),
        ("seal,m,NaN,12,EUR,2026-11,x", 'row 3, low is "NaN": it must be a plain number; write a price such as 12.50.'),
        ("seal,m,3,inf,EUR,2026-11,x", 'row 3, high is "inf": it must be a plain number; write a price such as 12.50.'),
        ("seal,m,-3,12,EUR,2026-11,x", "row 3, low is -3: a price is not negative; write a price of 0 or more."),
        ("seal,m,30,12,EUR,2026-11,x", "row 3, low is 30: it must not be above high, 12; swap the two or correct one."),
        ("seal,m,3,12,euro,2026-11,x", 'row 3, currency is "euro": it must be three capital letters; write it as EUR.'),
        ("seal,m,3,12,EUR,2026-13,x", 'row 3, dated is "2026-13": it must be year and month; write it as 2026-11.'),
        (",m,3,12,EUR,2026-11,x", "row 3, part is empty: it needs a word; write the part."),
        ("seal,,3,12,EUR,2026-11,x", "row 3, unit is empty: it needs a word; write the unit."),
        (GOOD, 'row 3, part is "hinge pair": row 2 already prices it; delete one of the two.'),
        ("seal,m,3,12", "row 3 is 4 cells long: the first line has 7; check its commas and quotes."),
    ],
)
def test_each_fault_is_one_sentence(tmp_path: Path, line: str, sentence: str) -> None:
    assert faults_of(written(tmp_path, GOOD, line)) == [f"price table mine.csv, {sentence}"]


def test_all_faults_are_listed_at_once(tmp_path: Path) -> None:
    faults = faults_of(written(tmp_path, "seal,m,30,12,EUR,2026-11,x", GOOD, "latch,,x,-1,eur,now,x"))
    assert len(faults) == 6


def test_two_currencies_are_refused(tmp_path: Path) -> None:
    assert faults_of(written(tmp_path, GOOD, "seal,m,3,12,GBP,2026-11,x")) == [
        "price table mine.csv, currency is EUR and GBP: all prices must be in one currency; convert them to one."
    ]


def test_missing_columns_are_named(tmp_path: Path) -> None:
    assert faults_of(written(tmp_path, "seal,3", head="part,low")) == [
        "price table mine.csv is without unit, high, currency, dated, basis: it must have the columns part, unit, low, "
        "high, currency, dated, basis; name them in its first line."
    ]


def test_a_table_without_rows_is_refused(tmp_path: Path) -> None:
    assert faults_of(written(tmp_path)) == [
        "price table mine.csv is empty: it must price at least one part; add a line below the first."
    ]


@pytest.mark.skipif(os.name != "posix", reason="pipes and devices as POSIX has them")
def test_a_pipe_or_a_device_is_refused_at_once(tmp_path: Path) -> None:
    pipe = tmp_path / "prices.csv"
    os.mkfifo(pipe)
    for path in (pipe, Path("/dev/zero")):
        assert faults_of(path) == [
            f"{path} is a pipe or a device: a price table is wanted; save it as a file and name that."
        ]
    assert faults_of(tmp_path) == [f"{tmp_path} is a folder: a price table is wanted; name the file in it."]


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    assert faults_of(tmp_path / "gone.csv") == [
        f"{tmp_path / 'gone.csv'} is not there: a price table is wanted; check its name."
    ]
    path = tmp_path / "mine.csv"
    path.write_bytes(b"\xff\xfe\x00")
    assert faults_of(path) == ["price table mine.csv: it is not UTF-8 text; save it as CSV in UTF-8."]
    path.write_bytes(b"x" * (MOST_BYTES + 1))
    assert faults_of(path) == [
        "mine.csv is larger than 1 MB: a price table is a short text; check that you named the right file."
    ]
    path.write_text(f'{HEAD}\n"seal"x,m,3,12,EUR,2026-11,x\n', encoding="utf-8")
    (sentence,) = faults_of(path)
    assert sentence.startswith("price table mine.csv: it is not CSV (")
