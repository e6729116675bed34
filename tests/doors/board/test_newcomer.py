"""A newcomer's first ten minutes in a real browser: nothing but the mouse, then nothing but the keyboard.

The counts of clicks are bounds that the page must keep: nothing may come to stand in the way.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from loftwright.board.app import build
from loftwright.board.desk import Desk
from loftwright.board.serve import running
from loftwright.project.file import read

pytestmark = pytest.mark.browser

CLICKS_TO_DRAWING = 0
CLICKS_TO_HEADROOM = 0
CLICKS_TO_OWN_HEADROOM = 1
"""To the headroom of the way of lifting that one has in mind."""
CLICKS_TO_DO_NEXT = 1
CLICKS_TO_MEASURING_SHEET = 2
CLICKS_TO_A_MADE_UP_ROOF = 1
PATIENCE = 15_000
"""Milliseconds that anything may take on a slow machine."""


@dataclass
class Visit:
    """A browser tab, and how often it was clicked."""

    page: Any
    errors: list[str]
    clicks: int = 0

    def click(self, what: str) -> None:
        self.page.click(what, timeout=PATIENCE)
        self.clicks += 1

    def text(self, what: str) -> str:
        self.page.wait_for_selector(what, timeout=PATIENCE)
        return " ".join(self.page.inner_text(what).split())

    def figure(self, label: str) -> str:
        """Return a key figure of what the answers come to."""
        row = self.page.locator("#look .facts div", has_text=label).first
        row.wait_for(timeout=PATIENCE)
        return str(row.locator(".figure").inner_text())

    def until(self, script: str, *values: Any) -> None:
        self.page.wait_for_function(script, arg=list(values), timeout=PATIENCE)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "vans"
    made.mkdir()
    return made


@contextlib.contextmanager
def visit(chromium: Any, folder: Path, width: int = 1280, *, script: bool = True) -> Iterator[Visit]:
    """Yield a newcomer before the board of an empty folder."""
    with running(lambda entry: build(Desk(folder))) as entry:
        context = chromium.new_context(
            viewport={"width": width, "height": 800}, java_script_enabled=script, accept_downloads=True
        )
        try:
            page = context.new_page()
            errors: list[str] = []
            page.on("pageerror", lambda error: errors.append(str(error)))
            # A form that is refused answers 422, of which the browser speaks by itself.
            page.on("console", lambda m: errors.append(m.text) if m.type == "error" and "422" not in m.text else None)
            page.goto(entry.address)
            yield Visit(page, errors)
        finally:
            context.close()
    assert errors == []


def test_with_the_mouse_alone(chromium: Any, folder: Path) -> None:
    with visit(chromium, folder) as new:
        assert new.page.url.endswith("/start")
        new.page.wait_for_selector("#look .first-look svg polygon.pen-shell", timeout=PATIENCE)
        assert new.clicks <= CLICKS_TO_DRAWING
        usual = new.figure("Headroom won")
        assert any(c.isdigit() for c in usual)
        assert new.clicks <= CLICKS_TO_HEADROOM
        new.click('.way-card:has([value="scissor"])')
        new.until(
            "([before]) => { const f = document.querySelector('#look .facts .figure');"
            " return f && f.innerText !== before; }",
            usual,
        )
        assert new.clicks <= CLICKS_TO_OWN_HEADROOM
        # A number with the mouse: the slider fills the field, and "don't know" is no longer ticked.
        assert new.page.is_checked('[data-unknown="opening_length"]')
        slide = new.page.locator('[data-slide="opening_length"]')
        box = slide.bounding_box()
        slide.click(position={"x": 0.75 * box["width"], "y": box["height"] / 2})
        typed = new.page.input_value("#opening_length")
        assert typed.endswith(" m")
        assert not new.page.is_checked('[data-unknown="opening_length"]')
        new.page.click('[data-unknown="opening_length"]')
        assert new.page.input_value("#opening_length") == ""
        new.page.click('[data-unknown="opening_length"]')
        assert new.page.input_value("#opening_length") == typed


def test_to_what_is_next_and_the_measuring_sheet(chromium: Any, folder: Path) -> None:
    with visit(chromium, folder) as new:
        new.click("#begin")
        new.page.wait_for_url("**/", timeout=PATIENCE)
        new.until("() => document.querySelector('[data-part=donext] .first')?.innerText.length > 5")
        assert new.clicks <= CLICKS_TO_DO_NEXT
        link = new.page.locator('[data-part=donext] a[href^="/papers/measuring-sheet.pdf"]').first
        assert link.is_visible()
        data = new.page.request.get(new.page.url.rstrip("/") + str(link.get_attribute("href"))).body()
        new.clicks += 1
        assert data.startswith(b"%PDF")
        assert new.clicks <= CLICKS_TO_MEASURING_SHEET
        assert [path.name for path in folder.glob("*.toml")] == ["my-roof.toml"]


def test_to_a_made_up_roof(chromium: Any, folder: Path) -> None:
    with visit(chromium, folder) as new:
        new.click('button[value="quellmere"]')
        new.page.wait_for_url("**/", timeout=PATIENCE)
        assert "Quellmere" in new.text(".strip .name")
        assert new.clicks <= CLICKS_TO_A_MADE_UP_ROOF


def test_with_the_keyboard_alone(chromium: Any, folder: Path) -> None:
    with visit(chromium, folder) as new:
        page = new.page
        new.figure("Headroom won")

        def to(what: str) -> None:
            for _ in range(60):
                if page.evaluate("(s) => document.activeElement.matches(s)", what):
                    return
                page.keyboard.press("Tab")
            raise AssertionError(f"the keyboard does not come to {what}")

        # The chosen one of a group is come to; arrow keys choose another.
        to('[name="lifts"]')
        for _ in range(5):
            page.keyboard.press("ArrowUp")
        assert page.input_value('[name="lifts"]:checked') == "hinge front"
        to("#opening_length")
        page.keyboard.type("2150")
        to("#opening_width")
        page.keyboard.type("wide")
        new.until("() => document.getElementById('opening_length-note').innerText.includes('2150 mm')")
        new.until("() => document.getElementById('opening_width-note').innerText.includes('\"wide\"')")
        assert page.get_attribute("#opening_width", "aria-invalid") == "true"
        # The rest answers all the same, and what was typed is still there.
        assert any(c.isdigit() for c in new.figure("Headroom won"))
        to("#begin")
        page.keyboard.press("Enter")
        new.until("() => document.getElementById('said').innerText.includes('wide')")
        assert page.input_value("#opening_length") == "2150"
        assert page.evaluate("document.activeElement.id") == "opening_width"
        assert not list(folder.glob("*.toml"))
        page.keyboard.press("Control+A")
        page.keyboard.type("1.2 m")
        page.keyboard.press("Enter")
        page.wait_for_url("**/", timeout=PATIENCE)
    project = read(folder / "my-roof.toml")
    assert project.opening.length.nominal == pytest.approx(2.15)
    assert project.opening.width.nominal == pytest.approx(1.2)


def test_the_units_change_what_is_offered_and_shown(chromium: Any, folder: Path) -> None:
    with visit(chromium, folder) as new:
        new.figure("Headroom won")
        new.click('[name="units"][value="imperial"]')
        assert "ft" in str(new.page.get_attribute("#opening_length", "placeholder"))
        new.until("() => document.querySelector('#look').innerText.includes(' lb')")


@pytest.mark.parametrize("width", [1440, 768, 360])
def test_nothing_sticks_out_and_targets_are_large(chromium: Any, folder: Path, width: int) -> None:
    with visit(chromium, folder, width) as new:
        new.figure("Headroom won")
        for path in ("/start", "/papers"):
            if path == "/papers":
                new.page.goto(new.page.url.replace("/start", "/papers"))
            assert new.page.evaluate("document.documentElement.scrollWidth") <= width
            low = new.page.evaluate(
                "() => [...document.querySelectorAll('main button, main .button, main label:has(input), main summary')]"
                ".filter((e) => e.offsetParent && e.getBoundingClientRect().height < 43.5).map((e) => e.innerText)"
            )
            assert low == []


def test_without_script_the_answers_come_all_the_same(chromium: Any, folder: Path) -> None:
    with visit(chromium, folder, script=False) as new:
        new.page.fill("#opening_length", "1.9 m")
        new.click("text=Show what this comes to")
        assert any(c.isdigit() for c in new.figure("Headroom won"))
        assert new.page.input_value("#opening_length") == "1.9 m"
        new.click("#begin")
        new.page.wait_for_url("**/", timeout=PATIENCE)
    assert read(folder / "my-roof.toml").opening.length.nominal == pytest.approx(1.9)
