"""One self-contained page about one roof: drawing with a slider, force curves, verdicts.

The file asks for nothing: styles, script and drawings are inside, and a policy in its head forbids requests.
Texts are escaped here and nowhere else.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from html import escape
from math import degrees
from typing import Any

from loftwright.core.checks import Tally, Verdict
from loftwright.core.scene import Pose
from loftwright.core.views import CheckRow, Curve, DoNext, Fact, ForceChart, RoofPage
from loftwright.documents.pens import DARK, LIGHT, pen_colours, pen_rules
from loftwright.documents.pictures import side_views_of
from loftwright.documents.respelled import own_of, respelled, respelled_page
from loftwright.documents.roof_sheet import minutes_text, sentence
from loftwright.documents.typeset import printable, template_text
from loftwright.drawing.chart import ChartDrawing, force_chart
from loftwright.drawing.marks import curve_sample, verdict_mark
from loftwright.drawing.moving import MovingView, moving_view
from loftwright.drawing.svg import ornament, svg


def _styles() -> str:
    def root(theme: dict[str, str], pens: str) -> str:
        return ":root{" + ";".join(f"--{k}:{v}" for k, v in theme.items()) + f";{pens}}}"

    light = f":root{{color-scheme:light dark}}\n{root(LIGHT, pen_colours(dark=False))}\n{pen_rules()}"
    dark = f"@media screen and (prefers-color-scheme: dark){{\n{root(DARK, pen_colours(dark=True))}\n}}"
    return f"{light}\n{dark}\n{template_text('roof.css')}"


_WHAT = {Verdict.FAILS: "fails", Verdict.NOT_KNOWN: "not known yet", Verdict.HOLDS: "holds"}


def _mark(verdict: Verdict) -> str:
    return ornament(verdict_mark(verdict), css="mark")


def _e(text: str) -> str:
    return escape(printable(text))


def _tally(tally: Tally) -> str:
    items = (f"<li>{_mark(verdict)}{words}</li>" for verdict, words in tally.parts())
    return f'<ul class="tally">{"".join(items)}</ul>'


def _odds(page: RoofPage) -> str:
    """Return out of 100 roofs how many meet everything, and what to do next for it."""
    after = f" {_e(sentence(page.next_best))}" if page.next_best else ""
    note = f'<p class="soft">{_e(page.odds_note)}</p>' if page.odds_note else ""
    return f'<p class="odds"><strong>{_e(sentence(page.odds))}</strong>{after}</p>{note}'


def _facts(facts: Iterable[Fact]) -> str:
    parts = []
    for fact in facts:
        note = f"<dd>{_e(fact.note)}</dd>" if fact.note else ""
        parts.append(f'<div><dt>{_e(fact.label)}</dt><dd class="figure">{_e(fact.value)}</dd>{note}</div>')
    return f'<dl class="facts">{"".join(parts)}</dl>'


def _row(row: CheckRow) -> str:
    figures = [text for text in (row.value, f"limit {row.limit}" if row.limit else "") if text]
    line = "; ".join([_WHAT[row.verdict], *figures])
    pairs = (
        ("Margin", row.margin),
        ("How sure", row.basis),
        ("Why it matters", row.reason),
        ("What to change", row.remedy),
        ("Hangs most on", ", ".join(row.inputs)),
        ("Source", row.source),
        ("Name in files", row.id),
    )
    detail = "".join(f"<dt>{label}</dt><dd>{_e(text)}</dd>" for label, text in pairs if text)
    return (
        f'<details class="verdict"><summary>{_mark(row.verdict)}<span class="what">{_e(row.title)}</span>'
        f'<span class="figures">{_e(line)} <span class="open"></span></span></summary><dl>{detail}</dl></details>'
    )


def _next(step: DoNext) -> str:
    time = f', <span class="soft">{_e(minutes_text(step))}</span>' if step.minutes is not None else ""
    return (
        f"<li><strong>{_e(step.title)}</strong>{time}<br>{_e(step.how)}"
        f' <span class="soft">{_e(sentence(step.why))}</span></li>'
    )


def _readout(chart: ForceChart) -> str:
    """Return the table of the figures at the slider: a row for each temperature and age."""
    rows: dict[str, dict[str, int]] = {}
    first: dict[str, Curve] = {}
    for i, curve in enumerate(chart.curves):
        rows.setdefault(curve.label, {})[curve.kind] = i
        first.setdefault(curve.label, curve)
    lines = []
    for label, cells in rows.items():
        picture = ornament(curve_sample(first[label]), css="sample")
        values = "".join(
            f'<td id="value-{cells[kind]}"></td>' if kind in cells else "<td></td>" for kind in ("push", "pull")
        )
        lines.append(f'<tr><th scope="row">{picture}{_e(label)}</th>{values}</tr>')
    band = f'<p class="soft">{_e(chart.band_note[0].upper() + chart.band_note[1:])}.</p>' if chart.band_note else ""
    return (
        '<table class="readout"><thead><tr><th scope="col">At the slider</th><th scope="col">push up</th>'
        f'<th scope="col">pull down</th></tr></thead><tbody>{"".join(lines)}</tbody></table>'
        f'<p class="soft">A figure below nought: it moves by itself.</p>{band}'
    )


def _poses(poses: Iterable[Pose]) -> list[list[float]]:
    return [[round(p.x, 6), round(p.z, 6), round(p.phi, 7)] for p in poses]


def _tables(page: RoofPage, moving: MovingView, charts: dict[str, ChartDrawing]) -> dict[str, Any]:
    poses = {"shell": _poses(page.poses.shell)}
    if page.poses.arm_a:
        poses["arm a"] = _poses(page.poses.arm_a)
    if page.poses.arm_b:
        poses["arm b"] = _poses(page.poses.arm_b)
    size, unit = degrees(1.0), ["\u00b0", " degrees", 1]
    if page.poses.slides:
        size, unit = (
            (1000.0, [" mm", " millimetres", 0]) if page.units == "metric" else (1 / 0.0254, [" in", " inches", 1])
        )
    return {
        "fraction": list(page.poses.fraction),
        "opening": [round(a * size, 4) for a in page.poses.opening],
        "unit_of_opening": unit,
        "poses": poses,
        "view": [round(v, 4) for v in (moving.view.x, moving.view.y, moving.view.scale)],
        "handle": page.scene.handle,
        "springs": [
            {
                "foot_on": s.foot_on,
                "foot": s.foot,
                "head_on": s.head_on,
                "head": s.head,
                "tube": s.tube_length,
            }
            for s in page.scene.springs
        ],
        "x": list(page.chart.x),
        "curves": [[round(v, 4) for v in curve.y] for curve in page.chart.curves],
        "unit": page.chart.unit,
        "decimals": page.chart.decimals,
        "charts": [
            {"id": name, "panels": [{"kind": p.kind, "x0": p.x0, "x1": p.x1} for p in chart.panels]}
            for name, chart in charts.items()
        ],
    }


def roof_html(page: RoofPage) -> str:
    """Return the whole page as one HTML text that needs no other file and no network."""
    moving = moving_view(page.scene, page.poses)
    charts = {
        "forces-wide": force_chart(page.chart, width=186.0, height=74.0, marker=True),
        "forces-narrow": force_chart(page.chart, width=66.0, height=124.0, stacked=True, marker=True),
    }
    fixed = side_views_of(page, height=94.0)
    # No "<" may stand in a script element's text.
    own = own_of(page)
    said = respelled(printable(_tables(page, moving, charts)), page.words, own)
    tables = json.dumps(said, separators=(",", ":")).replace("<", "\\u003c")
    pictures = {name: svg(chart.drawing, ids=name, responsive=True) for name, chart in charts.items()}
    rows = "".join(_row(row) for row in page.rows)
    steps = "".join(_next(step) for step in page.do_next)
    cautions = "".join(f"<li>{_e(caution.text)}</li>" for caution in page.cautions)
    assumed = "".join(f"<li>{_e(text)}</li>" for text in page.assumptions)
    policy = (
        "default-src 'none'; img-src data:; style-src 'unsafe-inline'; script-src 'unsafe-inline'; "
        "base-uri 'none'; form-action 'none'"
    )
    whole = f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="{policy}">
<link rel="icon" href="data:,">
<title>{_e(page.name)}</title>
<style>
{_styles()}
</style>
</head>
<body>
<header>
<h1>{_e(page.name)}</h1>
<p class="soft">{_e(page.subtitle)}</p>
{_odds(page)}
{_tally(page.tally)}
</header>
<main>
<section class="care" aria-label="Cautions"><h2>Take care</h2><ul>{cautions}</ul></section>
<section aria-label="Key figures">{_facts(page.facts)}</section>
<div class="moving">
<section>
<h2>How it moves</h2>
<div class="drawing side" id="side">{svg(moving.drawing, ids="side-view", responsive=True)}</div>
<details class="more"><summary>Drawing with dimensions</summary>
<div class="scroll drawing" tabindex="0" role="region" aria-label="Drawing with dimensions">
{svg(fixed, ids="dimensions", responsive=True)}</div>
</details>
</section>
<section>
<h2>How it will feel</h2>
<div class="drawing wide" id="forces-wide">{pictures["forces-wide"]}</div>
<div class="drawing narrow" id="forces-narrow">{pictures["forces-narrow"]}</div>
{_readout(page.chart)}
</section>
<div class="slider">
<div class="said"><label for="opening">How far open</label> <output id="opening-said" for="opening"></output></div>
<input id="opening" type="range" min="0" max="100" step="1" value="100" autocomplete="off">
<div class="stops"><button type="button" data-stop="0">Closed</button><button type="button" data-stop="50">Half</button>
<button type="button" data-stop="100">Open</button></div>
</div>
</div>
<section>
<h2>Verdicts, worst first</h2>
{rows or "<p>Nothing judged yet.</p>"}
</section>
<section>
<h2>Do next</h2>
<ol class="next">{steps}</ol>
</section>
<section>
<h2>Assumed</h2>
<ul>{assumed or "<li>Nothing.</li>"}</ul>
</section>
</main>
<footer>{_e(page.provenance)} {_e(page.made_with)}.</footer>
<script type="application/json" id="tables">{tables}</script>
<script>
{template_text("roof.js")}
</script>
</body>
</html>
"""
    return respelled_page(whole, page.words, own)
