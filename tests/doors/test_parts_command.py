"""The command `parts` as a person meets it: the list, JSON, a list for a spreadsheet and back, refusals."""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path

import pytest

from loftwright.cli.main import run
from loftwright.project.demos import demo_text
from loftwright.project.file import read

Capture = pytest.CaptureFixture[str]

TEXT = re.sub(r"(?m)^(units = .*)$", r"\1\ndraws = 50", demo_text("quellmere"), count=1)
BOUGHT = """
# What the warden has.
[[bought]]
part = "hinge"           # brass, from the boathouse
price = "18 +- 3, assumed"
have = "2"

[[bought]]
part = "rope"
name = "tow rope"
count = "12"
note = "in m; old"
"""


@pytest.fixture
def roof(tmp_path: Path) -> Path:
    path = tmp_path / "roof.toml"
    path.write_text(TEXT + BOUGHT, encoding="utf-8")
    return path


def rows_of(path: Path, delimiter: str = ",") -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig")), delimiter=delimiter))


def write(path: Path, rows: list[dict[str, str]], columns: tuple[str, ...] | None = None) -> Path:
    with path.open("w", encoding="utf-8", newline="") as out:
        writer = csv.DictWriter(out, columns or tuple(rows[0]), extrasaction="ignore")
        writer.writeheader()
        writer.writerows(rows)
    return path


def test_it_lists_and_judges(roof: Path, capsys: Capture) -> None:
    assert run(["parts", str(roof)]) == 0
    out, err = capsys.readouterr()
    for words in ("Money", "Planned", "judgements", "To cut: ", "tow rope", "Take care"):
        assert words in out
    assert err == ""
    assert run(["parts", str(roof), "--brief", "--strict"]) == 1
    brief = capsys.readouterr().out
    assert len(brief.splitlines()) < len(out.splitlines()) / 2
    assert run(["parts", str(roof), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert [part["id"] for part in told["own"]] == ["rope"]
    assert told["tally"]["fails"] >= 1


def test_out_and_back_changes_nothing(roof: Path, tmp_path: Path, capsys: Capture) -> None:
    before = roof.read_bytes()
    for options, name in (([], "point.csv"), (["--comma"], "comma.csv")):
        path = tmp_path / name
        assert run(["parts", str(roof), "--brief", "--csv", str(path), *options]) == 0
        assert f"Written: {path}" in capsys.readouterr().err
        assert run(["parts", str(roof), "--brief", "--read", str(path)]) == 0
        assert "says nothing that" in capsys.readouterr().err
        assert roof.read_bytes() == before
    assert rows_of(tmp_path / "comma.csv", ";")[0].keys() == rows_of(tmp_path / "point.csv")[0].keys()


def test_a_list_that_was_filled_in(roof: Path, tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "parts.csv"
    assert run(["parts", str(roof), "--brief", "--csv", str(path)]) == 0
    rows = rows_of(path)
    for row in rows:
        if row["id"] == "latch":
            row |= {"price": "12.50 .. 14", "bought": "yes", "note": "'=the good ones"}
        if row["id"] == "hinge":
            row |= {"have": "1", "note": ""}
        if row["id"] == "rope":
            row |= {"quantity": "15", "note": "new"}
    rows.append(
        dict.fromkeys(rows[0], "") | {"name": "Köder for the rim", "quantity": "7.5", "unit": "m", "price": "2"}
    )
    write(path, rows)
    assert run(["parts", str(roof), "--brief", "--read", str(path)]) == 0
    assert "parts changed: 2, of your own: 2" in capsys.readouterr().err
    text = roof.read_text(encoding="utf-8")
    assert "# What the warden has." in text
    assert "# brass, from the boathouse" in text
    assert 'price = "18 +- 3, assumed"' in text
    made = {one.part: one for one in read(roof).bought}
    latch, rope, own = made["latch"], made["rope"], made["koder-for-the-rim"]
    assert latch.price is not None
    assert (latch.price.low, latch.price.high, latch.ordered.nominal) == (12.5, 14.0, 2.0)
    assert latch.note == "=the good ones"
    assert made["hinge"].have.nominal == 1.0
    assert rope.count is not None
    assert (rope.count.nominal, rope.note, rope.name) == (15.0, "in m; new", "tow rope")
    assert (own.name, own.note) == ("Köder for the rim", "in m")
    # The same list once more says nothing new.
    after = roof.read_bytes()
    assert run(["parts", str(roof), "--brief", "--csv", str(path)]) == 0
    assert run(["parts", str(roof), "--brief", "--read", str(path)]) == 0
    assert roof.read_bytes() == after


def test_columns_that_are_not_there_and_lists_by_name(roof: Path, tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "parts.csv"
    assert run(["parts", str(roof), "--brief", "--csv", str(path)]) == 0
    rows = [row for row in rows_of(path) if row["id"] in ("hinge", "latch")]
    write(path, [row | {"have": "2"} for row in rows], ("name", "have"))
    assert run(["parts", str(roof), "--brief", "--read", str(path)]) == 0
    made = {one.part: one for one in read(roof).bought}
    assert made.keys() == {"hinge", "rope", "latch"}
    assert made["latch"].have.nominal == 2.0
    assert made["hinge"].price is not None


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ("latch,latch,2,pieces,=1+1,0,0,", "line 2, price"),
        ("latch,latch,2,pieces,2000000,0,0,", "line 2, price"),
        ("latch,latch,2,pieces,1,0,900000,", "line 2, have"),
        ("rope 2,rope,2,furlongs,1,0,0,", "line 2, unit"),
        (f"latch,latch,2,pieces,1,0,0,{'x' * 300}", "line 2, note"),
    ],
)
def test_mistakes_are_told_with_their_line(roof: Path, tmp_path: Path, capsys: Capture, cells: str, said: str) -> None:
    path = tmp_path / "parts.csv"
    path.write_text(f"id,name,quantity,unit,price,bought,have,note\n{cells}\n", encoding="utf-8")
    before = roof.read_bytes()
    assert run(["parts", str(roof), "--read", str(path)]) == 2
    assert said in capsys.readouterr().err
    assert roof.read_bytes() == before


def test_too_many_parts(roof: Path, tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "parts.csv"
    path.write_text("name,quantity\n" + "".join(f"thing {n},1\n" for n in range(125)), encoding="utf-8")
    before = roof.read_bytes()
    assert run(["parts", str(roof), "--read", str(path)]) == 2
    # Two entries are there: the 119th new one is the 121st of 120.
    assert "line 120" in capsys.readouterr().err
    assert roof.read_bytes() == before


def test_what_is_refused(roof: Path, tmp_path: Path, capsys: Capture) -> None:
    assert run(["parts", "--demo", "quellmere", "--read", str(roof)]) == 2
    assert "a demo is not changed" in capsys.readouterr().err
    assert run(["parts", str(roof), "--csv", str(roof)]) == 2
    capsys.readouterr()
    assert run(["parts", str(roof), "--comma"]) == 2
    assert "--csv" in capsys.readouterr().err
    assert run(["parts", str(roof), "--read", str(tmp_path / "none.csv")]) == 2
    assert "a list of parts" in capsys.readouterr().err
