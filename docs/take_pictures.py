"""Take the pictures of the drawing board that stand in docs/, one of every page at least.

Run by `python3 dev.py pictures`; with names (`python3 dev.py pictures drawing proof`) only those are written. A
made-up roof is taken from an empty folder to springs, readings and papers; nothing on the pages depends on the day.
Needs Chromium; LOFTWRIGHT_CHROMIUM may hold its path.
"""

from __future__ import annotations

import argparse
import base64
import contextlib
import os
import shlex
import shutil
import struct
import sys
import tempfile
import zlib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

DOCS = Path(__file__).parent
FOLDER = DOCS / "pictures"
WIDE, NARROW = 1440, 360
"""Widths of the desk's screen and of the phone's [CSS px]."""
TALL, PHONE_TALL = 1000, 740
"""Heights at which pictures end where the page goes on [CSS px]."""
PATIENCE, SEARCH_PATIENCE = 20_000, 240_000
"""Milliseconds that a page and a search may take on a slow machine."""
PAGES = {
    "/": "drawing",
    "/start": "start",
    "/have": "have",
    "/moves": "moves",
    "/lifts": "found",
    "/walls": "walls",
    "/fit": "fit",
    "/wind": "wind",
    "/opening": "opening",
    "/joints": "joints",
    "/riding": "riding",
    "/parts": "parts",
    "/plan": "plan",
    "/proof": "proof",
    "/readings": "readings",
    "/papers": "papers",
    "/beside": "beside",
    "/settings": "settings",
}
"""The picture of each page; there are more than these."""
ROOF = "fennimoor"
READINGS = (("10 % push up", "13.4"), ("25 % push up", "7.0"), ("90 % pull down", "14.8"), ("40 % pull down", "1.2"))
"""Invented: where and which way, what the scales read [kg]."""
WARM = "14"
"""How warm the springs were [C]."""


def find_chromium() -> str | None:
    """Return the path of an installed Chromium, None to let playwright look for its own."""
    names = ("chromium", "chromium-browser", "google-chrome", "chrome", "msedge")
    return os.environ.get("LOFTWRIGHT_CHROMIUM") or next((path for name in names if (path := shutil.which(name))), None)


# --- small files -----------------------------------------------------------------------------------

PIXELS = """async (text) => {
  const blob = await (await fetch("data:image/png;base64," + text)).blob();
  const image = await createImageBitmap(blob);
  const canvas = new OffscreenCanvas(image.width, image.height);
  const pen = canvas.getContext("2d");
  pen.drawImage(image, 0, 0);
  const bytes = pen.getImageData(0, 0, image.width, image.height).data;
  let made = "";
  for (let i = 0; i < bytes.length; i += 32768) made += String.fromCharCode(...bytes.subarray(i, i + 32768));
  return [image.width, image.height, btoa(made)];
}"""


def few_colours(pixels: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return at most 256 colours (n, 3) and which of them each pixel of (height, width, 3) bytes has.

    Near colours become one, the one that is seen most.
    """
    colours, of, counts = np.unique(pixels.reshape(-1, 3), axis=0, return_inverse=True, return_counts=True)
    for step in (1, 2, 4, 8, 12, 16, 24, 32, 64):
        cells, cell_of = np.unique(colours // step, axis=0, return_inverse=True)
        if len(cells) <= 256:
            break
    order = np.lexsort((-counts, cell_of))
    first = np.unique(cell_of[order], return_index=True)[1]
    return colours[order[first]], cell_of[of].reshape(pixels.shape[:2])


def png(pixels: np.ndarray) -> bytes:
    """Return a PNG file of (height, width, 3) bytes, in few colours and without anything but the picture."""
    palette, index = few_colours(pixels)
    height, width = index.shape
    depth = next(bits for bits in (1, 2, 4, 8) if len(palette) <= 1 << bits)
    bits = np.unpackbits(index.astype(np.uint8)[..., None], axis=-1)[..., 8 - depth :].reshape(height, -1)
    rows = np.packbits(bits, axis=1)
    lines = b"".join(b"\0" + row.tobytes() for row in rows)

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, depth, 3, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"PLTE", palette.astype(np.uint8).tobytes())
        + chunk(b"IDAT", zlib.compress(lines, 9))
        + chunk(b"IEND", b"")
    )


# --- taking them -----------------------------------------------------------------------------------


@dataclass
class Camera:
    """A browser before a running board, and where the pictures go."""

    browser: Any
    address: str
    vans: Path
    folder: Path
    wanted: frozenset[str]

    @contextlib.contextmanager
    def tab(self, *, phone: bool = False, dark: bool = False) -> Iterator[Any]:
        """Yield a new tab, on a desk or on a phone."""
        context = self.browser.new_context(
            viewport={"width": NARROW, "height": PHONE_TALL} if phone else {"width": WIDE, "height": TALL},
            device_scale_factor=2 if phone else 1,
            is_mobile=phone,
            has_touch=phone,
            color_scheme="dark" if dark else "light",
            reduced_motion="reduce",
            locale="en-GB",
        )
        try:
            page = context.new_page()
            page.set_default_timeout(PATIENCE)
            page.goto(self.address)
            yield page
        finally:
            context.close()

    def take(self, page: Any, name: str, *, height: int = 0, of: str = "") -> None:
        """Write what a tab shows, on a screen as high as `height` [CSS px]; with `of` that element alone."""
        if self.wanted and name not in self.wanted:
            return
        if height:
            page.set_viewport_size({"width": page.viewport_size["width"], "height": height})
        page.wait_for_function("document.fonts.status === 'loaded'")
        page.wait_for_timeout(400)
        shown = page.locator(of).first if of else page
        data = shown.screenshot(animations="disabled", caret="hide")
        scratch = self.browser.new_page()
        width, tall, text = scratch.evaluate(PIXELS, base64.b64encode(data).decode())
        scratch.close()
        pixels = np.frombuffer(base64.b64decode(text), np.uint8).reshape(tall, width, 4)[..., :3]
        made = png(pixels)
        path = self.folder / f"board-{name}.png"
        if not path.exists() or path.read_bytes() != made:
            path.write_bytes(made)
        print(f"{path.name:<28}{width:>5} x {tall:<5}{len(made) / 1000:>7.0f} kB", flush=True)


def go(page: Any, path: str) -> None:
    """Show a page of the board, with its verdicts and its live link."""
    base = page.url.split("/", 3)
    page.goto(f"{base[0]}//{base[2]}{path}", wait_until="networkidle")


def do(page: Any, action: str, values: Mapping[str, str]) -> None:
    """Do what one of the board's own forms does."""
    said = page.evaluate(
        """async ([action, values]) => {
          const answer = await fetch("/do/" + action, {
            method: "POST", headers: { accept: "application/json" }, body: new URLSearchParams(values),
          });
          return await answer.json();
        }""",
        [action, dict(values)],
    )
    if not said["ok"]:
        raise SystemExit(f"the board refuses to {action} {dict(values)}: {said['said']}")


def options(line: str) -> dict[str, str]:
    """Return the options of a `loftwright new` line."""
    words = shlex.split(line)[3:]
    return {name.removeprefix("--"): value for name, value in zip(words[::2], words[1::2], strict=True)}


def begin(camera: Camera) -> None:
    """An empty folder: five numbers, then a made-up roof is opened instead."""
    sys.path.insert(0, str(DOCS))
    import tutorial_source as tutorial

    answers = options(tutorial.NEW)
    with camera.tab() as page:
        page.click(f'.way-card:has([value="{answers["lifts"]}"])')
        page.fill("#opening_length", answers["length"])
        page.fill("#opening_width", answers["width"])
        page.fill("#floor_to_roof", answers["inside-height"])
        page.wait_for_selector("#look .facts .figure")
        page.locator("#floor_to_roof").blur()
        page.wait_for_load_state("networkidle")
        page.evaluate("scrollTo(0, 0)")
        camera.take(page, "start")
        page.click(f'button[value="{ROOF}"]')
        page.wait_for_url("**/")
        judged(page)


def judged(page: Any) -> None:
    """Wait until the home page has its verdicts."""
    page.wait_for_selector("[data-part=donext] .first")
    page.wait_for_selector("[data-part=verdicts] details")
    page.wait_for_load_state("networkidle")


def the_drawing(camera: Camera) -> None:
    """The home page on a desk, by night and on a phone; a point while it is moved; three dimensions."""
    for name, dark, phone in (("drawing", False, False), ("drawing-dark", True, False), ("drawing-phone", False, True)):
        with camera.tab(dark=dark, phone=phone) as page:
            judged(page)
            page.fill("[data-slider]", "70")
            page.locator("[data-slider]").blur()
            page.evaluate("scrollTo(0, 0)")
            camera.take(page, name, height=PHONE_TALL if phone else 1400)
    with camera.tab() as page:
        judged(page)
        place = page.locator('.grip[data-path="spring.0.head"]').bounding_box()
        x, y = place["x"] + place["width"] / 2, place["y"] + place["height"] / 2
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x + 9, y + 3, steps=6)
        page.wait_for_selector(".trial")
        # Verdicts of a place on the way may come first.
        page.wait_for_timeout(2000)
        camera.take(page, "drag")
        page.keyboard.press("Escape")
        page.mouse.up()
    with camera.tab() as page:
        judged(page)
        page.click("#solid summary")
        page.wait_for_selector("[data-solid-seen]:not(:empty)")
        page.wait_for_timeout(800)
        camera.take(page, "solid", of="#solid")


def the_forms(camera: Camera) -> None:
    """What is typed rather than drawn."""
    with camera.tab() as page:
        for path in ("/have", "/moves", "/settings"):
            go(page, path)
            page.wait_for_selector("[data-part=pageverdicts]", state="attached")
            camera.take(page, PAGES[path])


def fit_and_strength(camera: Camera) -> None:
    """Fit, the roof in a gust from the left, the opening from above, joints."""
    with camera.tab() as page:
        for path in ("/fit", "/wind", "/opening", "/joints"):
            go(page, path)
            page.wait_for_selector(".answered")
            page.wait_for_function("!document.querySelector('main').innerText.includes('reckoned ...')")
            if path == "/wind":
                page.locator('.sides label:has-text("Left") input').check()
                page.evaluate("document.activeElement.blur()")
            page.evaluate("scrollTo(0, 0)")
            camera.take(page, PAGES[path], height=1400)


def the_walls(camera: Camera) -> None:
    """The cloth walls unrolled, metres and price, and the fold where it was worked out."""
    with camera.tab() as page:
        go(page, "/walls")
        page.wait_for_selector("[data-strip]:not([hidden])", timeout=SEARCH_PATIENCE)
        page.wait_for_function("!document.querySelector('main').innerText.includes('reckoned ...')")
        page.evaluate("scrollTo(0, 0)")
        camera.take(page, PAGES["/walls"], height=1400)


def fit_out_and_plan(camera: Camera) -> None:
    """What rides on the roof, parts, and the order of work with its cards."""
    with camera.tab() as page:
        for path in ("/riding", "/parts", "/plan"):
            go(page, path)
            page.wait_for_selector(".answered", timeout=SEARCH_PATIENCE)
            page.wait_for_function("!document.querySelector('main').innerText.includes('reckoned ...')")
            page.evaluate("scrollTo(0, 0)")
            camera.take(page, PAGES[path], height=1400)


def the_springs(camera: Camera) -> None:
    """Springs searched and fitted; the roof beside what it was before."""
    with camera.tab() as page:
        # The made-up roof is finished already: its readings belong to other springs.
        for number in (3, 2, 1, 0):
            do(page, "remove", {"path": f"reading.{number}", "what": f"Reading {number + 1}"})
        go(page, "/lifts")
        page.click("#search-go")
        page.wait_for_selector("#fit-best button", timeout=SEARCH_PATIENCE)
        page.wait_for_load_state("networkidle")
        page.mouse.move(WIDE - 10, TALL - 10)
        page.evaluate("scrollTo(0, 0)")
        camera.take(page, "found", height=1400)
        page.click("#fit-best button")
        page.wait_for_selector("text=In the file now.")
        go(page, "/beside")
        page.click("#beside-choose button")
        page.wait_for_selector("[data-design] svg")
        camera.take(page, "beside", height=1290)


def the_readings(camera: Camera) -> None:
    """Four readings with a phone, and what they say."""
    with camera.tab(phone=True) as page:
        go(page, "/readings")
        for count, (station, force) in enumerate(READINGS, 1):
            page.select_option("#station", station)
            page.fill("#force", force)
            page.fill("#temperature", WARM)
            page.evaluate("scrollTo(0, 0)")
            if count == len(READINGS):
                camera.take(page, "readings", height=1180)
            page.click("#save")
            page.locator("[data-part=readings_saved] li").nth(count - 1).wait_for()
    with camera.tab() as page:
        go(page, "/proof")
        page.wait_for_selector("[data-part=proof_chart] svg")
        page.wait_for_selector("[data-part=proof_rows] table")
        camera.take(page, "proof", height=1690)
        go(page, "/papers")
        camera.take(page, "papers", height=1290)


def another_program(camera: Camera) -> None:
    """The file is changed in an editor while the board shows it."""
    file = camera.vans / f"{ROOF}.toml"
    with camera.tab() as page:
        judged(page)
        text = file.read_text(encoding="utf-8")
        file.write_text(text.replace('opens = "28 deg"', 'opens = "25 deg"'), encoding="utf-8")
        page.wait_for_selector("[data-part=notice] table")
        camera.take(page, "elsewhere", height=700)
        file.write_text(text, encoding="utf-8")


STORY: tuple[Callable[[Camera], None], ...] = (
    begin,
    the_drawing,
    the_forms,
    fit_and_strength,
    the_walls,
    fit_out_and_plan,
    the_springs,
    the_readings,
    another_program,
)
"""One after the other: each goes on with the file that the one before left."""


def main() -> int:
    """Take the pictures, all or those that are named."""
    from playwright.sync_api import sync_playwright

    from loftwright.board.app import build
    from loftwright.board.desk import Desk
    from loftwright.board.serve import running

    parser = argparse.ArgumentParser(description="Take the pictures of the drawing board.")
    parser.add_argument("names", nargs="*", metavar="NAME", help="only these, such as drawing or proof")
    parser.add_argument("--out", type=Path, default=FOLDER, help="where to, docs/pictures when left out")
    asked = parser.parse_args()
    asked.out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright:
        vans = Path(scratch) / "vans"
        vans.mkdir()
        browser = playwright.chromium.launch(executable_path=find_chromium(), args=["--no-sandbox", "--disable-gpu"])
        with running(lambda entry: build(Desk(vans))) as entry:
            camera = Camera(browser, entry.address, vans, asked.out, frozenset(asked.names))
            for step in STORY:
                step(camera)
        browser.close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
