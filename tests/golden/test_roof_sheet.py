from __future__ import annotations

import hashlib
import importlib.util
import io
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest

from loftwright.core.views import Box, Caution, DoNext, Fact, RoofPage
from loftwright.documents.measuring_sheet import measuring_sheet_pdf
from loftwright.documents.roof_sheet import roof_sheet_pdf

SAMPLE = Path(__file__).parents[1] / "unit" / "documents" / "sample_page.py"
_SPEC = importlib.util.spec_from_file_location("sample_page", SAMPLE)
assert _SPEC is not None
assert _SPEC.loader is not None
sample = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)

A4 = (595.276, 841.89)
"""A4 in points: 210 x 297 mm, ISO 216, computed here from 72 points to the inch."""

ELSEWHERE = f"""
import importlib.util, sys, hashlib
spec = importlib.util.spec_from_file_location("sample_page", {str(SAMPLE)!r})
sample = importlib.util.module_from_spec(spec)
spec.loader.exec_module(sample)
from loftwright.documents.roof_sheet import roof_sheet_pdf
from loftwright.documents.measuring_sheet import measuring_sheet_pdf
print(hashlib.sha256(roof_sheet_pdf(sample.roof_page()) + measuring_sheet_pdf(sample.sheet_page())).hexdigest())
"""


def one_page(pdf: bytes) -> str:
    """Return the text of the only page, white space made single, after checking size and that no text lies outside."""
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    assert len(reader.pages) == 1
    page = reader.pages[0]
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(A4, abs=0.01)
    outside: list[str] = []

    def look(text: str, cm: list[float], tm: list[float], font: object, size: float) -> None:
        x, y = tm[4] * cm[0] + tm[5] * cm[2] + cm[4], tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
        if text.strip() and not (0 < x < A4[0] and 0 < y < A4[1]):
            outside.append(text)

    text = page.extract_text(visitor_text=look)
    assert outside == []
    return " ".join(text.split())


def lengthy() -> RoofPage:
    scene, poses = sample.arms_scene()
    page = sample.roof_page(
        name="A lifting roof with a name that does not want to end " * 6, n_rows=40, units="imperial"
    )
    long = "Words that go on and on without saying anything new about the roof or the van. " * 6
    return replace(
        page,
        subtitle=long,
        odds=long,
        odds_note=long,
        next_best=long,
        scene=scene,
        poses=poses,
        facts=tuple(Fact(f"A long label of fact {i}", "12 ft 11 15/16 in", long) for i in range(12)),
        rows=tuple(replace(row, title=f"{row.title} {long}", basis=long, limit=long[:90]) for row in page.rows),
        do_next=tuple(DoNext(long[:80], 600, long, long) for _ in range(9)),
        cautions=(
            *page.cautions,
            Caution("Isolate the battery before you cut."),
            Caution("Dust of glass fibre harms lungs."),
        ),
        provenance=long,
    )


def test_the_same_page_gives_the_same_bytes_here_and_in_another_process() -> None:
    here = roof_sheet_pdf(sample.roof_page())
    sheet = measuring_sheet_pdf(sample.sheet_page())
    assert roof_sheet_pdf(sample.roof_page()) == here
    assert measuring_sheet_pdf(sample.sheet_page()) == sheet
    run = subprocess.run([sys.executable, "-c", ELSEWHERE], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == hashlib.sha256(here + sheet).hexdigest()


def test_another_page_gives_other_bytes() -> None:
    assert roof_sheet_pdf(sample.roof_page()) != roof_sheet_pdf(sample.roof_page(name="Bittern"))


def test_one_page_says_it_all() -> None:
    page = sample.roof_page()
    text = one_page(roof_sheet_pdf(page))
    for caution in page.cautions:
        assert caution.text in text
    for row in page.rows:
        assert row.value in text
    for fact in page.facts:
        assert fact.value in text
    for step in page.do_next:
        assert step.title in text
    for said in (
        "Open",
        "Half open",
        "Closed",
        "rise 1.11 m",
        "headroom",
        "you push",
        "it falls by itself",
        "cold, aged",
    ):
        assert said in text
    assert page.provenance in text
    assert "more, of which" not in text
    places = [text.index(row.value) for row in page.rows]
    assert places == sorted(places)


def test_remedies_are_printed_where_there_is_room() -> None:
    assert "Move the foot 40 mm to the rear" in one_page(roof_sheet_pdf(sample.roof_page(n_rows=3)))


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_forty_verdicts_and_a_long_name_stay_on_one_page(units: str) -> None:
    page = sample.roof_page(name="Wide roof " * 30, n_rows=40, units=units)
    text = one_page(roof_sheet_pdf(page))
    shown = sum(row.value in text for row in page.rows)
    assert shown >= 10
    assert f"and {40 - shown} more, of which" in text
    assert all(caution.text in text for caution in page.cautions)


def test_too_much_of_everything_still_keeps_every_caution() -> None:
    page = lengthy()
    text = one_page(roof_sheet_pdf(page))
    for caution in page.cautions:
        assert caution.text in text
    assert page.provenance[:60] in text
    assert f"1 {page.do_next[0].title[:60]}" in text


def test_a_next_step_is_printed_before_a_fourth_verdict() -> None:
    long = "Words that go on and on without saying anything new about the roof or the van. " * 2
    page = sample.roof_page(name="Wide roof " * 12, n_rows=40, units="imperial")
    steps = tuple(DoNext(f"Step number {i}", 600, long, long) for i in range(4))
    facts = tuple(Fact(f"A long label of fact {i}", "12 ft 11 15/16 in", long[:80]) for i in range(12))
    text = one_page(roof_sheet_pdf(replace(page, do_next=steps, facts=facts)))
    assert "Step number 0" in text
    assert "more, of which" in text
    assert all(caution.text in text for caution in page.cautions)


def test_an_empty_page_is_still_a_page() -> None:
    page = replace(sample.roof_page(), rows=(), do_next=(), facts=(), assumptions=())
    assert "Nothing judged yet." in one_page(roof_sheet_pdf(page))


@pytest.mark.parametrize("name", ["", "x" * 500, "#panic() [x] $y$ <z>", "tab\tand\nline", "屋根 roof"])
def test_any_name_can_be_printed(name: str) -> None:
    one_page(roof_sheet_pdf(sample.roof_page(name=name)))
    one_page(measuring_sheet_pdf(replace(sample.sheet_page(), name=name)))


def test_the_measuring_sheet_shows_what_is_known_and_asks_for_the_rest() -> None:
    page = sample.sheet_page()
    text = one_page(measuring_sheet_pdf(page))
    assert "2.44 m" in text
    assert "guess 1.2 .. 1.8 m" in text
    for said in ("Weigh on two lines", "Balance over a pipe", "Straightedge across", "rear rim to first line"):
        assert said in text
    for caution in page.cautions:
        assert caution.text in text
    # Within a list what is unknown comes first: the shell's width before its length.
    shell = text[text.index("Upside up on level ground") :]
    assert shell.index("width") < shell.index("2.44 m")


def test_the_measuring_sheet_asks_for_the_pins_of_lifting_arms() -> None:
    page = replace(sample.sheet_page(), boxes=(Box("linkage.arm_a_van", None, "", "arm a, pin on the van"),))
    text = one_page(measuring_sheet_pdf(page))
    assert "arm a, pin on the van" in text
    assert "hinge: along, up" not in text


def test_a_measuring_sheet_with_far_too_many_boxes_says_how_many_are_missing() -> None:
    boxes = tuple(Box(f"linkage.arm_{i}", None, "guess 1 .. 2 ft", f"pin number {i}") for i in range(70))
    text = one_page(measuring_sheet_pdf(replace(sample.sheet_page(), boxes=boxes, units="imperial")))
    assert "more boxes: see the project file." in text


def test_a_full_measuring_sheet_says_so() -> None:
    from loftwright.documents.measuring_sheet import ASKS

    boxes = tuple(Box(ask.key, "1.00 m", "measured") for ask in ASKS)
    assert "Everything is known already" in one_page(measuring_sheet_pdf(replace(sample.sheet_page(), boxes=boxes)))
