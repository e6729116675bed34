from __future__ import annotations

import io

import pypdf
import pytest

from loftwright.core.errors import Bug
from loftwright.documents import typeset


def test_control_characters_are_taken_out_and_the_rest_is_kept() -> None:
    assert typeset.printable({"a": ["x\x00y\u202e", ("tab\there", 3, None)]}) == {"a": ["xy", ["tab here", 3, None]]}


def test_texts_come_out_as_they_are(monkeypatch: pytest.MonkeyPatch) -> None:
    wicked = r"#panic() [x] $y$ <z> \ @ref *b* _i_ // c `d`"
    original = typeset.template_text
    monkeypatch.setattr(
        typeset, "template_text", lambda name: "#text(data.said)" if name == "probe.typ" else original(name)
    )
    made = typeset.pdf("probe.typ", {"said": wicked})
    assert wicked in pypdf.PdfReader(io.BytesIO(made)).pages[0].extract_text()


def test_a_warning_of_the_typesetter_is_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    original = typeset.template_text
    monkeypatch.setattr(
        typeset,
        "template_text",
        lambda name: '#text(font: "No Such Family")[x]' if name == "probe.typ" else original(name),
    )
    with pytest.raises(Bug, match="unknown font family"):
        typeset.pdf("probe.typ", {})


def test_the_fonts_come_with_their_licence() -> None:
    from importlib.resources import files

    folder = files("loftwright.documents").joinpath("fonts")
    names = {entry.name for entry in folder.iterdir()}
    assert {"LiberationSans-Regular.ttf", "LiberationSans-Bold.ttf", "OFL.txt"} <= names
    assert "SIL OPEN FONT LICENSE Version 1.1" in folder.joinpath("OFL.txt").read_text(encoding="utf-8")
