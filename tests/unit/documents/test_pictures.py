from __future__ import annotations

import importlib.util
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from loftwright.documents.force_curves import force_curves_svg
from loftwright.documents.pictures import side_views_of
from loftwright.drawing.svg import svg

_SPEC = importlib.util.spec_from_file_location("sample_page", Path(__file__).with_name("sample_page.py"))
assert _SPEC is not None
assert _SPEC.loader is not None
sample = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)


def words(svg: str) -> str:
    return " | ".join(ET.fromstring(svg).itertext())


@pytest.mark.parametrize(
    ("units", "rise", "bar"), [("metric", "rise 1.11 m", "1.00 m"), ("imperial", "rise 3 ft 7", "3 ft")]
)
def test_side_views_speak_the_pages_units(units: str, rise: str, bar: str) -> None:
    said = words(svg(side_views_of(sample.roof_page(units=units)), ids="side-views"))
    assert rise in said
    assert f"{bar}" in said


def test_force_curves_stand_alone() -> None:
    said = words(force_curves_svg(sample.chart()))
    assert "hand force at the handle, kg" in said
    assert "cold, aged" in said
