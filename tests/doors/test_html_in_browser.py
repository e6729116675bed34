from __future__ import annotations

import importlib.util
import math
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from loftwright.documents.roof_html import roof_html
from loftwright.drawing.moving import moving_view
from loftwright.drawing.scene import at_fraction, spring_ends

pytestmark = pytest.mark.browser

_SPEC = importlib.util.spec_from_file_location(
    "sample_page", Path(__file__).parents[1] / "unit" / "documents" / "sample_page.py"
)
assert _SPEC is not None
assert _SPEC.loader is not None
sample = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)

# Contrast of every piece of text against what lies behind it: WCAG 2.2, definitions of relative luminance
# and contrast ratio; from memory.
CONTRASTS = """() => {
  const rgb = (text) => (text.match(/[\\d.]+/g) || []).map(Number);
  const lum = (c) => [0.2126, 0.7152, 0.0722].reduce((sum, k, i) => {
    const p = c[i] / 255; return sum + k * (p <= 0.04045 ? p / 12.92 : ((p + 0.055) / 1.055) ** 2.4); }, 0);
  const behind = (el) => {
    for (let e = el; e; e = e.parentElement) {
      const c = rgb(getComputedStyle(e).backgroundColor);
      if (c.length === 3 || c[3] > 0.99) { return c; }
    }
    return rgb(getComputedStyle(document.body).backgroundColor);
  };
  const out = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const el = walk.currentNode.parentElement;
    if (!walk.currentNode.textContent.trim() || !el.getClientRects().length) { continue; }
    const style = getComputedStyle(el);
    const ink = rgb(el instanceof SVGElement ? style.fill : style.color), paper = behind(el);
    const pair = [lum(ink), lum(paper)].sort((a, b) => b - a);
    out.push([walk.currentNode.textContent.trim().slice(0, 40), (pair[0] + 0.05) / (pair[1] + 0.05)]);
  }
  return out;
}"""

CLIPPED = """() => [...document.querySelectorAll('h1,h2,p,li,dt,dd,td,th,summary span,label,output,button')]
  .filter((el) => el.getClientRects().length && !el.closest('.scroll'))
  .filter((el) => { const r = el.getBoundingClientRect();
    return r.left < -0.5 || r.right > innerWidth + 0.5 || el.scrollWidth > el.clientWidth + 1 && el.clientWidth > 0; })
  .map((el) => el.tagName + ': ' + el.textContent.slice(0, 40))"""

SVG_CLIPPED = """() => [...document.querySelectorAll('svg text')].filter((t) => t.getClientRects().length)
  .filter((t) => { const a = t.getBoundingClientRect(), b = t.ownerSVGElement.getBoundingClientRect();
    return a.left < b.left - 1 || a.right > b.right + 1 || a.top < b.top - 1 || a.bottom > b.bottom + 1; })
  .map((t) => t.textContent)"""

SIZES = """() => [...document.querySelectorAll('body *')]
  .filter((el) => !(el instanceof SVGElement) && el.getClientRects().length)
  .filter((el) => [...el.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim()))
  .map((el) => parseFloat(getComputedStyle(el).fontSize))"""


class Opened:
    """A page in the browser with what it asked for and what it complained of."""

    def __init__(self, browser: Any, path: Path, width: int, scheme: str = "light") -> None:
        self.context = browser.new_context(viewport={"width": width, "height": 800}, color_scheme=scheme)
        self.page = self.context.new_page()
        self.requests: list[str] = []
        self.complaints: list[str] = []
        self.page.on("request", lambda request: self.requests.append(request.url))
        self.page.on("console", lambda message: self.complaints.append(message.text))
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.goto(path.as_uri())

    def transform(self, part: str) -> str:
        """Return where a part of the drawing lies."""
        return str(self.page.locator(f'#side [data-part="{part}"]').first.get_attribute("transform"))


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("pages")
    scene, poses = sample.arms_scene()
    arms = replace(sample.roof_page(name="Verylongname" * 9, n_rows=40, units="imperial"), scene=scene, poses=poses)
    found = {"hinge": folder / "hinge.html", "arms": folder / "arms.html"}
    found["hinge"].write_text(roof_html(sample.roof_page()), encoding="utf-8")
    found["arms"].write_text(roof_html(arms), encoding="utf-8")
    return found


@pytest.fixture
def opened(chromium: Any, files: dict[str, Path]) -> Iterator[Any]:
    made: list[Opened] = []

    def look(name: str, width: int, scheme: str = "light") -> Opened:
        made.append(Opened(chromium, files[name], width, scheme))
        return made[-1]

    yield look
    for one in made:
        one.context.close()


def test_the_slider_moves_roof_marker_and_figures_by_keyboard(opened: Any) -> None:
    one = opened("hinge", 1100)
    page, roof = one.page, sample.roof_page()
    slider = page.get_by_role("slider", name="How far open")
    slider.focus()
    page.keyboard.press("Home")
    shut = one.transform("shell")
    assert slider.get_attribute("aria-valuetext") == "0 per cent open, 0.0 degrees"
    assert shut.endswith("rotate(0.0000)")
    for _ in range(30):
        page.keyboard.press("ArrowRight")
    assert slider.get_attribute("aria-valuetext") == "30 per cent open, 8.4 degrees"
    # 30 % of 28 degrees; a front hinge turns the lip up, clockwise on the screen.
    assert one.transform("shell").endswith("rotate(8.4000)")
    # The readings are those of the series: station 12 of 40.
    for i, curve in enumerate(roof.chart.curves):
        said = page.locator(f"#value-{i}").inner_text().replace("−", "-")
        assert said == f"{curve.y[12]:.1f} kg".replace("-0.0", "0.0")
    marker = page.locator('#forces-wide [data-part="marker push"]')
    at_30 = marker.bounding_box()
    page.keyboard.press("End")
    assert one.transform("shell") != shut
    assert marker.bounding_box()["x"] > at_30["x"] + 50
    assert one.complaints == []


def test_springs_stay_on_their_brackets(opened: Any) -> None:
    for name, (scene, poses) in {"hinge": (sample.scene(), sample.poses()), "arms": sample.arms_scene()}.items():
        one = opened(name, 1100)
        one.page.locator("#opening").fill("70")
        view = moving_view(scene, poses).view
        state = at_fraction(poses, 0.7)
        for i, spring in enumerate(scene.springs):
            group = one.page.locator(f'#side [data-part="spring {i}"]')
            for k, end in enumerate(spring_ends(spring, state)):
                x, y = view.at(end)
                circle = group.locator("circle").nth(k)
                assert float(circle.get_attribute("cx")) == pytest.approx(x, abs=2e-3)
                assert float(circle.get_attribute("cy")) == pytest.approx(y, abs=2e-3)
            tube = group.locator("line").nth(1)
            a, b = ((float(tube.get_attribute(f"x{j}")), float(tube.get_attribute(f"y{j}"))) for j in (1, 2))
            assert math.dist(a, b) / view.scale == pytest.approx(spring.tube_length, abs=1e-3)
        assert one.complaints == []


def test_lifting_arms_move_with_the_shell(opened: Any) -> None:
    one = opened("arms", 1100)
    before = [one.transform(part) for part in ("shell", "arm a", "arm b", "handle")]
    one.page.get_by_role("button", name="Half").click()
    after = [one.transform(part) for part in ("shell", "arm a", "arm b", "handle")]
    assert all(a != b for a, b in zip(before, after, strict=True))
    assert after[0].endswith("rotate(0.0000)")
    assert one.page.locator("#opening-said").inner_text() == "50 % open, 47.5°"


@pytest.mark.parametrize("name", ["hinge", "arms"])
@pytest.mark.parametrize("width", [360, 768, 1280])
def test_it_asks_for_nothing_and_fits_every_screen(opened: Any, name: str, width: int) -> None:
    one = opened(name, width)
    for summary in one.page.locator("summary").all()[:4]:
        summary.click()
    assert [url for url in one.requests if not url.startswith(("file:", "data:"))] == []
    assert len(one.requests) <= 2
    assert one.page.evaluate("document.documentElement.scrollWidth") <= width
    assert one.page.evaluate(CLIPPED) == []
    assert one.page.evaluate(SVG_CLIPPED) == []
    assert min(one.page.evaluate(SIZES)) >= 16
    assert one.complaints == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_words_and_figures_stand_out(opened: Any, scheme: str) -> None:
    one = opened("hinge", 1100, scheme)
    for details in one.page.locator("details").all():
        details.evaluate("(e) => { e.open = true; }")
    found = one.page.evaluate(CONTRASTS)
    assert len(found) > 100
    assert [pair for pair in found if pair[1] < 7] == []


def test_dark_is_dark(opened: Any) -> None:
    colours = [
        opened("hinge", 800, s).page.evaluate("getComputedStyle(document.body).backgroundColor")
        for s in ("light", "dark")
    ]
    assert colours[0] != colours[1]


def test_everything_can_be_reached_by_keyboard_and_touched(opened: Any) -> None:
    one = opened("hinge", 360)
    reached = set()
    for _ in range(40):
        one.page.keyboard.press("Tab")
        reached.add(
            one.page.evaluate(
                "document.activeElement.tagName + (document.activeElement.textContent || '').slice(0, 12)"
            )
        )
    assert {"INPUT", "BUTTONClosed", "BUTTONHalf", "BUTTONOpen"} <= reached
    assert sum(name.startswith("SUMMARY") for name in reached) >= 4
    for element in one.page.locator("button, input, summary").all():
        assert element.bounding_box()["height"] >= 44


def test_a_verdict_opens_to_its_reason_and_remedy(opened: Any) -> None:
    one = opened("hinge", 360)
    first = one.page.locator(".verdict").first
    assert not first.get_by_text("What to change").is_visible()
    first.locator("summary").focus()
    one.page.keyboard.press("Enter")
    assert first.get_by_text("What to change").is_visible()
    assert first.get_by_text("Move the foot 40 mm").is_visible()
