"""Lists of springs: the invented one that comes along, a builder's own, and every fault of one."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from loftwright.core.errors import ProjectFault
from loftwright.project.demos import demo, demo_text
from loftwright.project.file import loads, read
from loftwright.project.possible_choice import catalogue_faults, catalogue_path
from loftwright.project.spring_list import HEADER, MOST_BYTES, MOST_ROWS, own_list, read_springs, springs_from
from loftwright.reference.rods import TOP_PRESSURE
from loftwright.reference.spring_grid import SIZES, STEP, force_ratio, grid

HEAD = "name,rod_mm,tube_mm,stroke_mm,extended_mm,force_n"
GOOD = "S1,8,18,250,560,400"


def written(folder: Path, *lines: str, head: str = HEAD) -> Path:
    path = folder / "mine.csv"
    path.write_text("\n".join([head, *lines, ""]), encoding="utf-8")
    return path


def faults_of(text: str) -> list[str]:
    with pytest.raises(ProjectFault) as caught:
        springs_from(text, "spring list mine.csv")
    return [fault.sentence().removeprefix("spring list mine.csv, ") for fault in caught.value.faults]


# --- the invented list ------------------------------------------------------------------------------


def test_every_spring_of_the_grid_could_be_filled() -> None:
    springs = list(grid())
    assert 1000 < len(springs) <= MOST_ROWS
    assert len({spring.name for spring in springs}) == len(springs)
    assert {(1e3 * s.rod, 1e3 * s.tube) for s in SIZES} == {(6, 15), (8, 18), (10, 22), (12, 26), (14, 28)}
    for s in springs:
        assert s.force % STEP == 0
        assert 0.1 <= s.stroke <= 0.5
        assert 45 <= round(1e3 * (s.extended - 2 * s.stroke), 6) <= 75
        assert 1.2 < s.ratio < 1.45
        # The gas pushes with the middle of the two forces; pushed in it is densest.
        assert (s.ratio * s.force + s.loop / 2) / (math.pi / 4 * s.rod**2) <= TOP_PRESSURE
        # Pushed in and heated by half a hundred degrees its fittings still hold.
        assert 1.2 * s.ratio * s.force + s.loop < s.end_limit


def test_the_grid_leaves_out_nothing_that_the_gas_allows() -> None:
    strongest = {size: max(s.force for s in grid() if (s.rod, s.stroke) == (size.rod, 0.3)) for size in SIZES}
    for size, force in strongest.items():
        ratio = force_ratio(size.rod, size.tube, 0.3)
        assert (ratio * (force + STEP) + size.loop / 2) / (math.pi / 4 * size.rod**2) > TOP_PRESSURE * 0.995


def test_the_ratio_follows_from_volumes() -> None:
    """Second way: the gas room as a number of litres before and after the rod is in, computed here."""
    litres = math.pi / 4 * 0.195**2 * (3.0 + 0.2)
    taken = math.pi / 4 * 0.10**2 * 3.0
    assert force_ratio(0.010, 0.022, 0.3) == pytest.approx(litres / (litres - taken))


def test_the_list_that_comes_along_reads_as_the_grid() -> None:
    listed, springs = read_springs(), list(grid())
    found = listed.entries
    assert found.names == tuple(s.name for s in springs)
    for field, attribute in (("force_1", "force"), ("rod_diameter", "rod"), ("tube_diameter", "tube")):
        assert np.allclose(getattr(found, field), [getattr(s, attribute) for s in springs])
    for field in ("ratio", "loop", "stroke", "extended", "end_limit", "price"):
        assert np.allclose(getattr(found, field), [getattr(s, field) for s in springs])
    assert set(found.ratio_doubt.round(9)) == {0.03}
    assert set(found.length_doubt.round(9)) == {0.002}
    assert set(found.tolerance) == {0.05}
    assert np.allclose(found.loop_doubt, 0.3 * found.loop)
    # One body for each size and stroke.
    assert found.body.max() + 1 == len({(s.rod, s.stroke) for s in springs})
    assert listed.currency == "EUR"
    assert listed.said == (
        "The list of springs is the invented one that comes along, in common sizes; no supplier stands behind it.",
    )
    assert min(listed.pieces) > 100


def test_the_list_that_comes_along_can_be_copied_and_edited(tmp_path: Path) -> None:
    text = own_list()
    assert text.splitlines()[0] == ",".join(HEADER)
    assert text.count("invented") == len(text.splitlines()) - 1
    path = tmp_path / "mine.csv"
    path.write_text(text, encoding="utf-8")
    assert read_springs(path).entries.names == read_springs().entries.names


def test_a_list_of_the_greatest_length_is_read() -> None:
    rows = (f"S{n},8,18,{100 + n % 300},{500 + 2 * (n % 300)},{100 + n % 400}" for n in range(MOST_ROWS))
    assert len(springs_from("\n".join([HEAD, *rows]), "list").entries.names) == MOST_ROWS


# --- a builder's own --------------------------------------------------------------------------------


def test_a_list_with_what_is_needed_takes_the_usual_ranges_for_the_rest(tmp_path: Path) -> None:
    listed = read_springs(written(tmp_path, GOOD, ""))
    one = listed.entries
    assert one.names == ("S1",)
    assert (one.force_1[0], one.stroke[0], one.extended[0]) == (400.0, 0.25, 0.56)
    assert (one.ratio[0], one.ratio_doubt[0]) == pytest.approx((1.3, 0.1))
    assert (one.loop[0], one.loop_doubt[0]) == pytest.approx((60.0, 40.0))
    assert one.tolerance[0] == pytest.approx(0.055)
    assert one.end_limit[0] == 2500.0
    assert math.isnan(one.price[0])
    assert listed.currency == ""
    assert listed.said == (
        "Spring list mine.csv leaves out ratio, friction, tolerance, end_limit: the usual ranges are taken.",
        "What the end fittings carry is unknown for 1 of 1 springs and hardly judged: ask for fittings that carry what "
        "the springs push at most.",
    )


def test_a_list_from_a_spreadsheet(tmp_path: Path) -> None:
    path = tmp_path / "mine.csv"
    head = "Note;name;rod_mm;tube_mm;stroke_in;extended_cm;force_kg;force_is;ratio;friction_lb;friction_is"
    row = "x;S1;8;18;10;55,9;45,5;F3;1,30 +- 0,02;9;Half Loop"
    path.write_bytes(b"\xef\xbb\xbf" + f"{head};tolerance_percent;price;currency\r\n{row};4;18,50;GBP\r\n".encode())
    listed = read_springs(path)
    one = listed.entries
    loop = 2 * 9 * 4.4482216152605
    assert one.loop[0] == pytest.approx(loop)
    assert one.force_1[0] == pytest.approx(45.5 * 9.80665 - loop)
    assert one.stroke[0] == pytest.approx(0.254)
    assert one.extended[0] == pytest.approx(0.559)
    assert (one.ratio[0], one.ratio_doubt[0]) == pytest.approx((1.3, 0.02))
    assert (one.price[0], listed.currency) == (18.5, "GBP")


def test_units_may_stand_in_the_cells() -> None:
    text = 'name,rod,tube,stroke,extended,force\nS1,8 mm,18 mm,10 in,"56 cm, label",400 +- 20 N\n'
    one = springs_from(text, "list").entries
    assert one.stroke[0] == pytest.approx(0.254)
    assert one.tolerance[0] == pytest.approx(math.hypot(0.055, 0.05))


def test_unknown_words_widen_as_in_the_project_file() -> None:
    head, row = f"{HEAD},force_is,friction_n,friction_is", f"{GOOD},unknown,40 +- 8,unknown"
    one = springs_from(f"{head}\n{row}\n", "list").entries
    # The full loop is taken from 32 N to twice 48 N; the force is the middle, within half of that loop.
    assert (one.loop[0], one.loop_doubt[0]) == pytest.approx((64.0, 32.0))
    assert one.force_1[0] == pytest.approx(400.0 - 32.0)


def test_equal_bodies_are_found_whatever_the_order() -> None:
    rows = ["A,8,18,250,560,400", "B,10,22,250,560,400", "C,8,18,250,560,300"]
    body = springs_from("\n".join([HEAD, *rows]), "list").entries.body
    assert body[0] == body[2] != body[1]


# --- faults -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("row", "sentence"),
    [
        (",8,18,250,560,400", "row 2, name is empty: it needs a word; write the name."),
        ("S1,8,18,250,560", "row 2 is 5 cells long: the first line has 6; check its commas and quotes."),
        (
            "S1,8,18,long,560,400",
            'row 2, stroke is "long": it must start with a number, as a length is wanted; write it like "1.9 m".',
        ),
        (
            "S1,8,18,,560,400",
            'row 2, stroke is "": nothing is written, and a length is wanted; write it like "1.9 m" or "unknown".',
        ),
        ("S1,unknown,18,250,560,400", 'row 2, rod is "unknown": a list says how large it is; write the number.'),
        (
            "S1,8,18,25000,560,400",
            'row 2, stroke is "25000": must lie within 20 mm to 1 m; check the number and the column\'s unit.',
        ),
        (
            "S1,18,8,250,560,400",
            "row 2, rod is 18 mm: the rod does not fit a tube of 8 mm; swap them or measure again.",
        ),
        (
            "S1,8,18,250,460,400",
            (
                "row 2, extended is 460 mm: a tube that takes in a stroke of 250 mm makes the spring at least 500 mm "
                "long; measure again and correct one of the two."
            ),
        ),
    ],
)
def test_fault_of_a_row_is_said_word_for_word(row: str, sentence: str) -> None:
    assert faults_of(f"{HEAD}\n{row}\n") == [sentence]


@pytest.mark.parametrize(
    ("more", "cells", "sentence"),
    [
        ("force_is", "F2", 'row 2, force_is is "F2": must be one of "F1", "F3", "middle"; write one or "unknown".'),
        ("force_is", "midle", 'row 2, force_is is "midle": must be one of "F1", "F3", "middle"; write "middle".'),
        (
            "friction_is",
            "both",
            'row 2, friction_is is "both": must be one of "full loop", "half loop"; write one or "unknown".',
        ),
        (
            "force_is,friction_n",
            "F3,499",
            (
                "row 2, friction is 349.3 N to 648.7 N: more than the force listed: 400 N listed as F3 leave -248.7 N "
                "to push with; check force, force_is, friction and friction_is."
            ),
        ),
        (
            "price,currency",
            "cheap,EUR",
            'row 2, price is "cheap": it must be a plain number of 0 or more; write a price such as 12.50.',
        ),
        ("price", "12.50", "row 2, currency is empty: a price needs three capital letters; write it as EUR."),
        (
            "price,currency",
            "12.50,euro",
            'row 2, currency is "euro": a price needs three capital letters; write it as EUR.',
        ),
    ],
)
def test_fault_of_what_may_be_left_out_is_said_word_for_word(more: str, cells: str, sentence: str) -> None:
    assert faults_of(f"{HEAD},{more}\n{GOOD},{cells}\n") == [sentence]


def of_table(text: str) -> str:
    with pytest.raises(ProjectFault) as caught:
        springs_from(text, "spring list mine.csv")
    (fault,) = caught.value.faults
    return fault.sentence()


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "",
            (
                "spring list mine.csv is without name, rod, tube, stroke, extended, force: it must have the columns "
                "name, rod, tube, stroke, extended, force, with a unit as in stroke_mm; name them in its first line."
            ),
        ),
        (
            "name,rod_mm,tube_mm,stroke_mm,force_n\n",
            (
                "spring list mine.csv is without extended: it must have the columns name, rod, tube, stroke, "
                "extended, force, with a unit as in stroke_mm; name them in its first line."
            ),
        ),
        (
            HEAD.replace("stroke_mm", "stroke_furlong"),
            (
                'spring list mine.csv, "stroke_furlong" is not a known column: known: stroke_mm, stroke_cm, stroke_m, '
                "stroke_in; correct it."
            ),
        ),
        (
            f"{HEAD},stroke_in",
            "spring list mine.csv, stroke is there twice: one column holds it; delete one.",
        ),
        (HEAD, "spring list mine.csv is empty: it must list at least one spring; add a line below the first."),
        (
            "\n".join([HEAD, *[GOOD] * (MOST_ROWS + 1)]),
            "spring list mine.csv is 5001 springs long: at most 5000 are read; keep the springs that you could get.",
        ),
        (
            f"{HEAD},price,currency\n{GOOD},12,EUR\n{GOOD.replace('S1', 'S2')},12,GBP\n",
            "spring list mine.csv, currency is EUR and GBP: all prices must be in one currency; convert them to one.",
        ),
        (
            f"{HEAD}\n{GOOD}\n{GOOD}\n",
            ('spring list mine.csv, row 3, name is "S1": row 2 has this name already; give each spring its own name.'),
        ),
    ],
)
def test_fault_of_a_list_is_said_word_for_word(text: str, sentence: str) -> None:
    assert of_table(text) == sentence


def test_a_list_that_is_no_csv() -> None:
    assert of_table(f'{HEAD}\n"S1,8').startswith("spring list mine.csv: it is not CSV (")


def test_all_faults_are_listed_at_once() -> None:
    text = f"{HEAD}\nS1,8,18,250,560,many\n,8,18,250,460,400\nS3,8\n"
    assert [line.split(" is ")[0] for line in faults_of(text)] == ["row 2, force", "row 3, name", "row 4"]


def test_files_that_are_no_list(tmp_path: Path) -> None:
    path = tmp_path / "mine.csv"
    path.write_bytes(HEAD.encode() + "\nfür".encode("latin-1"))
    with pytest.raises(ProjectFault, match=r"spring list mine\.csv: it is not UTF-8 text; save it as CSV in UTF-8"):
        read_springs(path)
    path.write_bytes(b"#" * (MOST_BYTES + 1))
    with pytest.raises(ProjectFault, match="larger than 2 MB: a list of springs is a short text"):
        read_springs(path)
    with pytest.raises(ProjectFault, match="is not there: a list of springs is wanted"):
        read_springs(tmp_path / "none.csv")


# --- beside the project file ------------------------------------------------------------------------


def test_the_projects_own_list_lies_beside_it(tmp_path: Path) -> None:
    text = demo_text("quellmere").replace("[choice]", '[choice]\ncatalogue = "../lists/mine.csv"')
    (tmp_path / "lists").mkdir()
    (tmp_path / "roofs").mkdir()
    path = tmp_path / "roofs" / "roof.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ProjectFault, match="there is no such file"):
        read(path)
    written(tmp_path / "lists", GOOD)
    project = read(path)
    found = catalogue_path(project, path.parent)
    assert found is not None
    assert read_springs(found).entries.names == ("S1",)
    absolute = loads(text.replace("../lists/mine.csv", (tmp_path / "lists" / "mine.csv").as_posix()))
    assert catalogue_faults(absolute, Path("elsewhere")) == []
    assert catalogue_path(demo("quellmere"), tmp_path) is None
