"""Every page for every reader: widths, contrast, targets for fingers, keys alone, and a machine's look for barriers."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import axe_playwright_python
import pytest

from loftwright.board import desk as desks
from loftwright.board.app import build, pages
from loftwright.board.desk import Desk
from loftwright.board.serve import running

pytestmark = pytest.mark.browser

WIDTHS = (1440, 768, 360)
LEAST_CONTRAST = 7.0
"""WCAG 2.2, success criterion 1.4.6 (AAA), for all text, large or not."""
AXE = Path(axe_playwright_python.__file__).with_name("axe.min.js")
BARRIERS = ("serious", "critical")
"""Impacts that may not be found."""

# Texts below 16 px; what a finger meets below 44 px either way, as WCAG 2.2, success criterion 2.5.5 (AAA), has it.
LOOK = """() => {
  const seen = (el) => {
    if (!el.checkVisibility({ visibilityProperty: true })) return false;
    if (el.closest('.unseen, .skip, noscript')) return false;
    const box = el.getBoundingClientRect();
    return box.width > 1 && box.height > 1;
  };
  const own = (el) => [...el.childNodes].filter((n) => n.nodeType === 3).map((n) => n.data).join(' ').trim();
  const css = (el) => el.getAttribute('class') || '';
  const name = (el) => `${el.tagName.toLowerCase()}.${css(el)} ` + JSON.stringify(own(el).slice(0, 40));
  const paper = (el) => {
    for (let up = el; up; up = up.parentElement) {
      const colour = getComputedStyle(up).backgroundColor;
      if (colour !== 'rgba(0, 0, 0, 0)') return colour;
    }
    return 'rgb(255, 255, 255)';
  };
  const found = { clipped: [], low: [], small: [], colours: {}, overlaps: [], texts: 0,
    out: document.documentElement.scrollWidth - innerWidth };
  for (const el of document.body.querySelectorAll('*')) {
    if (['SCRIPT', 'STYLE', 'OPTION', 'NOSCRIPT'].includes(el.tagName) || !own(el) || !seen(el)) continue;
    const style = getComputedStyle(el), drawn = el.namespaceURI.endsWith('svg');
    if (drawn && el.tagName !== 'text' && el.tagName !== 'tspan') continue;
    found.texts += 1;
    found.colours[`${drawn ? style.fill : style.color} on ${paper(el)}`] = name(el);
    if (drawn) continue;
    const cut = !['visible', 'auto', 'scroll'].includes(style.overflowX);
    if (cut && el.scrollWidth > el.clientWidth + 1) found.clipped.push(name(el));
    if (parseFloat(style.fontSize) < 16) found.small.push(`${name(el)} ${style.fontSize}`);
  }
  const targets = 'button, .button, summary, select, textarea, nav a, input:not([type=hidden])';
  for (const el of document.body.querySelectorAll(targets)) {
    if (!seen(el)) continue;
    // What lies inside its label is met with it.
    const met = el.matches('[type=checkbox], [type=radio]') && el.closest('label') || el;
    const { width: w, height: h } = met.getBoundingClientRect();
    if (Math.min(w, h) < 43.5) found.low.push(`${name(el)} ${el.name || ''} ${w} x ${h}`);
  }
  for (const svg of document.querySelectorAll('svg')) {
    const texts = [...svg.querySelectorAll('text')].filter(seen)
      .map((el) => [el.textContent, el.getBoundingClientRect()]);
    texts.forEach(([one, a], i) => {
      for (const [other, b] of texts.slice(i + 1)) {
        const w = Math.min(a.right, b.right) - Math.max(a.left, b.left);
        const h = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        if (w > 1 && h > 3) found.overlaps.push(`${one} / ${other}: ${w.toFixed(1)} x ${h.toFixed(1)}`);
      }
    });
  }
  return found;
}"""


def luminance(colour: tuple[float, ...]) -> float:
    """Return the relative luminance of an sRGB colour, 0 to 255 each: WCAG 2.2, "relative luminance".

    https://www.w3.org/TR/WCAG22/#dfn-relative-luminance
    """
    shares = [value / 255 for value in colour]
    r, g, b = (v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in shares)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: str, other: str) -> float:
    """Return the contrast of two colours as a browser writes them: WCAG 2.2, "contrast ratio"."""
    lights = []
    for text in (one, other):
        found = re.fullmatch(r"rgb\((\d+), (\d+), (\d+)\)", text)
        assert found is not None, text
        lights.append(luminance(tuple(float(value) for value in found.groups())))
    return (max(lights) + 0.05) / (min(lights) + 0.05)


def test_the_contrast_is_that_of_the_standard() -> None:
    assert contrast("rgb(0, 0, 0)", "rgb(255, 255, 255)") == pytest.approx(21.0)
    # The lightest grey that the standard's 4.5 to 1 allows on white, as its own techniques say.
    assert contrast("rgb(255, 255, 255)", "rgb(118, 118, 118)") == pytest.approx(4.54, abs=0.005)


def wrong_here(tab: Any, at: str) -> dict[str, Any]:
    """Return what sticks out, is cut off, small, pale or written over on the page as it is, in both looks."""
    wrong: dict[str, Any] = {}
    for scheme in ("light", "dark"):
        tab.page.emulate_media(color_scheme=scheme)
        found = tab.page.evaluate(LOOK)
        assert found["texts"] > 1
        colours = found.pop("colours").items()
        found["out"] = [found["out"]] if found["out"] > 0 else []
        found["pale"] = [f"{a}: {who}" for a, who in colours if contrast(*a.split(" on ")) < LEAST_CONTRAST]
        wrong |= {f"{at}, {scheme}, {what}": said for what, said in found.items() if what != "texts" and said}
    return wrong


def barriers(tab: Any) -> dict[str, Any]:
    """Return the barriers that a machine finds on the page in the light look; in the dark one only colours differ."""
    # Evaluated from outside; the page itself may load no other script.
    tab.page.evaluate(AXE.read_text(encoding="utf-8"))
    tab.page.emulate_media(color_scheme="light")
    found = tab.page.evaluate("axe.run(document, { resultTypes: ['violations'] })")
    assert len(found["passes"]) > 5
    serious = [one for one in found["violations"] if one["impact"] in BARRIERS]
    return {one["id"]: [node["html"][:200] for node in one["nodes"]] for one in serious}


def stayed_here(tab: Any, base: str) -> None:
    """Nothing was asked of anybody but the program."""
    own = urlsplit(base).netloc
    assert tab.asked
    assert {url for url in tab.asked if urlsplit(url).netloc != own and not url.startswith("data:")} == set()


def opened_wide(tab: Any) -> None:
    """Open everything that can be opened on a page."""
    tab.page.evaluate("document.querySelectorAll('main details').forEach((one) => { one.open = true; })")


def wrong_at_every_width(tab: Any) -> dict[str, Any]:
    wrong: dict[str, Any] = {}
    for width in WIDTHS:
        tab.kinds.clear()
        tab.page.set_viewport_size({"width": width, "height": 800})
        if tab.page.locator("[data-drawing]:visible").count():
            tab.until(lambda: "picture" in tab.kinds, f"the drawing {width} px wide")
        tab.drawn()
        wrong |= wrong_here(tab, f"{width} px wide")
    return wrong


@pytest.fixture(scope="module")
def spacious(started_boards: Callable[[str], Any], demo: Callable[[str], str]) -> Iterator[Any]:
    """Yield a board whose file nobody here changes, with another project beside it."""
    rests, desks.STRENGTH_RESTS = desks.STRENGTH_RESTS, 0.0
    found = started_boards("drilled")
    found.put_back()
    other = found.file.with_name("quellmere.toml")
    other.write_text(demo("quellmere"), encoding="utf-8")
    # What the readings say takes a while: it is reckoned while the other pages are looked at.
    assert found.get("/proof")[0] == 200
    yield found
    other.unlink()
    desks.STRENGTH_RESTS = rests


@pytest.mark.parametrize("path", sorted(pages(), key=lambda path: (path == "/proof", path)))
def test_a_page(spacious: Any, tab_of: Any, path: str) -> None:
    query = "?with=file:quellmere.toml&" if path == "/beside" else "?"
    tab = tab_of(viewport={"width": 1200, "height": 900}).go(spacious.entry.address.replace("/?", path + query))
    if path == "/beside":
        tab.until(lambda: tab.page.locator("main svg text").count() > 4, "both drawings")
    assert urlsplit(tab.page.url).path == path
    tab.until(lambda: "reckoned ..." not in tab.text("main"), "everything reckoned")
    opened_wide(tab)
    assert wrong_at_every_width(tab) == {}
    assert barriers(tab) == {}
    stayed_here(tab, spacious.entry.base)


def test_what_is_wrong_with_a_page_is_seen(tab_of: Any) -> None:
    tab = tab_of()
    tab.page.set_content("""<!doctype html><html lang="en"><title>bad</title><body style="background:#fff">
      <p style="color:#767676">pale</p> <p style="font-size:15px">small</p>
      <button style="width:43px;height:60px">low</button>
      <p style="width:60px;overflow:hidden;white-space:nowrap">cut off at its end, all of it</p>
      <div style="width:3000px">wide</div>
      <svg width="200" height="50"><text x="9" y="20">one text</text><text x="30" y="22">another</text></svg>
      <img src="x.png" width="9" height="9">""")
    wrong = wrong_here(tab, "bad")
    assert {key.split(", ")[2] for key in wrong} == {"out", "clipped", "low", "small", "pale", "overlaps"}
    assert set(barriers(tab)) >= {"image-alt"}


def test_before_there_is_a_project(tab_of: Any, tmp_path: Path) -> None:
    with running(lambda entry: build(Desk(tmp_path))) as entry:
        tab = tab_of().go(entry.address)
        assert tab.page.url == f"{entry.base}/start"
        tab.page.locator("#look .first-look svg").wait_for()
        opened_wide(tab)
        assert wrong_at_every_width(tab) == {}
        assert barriers(tab) == {}
        stayed_here(tab, entry.base)


def test_what_is_said_when_something_is_wrong(board: Any, tab_of: Any) -> None:
    # Whoever comes without the token.
    tab = tab_of()
    assert tab.page.goto(board.entry.base).status == 401
    wrong = {"locked": (wrong_here(tab, "locked"), barriers(tab))}
    # A form that is refused where no script runs.
    tab.go(board.entry.address.replace("/?", "/have?"))
    tab.page.fill('[name="shell.mass"]', "heavy")
    tab.page.keyboard.press("Enter")
    tab.says(".fault", "heavy")
    wrong["at fault"] = wrong_at_every_width(tab), barriers(tab)
    with tab.page.expect_navigation():
        tab.page.evaluate("document.querySelector('[name=\"shell.mass\"]').form.submit()")
    assert "heavy" in tab.text("li")
    tab.page.set_viewport_size({"width": 360, "height": 800})
    wrong["refused"] = wrong_here(tab, "refused"), barriers(tab)
    # A file that another program changed.
    tab.go(f"{board.entry.base}/have")
    board.file.write_bytes(board.first.replace(b"1.50 m", b"1.48 m").replace(b"210 mm", b"205 mm"))
    tab.says("[data-part=notice]", "1.48 m")
    wrong["notice"] = wrong_at_every_width(tab), barriers(tab)
    # Two designs side by side, the refused one first.
    tab.page.goto(f"{board.entry.base}/beside?with=file:nothing.toml")
    wrong["not compared"] = wrong_here(tab, "not compared"), barriers(tab)
    assert wrong == dict.fromkeys(wrong, ({}, {}))
    tab.complaints[:] = [said for said in tab.complaints if "status of 401" not in said]
    stayed_here(tab, board.entry.base)


def test_with_keys_alone(board: Any, tab_of: Any, metres: Any) -> None:
    tab = tab_of().go(board.entry.address)
    page = tab.page

    def to(what: str, key: str = "Tab") -> None:
        for _ in range(150):
            if page.evaluate("(s) => document.activeElement.matches(s)", what):
                break
            page.keyboard.press(key)
        else:
            raise AssertionError(f"the keyboard does not come to {what}")
        ring = page.evaluate("""() => ['', '::after'].some((part) => {
            const style = getComputedStyle(document.activeElement, part);
            return style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2
              || part && style.content !== 'none' && parseFloat(style.borderTopWidth) >= 2; })""")
        assert ring, f"where the keyboard stands is not seen at {what}"

    field = "shell.twist_moment"
    to('.grip[data-path="spring.0.foot"]')
    for _ in range(4):
        page.keyboard.press("ArrowLeft")
    tab.says("[data-said]", "Saved: ")
    assert metres(board.values["spring.0.foot.0"]) == pytest.approx(1.492)
    moved = board.file.read_bytes()
    to("[data-part=verdicts] .verdict[data-key^=LIFT-217] summary")
    page.keyboard.press("Enter")
    to(".verdict[open] a.button")
    link = str(page.evaluate("document.activeElement.getAttribute('href')"))
    assert link == f"/have#{field}"
    page.keyboard.press("Enter")
    page.wait_for_url(f"**{link}")
    tab.settled()
    # The next step of the keyboard is the field that the verdict hangs on.
    page.keyboard.press("Tab")
    to(f'[name="{field}"]')
    page.keyboard.type("150 N m")
    page.keyboard.press("Enter")
    tab.says("#said", "Saved: ")
    tab.until(lambda: board.file.read_bytes() != moved)
    to("#undo", "Shift+Tab")
    page.keyboard.press("Enter")
    tab.until(lambda: board.file.read_bytes() == moved)
    # The button is still where the keyboard stands: once more.
    page.locator('#undo[title*="foot"]').wait_for()
    assert page.evaluate("document.activeElement.id") == "undo"
    page.keyboard.press("Enter")
    tab.until(lambda: board.file.read_bytes() == board.first)
    stayed_here(tab, board.entry.base)


def test_only_files_of_the_folder_are_opened(board: Any, tab: Any, tmp_path: Path) -> None:
    secret = tmp_path / "secret.toml"
    secret.write_bytes(board.first.replace(b'"Fennimoor"', b'"Kept from all"'))
    link = board.file.parent / "link.toml"
    link.symlink_to(secret)
    try:
        for name in (
            f"../{tmp_path.name}/secret.toml",
            str(secret),
            "link.toml",
            "a\0b.toml",
            "..",
            "x" * 5000,
            "none.toml",
        ):
            status, answer = board.post("/do/open", file=name)
            assert (status, answer["ok"], len(answer["faults"])) == (422, False, 1), name
            assert answer["said"].endswith(".")
            assert "Kept from all" not in answer["said"]
        tab.page.reload()
        tab.settled()
        assert tab.text(".strip .name") == "Fennimoor"
    finally:
        link.unlink()
