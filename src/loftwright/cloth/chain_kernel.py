"""The loop of the elastic chain: plain functions on arrays, which numba can compile as they stand.

Explicit steps in time: forces of weight, bending, pulls and air move the nodes (1), then positions are mended so that
nodes keep out of boxes, shell, bars and one another (2) and segments keep their length (3). Velocities follow from the
positions (4). No random numbers and no angles in here: directions come as unit vectors, so runs repeat.

Nodes 0..n of a strip, spacing h, mass m each [kg/m]; the ends count as half a cell, so the hinge at a clamp counts
double. `x` is [n + 1, 2]: u, z [m]. Per metre of rim throughout. All of it stands in one file, for what the compiler
keeps on disk is renewed when the file of the loop changes, not when another does.
"""

from __future__ import annotations

from math import sqrt

import numpy as np

from loftwright.core.motion import Array

SPACING, MASS, BEND, GRAVITY, DAMPING, STEP, THICK, FRICTION, CEILING, UNIT, STILL, CAP = range(12)
"""Places in the numbers: h [m], m [kg/m], B / h3 [N/m2], g [m/s2], damping [1/s], step [s], thickness [m], friction
[1], ceiling [m], energy that rest is told against [J/m], share of it that counts as rest [1], longest move [m]."""
SKIP, FREE, MOVING, MOST, WINDOW, EVERY = range(6)
"""Places in the counts: segments beside a node that it never touches (0: no self-contact), whether the upper end is
free, steps of the drive, most steps, steps of rest in a row, steps between frames."""
DONE, REST, STRAIN, LIFT, FRAMES = range(5)
"""Places in the tally."""

ROUNDS = 2
"""How often contacts and lengths are mended in a step."""
YIELD = 1e-3
"""Added to the diagonal of the length equations, so that a straight strip between two clamps has a solution [1]."""
TURN = 0.8
"""Cosine of the turn of a segment in one step beyond which its old direction is no use [1]."""
WRONG = 0.02
"""Strain beyond which lengths are mended one after another instead of all at once [1]."""
SWEEPS = 8
"""How often they are then gone through, to and fro."""
SMOOTH = 0.25
"""Bending is taken from positions so many steps ahead, which damps what changes from node to node [1]."""
FITTING = 60
"""How often the lengths are mended before the first step."""


def bend(x: Array, force: Array, stiff: float, h: float, foot: Array, leave: Array, free: int) -> float:
    """Add the forces of bending to `force` [n + 1, 2] [N/m] and return what the upper clamp feels upright [N/m].

    Energy of a hinge (B / h3) |x(i-1) - 2 x(i) + x(i+1)|^2 / 2 (1), at a clamp double with the clamp's direction in
    place of the missing segment (2). `stiff` = B / h3 [N/m2], `h` [m]; `foot`, `leave` [2]: directions in which the
    strip leaves its clamps [1].
    """
    last = x.shape[0] - 1
    for i in range(1, last):
        du = stiff * (x[i - 1, 0] - 2.0 * x[i, 0] + x[i + 1, 0])
        dz = stiff * (x[i - 1, 1] - 2.0 * x[i, 1] + x[i + 1, 1])
        force[i - 1, 0] -= du
        force[i - 1, 1] -= dz
        force[i, 0] += 2.0 * du
        force[i, 1] += 2.0 * dz
        force[i + 1, 0] -= du
        force[i + 1, 1] -= dz
    force[1, 0] -= 2.0 * stiff * (x[1, 0] - x[0, 0] - h * foot[0])
    force[1, 1] -= 2.0 * stiff * (x[1, 1] - x[0, 1] - h * foot[1])
    if free:
        return 0.0
    du = 2.0 * stiff * (x[last - 1, 0] - x[last, 0] - h * leave[0])
    dz = 2.0 * stiff * (x[last - 1, 1] - x[last, 1] - h * leave[1])
    force[last - 1, 0] -= du
    force[last - 1, 1] -= dz
    felt: float = force[last, 1] + dz
    return felt


def sweep_lengths(x: Array, ease: Array, h: float) -> float:
    """Mend the segments to the length `h` [m] one after another, to and fro; for what is far off.

    Returns how far that would lift the upper end [m]; `ease` [n + 1] [1] as in `keep_lengths`.
    """
    count = x.shape[0] - 1
    up = 0.0
    for k in range(2 * SWEEPS * count):
        place = k % (2 * count)
        j = place if place < count else 2 * count - 1 - place
        give = ease[j] + ease[j + 1]
        if give == 0.0:
            continue
        du = x[j + 1, 0] - x[j, 0]
        dz = x[j + 1, 1] - x[j, 1]
        size = sqrt(du * du + dz * dz)
        part = (size - h) / (size * give)
        x[j, 0] += ease[j] * part * du
        x[j, 1] += ease[j] * part * dz
        x[j + 1, 0] -= ease[j + 1] * part * du
        x[j + 1, 1] -= ease[j + 1] * part * dz
        if j == count - 1:
            up -= part * dz
    return up


def keep_lengths(x: Array, old: Array, ease: Array, h: float, work: Array) -> float:
    """Mend all segments to the length `h` [m] at once and return how far that would lift the upper end [m].

    One Newton step: a forward and a backward sweep over the tridiagonal equations of the segments' lengths (1). Nodes
    move along the segments as they were before the step, `old` [n + 1, 2] [m] (2): along the new ones a strip under
    end pressure would be fed energy. `ease` [n + 1]: one over the node's share of mass, nought for held ones [1].
    `work` [n, 7] is scratch.
    """
    count = x.shape[0] - 1
    along, worst = 1.0, 0.0
    for j in range(count):
        du = x[j + 1, 0] - x[j, 0]
        dz = x[j + 1, 1] - x[j, 1]
        size = sqrt(du * du + dz * dz)
        work[j, 0] = du / size
        work[j, 1] = dz / size
        work[j, 3] = size - h
        worst = max(worst, abs(size - h))
        du = old[j + 1, 0] - old[j, 0]
        dz = old[j + 1, 1] - old[j, 1]
        size = sqrt(du * du + dz * dz)
        work[j, 5] = du / size
        work[j, 6] = dz / size
        along = min(along, work[j, 0] * work[j, 5] + work[j, 1] * work[j, 6])
    if along < TURN or worst > WRONG * h:
        return sweep_lengths(x, ease, h)
    for j in range(count):
        main = (ease[j] + ease[j + 1]) * (work[j, 0] * work[j, 5] + work[j, 1] * work[j, 6]) + YIELD
        if j > 0:
            under = -ease[j] * (work[j, 0] * work[j - 1, 5] + work[j, 1] * work[j - 1, 6])
            ratio = under / work[j - 1, 2]
            main -= ratio * work[j - 1, 4]
            work[j, 3] -= ratio * work[j - 1, 3]
        if j < count - 1:
            work[j, 4] = -ease[j + 1] * (work[j, 0] * work[j + 1, 5] + work[j, 1] * work[j + 1, 6])
        work[j, 2] = main
    pull = 0.0
    for back in range(count):
        j = count - 1 - back
        pull = (work[j, 3] - (work[j, 4] * pull if back > 0 else 0.0)) / work[j, 2]
        work[j, 3] = pull
    for j in range(count):
        pu = work[j, 3] * work[j, 5]
        pz = work[j, 3] * work[j, 6]
        x[j, 0] += ease[j] * pu
        x[j, 1] += ease[j] * pz
        x[j + 1, 0] -= ease[j + 1] * pu
        x[j + 1, 1] -= ease[j + 1] * pz
    up: float = -work[count - 1, 3] * work[count - 1, 6]
    return up


def push_out(
    x: Array, old: Array, i: int, nu: float, nz: float, deep: float, rough: float, mu: float, mz: float
) -> float:
    """Move node `i` by `deep` [m] along the normal (nu, nz) with Coulomb friction and return how far upwards [m].

    The surface itself moves by (mu, mz) [m] in this step; what the node slides along it since `old` [n + 1, 2] is taken
    back by `rough` times the depth at most (1).
    """
    before = x[i, 1]
    slide = (x[i, 1] - old[i, 1] - mz) * nu - (x[i, 0] - old[i, 0] - mu) * nz
    back = min(max(slide, -rough * deep), rough * deep)
    x[i, 0] += deep * nu + back * nz
    x[i, 1] += deep * nz - back * nu
    up: float = x[i, 1] - before
    return up


def keep_out(x: Array, old: Array, ease: Array, numbers: Array, boxes: Array, bars: Array, shell: Array) -> float:
    """Keep all nodes out of boxes, ceiling and bars and return how far the shell pushed them up in all [m].

    `old` [n + 1, 2]: positions before the step; `ease` [n + 1] as in `keep_lengths`; `boxes` [b, 4] from least to
    greatest u, z and `bars` [c, 3] as in `chain.Room` [m]; `shell` [6]: cosine and sine of its turn [1], the clamp
    [m], and how far that moved in this step [m]. `numbers`: see the head of the module.
    """
    half = numbers[THICK] / 2.0
    rough = numbers[FRICTION]
    cos, sin, cu, cz, mu, mz = shell[0], shell[1], shell[2], shell[3], shell[4], shell[5]
    up = 0.0
    for i in range(x.shape[0]):
        if ease[i] == 0.0:
            continue
        for b in range(boxes.shape[0]):
            left = x[i, 0] - (boxes[b, 0] - half)
            right = boxes[b, 2] + half - x[i, 0]
            low = x[i, 1] - (boxes[b, 1] - half)
            high = boxes[b, 3] + half - x[i, 1]
            if left <= 0.0 or right <= 0.0 or low <= 0.0 or high <= 0.0:
                continue
            if high <= low and high <= left and high <= right:
                push_out(x, old, i, 0.0, 1.0, high, rough, 0.0, 0.0)
            elif low <= left and low <= right:
                push_out(x, old, i, 0.0, -1.0, low, rough, 0.0, 0.0)
            elif left < right:
                push_out(x, old, i, -1.0, 0.0, left, rough, 0.0, 0.0)
            else:
                push_out(x, old, i, 1.0, 0.0, right, rough, 0.0, 0.0)
        deep = (x[i, 1] - cz) * cos - (x[i, 0] - cu) * sin - (numbers[CEILING] - half)
        if deep > 0.0:
            up += push_out(x, old, i, sin, -cos, deep, rough, mu, mz)
        for c in range(bars.shape[0]):
            du = x[i, 0] - (cu + cos * bars[c, 0] - sin * bars[c, 1])
            dz = x[i, 1] - (cz + sin * bars[c, 0] + cos * bars[c, 1])
            apart = sqrt(du * du + dz * dz)
            deep = bars[c, 2] + half - apart
            if deep > 0.0 and apart > 0.0:
                up += push_out(x, old, i, du / apart, dz / apart, deep, rough, mu, mz)
    return up


def find_pairs(x: Array, skip: int, reach: float, pairs: Array) -> int:
    """Write which node may meet which segment within `reach` [m] into `pairs` [n (n + 1), 2]; return how many."""
    last = x.shape[0] - 1
    found = 0
    for i in range(last + 1):
        for j in range(last):
            if j - i < skip and i - j - 1 < skip:
                continue
            du = x[i, 0] - 0.5 * (x[j, 0] + x[j + 1, 0])
            dz = x[i, 1] - 0.5 * (x[j, 1] + x[j + 1, 1])
            if du * du + dz * dz < reach * reach:
                pairs[found, 0] = i
                pairs[found, 1] = j
                found += 1
    return found


def keep_apart(x: Array, old: Array, ease: Array, pairs: Array, found: int, thick: float, rough: float) -> None:
    """Keep the first `found` of `pairs` of node and segment `thick` [m] apart, with friction `rough` [1].

    `old` [n + 1, 2]: positions before the step [m]; `ease` [n + 1] [1] as in `keep_lengths`. What one slides along
    the other is taken back by friction times depth at most (1).
    """
    for p in range(found):
        i = pairs[p, 0]
        j = pairs[p, 1]
        su = x[j + 1, 0] - x[j, 0]
        sz = x[j + 1, 1] - x[j, 1]
        share = ((x[i, 0] - x[j, 0]) * su + (x[i, 1] - x[j, 1]) * sz) / (su * su + sz * sz)
        share = min(max(share, 0.0), 1.0)
        du = x[i, 0] - x[j, 0] - share * su
        dz = x[i, 1] - x[j, 1] - share * sz
        near = du * du + dz * dz
        if near >= thick * thick or near == 0.0:
            continue
        apart = sqrt(near)
        nu = du / apart
        nz = dz / apart
        a, b = 1.0 - share, share
        give = ease[i] + ease[j] * a * a + ease[j + 1] * b * b
        if give == 0.0:
            continue
        deep = thick - apart
        slide_u = x[i, 0] - old[i, 0] - a * (x[j, 0] - old[j, 0]) - b * (x[j + 1, 0] - old[j + 1, 0])
        slide_z = x[i, 1] - old[i, 1] - a * (x[j, 1] - old[j, 1]) - b * (x[j + 1, 1] - old[j + 1, 1])
        slide = slide_z * nu - slide_u * nz
        back = min(max(slide, -rough * deep), rough * deep)
        mu = (deep * nu + back * nz) / give
        mz = (deep * nz - back * nu) / give
        x[i, 0] += ease[i] * mu
        x[i, 1] += ease[i] * mz
        x[j, 0] -= ease[j] * a * mu
        x[j, 1] -= ease[j] * a * mz
        x[j + 1, 0] -= ease[j + 1] * b * mu
        x[j + 1, 1] -= ease[j + 1] * b * mz


def blow(x: Array, force: Array, press: float) -> None:
    """Add air pushing outward with `press` [Pa], square to each segment, to `force` [n + 1, 2] [N/m]; `x` [m]."""
    for j in range(x.shape[0] - 1):
        fu = -0.5 * press * (x[j + 1, 1] - x[j, 1])
        fz = 0.5 * press * (x[j + 1, 0] - x[j, 0])
        force[j, 0] += fu
        force[j, 1] += fz
        force[j + 1, 0] += fu
        force[j + 1, 1] += fz


def draw_in(x: Array, node: Array, holds: Array, share: float) -> None:
    """Draw node `node` [h] towards a point by a cord that gets shorter: `holds` [h, 3] u, z, length when open [m].

    The cord is `share` [1] of its length long and only pulls.
    """
    for k in range(node.shape[0]):
        i = node[k]
        du = x[i, 0] - holds[k, 0]
        dz = x[i, 1] - holds[k, 1]
        far = sqrt(du * du + dz * dz)
        most = share * holds[k, 2]
        if far > most:
            x[i, 0] -= du * (1.0 - most / far)
            x[i, 1] -= dz * (1.0 - most / far)


def drive_at(drive: Array, share: float, at: Array) -> None:
    """Write the row of `drive` [k, d] at `share` [1] of its time into `at` [d], straight between rows."""
    rows = drive.shape[0]
    place = share * (rows - 1)
    low = min(int(place), rows - 2)
    part = place - low
    for d in range(drive.shape[1]):
        at[d] = drive[low, d] + part * (drive[low + 1, d] - drive[low, d])
    for d in (2, 4):
        size = sqrt(at[d] * at[d] + at[d + 1] * at[d + 1])
        at[d] /= size
        at[d + 1] /= size


def march(
    x: Array,
    v: Array,
    ease: Array,
    numbers: Array,
    counts: Array,
    foot: Array,
    drive: Array,
    loads: Array,
    boxes: Array,
    bars: Array,
    hold_node: Array,
    holds: Array,
    pairs: Array,
    frames: Array,
    notes: Array,
    tally: Array,
) -> None:
    """Step the strip until it rests after the drive has ended, or the most steps are done; everything is in place.

    `x`, `v` [n + 1, 2] [m], [m/s]; `ease` [n + 1] [1] as in `keep_lengths`; `numbers`, `counts` and `tally`: see the
    head of the module; `foot` [2] [1]; `drive` [k, 8]: clamp u, z [m], direction there [1], cosine and sine of the
    shell's turn [1], air [Pa], share of the cords' lengths [1]; `loads` [n + 1, 2] [N/m]; `boxes`, `bars` [m] as in
    `keep_out`; `hold_node` [h], `holds` [h, 3] [m] as in `draw_in`; `pairs` scratch; `frames` [f, n + 1, 2] [m] with
    `notes` [f, 2]: share of the drive [1] and push on the shell [N/m].
    """
    last = x.shape[0] - 1
    h, mass, stiff, dt = numbers[SPACING], numbers[MASS], numbers[BEND], numbers[STEP]
    skip, free, moving, window = counts[SKIP], counts[FREE], counts[MOVING], counts[WINDOW]
    slower = 1.0 / (1.0 + numbers[DAMPING] * dt)
    old, listed, ahead, force = x.copy(), x.copy(), x.copy(), np.zeros_like(x)
    work = np.zeros((last, 7))
    at = drive[0].copy()
    shell = drive[0, :6].copy()
    if not free:
        x[last, 0] = at[0]
        x[last, 1] = at[1]
    for _ in range(FITTING):
        old[:] = x
        keep_lengths(x, old, ease, h, work)
    listed[:] = x
    margin = h
    found = find_pairs(x, skip, numbers[THICK] + 0.5 * h + margin, pairs) if skip > 0 else 0
    quiet, greatest, up_window, up_frame, taken = 0, 0.0, 0.0, 0.0, 0
    worst = 0.0
    done = 0
    for step in range(counts[MOST]):
        done = step + 1
        share = min(done / moving, 1.0)
        drive_at(drive, share, at)
        farthest = 0.0
        for i in range(last + 1):
            old[i, 0] = x[i, 0]
            old[i, 1] = x[i, 1]
            ahead[i, 0] = x[i, 0] + SMOOTH * dt * v[i, 0]
            ahead[i, 1] = x[i, 1] + SMOOTH * dt * v[i, 1]
            force[i, 0] = loads[i, 0]
            force[i, 1] = loads[i, 1]
            if skip > 0:
                du, dz = x[i, 0] - listed[i, 0], x[i, 1] - listed[i, 1]
                farthest = max(farthest, du * du + dz * dz)
        if farthest > 0.2 * margin * margin:
            found = find_pairs(x, skip, numbers[THICK] + 0.5 * h + margin, pairs)
            listed[:] = x
        felt = bend(ahead, force, stiff, h, foot, at[2:4], free)
        if at[6] != 0.0:
            blow(x, force, at[6])
        for i in range(last + 1):
            if ease[i] > 0.0:
                ku = dt * (slower * v[i, 0] + dt * force[i, 0] * ease[i] / mass)
                kz = dt * (slower * v[i, 1] + dt * (force[i, 1] * ease[i] / mass - numbers[GRAVITY]))
                move = sqrt(ku * ku + kz * kz)
                if move > numbers[CAP]:
                    ku *= numbers[CAP] / move
                    kz *= numbers[CAP] / move
                x[i, 0] += ku
                x[i, 1] += kz
        shell[0], shell[1], shell[2], shell[3] = at[4], at[5], at[0], at[1]
        shell[4] = at[0] - old[last, 0]
        shell[5] = at[1] - old[last, 1]
        if not free:
            x[last, 0] = at[0]
            x[last, 1] = at[1]
        lifted = 0.0
        for _ in range(ROUNDS):
            if skip > 0:
                keep_apart(x, old, ease, pairs, found, numbers[THICK], numbers[FRICTION])
            lifted -= keep_out(x, old, ease, numbers, boxes, bars, shell)
            draw_in(x, hold_node, holds, at[7])
            lifted += keep_lengths(x, old, ease, h, work)
        energy = 0.0
        for i in range(last + 1):
            v[i, 0] = (x[i, 0] - old[i, 0]) / dt
            v[i, 1] = (x[i, 1] - old[i, 1]) / dt
            if ease[i] > 0.0:
                energy += 0.5 * mass / ease[i] * (v[i, 0] * v[i, 0] + v[i, 1] * v[i, 1])
        push = lifted * mass / (dt * dt) + felt
        if not free:
            push -= 0.5 * mass * numbers[GRAVITY]
        up_frame += push
        energy /= numbers[UNIT]
        if done % counts[EVERY] == 0:
            for j in range(last):
                du, dz = x[j + 1, 0] - x[j, 0], x[j + 1, 1] - x[j, 1]
                greatest = max(greatest, abs(sqrt(du * du + dz * dz) / h - 1.0))
            if taken < frames.shape[0]:
                frames[taken] = x
                notes[taken, 0] = share
                notes[taken, 1] = up_frame / counts[EVERY]
                taken += 1
            up_frame = 0.0
        if done <= moving:
            continue
        if quiet == 0:
            up_window, worst = 0.0, 0.0
        up_window += push
        worst = max(worst, energy)
        quiet += 1
        if quiet >= window:
            if worst <= numbers[STILL]:
                break
            if step + 1 < counts[MOST]:
                quiet = 0
    tally[DONE] = done
    tally[REST] = worst
    tally[STRAIN] = greatest
    tally[LIFT] = up_window / max(quiet, 1)
    tally[FRAMES] = taken


PARTS = (bend, sweep_lengths, keep_lengths, push_out, keep_out, find_pairs, keep_apart, blow, draw_in, drive_at)
"""What the loop calls."""
