"""The page on the cloth walls in a real browser: windows and seams by hand and by keys, the fold by slider.

Exact constructed cases: the walls of sample_walls.py in place of judged ones.
"""

from __future__ import annotations

import importlib.util
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from loftwright.board import desk as desks
from loftwright.board.app import build
from loftwright.board.desk import Desk
from loftwright.board.serve import running
from loftwright.project.demos import demo_text

pytestmark = pytest.mark.browser

_SPEC = importlib.util.spec_from_file_location("sample_walls", Path(__file__).parent / "sample_walls.py")
assert _SPEC is not None
assert _SPEC.loader is not None
sample = importlib.util.module_from_spec(_SPEC)
sys.modules["sample_walls"] = sample
_SPEC.loader.exec_module(sample)

WINDOW = '\n[[window]]\nname = "window"\nwall = "right"\nbottom = "120 mm"\nwidth = "400 mm"\nheight = "200 mm"\n'


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Any, Path]]:
    """Yield the entry of a board whose walls are those of the sample, and its file."""
    folder = tmp_path_factory.mktemp("walls")
    file = folder / "roof.toml"
    text = demo_text("quellmere").split("\n[[window]]")[0].split("\n[[seam]]")[0]
    file.write_text(text + WINDOW, encoding="utf-8")

    class WithSample(Desk):
        async def walls(self, *, wait: float | None = None, at_once: bool = False) -> Any:
            return sample.board_walls()

    rests, desks.STRENGTH_RESTS = desks.STRENGTH_RESTS, 3600.0
    with running(lambda entry: build(WithSample(folder, file))) as entry:
        yield entry, file
    desks.STRENGTH_RESTS = rests


def values(file: Path) -> dict[str, Any]:
    return tomllib.loads(file.read_text(encoding="utf-8"))


def middle(tab: Any, selector: str) -> tuple[float, float]:
    box = tab.page.locator(selector).bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_what_is_moved_on_the_strip_is_in_the_file(served: Any, tab_of: Any) -> None:
    entry, file = served
    tab = tab_of().go(entry.address.replace("/?", "/walls?"))
    tab.page.locator("[data-strip]").scroll_into_view_if_needed()
    window = '[data-id="window 0"]'
    # To scale: the seams A and B of the sample are 1.2 m apart, the window stands 0.9 m right of B.
    a, b = (middle(tab, f'[data-id="seam {name}"]')[0] for name in ("rear left corner", "rear right corner"))
    per = (b - a) / 1.2
    x, y = middle(tab, window)
    assert x - b == pytest.approx(0.9 * per, abs=1.5)
    tab.page.mouse.move(x, y)
    tab.page.mouse.down()
    tab.page.mouse.move(x - 0.3 * per, y - 0.05 * per, steps=4)
    tab.says("[data-strip] [data-says]", "mm left, ")
    assert "along" not in values(file)["window"][0]
    tab.page.mouse.up()
    tab.until(lambda: "along" in values(file)["window"][0], "the window in the file")
    found = values(file)["window"][0]
    assert float(found["along"].split()[0]) == pytest.approx(-300, abs=1500 / per)
    assert float(found["bottom"].split()[0]) == pytest.approx(170, abs=1500 / per)
    tab.says("[data-strip] [data-said]", "Saved: window moved")

    # Two large steps of the keys to the right and a small one are one change.
    before = float(found["along"].split()[0])
    tab.page.locator(window).focus()
    for key in ("ArrowRight", "ArrowRight", "Shift+ArrowRight"):
        tab.page.keyboard.press(key)
    tab.until(lambda: values(file)["window"][0]["along"] != found["along"], "the keys in the file")
    assert values(file)["window"][0]["along"] == f"{before + 21:g} mm"
    tab.undo()
    tab.until(lambda: values(file)["window"][0]["along"] == f"{before:g} mm", "undone as one")

    # The first seam writes all; what is refused goes back with its reason.
    place = middle(tab, '[data-id="seam front right corner"]')
    tab.page.mouse.move(*place)
    tab.page.mouse.down()
    tab.page.mouse.move(place[0] + 0.2 * per, place[1], steps=4)
    tab.page.mouse.up()
    tab.until(lambda: len(values(file).get("seam", ())) == 4, "all seams in the file")
    tab.says("[data-strip] [data-said]", "The places of all seams are written")
    shown = middle(tab, '[data-id="seam rear right corner"]')
    tab.page.locator('[data-id="seam rear right corner"]').focus()
    for _ in range(3):
        tab.page.keyboard.press("ArrowLeft")
    tab.page.keyboard.press("Escape")
    tab.says("[data-strip] [data-said]", "Left as it was")
    assert middle(tab, '[data-id="seam rear right corner"]') == pytest.approx(shown, abs=0.6)


def test_the_fold_follows_place_and_slider(served: Any, tab_of: Any) -> None:
    entry, _ = served
    tab = tab_of(viewport={"width": 360, "height": 800}, has_touch=True).go(entry.address.replace("/?", "/walls?"))
    assert tab.page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    tab.says("[data-foldplay] h2", "The fold: rear")
    tab.page.locator("[data-stations] input").first.focus()
    tab.page.keyboard.press("ArrowRight")
    tab.says("[data-foldplay] h2", "The fold: right wall, middle")
    # A touch of the strip where the rear wall hangs chooses the place nearest to it.
    box = tab.page.locator("[data-strip] [data-drawn]").bounding_box()
    tab.page.touchscreen.tap(box["x"] + 60, box["y"] + box["height"] - 55)
    tab.says("[data-foldplay] h2", "The fold: rear")
    height = lambda: tab.page.evaluate(  # noqa: E731
        """() => { const shape = (css) => document.querySelector(`.foldpaper ${css}`).getBBox();
          const bar = shape('.scale').width, cloth = shape('.cloth');
          return [cloth.width / bar, cloth.height / bar]; }"""
    )
    # In lengths of the bar of 100 mm: the sample hangs straight over 500 mm, and lies 60 mm high when closed.
    assert height() == pytest.approx([0.0, 5.0], abs=0.05)
    tab.page.locator("#fold-open").focus()
    tab.page.keyboard.press("Home")
    assert height() == pytest.approx([2.48, 0.6], abs=0.03)
    assert tab.page.locator("#fold-open").get_attribute("aria-valuetext") == "closed"
    # Half-way between two poses of the table nothing is reckoned but the mean.
    tab.page.locator("#fold-open").evaluate("(el) => { el.value = '75'; el.dispatchEvent(new Event('input')); }")
    assert height()[1] == pytest.approx(3.9, abs=0.05)
    tab.says("[data-foldplay] [data-counts]", "Of 20 starts 18 end inside, 1 ends outside, 1 lies both ways.")
