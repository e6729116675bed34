"""Points moved on the drawing by mouse, finger and keys in a real browser: what the file then says, and the page.

Exact constructed cases: how far a point must move in the file follows from the pixels that the pointer went and from
the scale, which two points of the van give that stand in the file; how far the roof is turned stands there too.
"""

from __future__ import annotations

import contextlib
import io
import math
import re
from collections.abc import Callable
from typing import Any

import pytest

from loftwright.cli.main import run

pytestmark = pytest.mark.browser

HALF_STEP = 0.0005
"""A place is rounded to whole millimetres [m]."""
PIXELS = 0.15
"""How exactly a point's mark is known [CSS px]."""
FOOT, HEAD = "spring.0.foot", "spring.0.head"
VAN = ("linkage.hinge", "zone.0.from")
"""Two points of the van, far apart both ways."""
OPENS = math.radians(28.0)
ONLY_TRIED = "nothing is saved before you let go"
WORDS = {"holds": "holds", "fails": "FAILS", "not known yet": "NOT KNOWN"}
"""How page and terminal write the verdicts."""
PHONE = {"viewport": {"width": 390, "height": 800}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}


def checked(board: Any) -> str:
    """Return what the terminal says of the file as it is now, its spaces made one."""
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        assert run(["check", str(board.file)]) in (0, 1)
    return " ".join(said.getvalue().split())


def keys(path: str) -> set[str]:
    """Return the two keys of a point as the file has them."""
    return {f"{path}.x", f"{path}.z"} if path.startswith("item") else {f"{path}.0", f"{path}.1"}


def gone(
    before: dict[str, Any], after: dict[str, Any], path: str, metres: Callable[[str], float]
) -> tuple[float, float]:
    """Return how far a point went in the file [m]; nothing else may differ."""
    assert list(before) == list(after)
    assert {key for key in before if before[key] != after[key]} <= keys(path)
    x, z = (metres(after[key]) - metres(before[key]) for key in sorted(keys(path)))
    return x, z


def only_values(before: str, after: str) -> None:
    """The texts of two files differ in one or two lines, and there in front of the comment alone."""
    pairs = list(zip(before.splitlines(), after.splitlines(), strict=True))
    differ = [(a, b) for a, b in pairs if a != b]
    assert 1 <= len(differ) <= 2
    for a, b in differ:
        assert a.partition("#")[2] == b.partition("#")[2]
        assert a.split("=")[0] == b.split("=")[0]


def turned(angle: float, along: float, up: float) -> tuple[float, float]:
    """Return a way on the drawing as it is on the closed roof, which was turned clockwise by `angle`."""
    c, s = math.cos(angle), math.sin(angle)
    return c * along - s * up, s * along + c * up


def moved_and_back(board: Any, tab: Any, metres: Any, path: str, by: tuple[int, int], angle: float) -> None:
    """Drag a point by some pixels: it goes by just that in the file and stays where it was dropped, until undo."""
    before, text, scale = board.values, board.file.read_text(encoding="utf-8"), tab.per_metre(board, *VAN)
    start = tab.at(path)
    tab.drag(path, *by)
    tab.until(lambda: board.file.read_bytes() != board.first, path)
    tab.says("[data-said]", "Saved: ")
    way = turned(angle, by[0] / scale, -by[1] / scale)
    assert gone(before, board.values, path, metres) == pytest.approx(way, abs=HALF_STEP + PIXELS / scale), path
    only_values(text, board.file.read_text(encoding="utf-8"))
    tab.drawn()
    dropped = tab.at(path)
    assert math.dist(dropped, (start[0] + by[0], start[1] + by[1])) < 1.0, path
    tab.undo()
    tab.until(lambda: board.file.read_bytes() == board.first, f"{path} undone, with every comment")
    tab.until(lambda: math.dist(tab.at(path), dropped) > 3, f"{path} back on the drawing")


def test_each_kind_of_point_by_the_mouse(board: Any, tab: Any, metres: Any) -> None:
    tab.page.click("[data-group=all]")
    # Path, whether it turns with the roof, and the way of the pointer [px].
    moves = [
        ("linkage.hinge", False, (-3, 4)),
        (FOOT, False, (9, 7)),
        ("zone.0.from", False, (-11, 6)),
        ("spring.0.feet.1", False, (8, 10)),
        (HEAD, True, (6, -5)),
        ("zone.1.to", True, (9, -7)),
        ("spring.0.heads.0", True, (-7, -9)),
        ("handle.at", True, (-10, -6)),
        ("item.0", True, (12, 5)),
    ]
    for path, turns, way in moves:
        moved_and_back(board, tab, metres, path, way, OPENS if turns else 0.0)


def test_a_pin_of_an_arm_in_inches(board_of: Any, tab_of: Any, metres: Any) -> None:
    board = board_of("ottergate")
    tab = tab_of().go(board.entry.address)
    before, path = board.values, "linkage.arm_a_van"
    scale = tab.per_metre(board, path, FOOT)
    tab.drag(path, 4, -3)
    tab.until(lambda: board.file.read_bytes() != board.first)
    way = gone(before, board.values, path, metres)
    sixteenth = 0.0254 / 16
    assert way == pytest.approx((4 / scale, 3 / scale), abs=sixteenth / 2 + PIXELS / scale)
    assert all(board.values[key].endswith(" in") for key in keys(path))
    # Where nothing can be put together it turns back, says why, and nothing is written.
    tab.undo()
    tab.until(lambda: board.file.read_bytes() == board.first)
    tab.until(lambda: tab.page.locator("#undo[disabled]").count())
    tab.drawn()
    start = tab.take(path)
    tab.page.mouse.move(start[0] - 380, start[1] - 150, steps=8)
    refused = tab.says("[data-said].bad", ".")
    assert tab.page.locator(f'.grip[data-path="{path}"][data-refused]').count() == 1
    tab.page.mouse.up()
    tab.until(lambda: math.dist(tab.at(path), start) < 1.0, "back where it was")
    said = tab.text("[data-said].bad")
    assert said.endswith(".")
    assert len(said) > 20
    assert "arm" in refused
    assert board.file.read_bytes() == board.first
    assert tab.page.locator("#undo[disabled]").count() == 1


def test_what_is_read_follows_the_file(board: Any, tab: Any) -> None:
    def rows() -> list[list[str]]:
        found: list[list[str]] = tab.page.evaluate(
            """() => [...document.querySelectorAll('[data-part=verdicts] .verdict summary')].map((row) => [
                row.querySelector('.figures > .unseen').textContent.split(':')[0],
                row.querySelector('.what').textContent,
                row.querySelector('.figures').lastChild.textContent.trim()])"""
        )
        return found

    def agree(said: str) -> bool:
        at = said.index("Verdicts, worst first")
        for verdict, title, figures in rows():
            wanted = f"{WORDS[verdict]} {title} {'' if figures == verdict else figures}".strip()
            at = said.find(wanted, at)
            if at < 0:
                return False
        return f" {tab.text('[data-part=odds] .odds').rstrip('.')}" in said and len(rows()) > 10

    def felt(percent: int, row: str, column: int) -> str:
        tab.slide(percent)
        return tab.text(f'[data-forces] tr:has(th:has-text("{row}")) td:nth-of-type({column})')

    def number(label: str, said: str) -> float:
        found = re.search(rf"{label} ([\d.]+) kg", said)
        assert found is not None
        return float(found[1])

    def hardest() -> float:
        """Return the hardest push of the first per cents, cold and aged."""
        return max(float(felt(percent, "cold, aged", 1).removesuffix(" kg")) for percent in range(7))

    before = checked(board)
    tab.until(lambda: agree(before), "the verdicts of the terminal")
    figures = hardest(), felt(100, "hot, new", 2)
    x, y = tab.take(FOOT)
    tab.page.mouse.move(x + 3, y + 2, steps=5)
    tab.says("[data-part=odds]", ONLY_TRIED)
    held = felt(100, "hot, new", 2)
    assert board.file.read_bytes() == board.first
    assert not agree(before)
    tab.page.mouse.up()
    tab.until(lambda: board.file.read_bytes() != board.first)
    after = checked(board)
    tab.until(lambda: agree(after), "the verdicts of the changed file")
    assert ONLY_TRIED not in tab.text("[data-part=odds]")
    assert not agree(before)
    felt_now = hardest(), felt(100, "hot, new", 2)
    assert felt_now[1] == held
    for (push, pull), said in ((figures, before), (felt_now, after)):
        # Between the slider's whole per cents it may be a little harder.
        assert push == pytest.approx(number("Push to start, cold and aged", said), abs=0.11)
        assert f"Pull to start down, hot and new {pull} " in said
    assert felt_now[0] < figures[0] - 0.3
    assert felt_now[1] != figures[1]


def test_escape_and_a_loose_hand_leave_all_as_it_was(board: Any, tab: Any) -> None:
    x, y = tab.take(FOOT)
    tab.page.mouse.move(x + 20, y, steps=3)
    tab.says("[data-part=odds]", ONLY_TRIED)
    tab.page.keyboard.press("Escape")
    tab.says("[data-said]", "Left as it was.")
    tab.page.mouse.up()
    tab.until(lambda: ONLY_TRIED not in tab.text("[data-part=odds]"))
    assert math.dist(tab.at(FOOT), (x, y)) < 1.0
    # A click moves nothing: it chooses the point.
    tab.drag(FOOT, 1, 1)
    assert tab.text("#point [data-name]") == "foot of side spring"
    assert tab.page.input_value("#point-x") == "1.496 m"
    assert board.file.read_bytes() == board.first
    assert tab.page.locator("#undo[disabled]").count() == 1


def test_arrow_keys_are_one_change(board: Any, tab: Any, metres: Any) -> None:
    before = board.values
    tab.page.locator(f'.grip[data-path="{FOOT}"]').focus()
    for _ in range(3):
        tab.page.keyboard.press("ArrowRight")
    tab.page.keyboard.press("Shift+ArrowDown")
    tab.says("[data-said]", "Saved: ")
    assert gone(before, board.values, FOOT, metres) == pytest.approx((0.003, -0.010))
    tab.page.keyboard.press("ArrowLeft")
    tab.until(lambda: metres(board.values[f"{FOOT}.0"]) == pytest.approx(1.498))
    assert tab.page.evaluate("document.activeElement.dataset.path") == FOOT
    # Escape takes back what is not saved yet, and only that.
    tab.page.keyboard.press("Shift+ArrowUp")
    tab.page.keyboard.press("Escape")
    tab.says("[data-said]", "Left as it was.")
    assert gone(before, board.values, FOOT, metres) == pytest.approx((0.002, -0.010))
    # On the open roof the head goes along its own axis that is nearest to the arrow.
    tab.undo()
    tab.until(lambda: board.file.read_bytes() == board.first)
    tab.until(lambda: tab.page.locator("#undo").is_disabled())
    tab.page.locator(f'.grip[data-path="{HEAD}"]').focus()
    tab.page.keyboard.press("Shift+ArrowUp")
    tab.page.locator("#undo:not([disabled])").wait_for()
    assert gone(before, board.values, HEAD, metres) == pytest.approx((0.0, 0.010))


def test_places_are_typed(board: Any, tab: Any, metres: Any) -> None:
    page, before = tab.page, board.values
    page.locator(f'.grip[data-path="{FOOT}"]').focus()
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "point-x"
    place = tab.at(FOOT)
    page.keyboard.type("1.52 m")
    page.keyboard.press("Enter")
    tab.says("#said", "Saved: foot of side spring moved.")
    assert gone(before, board.values, FOOT, metres) == pytest.approx((0.024, 0.0))
    assert board.values[f"{FOOT}.0"] == "1.52 m"
    tab.until(lambda: abs(tab.at(FOOT)[0] - place[0]) > 2, "the point moves on the drawing")
    saved = board.file.read_bytes()
    for typed in ("far away", "9 m"):
        page.fill("#point-x", typed)
        page.keyboard.press("Enter")
        said = tab.says("#point .fault", typed)
        assert re.fullmatch(r".+\.", said)
        assert page.input_value("#point-x") == typed
        assert page.get_attribute("#point-x", "aria-invalid") == "true"
        assert board.file.read_bytes() == saved


def test_a_finger(board: Any, tab_of: Any, metres: Any) -> None:
    tab = tab_of(**PHONE).go(board.entry.address)
    page, before = tab.page, board.values
    wire = page.context.new_cdp_session(page)

    def finger(kind: str, *at: float) -> None:
        points = [{"x": at[0], "y": at[1]}] if at else []
        wire.send("Input.dispatchTouchEvent", {"type": f"touch{kind}", "touchPoints": points})

    def swipe(x: float, y: float, dx: float, dy: float) -> None:
        finger("Start", x, y)
        for share in (0.25, 0.5, 0.75, 1.0):
            finger("Move", x + share * dx, y + share * dy)
            page.wait_for_timeout(20)
        finger("End")

    page.locator("[data-paper]").evaluate("(el) => el.scrollIntoView({ block: 'center', behavior: 'instant' })")
    page.click("[data-group=all]")
    tab.drawn()
    scale, (x, y), down = tab.per_metre(board, "linkage.hinge", FOOT), tab.at(FOOT), page.evaluate("scrollY")
    swipe(x, y, 6, 9)
    tab.until(lambda: board.file.read_bytes() != board.first, "the file after the finger was lifted")
    way = gone(before, board.values, FOOT, metres)
    assert way == pytest.approx((6 / scale, -9 / scale), abs=HALF_STEP + PIXELS / scale)
    # The page does not go with the point, but it goes with a finger on empty paper.
    tab.says("[data-said]", "Saved: ")
    assert page.evaluate("scrollY") == down
    saved = board.file.read_bytes()
    box = page.locator("[data-paper]").bounding_box()
    empty = page.evaluate(
        """([x0, y0, w, h]) => {
            const grips = [...document.querySelectorAll('.grip')].map((el) => el.getBoundingClientRect());
            for (let y = y0 + h - 12; y > y0; y -= 8) for (let x = x0 + 12; x < x0 + w; x += 8)
                if (grips.every((g) => Math.hypot(g.x + 22 - x, g.y + 22 - y) > 50)) return [x, y];
            return null; }""",
        [box["x"], box["y"], box["width"], box["height"]],
    )
    swipe(*empty, 0, -160)
    tab.until(lambda: page.evaluate("scrollY") > down + 60, "the page scrolls")
    assert board.file.read_bytes() == saved
