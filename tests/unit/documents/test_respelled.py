"""Spelling in finished pages, data and paper: what people read changes, what they typed or a script reads does not."""

from __future__ import annotations

from dataclasses import replace

from loftwright.answers.judged_roof import judged_roof
from loftwright.answers.views import roof_page
from loftwright.documents.respelled import respelled, respelled_page
from loftwright.documents.roof_html import roof_html
from loftwright.project.demos import demo_text
from loftwright.project.file import edited, loads

PAGE = (
    '<p class="grey" id="centre" title="the centre" data-of="grey">Kerb &amp; centre</p>'
    '<input name="centre" value="grey" placeholder="aluminium" aria-label="Colour">'
    "<textarea>grey</textarea><script>const centre = 'grey';</script><style>.grey{color:grey}</style><!-- grey -->"
    '<svg viewBox="0 0 1 1"><title>Grey</title><text class="pen-grey">metre</text></svg>'
    '<select name="x"><option value="kerb">kerb</option></select>'
)
WANTED = (
    '<p class="grey" id="centre" title="the center" data-of="grey">Curb &amp; center</p>'
    '<input name="centre" value="grey" placeholder="aluminum" aria-label="Color">'
    "<textarea>grey</textarea><script>const centre = 'grey';</script><style>.grey{color:grey}</style><!-- grey -->"
    '<svg viewBox="0 0 1 1"><title>Gray</title><text class="pen-grey">meter</text></svg>'
    '<select name="x"><option value="kerb">curb</option></select>'
)


def test_what_stands_between_tags_is_respelled() -> None:
    assert respelled_page(PAGE, "curb") == WANTED
    assert respelled_page(PAGE, "kerb") == PAGE


def test_data_keep_their_keys_and_numbers() -> None:
    data = {"centre": ["grey", 1.5, None, True], "svg": '<svg><text class="grey">grey</text></svg>'}
    assert respelled(data, "curb") == {
        "centre": ["gray", 1.5, None, True],
        "svg": '<svg><text class="grey">gray</text></svg>',
    }
    assert respelled(data, "kerb") is data


def test_a_page_about_a_roof_is_spelled_as_its_file_says() -> None:
    text = edited(demo_text("fennimoor"), {"name": "Grey lid"})
    british = roof_html(roof_page(judged_roof(loads(text))))
    american = roof_html(roof_page(judged_roof(loads(edited(text, {"settings.words": "curb"})))))
    assert "judgement" in british
    assert "judgement" not in american.partition("<script")[0].partition("</style>")[2]
    assert "<h1>Grey lid</h1>" in american
    assert american.partition("</style>")[0] == british.partition("</style>")[0]


def test_both_spellings_are_set_on_paper() -> None:
    from loftwright.documents.roof_sheet import roof_sheet_pdf

    page = roof_page(judged_roof(loads(demo_text("fennimoor"))))
    british, american = roof_sheet_pdf(page), roof_sheet_pdf(replace(page, words="curb"))
    assert british.startswith(b"%PDF")
    assert american.startswith(b"%PDF")
    assert british != american
    assert roof_sheet_pdf(replace(page, words="kerb")) == british
