"""The raised roof in wind to be played with: each part by direction and gust, arrows, and its corners in space."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.answers.held_picture import WindPart as Push
from loftwright.answers.held_roof import HeldNumbers
from loftwright.answers.hold_said import gust_text, nominal, sway_text
from loftwright.answers.hold_wind_view import first_words, lower_words
from loftwright.core.hold_views import WindArrow, WindPart, WindPlay
from loftwright.core.wording import Wording
from loftwright.project.assemble_wind import raised, to_van
from loftwright.project.plane import LENGTHWISE
from loftwright.strength.held import FREE_END
from loftwright.strength.raised_shape import DIRECTIONS
from loftwright.strength.wind import velocity_pressure

LIMITS: Final = (
    ("hinge", "what a hinge bears"),
    ("shoe", "what a shoe bears"),
    ("arms", "what the arms' pins bear"),
    ("arm a", "what an arm's pin bears"),
    ("arm b", "what an arm's pin bears"),
    ("brace", "what the brace bears"),
    ("strap", "what a strap bears"),
    ("seams", "what the seams bear"),
    ("staples", "what a staple bears"),
    ("screws", "what a screw bears"),
    ("film", "what the window film bears"),
    ("cloth", "what the cloth bears"),
)
"""What the limit of a part is, by a word of its name."""


def wind_play(held: HeldNumbers, say: Wording) -> WindPlay:
    """Return the raised roof over gusts from each side, to be looked up."""
    wind, table = held.found.wind, held.found.wind.table
    names = [name for name in table.names if name in wind.names]
    parts = tuple(
        WindPart(
            name,
            limit_words(name, held, say),
            tuple(tuple(float(v) for v in table.share[:, d, table.names.index(name)]) for d in range(len(DIRECTIONS))),
            tuple(gust_text(float(g), say) for g in wind.of(name)[0]),
        )
        for name in names
    )
    sway = tuple(tuple(float(v) for v in table.sway[:, d]) for d in range(len(DIRECTIONS)))
    without: tuple[tuple[str, ...], ...] = ()
    if wind.unbraced is not None:
        without = tuple(
            tuple(sway_text(float(v), say) for v in wind.unbraced.sway[:, d]) for d in range(len(DIRECTIONS))
        )
    gust, force = lower_words(held, say)
    return WindPlay(
        directions=tuple(DIRECTIONS),
        gusts=table.gusts,
        gust_texts=tuple(say.gust(v) for v in table.gusts),
        wanted=nominal(wind.wanted),
        parts=parts,
        sway=sway,
        sway_texts=tuple(tuple(sway_text(v, say) for v in one) for one in sway),
        sway_without=without,
        arrows=tuple(_arrows(held, d) for d in range(len(DIRECTIONS))),
        held=tuple(tuple(bool(v) for v in table.held[:, d]) for d in range(len(DIRECTIONS))),
        box=_box(held),
        weakest=first_words(wind),
        lower_above=gust,
        beaufort=force,
    )


def limit_words(name: str, held: HeldNumbers, say: Wording) -> str:
    """Return what the limit of a thing in wind is."""
    if name == FREE_END:
        return f"how far it may sway, {say.short_length(nominal(held.found.basis.at('wind.sway_limit')))}"
    return next((words for word, words in LIMITS if word in name), "what it bears")


def _moved(held: HeldNumbers, spot: np.ndarray) -> tuple[float, float, float]:
    """Return a place of the van's axes counted from the middle of the rear edge of the opening [m]."""
    x, y, z = (float(v) for v in np.ravel(spot))
    if held.found.basis.plane is LENGTHWISE:
        return x, y, z
    at = held.found.basis.at
    return x + nominal(at("opening.length")) / 2.0, y + nominal(at("opening.width")) / 2.0, z


def _arrows(held: HeldNumbers, d: int) -> tuple[WindArrow, ...]:
    """Return the wind's pushes from one direction: of the wind that lifts and the one that presses, the stronger."""
    wind = held.found.wind
    pressure = float(velocity_pressure(nominal(wind.wanted)))

    def strength(pushes: tuple[Push, ...]) -> float:
        return float(np.linalg.norm(np.sum([one.force for one in pushes], axis=0)))

    pushes = max((wind.picture[DIRECTIONS[d], word] for word in ("lifts", "presses")), key=strength)
    return tuple(
        WindArrow(
            one.name,
            _moved(held, np.asarray(one.centre)),
            (one.force[0] / pressure, one.force[1] / pressure, one.force[2] / pressure),
        )
        for one in pushes
    )


def _box(held: HeldNumbers) -> tuple[tuple[float, float, float], ...]:
    """Return the corners of the raised rim and of the opening [m]: rear left, rear right, front right, front left."""
    base = held.found.basis
    wide = raised(base.project, base.at, base.roof, (base.roof.travel.fraction.size - 1,))

    def one(name: str) -> float:
        return nominal(getattr(wide, name))

    tilt, half, low = one("tilt"), one("shell_width") / 2.0, one("width") / 2.0
    near = (one("shell_x"), one("shell_z"))
    far = (near[0] + one("shell_length") * np.cos(tilt), near[1] + one("shell_length") * np.sin(tilt))
    rim = [(near[0], half, near[1]), (near[0], -half, near[1]), (far[0], -half, far[1]), (far[0], half, far[1])]
    length = one("length")
    hole = [(0.0, low, 0.0), (0.0, -low, 0.0), (length, -low, 0.0), (length, low, 0.0)]
    found = [
        [_moved(held, to_van(base.project, np.array(spot, dtype=np.float64))) for spot in four] for four in (rim, hole)
    ]
    if base.plane is not LENGTHWISE:
        # The near end is the left side there, and the left of the plane of motion lies to the cab.
        found = [[four[1], four[2], four[3], four[0]] for four in found]
    return tuple(spot for four in found for spot in four)
