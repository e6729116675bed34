"""What screens and pages show of fit and strength: text that is ready, and numbers ready to be drawn.

Filled in one place from the answers; every text is plain text in the builder's units. Lengths to be drawn are in
metres, in the roof's own frame: x to the cab from the rear edge of the opening, y to the left, z up.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from loftwright.core.checks import Verdict
from loftwright.core.choices import Spelling, Units
from loftwright.core.section_views import Section, Sectioned
from loftwright.core.views import Caution, CheckRow, Grid

HoldPart = Literal["fit", "wind", "road", "opening", "joints", "van"]
"""A question about fit and strength, in the order in which they are worked out."""
HOLD_PARTS: tuple[HoldPart, ...] = ("fit", "wind", "road", "opening", "joints", "van")

Flat = tuple[float, float]
"""A point of a plan or a template [m]."""


@dataclass(frozen=True, slots=True)
class HoldSection(Section[HoldPart]):
    """All that is said about one question on fit and strength."""


@dataclass(frozen=True, slots=True)
class GapChart:
    """Gap between rim and roof round the rim, in `unit`: `along` from the rear left corner, clockwise from above.

    `low` and `high` bound what it is in roofs like this one; `least` and `most` what the seal fills. `places` name
    stretches of the rim: where each begins, and what it is called.
    """

    unit: str
    along_unit: str
    along: tuple[float, ...]
    gap: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    least: float
    most: float
    places: tuple[tuple[float, str], ...]


@dataclass(frozen=True, slots=True)
class Template:
    """One flat shape at full size [m], with what is written on it and its dimensions as text.

    `outline` is closed; `marks` are lines to be marked, `holes` centres with diameters.
    """

    name: str
    note: str
    outline: tuple[Flat, ...]
    marks: tuple[tuple[Flat, Flat], ...] = ()
    holes: tuple[tuple[float, float, float], ...] = ()
    sizes: tuple[tuple[Flat, Flat, str], ...] = ()
    """Dimensions: from, to, text."""


@dataclass(frozen=True, slots=True)
class WindPart:
    """One part in the wind: how much of its limit it uses [1], by direction and gust; `limit` is what that is."""

    name: str
    limit: str
    used: tuple[tuple[float, ...], ...]
    """[directions][gusts]; above 1 it is past its limit."""
    first: tuple[str, ...]
    """For each direction the gust at its limit, as text."""


@dataclass(frozen=True, slots=True)
class WindArrow:
    """One push of the wind: on what, where in space [m] and how much for each pascal of the gust [N/Pa]."""

    what: str
    at: tuple[float, float, float]
    push: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class WindPlay:
    """The raised roof under gusts from each side, to be looked up: nothing is solved where it is shown.

    `gusts` [m/s] rise from nought; `gust_texts` say them in the builder's units. `sway` [m] of the free end with and
    without the brace, [directions][gusts], with texts. `arrows` for each direction. `lower_above`: the gust above
    which it is to be lowered, as text, with `weakest` and `beaufort` in words.
    """

    directions: tuple[str, ...]
    gusts: tuple[float, ...]
    gust_texts: tuple[str, ...]
    wanted: float
    parts: tuple[WindPart, ...]
    sway: tuple[tuple[float, ...], ...]
    sway_texts: tuple[tuple[str, ...], ...]
    sway_without: tuple[tuple[str, ...], ...]
    arrows: tuple[tuple[WindArrow, ...], ...]
    held: tuple[tuple[bool, ...], ...]
    """Whether springs, prop and brace still hold it, [directions][gusts]; where not, no part has a share."""
    box: tuple[tuple[float, float, float], ...]
    """Corners of the raised shell's rim and of the opening below, eight points [m]: rim rear left, rear right, front
    right, front left, then the opening in the same order."""
    weakest: str
    lower_above: str
    beaufort: str


@dataclass(frozen=True, slots=True)
class PlanBow:
    """A roof bow in the plan: its middle and half width [m], whether it stays, and its name."""

    at: float
    half: float
    kept: bool
    name: str


@dataclass(frozen=True, slots=True)
class CutPlan:
    """The roof from above: its outline, the cut line, the ring, bows, plates and where the shell lies [m].

    Rectangles are (rear, right, front, left) in x, -y, x, y. `radius` is None where no corner is given yet.
    `sizes` are dimensions as text: from, to, text. `starts` are the holes in which the saw begins.
    """

    roof: tuple[float, float, float, float]
    opening: tuple[float, float, float, float]
    shell: tuple[float, float, float, float]
    radius: float | None
    ring: float
    """Width of the ring along the roof, outside the cut [m]."""
    bows: tuple[PlanBow, ...]
    plates: tuple[tuple[str, float, float, float, float], ...]
    """Hinge plates, spring feet, latches: name, x, y, length, width."""
    starts: tuple[Flat, ...]
    sizes: tuple[tuple[Flat, Flat, str], ...]
    diagonal: str
    """What both diagonals of the marked rectangle must read."""


@dataclass(frozen=True, slots=True)
class GoNoGo:
    """One thing that must hold before the saw comes out; `state` says how it is known."""

    what: str
    verdict: Verdict
    state: str
    do: str


@dataclass(frozen=True, slots=True)
class HoldPage(Sectioned[HoldPart]):
    """Everything said about fit and strength of one roof."""

    name: str
    subtitle: str
    sections: tuple[HoldSection, ...]
    rows: tuple[CheckRow, ...]
    """All judgements, worst first."""
    gap: GapChart | None
    packers: tuple[Template, ...]
    wind: WindPlay | None
    plan: CutPlan
    corners: tuple[Template, ...]
    ring_pieces: Grid
    stock: Grid
    holes: Grid
    before_the_cut: tuple[GoNoGo, ...]
    wind_card: tuple[str, ...]
    """What hangs in the van: short lines, the gust first."""
    cautions: tuple[Caution, ...]
    assumptions: tuple[str, ...]
    provenance: str
    units: Units
    made_with: str
    words: Spelling = "kerb"
