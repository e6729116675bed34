"""How the pens of all drawings look on a page: colours for light and dark as CSS."""

from __future__ import annotations

from loftwright.drawing.page import PENS

LIGHT = {
    "paper": "#fdfcf8",
    "ink": "#1b1f24",
    "soft": "#4a4f57",
    "line": "#c8c6bd",
    "wash": "#efece2",
    "bad": "#8c1d2f",
    "focus": "#0b4f8a",
}
DARK = {
    "paper": "#16191d",
    "ink": "#ebe8df",
    "soft": "#bcbfc4",
    "line": "#40454c",
    "wash": "#262b31",
    "bad": "#ff9aa6",
    "focus": "#9ccbff",
}
DARK_PENS = {
    "#1b1f24": "#ebe8df",
    "#4a4f57": "#bcbfc4",
    "#8b9098": "#858b94",
    "#ffffff": "#16191d",
    "#33475b": "#a9c0d6",
    "#c9d2da": "#33404c",
    "#e6d8b0": "#4c4223",
    "#f1ede2": "#2b2a26",
    "#d9dde2": "#3c424a",
    "#e9ebee": "#24282d",
    "#c3c7cc": "#363b42",
    "#0b4f8a": "#8fc4ff",
    "#9c2f0e": "#ffad8f",
    "#6b4e00": "#e8c765",
    "#8c1d2f": "#ff9aa6",
    "#dbe8f4": "#1e2f42",
    "#e4e5e7": "#30343a",
    "#f6e1d9": "#44281d",
    "#efe6cf": "#3d3519",
}
"""What a colour of the paper's pens becomes on a dark page."""


def _name(colour: str) -> str:
    return "none" if colour == "none" else f"var(--pen-{colour.removeprefix('#')})"


def pen_colours(*, dark: bool) -> str:
    """Return the declarations of the pens' colours, for a rule that says where they hold."""
    look = DARK if dark else LIGHT
    shades = {colour: shade if dark else colour for colour, shade in DARK_PENS.items()} | {"#ffffff": look["paper"]}
    return ";".join(f"--pen-{colour.removeprefix('#')}:{shade}" for colour, shade in shades.items())


def pen_rules() -> str:
    """Return the rules that give every pen its colours, whichever look holds."""
    rules = [f"svg rect.halo{{fill:{_name('#ffffff')}}}"]
    for name, pen in PENS.items():
        rules.append(
            f"svg .pen-{name}:not(text){{stroke:{_name(pen.colour)}}}svg text.pen-{name}{{fill:{_name(pen.colour)}}}"
        )
        if pen.fill != "none":
            rules.append(f"svg polygon.pen-{name},svg circle.pen-{name}{{fill:{_name(pen.fill)}}}")
    return "\n".join(rules)


def pens_css() -> str:
    """Return the pens as a style sheet: light, dark as the system has it, or as `data-look` on the root says."""
    light, dark = pen_colours(dark=False), pen_colours(dark=True)
    return (
        f":root{{{light}}}\n"
        f'@media screen and (prefers-color-scheme: dark){{:root:not([data-look="light"]){{{dark}}}}}\n'
        f'@media screen{{:root[data-look="dark"]{{{dark}}}}}\n'
        f"{pen_rules()}\n"
    )
