"""Where to bolt lifting arms that are at hand, ready to show: one page of text and pictures."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.answers.linking import LinkNumbers, low_rise
from loftwright.answers.views import wording
from loftwright.core.link_views import LinkAnswer, LinkPicture, LinksPage
from loftwright.core.outline import shell_outline
from loftwright.core.scene import Spot
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Caution, Fact
from loftwright.core.wording import Wording
from loftwright.mechanics.bolt_points import Box, displacement
from loftwright.project.linkage_section import ARM_PINS
from loftwright.reference.cautions import ALWAYS, BOLTING

ASSUMED: Final = (
    "The arms are reckoned straight between the middles of their pivot holes, stiff, and alike left and right.",
    "Springs are left out: check the roof again after writing an answer, and choose springs for it.",
    "Whether roof and shell are strong enough where the pivots land is not reckoned.",
)
NAMES: Final = dict(zip(ARM_PINS, ("arm a, van", "arm a, shell", "arm b, van", "arm b, shell"), strict=True))


def links_page(found: LinkNumbers) -> LinksPage:
    """Return everything said about where to bolt the arms."""
    project, say = found.project, wording(found.project)
    count = len(found.answers.best)
    how_many = "no way" if not count else "1 way" if count == 1 else f"{count} ways"
    return LinksPage(
        name=project.name,
        subtitle=f"{how_many} to bolt the arms at hand, low end at the {found.wanted.end}",
        asked=_asked(found, say),
        answers=tuple(_answer(found, say, i) for i in range(count)),
        sifted=_sifted(found),
        none="" if count else _why(found, say),
        cautions=tuple(Caution(text) for text in (BOLTING, *ALWAYS)),
        assumptions=(*project.taken, *ASSUMED),
        units=project.settings.units,
        made_with=MADE_WITH,
    )


def _span(say: Wording, low: float, high: float, *, angle: bool = False) -> str:
    word = say.angle if angle else say.short_length
    return word(low) if low == high else f"{word(low)} to {word(high)}"


def _asked(found: LinkNumbers, say: Wording) -> tuple[Fact, ...]:
    wanted = found.wanted
    facts = [
        Fact("Arm a and arm b", f"{say.short_length(wanted.arm_a)} and {say.short_length(wanted.arm_b)}"),
        Fact("Lip rises", say.short_length(wanted.rise)),
        Fact("Slope of the open shell", _span(say, *wanted.tilt, angle=True)),
        Fact("Lip towards the cab", _span(say, *wanted.shift)),
    ]
    for name, plate in (("van", wanted.van_plate), ("shell", wanted.shell_plate)):
        if plate is not None:
            facts.append(Fact(f"Pivots on the {name} apart", say.short_length(plate)))
    for name, box in (("van", wanted.a_van), ("shell", wanted.a_shell)):
        kept = box.x_low == box.x_high and box.z_low == box.z_high
        facts.append(Fact(f"Pivots on the {name}", "kept where they are" if kept else _zone(say, box)))
    return tuple(facts)


def _zone(say: Wording, box: Box) -> str:
    return f"x {_span(say, box.x_low, box.x_high)}, z {_span(say, box.z_low, box.z_high)}"


def _sifted(found: LinkNumbers) -> tuple[str, ...]:
    left = found.answers.sifted
    return (
        f"{left.tried} places were tried; in {left.reach} the arms are long enough and distances on plates are met.",
        f"In {left.in_zone} of these all pivots lie where they may; {left.move} of them go the whole way, lip rising "
        "from the start, without a dead point.",
        f"{left.grip} keep their grip all the way; of the best of these {left.clear} clear roof, opening and bed.",
    )


def _why(found: LinkNumbers, say: Wording) -> str:
    """Return which question no candidate got past, and what would help."""
    left, wanted = found.answers.sifted, found.wanted
    plates = wanted.van_plate is not None or wanted.shell_plate is not None
    if not left.reach:
        also = ", or let the distance on a plate be free" if plates else ""
        return f"No place lets the arms reach so high: longer arms or less rise would{also}."
    if not left.in_zone:
        return "The arms reach, but some pivot always lands outside its place: allow a larger one, or more slope."
    if not left.move:
        return (
            "All pivots find a place, but the arms pass a dead point, or the lip sinks before it rises: "
            "allow a larger place, another slope, or more way fore and aft."
        )
    if not left.grip:
        return (
            f"The arms go the whole way but come closer than {say.angle(wanted.grip)} to a line with the shell's "
            "pivots: allow a larger place, or less rise."
        )
    return (
        f"Every way touches something or comes too near, the best by {say.short_length(-left.nearest)}: allow a larger "
        "place, or look at rim height, upstand and the clearance asked for."
    )


def _answer(found: LinkNumbers, say: Wording, i: int) -> LinkAnswer:
    best = found.answers.best
    pivots = tuple(
        Fact(
            name,
            f"x {say.short_length(float(best.pins[2 * k][i]))}, z {say.short_length(float(best.pins[2 * k + 1][i]))}",
        )
        for k, name in enumerate(NAMES.values())
    )
    shift = float(best.shift[i])
    figures = [
        Fact("Arm a swings", say.angle(float(best.opens[i]))),
        Fact(
            "Rises",
            f"lip {say.short_length(float(best.rise[i]))}, other end {say.short_length(float(low_rise(found)[i]))}",
            f"slope {say.angle(float(best.tilt[i]))}",
        ),
        Fact(
            "Lip goes fore and aft",
            say.short_length(float(best.sway[i])),
            f"open {say.short_length(abs(shift))} {'nearer the cab' if shift > 0 else 'rearwards'}",
        ),
        Fact(
            "Least transmission angle",
            say.angle(float(best.grip[i])),
            f"at {say.fraction(float(best.grip_at[i]))} open; at least {say.angle(found.wanted.grip)} is wanted",
        ),
        Fact(
            "From a dead point", say.angle(float(best.off_dead[i])), "least angle of an arm to the line of shell pivots"
        ),
        Fact("Arms past the edges", say.short_length(float(found.arms[i]))),
        Fact("Rim over the roof", say.short_length(float(found.rim[i])), "least over the travel"),
    ]
    if found.bed is not None:
        figures.append(Fact("Shell over the bed", say.short_length(float(found.bed[i]))))
    figures.append(
        Fact(
            "Seat",
            f"low end off by up to {say.short_length(float(best.seat[i]))}",
            "if bolts and arms are off by what you expect; slot one hole and set it on the closed roof",
        )
    )
    return LinkAnswer(i + 1, pivots, tuple(figures), _picture(found, i))


def _picture(found: LinkNumbers, i: int) -> LinkPicture:
    project, best, wanted = found.project, found.answers.best, found.wanted
    shell = project.shell
    rear = -shell.overhang_rear.nominal
    front = rear + shell.length.nominal
    heights = (shell.height_rear.nominal, shell.height_middle.nominal, shell.height_front.nominal)
    x, z = shell_outline(rear, front, shell.rim_height.nominal, *heights)
    move = displacement(wanted, best.free[i : i + 1])

    def up(px: float, pz: float) -> Spot:
        ox, oz = move.apply(np.array([px]), np.array([pz]))
        return float(ox[0]), float(oz[0])

    pins = [(float(best.pins[2 * k][i]), float(best.pins[2 * k + 1][i])) for k in range(4)]
    outline = tuple((float(a), float(b)) for a, b in zip(x, z, strict=True))
    boxes = {(b.x_low, b.x_high, b.z_low, b.z_high) for b in (wanted.a_van, wanted.a_shell)}
    profile = tuple((p.x.nominal, p.z.nominal) for p in project.roof.profile)
    return LinkPicture(
        roof=profile or ((rear - 0.2, 0.0), (front + 0.2, 0.0)),
        opening=(0.0, project.opening.length.nominal),
        shell=outline,
        shell_open=tuple(up(*spot) for spot in outline),
        arms=((pins[0], pins[1]), (pins[2], pins[3])),
        arms_open=((pins[0], up(*pins[1])), (pins[2], up(*pins[3]))),
        zones=tuple(((x0, z0), (x1, z1)) for x0, x1, z0, z1 in sorted(boxes) if x1 > x0 and z1 > z0),
    )
