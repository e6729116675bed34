"""The timber frame of one roof: what it must copy, taken from the answers, and its lists in words."""

from __future__ import annotations

from collections import Counter
from typing import Literal

import numpy as np

from loftwright.answers.drilling import Spot
from loftwright.answers.judged_roof import RoofNumbers
from loftwright.answers.key_figures import key_figures
from loftwright.core.book_views import FramePage, FrameRow
from loftwright.core.motion import first_row
from loftwright.core.trial_frame import Held, TrialFrame
from loftwright.core.units import Dimension
from loftwright.core.views import Fact
from loftwright.core.wording import Wording
from loftwright.mechanics.balance import G0
from loftwright.plan.trial_frame import Ask, bars_of, trial_frame
from loftwright.project.model import Project
from loftwright.reference.fitting import FRAME_BUILD, FRAME_CAUTIONS
from loftwright.reference.timber import BENDING_SOURCE, SAFETY

Height = Literal["low", "true"]
"""A low frame is reached from the ground; a true one has the roof as high above the ground as above the van's floor."""

ONE_BLOCK = 0.12
"""Holes no further apart than this share a block [m]."""


def held_points(
    project: Project, found: RoofNumbers, spots: tuple[Spot, ...], pivots: tuple[Spot, ...]
) -> tuple[Held, ...]:
    """Return what the frame holds on each side: pins on the van, and all spring feet of one place as one block."""
    wide = project.linkage.spacing.nominal / 2
    held = [Held(p.name, p.x, p.z, wide, found.most_on_pin) for p in pivots if p.on == "van"]
    mine = [s for s in spots if s.on == "van" and not s.name.startswith(("coil", "cord"))]
    ends = [pair for pair in zip(found.felt.end_force, project.spring, strict=True) if pair[1].foot_on == "van"]
    pushes = [float(force[0].max()) * spring.per_side for force, spring in ends]
    feet = [(spring.foot.x.nominal, spring.foot.z.nominal) for _, spring in ends]
    place = project.spring[0].place.nominal if project.spring else wide
    groups: list[list[Spot]] = []
    for spot in sorted(mine, key=lambda s: s.x):
        if groups and spot.x - groups[-1][-1].x < ONE_BLOCK:
            groups[-1].append(spot)
        else:
            groups.append([spot])
    # Springs of several kinds on one block push together; one kind is in one of its holes at a time.
    blocks = [_nearest(foot, groups) for foot in feet] if groups else []
    for number, group in enumerate(groups):
        x, z = sum(s.x for s in group) / len(group), sum(s.z for s in group) / len(group)
        half = max(abs(spot.x - x) for spot in group)
        push = sum(force for force, block in zip(pushes, blocks, strict=True) if block == number)
        name = "spring foot" if len(group) == 1 else "row of holes"
        held.append(Held(name, x, z, place, push or max(pushes, default=0.0), half))
    pulls = _pulls(found)
    for spot in spots:
        if spot.on == "van" and spot.name.startswith(("coil", "cord")):
            held.append(Held(spot.name, spot.x, spot.z, wide, pulls))
    return tuple(held)


def _nearest(foot: tuple[float, float], groups: list[list[Spot]]) -> int:
    """Return the group of holes that lies nearest to a spring's foot [m]."""
    apart = [min(abs(spot.x - foot[0]) + abs(spot.z - foot[1]) for spot in group) for group in groups]
    return apart.index(min(apart))


def _pulls(found: RoofNumbers) -> float:
    """Return the greatest force of one coil spring or cord on one side [N], over the whole travel."""
    ways = [w for lifter in found.felt.lifters for part in lifter.parts for w in (part.raising, part.lowering)]
    return max((float(np.hypot(w.fx, w.fz).max()) / 2 for w in ways), default=0.0)


def frame_of(
    project: Project, found: RoofNumbers, spots: tuple[Spot, ...], pivots: tuple[Spot, ...], height: Height
) -> TrialFrame:
    """Return the frame for a roof with its springs at `spots`."""
    roof, felt = found.roof, found.felt
    centre = roof.travel.shell.point(roof.body.x, roof.body.z)
    pull = np.max(felt.pull_down[:, 0, :], axis=0)
    stations = range(0, roof.travel.fraction.size, 4)
    cx, cz, hx, hz = (
        first_row(np.broadcast_to(v, (roof.possible.size, roof.travel.fraction.size)))
        for v in (centre.x, centre.z, felt.hand.x, felt.hand.z)
    )
    ask = Ask(
        units=project.settings.units,
        opening_length=project.opening.length.nominal,
        opening_width=project.opening.width.nominal,
        profile=tuple((p.x.nominal, p.z.nominal) for p in project.roof.profile),
        crown=project.roof.crown.nominal,
        held=held_points(project, found, spots, pivots),
        true_height=project.van.floor_to_roof.nominal if height == "true" else None,
        shell_weight=G0 * float(roof.body.mass[0]),
        centre=tuple((float(cx[i]), float(cz[i])) for i in stations),
        hand=tuple((float(hx[i]), float(hz[i])) for i in stations),
        pull=tuple(float(pull[i]) for i in stations),
    )
    return trial_frame(ask)


def frame_page(
    project: Project,
    found: RoofNumbers,
    spots: tuple[Spot, ...],
    pivots: tuple[Spot, ...],
    say: Wording,
    height: Height,
) -> FramePage:
    """Return the frame in words beside its shapes."""
    frame = frame_of(project, found, spots, pivots, height)
    bars = bars_of(frame, say.units)
    key = key_figures(found)
    length, wide = frame.opening
    push = max((h.load for h in frame.held if h.name in ("spring foot", "row of holes")), default=0.0)
    facts = [
        Fact("Opening copied", f"{say.length(length)} by {say.length(wide)}"),
        Fact("Upper edge of the sides", say.length(frame.top - frame.ground), "above the ground"),
        Fact("Springs push on each side", say.force(push), "hot from the sun, at most"),
        Fact("On one hinge or pin", say.force(found.most_on_pin), "at most, any state"),
        Fact(
            "Bending in a side",
            say.quantity(frame.stress, Dimension.PRESSURE),
            f"allowed {say.quantity(frame.allowed, Dimension.PRESSURE)}",
        ),
        Fact("A side gives", say.short_length(frame.sag), f"allowed {say.short_length(frame.sag_allowed)}"),
        Fact("Timber weighs about", say.mass(frame.mass)),
        Fact(
            "Ballast low down",
            "none by this sum" if frame.ballast <= 0 else f"{say.mass(frame.ballast)}",
            "all corners together; tie it down outdoors" if frame.ballast > 0 else "still tie it down outdoors",
        ),
    ]
    rows = tuple(
        FrameRow(
            m.mark,
            m.name,
            str(m.count),
            f"{say.short_length(m.thick)} x {say.short_length(m.deep)}",
            say.length(m.length),
            "square" if m.cut == 0 else f"{say.angle(m.cut)} off square, both ends",
            m.joint,
        )
        for m in frame.members
    )
    counted = Counter((b.thick, b.deep, b.length) for b in bars)
    lines = [
        Fact(
            f"{say.short_length(b.thick)} x {say.short_length(b.deep)}, {say.length(b.length)} long",
            ", ".join(f"{mark} {say.length(cut)}" for mark, cut in b.cuts),
            f"left {say.length(b.left)}",
        )
        for b in bars
    ]
    buy = "; ".join(
        f"{n} of {say.short_length(t)} x {say.short_length(d)}, {say.length(long)}"
        for (t, d, long), n in sorted(counted.items())
    )
    note = (
        f"Buy {buy}. Each saw cut takes {say.short_length(0.004)}. Pieces were put one by one, longest first, into the "
        "first bar with room: quick, not the least possible timber. Blocks of other sizes are built up from offcuts "
        "and "
        "plywood."
    )
    tolerance = say.short_length(project.settings.mounting_tolerance.nominal)
    true = (
        f"Both diagonals of the opening within {tolerance} of each other; sides level within {tolerance} over their "
        "length.",
        f"Holes within {tolerance} of the drilling sheets, left and right alike: that is what the odds in this book "
        "reckon "
        "with.",
        f"Left and right true to {say.short_length(key.true_to)}, read as on the van, before it binds.",
        "Packers and curved strips to 2 mm (1/16 in): they decide where the shell seats.",
    )
    weak = (
        ()
        if frame.strong
        else (
            "No timber sold in this list carries a side within its limits: add legs beside the springs, or double "
            "the sides.",
        )
    )
    hold = (
        f"By hand one pulls down with up to {say.force_hand(frame.heaviest_pull)}; sums hold with someone stumbling "
        "against the open shell, without wind.",
        f"Timber is allowed 1/{SAFETY:.0f} of the strength of common building softwood ({BENDING_SOURCE.locator}); "
        "the factor "
        "is judgement.",
        "Springs push hinge and foot apart inside the frame: only weights and hands can tip it.",
    )
    slides = (
        ("The slide of crossing arms on the van is not drawn: screw a straight board for it to the sides.",)
        if project.linkage.kind == "scissor"
        else ()
    )
    return FramePage(
        frame=frame,
        facts=tuple(facts),
        rows=rows,
        bars=tuple(lines),
        bars_note=note,
        packers=tuple(Fact(say.short_length(x), say.short_length(max(h, 0.0))) for x, h in frame.packers),
        crown=tuple(Fact(say.short_length(y).replace("-", "−"), say.short_length(max(h, 0.0))) for y, h in frame.crown),
        true=true,
        build=FRAME_BUILD,
        cautions=(*FRAME_CAUTIONS, *hold, *slides, *weak),
    )
