from __future__ import annotations

import importlib.util
import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest

from loftwright.core.views import Caution, DoNext, Fact
from loftwright.documents.roof_html import DARK, LIGHT, roof_html

_SPEC = importlib.util.spec_from_file_location("sample_page", Path(__file__).with_name("sample_page.py"))
assert _SPEC is not None
assert _SPEC.loader is not None
sample = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)

WICKED = "</script><script>alert(1)</script><img src=x onerror=alert(2)> & \"quoted\" 'too'"


class Reader(HTMLParser):
    """Collects tags, ids, and the text that a reader sees."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.ids: list[str] = []
        self.attributes: list[str] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.ids += [value for name, value in attrs if name == "id" and value]
        self.attributes += [name for name, _ in attrs]

    def handle_data(self, data: str) -> None:
        self.text += data


def read(html: str) -> Reader:
    reader = Reader()
    reader.feed(html)
    return reader


def test_every_text_of_the_builder_is_escaped() -> None:
    page = sample.roof_page(name=WICKED)
    row = replace(
        page.rows[0], title=WICKED, value=WICKED, basis=WICKED, remedy=WICKED, source=WICKED, inputs=(WICKED,)
    )
    chart = replace(page.chart, curves=tuple(replace(c, label=WICKED) for c in page.chart.curves[:2]), unit=WICKED)
    page = replace(
        page,
        subtitle=WICKED,
        odds=WICKED,
        odds_note=WICKED,
        next_best=WICKED,
        rows=(row,),
        chart=chart,
        facts=(Fact(WICKED, WICKED, WICKED),),
        do_next=(DoNext(WICKED, 5, WICKED, WICKED),),
        cautions=(Caution(WICKED),),
        assumptions=(WICKED,),
        provenance=WICKED,
        made_with=WICKED,
    )
    found, plain = read(roof_html(page)), read(roof_html(sample.roof_page()))
    assert found.tags.count("script") == plain.tags.count("script") == 2
    assert found.tags.count("img") == 0
    assert not [name for name in found.attributes if name.startswith("on")]
    assert found.text.count(WICKED) >= 15


def test_it_asks_for_nothing() -> None:
    html = roof_html(sample.roof_page())
    allowed = {"http://www.w3.org/2000/svg"}
    assert set(re.findall(r"https?://[^\s\"'<>)]+", html)) <= allowed
    assert not re.search(r"@import|url\(|\bfetch\(|XMLHttpRequest|<link(?! rel=\"icon\" href=\"data:,\")", html)
    assert "default-src 'none'" in html


def test_ids_are_given_once() -> None:
    ids = read(roof_html(sample.roof_page())).ids
    assert len(ids) == len(set(ids))


def test_everything_that_was_answered_is_there_worst_first() -> None:
    page = sample.roof_page(n_rows=40)
    text = read(roof_html(page)).text
    for row in page.rows:
        for part in (row.id, row.basis, row.reason, row.remedy, row.source):
            assert part in text
    places = [text.index(row.id) for row in page.rows]
    assert places == sorted(places)
    assert "13 fail" in text
    assert all(caution.text in text for caution in page.cautions)
    assert all(said in text for said in page.assumptions)


def test_the_same_page_gives_the_same_text() -> None:
    assert roof_html(sample.roof_page()) == roof_html(sample.roof_page())


def test_a_roof_about_which_nothing_is_judged_yet_has_a_page() -> None:
    page = replace(sample.roof_page(), rows=(), do_next=(), facts=(), assumptions=())
    assert "Nothing judged yet." in roof_html(page)


def luminance(colour: str) -> float:
    """Relative luminance. Source: WCAG 2.2, definition of relative luminance; from memory."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a: str, b: str) -> float:
    """Contrast ratio. Source: WCAG 2.2, definition of contrast ratio; from memory."""
    light, dark = sorted((luminance(a), luminance(b)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_of_black_on_white_is_21() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)


@pytest.mark.parametrize("theme", [LIGHT, DARK])
@pytest.mark.parametrize("name", ["ink", "soft", "bad"])
def test_words_stand_out_from_the_paper(theme: dict[str, str], name: str) -> None:
    assert contrast(theme[name], theme["paper"]) >= 7
