"""A timber frame on the ground that holds hinges, arms and springs where the van will hold them.

Two sides on edge, two ends between them, legs, rails on the ground, braces in every face, and a block or post on each
side wherever the roof is held. Sizes follow from plain statics that add all loads up, whichever way they point.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from loftwright.core.choices import Units
from loftwright.core.errors import Bug
from loftwright.core.trial_frame import Bar, Box, Brace, Held, Member, TrialFrame
from loftwright.core.units import STANDARD_GRAVITY
from loftwright.plan.cutting import packed
from loftwright.reference.timber import (
    AGAINST_TIPPING,
    ALLOWED_BENDING,
    BOLT_HOLDS,
    DENSITY,
    LEAN,
    MOST_SCREWS,
    SCREW_HOLDS,
    STIFFNESS,
    STOCK,
)

BLOCK_HALF = 0.06
"""Half the length of a block along the side [m]."""
OVER = 0.05
"""How far a block reaches beyond its point, up and down [m]."""
END_ROOM = 0.10
"""How far a side reaches beyond its outermost point [m]."""
LONGEST_SPAN = 1.5
"""Legs stand no further apart than this [m]; judgement."""
LOW = 0.75
"""Height of the sides' upper edge above the ground of a low frame [m]; the roof is then reached from the ground."""
SAG_ALLOWED = 0.002
"""How far a side may give under the springs [m]: less than holes are marked to with a tape; judgement."""
PACKER_STEPS = 5
CROWN_STEPS = 9


@dataclass(frozen=True, slots=True)
class Ask:
    """What a frame must copy; lengths [m], forces [N].

    `held` are the points on one side; `profile` the roof along the middle as (x, z); `crown` how much lower it lies at
    the sides of the opening. `true_height` is that of the roof above the ground the builder wants, None: a low frame.
    `shell_weight` [N]; `centre` and `hand` are (x, z) of the shell's centre and of the handle over the travel, `pull`
    [N] the hand's downward pull at the same stations.
    """

    units: Units
    opening_length: float
    opening_width: float
    profile: tuple[tuple[float, float], ...]
    crown: float
    held: tuple[Held, ...]
    true_height: float | None
    shell_weight: float
    centre: tuple[tuple[float, float], ...]
    hand: tuple[tuple[float, float], ...]
    pull: tuple[float, ...]


def height_at(profile: Sequence[tuple[float, float]], x: float) -> float:
    """Return the height of the roof along its middle at `x` [m], level beyond its ends; `profile` (x, z) [m]."""
    if not profile:
        return 0.0
    if x <= profile[0][0]:
        return profile[0][1]
    for (ax, az), (bx, bz) in pairwise(profile):
        if x <= bx:
            return az + (bz - az) * (x - ax) / (bx - ax)
    return profile[-1][1]


def bending(loads: Sequence[tuple[float, float]], span: float, thick: float, deep: float) -> tuple[float, float]:
    """Return the greatest bending stress [Pa] and sag [m] of a beam on two supports, no less than the true ones.

    For each load P at a from one end, b = L - a from the other,

        M = P a b / L,  sigma = M / W,  W = t h^2 / 6                 (1)
        w = P c (3 L^2 - 4 c^2) / (48 E I),  c = min(a, b)            (2)

    (1) under the load, (2) at mid-span; the loads' moments and sags are added as if all were greatest at one place and
    the sag is raised by 3 %, as the greatest one lies a little off mid-span. `loads` (P [N], a [m]), `span` L [m],
    section `thick` t x `deep` h [m] on edge. Validity: elastic, deep less than a tenth of the span or so. Source: beam
    tables of any handbook (from memory), checked by integration in the tests.
    """
    w, inertia = thick * deep**2 / 6.0, thick * deep**3 / 12.0
    moment = sum(p * a * (span - a) / span for p, a in loads)
    sag = 0.0
    for p, a in loads:
        c = min(a, span - a)
        sag += 1.03 * p * c * (3.0 * span**2 - 4.0 * c**2) / (48.0 * STIFFNESS * inertia)
    return moment / w, sag


def joint_for(load: float, units: Units) -> str:
    """Return what holds a part against `load` [N], in words: screws, or bolts where too many would be needed."""
    screws = max(4, math.ceil(load / SCREW_HOLDS))
    if screws <= MOST_SCREWS:
        return f"{screws} screws {STOCK[units].screws[1]}"
    return f"{max(2, math.ceil(load / BOLT_HOLDS))} bolts {STOCK[units].bolt}, big washers"


def _block(held: Held, every: Sequence[Held]) -> tuple[float, float]:
    """Return from where to where the block of a point reaches along [m]: half way to a neighbour at most."""
    half = BLOCK_HALF + held.half
    before, after = held.x - half, held.x + half
    for other in every:
        gap = other.x - held.x
        if 0 < gap < half + BLOCK_HALF + other.half:
            after = min(after, held.x + gap / 2)
        elif 0 < -gap < half + BLOCK_HALF + other.half:
            before = max(before, held.x + gap / 2)
    return before, after


def _legs(first: float, last: float) -> tuple[float, ...]:
    spans = max(1, math.ceil((last - first) / LONGEST_SPAN - 1e-9))
    return tuple(first + (last - first) * i / spans for i in range(spans + 1))


def _sized(ask: Ask, legs: Sequence[float]) -> tuple[tuple[float, float], float, float, bool]:
    """Return the smallest beam that carries every span between legs, its stress and sag, and whether it is enough."""
    sections = STOCK[ask.units].beams
    for thick, deep in sections:
        found = [
            bending([(h.load, h.x - a) for h in ask.held if a < h.x < b], b - a, thick, deep) for a, b in pairwise(legs)
        ]
        stress, sag = max(f[0] for f in found), max(f[1] for f in found)
        if stress <= ALLOWED_BENDING and sag <= SAG_ALLOWED:
            return (thick, deep), stress, sag, True
    return sections[-1], stress, sag, False


def tipping(ask: Ask, legs: Sequence[float], half: float, ground: float, mass: float) -> float:
    """Return the ballast [kg], spread over the corners, that keeps the frame from tipping over any of its edges.

    About each edge of the base, at every station of the travel: what holds (weights within, by their distance from the
    edge) must be `AGAINST_TIPPING` times what tips (weights and pulls beyond the edge, and someone leaning with `LEAN`,
    level, at the height of centre or handle). Ballast counts with half the base. `legs` along [m], `half` the width
    of the base [m], `ground` [m], `mass` of the frame [kg]. Validity: level firm ground, no wind. Source: derivation.
    """
    rear, front = legs[0], legs[-1]
    middle, frame = (rear + front) / 2, mass * STANDARD_GRAVITY
    needed = 0.0
    for (cx, cz), (hx, hz), pull in zip(ask.centre, ask.hand, ask.pull, strict=True):
        lean = LEAN * (max(cz, hz) - ground)
        weights = ((ask.shell_weight, cx), (frame, middle), (max(pull, 0.0), hx))
        for edge, sense in ((rear, 1.0), (front, -1.0)):
            arms = [(w, sense * (x - edge)) for w, x in weights]
            # A hand's pull may be let go at any time: it never holds.
            holds = sum(w * a for w, a in arms[:2] if a > 0)
            tips = lean - sum(w * a for w, a in arms if a < 0)
            needed = max(needed, (AGAINST_TIPPING * tips - holds) / ((front - rear) / 2))
        needed = max(needed, (AGAINST_TIPPING * lean - (ask.shell_weight + frame) * half) / half)
    return needed / STANDARD_GRAVITY


def _members(boxes: Sequence[Box], braces: Sequence[Brace], names: dict[str, tuple[str, str]]) -> tuple[Member, ...]:
    """Return like pieces gathered, in the order of their letters."""
    found = []
    for mark, (name, joint) in names.items():
        mine = [b for b in boxes if b.mark == mark]
        if mine:
            sides = sorted(hi - lo for lo, hi in zip(mine[0].low, mine[0].high, strict=True))
            found.append(Member(mark, name, len(mine), sides[0], sides[1], sides[2], 0.0, joint))
            continue
        sloping = [b for b in braces if b.mark == mark]
        if not sloping:
            continue
        one = sloping[0]
        rise = one.b[2] - one.a[2]
        length = math.dist(one.a, one.b)
        angle = math.asin(abs(rise) / length)
        # Long enough for ends cut level with the ground.
        full = length + one.wide * abs(math.cos(angle) / max(math.sin(angle), 0.2))
        found.append(Member(mark, name, len(sloping), one.thick, one.wide, full, math.pi / 2 - angle, joint))
    return tuple(found)


def trial_frame(ask: Ask) -> TrialFrame:
    """Return the frame that copies an opening and holds every point of `ask.held` on both sides."""
    if not ask.held:
        raise Bug("a frame that holds nothing")
    length, half = ask.opening_length, ask.opening_width / 2
    stock = STOCK[ask.units]
    short, middle, long = stock.screws
    thick = stock.beams[0][0]
    first = min(-thick, *(h.x - h.half - END_ROOM for h in ask.held))
    last = max(length + thick, *(h.x + h.half + END_ROOM for h in ask.held))
    leg_wide = stock.beams[0][1]
    legs = _legs(first + leg_wide / 2, last - leg_wide / 2)
    (thick, deep), stress, sag, strong = _sized(ask, legs)
    stations = [length * i / (PACKER_STEPS - 1) for i in range(PACKER_STEPS)]
    # The sides lie as low as the lowest place of the opening's long edges; packers make up the rest.
    along = [
        height_at(ask.profile, x) - ask.crown for x in (*stations, *(p[0] for p in ask.profile if 0 < p[0] < length))
    ]
    top = min(along)
    lowest = min(min(h.z for h in ask.held) - OVER, top - deep)
    ground = top - LOW if ask.true_height is None else -ask.true_height
    ground = min(ground, lowest - 0.15)
    bottom = top - deep
    outer = half + thick
    base_half = outer + thick
    boxes: list[Box] = []
    for s in (1.0, -1.0):
        lo, hi = sorted((s * half, s * outer))
        boxes.append(Box("A", (first, lo, bottom), (last, hi, top)))
    for x in (-thick, length):
        boxes.append(Box("B", (x, -half, bottom), (x + thick, half, top)))
    for x in legs:
        for s in (1.0, -1.0):
            lo, hi = sorted((s * outer, s * base_half))
            boxes.append(Box("C", (x - leg_wide / 2, lo, ground), (x + leg_wide / 2, hi, top)))
    for s in (1.0, -1.0):
        lo, hi = sorted((s * outer, s * half))
        boxes.append(Box("D", (first, lo, ground), (last, hi, ground + leg_wide)))
    for x, way in ((legs[0], 1.0), (legs[-1], -1.0)):
        lo, hi = sorted((x - way * thick / 2, x + way * thick / 2))
        boxes.append(Box("E", (lo, -half, ground), (hi, half, ground + leg_wide)))
    names: dict[str, tuple[str, str]] = {
        "A": ("side, on edge", f"2 bolts {stock.bolt} in every leg"),
        "B": ("end, between the sides", f"4 screws {long} at each end, corner plates below"),
        "C": ("leg, outside the side", "flush with the side's upper edge"),
        "D": ("rail on the ground, along", f"3 screws {middle} in each leg"),
        "E": ("rail on the ground, across", f"3 screws {long} at each end"),
    }
    letter = ord("F")
    for held in ask.held:
        before, after = _block(held, ask.held)
        mark = chr(letter)
        letter += 1
        hangs = held.z - OVER < bottom - 0.05
        low_z = ground + leg_wide if hangs else min(held.z - OVER, bottom)
        meets = any(before < x + thick and after > x for x in (-thick, length))
        on_end = meets and not hangs and held.place < half and held.z > top
        if on_end:
            low_z = top
        high_z = max(held.z + OVER, top)
        # The bracket's face lies at `place`: the block fills the room up to the side, inside or outside it.
        room = (held.place, half) if held.place < half - 0.012 else (half, half + 0.012)
        if held.place > outer + 0.012:
            room = (outer, held.place)
        for s in (1.0, -1.0):
            lo, hi = sorted((s * room[0], s * room[1]))
            boxes.append(Box(mark, (before, lo, low_z), (after, hi, high_z)))
        what = "post" if hangs else "block on the end beam" if on_end else "block"
        names[mark] = (f"{what} for {held.name}", joint_for(held.load, ask.units))
    board_thick, board_wide = stock.board
    braces: list[Brace] = []
    side_mark, end_mark = chr(letter), chr(letter + 1)
    for s in (1.0, -1.0):
        y = s * (base_half + board_thick / 2)
        for i, (a, b) in enumerate(pairwise(legs)):
            low, high = (a, b) if i % 2 == 0 else (b, a)
            braces.append(
                Brace(
                    side_mark, (low, y, ground + leg_wide), (high, y, top - deep / 2), board_wide, board_thick, "side"
                )
            )
    for x, way in ((legs[0], -1.0), (legs[-1], 1.0)):
        at = x + way * (leg_wide + board_thick) / 2
        low_end, high_end = (at, -outer, ground + leg_wide), (at, outer, top - deep / 2)
        braces.append(Brace(end_mark, low_end, high_end, board_wide, board_thick, "end"))
    names[side_mark] = ("brace in each side", f"3 screws {short} at each end")
    names[end_mark] = ("brace in each end", f"3 screws {short} at each end")
    members = _members(boxes, braces, names)
    volume = sum(m.count * m.thick * m.deep * m.length for m in members)
    crown_y = [half * (2.0 * i / (CROWN_STEPS - 1) - 1.0) for i in range(CROWN_STEPS)]
    rise = height_at(ask.profile, 0.0) - ask.crown - top
    mass = volume * DENSITY
    return TrialFrame(
        opening=(length, ask.opening_width),
        top=top,
        ground=ground,
        sides=(first, last),
        legs=legs,
        boxes=tuple(boxes),
        braces=tuple(braces),
        members=members,
        held=ask.held,
        packers=tuple((x, height_at(ask.profile, x) - ask.crown - top) for x in stations),
        crown=tuple((y, rise + ask.crown * (1.0 - (y / half) ** 2)) for y in crown_y),
        stress=stress,
        allowed=ALLOWED_BENDING,
        sag=sag,
        sag_allowed=SAG_ALLOWED,
        strong=strong,
        heaviest_pull=max(0.0, *ask.pull),
        ballast=max(0.0, tipping(ask, legs, base_half, ground, mass)),
        mass=mass,
    )


def bars_of(frame: TrialFrame, units: Units) -> tuple[Bar, ...]:
    """Return the stock bars from which the frame is cut, section by section; short blocks come from offcuts of beams.

    Blocks whose section is none that is sold are left out: they are built up from offcuts and plywood.
    """
    stock = STOCK[units]
    sold = {*stock.beams, stock.board}
    found: list[Bar] = []
    for section in sorted(sold):
        pieces = [
            (m.mark, m.length)
            for m in frame.members
            if (m.thick, m.deep) == (round(section[0], 9), round(section[1], 9))
            or (abs(m.thick - section[0]) < 1e-6 and abs(m.deep - section[1]) < 1e-6)
            for _ in range(m.count)
        ]
        if pieces:
            found += packed(pieces, stock.lengths, *section)
    return tuple(found)
