"""What readings on the built roof say, on one page."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.answers.hole_words import hand_of
from loftwright.answers.move_words import move_facts, moves_note
from loftwright.answers.proof import Odds, Proof, odds_of, prove
from loftwright.answers.proof_moves import JudgedMove, moves_of
from loftwright.answers.proof_readings import Position
from loftwright.answers.proof_tape import TapeProof, tape_proof
from loftwright.answers.proof_words import (
    asked,
    cleared,
    how,
    hundred,
    is_wrong,
    next_hole,
    tape_verdict,
    verdict,
)
from loftwright.answers.views import cautions_of, wording
from loftwright.core.choice_views import HoleRow, ProofPage, ReadingChart, ReadingRow
from loftwright.core.motion import Array
from loftwright.core.uncertain import Uncertain, normal
from loftwright.core.units import STANDARD_GRAVITY, Dimension
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Caution, Fact
from loftwright.core.wording import Wording
from loftwright.project import assemble
from loftwright.project.model import Project, key_of, walk
from loftwright.project.stock import Listed

STRANGE = 2.0
"""In a set that contradicts, a reading this many standard deviations off is marked."""
LEARNT = 0.85
"""An input is shown as learnt when its doubt shrank to this share of what it was, or less: judgement."""
MOST_LEARNT = 6
"""How many inputs are shown beside weight, centre and springs."""

WHILE_READING = (
    "Two people: one moves the roof slowly by its handle, the other reads the scale from the side.",
    "Fit the prop whenever nobody moves the roof; take it out only for the movement that is read.",
    "Nobody in line with the rods of the springs, nobody's head or hands in the gap, while the roof moves.",
    "A spring that seems to leak may fail: prop the roof, and change both springs of the pair.",
)
"""What is said beside readings of a built roof. Common practice."""


@dataclass(frozen=True, slots=True)
class Learnt:
    """One thing learnt: `label`, its dimension, and mean and one standard deviation before and after, in SI.

    `key` is its path in the file, or a name of its own where it follows from several.
    """

    key: str
    label: str
    dimension: Dimension
    before: tuple[float, float]
    after: tuple[float, float]


def positions_of(project: Project, row: HoleRow | None) -> tuple[Position, ...]:
    """Return the holes of a row as places of the first spring."""
    if row is None or not project.spring:
        return ()
    found = []
    for one in row.places:
        foot, head = row.feet[one.foot], row.heads[one.head]
        ends = ((foot.x_mm / 1000, foot.z_mm / 1000), (head.x_mm / 1000, head.z_mm / 1000))
        found.append(Position(f"{row.word} {one.number}", 0, *ends))
    return tuple(found)


def _of(draws: Array) -> tuple[float, float]:
    return float(draws.mean()), float(draws.std())


def learnt(proof: Proof) -> tuple[Learnt, ...]:
    """Return weight and centre of all that moves, each spring's force and friction, and whatever else was learnt."""
    project = proof.project
    at_before, at_after = proof.at(proof.before), proof.at(proof.after)
    body = [assemble.bodies(project, at)[0] for at in (at_before, at_after)]
    found = [
        Learnt(key, label, dimension, *(_of(np.asarray(getattr(b, field))[1:]) for b in body))
        for key, label, dimension, field in (
            ("mass", "Weight of the shell, all on", Dimension.MASS, "mass"),
            ("centre_x", "Its centre, from the rear edge of the opening", Dimension.LENGTH, "x"),
        )
    ]
    if project.linkage.kind == "hinge":
        arms = [np.abs(b.x - at("linkage.hinge.x"))[1:] for b, at in zip(body, (at_before, at_after), strict=True)]
        moments = [_of(STANDARD_GRAVITY * b.mass[1:] * arm) for b, arm in zip(body, arms, strict=True)]
        label = "Moment of that weight about the hinge, closed"
        found.append(Learnt("weight_moment", label, Dimension.MOMENT, *moments))
    shown = {path: k for k, path in enumerate(proof.paths)}
    for i, spring in enumerate(project.spring):
        for path, label, dimension in (
            (f"spring.{i}.delivered", f"{spring.name} pushes, of its list", Dimension.PERCENT),
            (f"spring.{i}.friction", f"Friction of {spring.name} ({spring.friction_is})", Dimension.FORCE),
        ):
            if path in shown:
                found.append(_one(proof, path, label, dimension))
                del shown[path]
    if "linkage.friction" in shown:
        found.append(_one(proof, "linkage.friction", "Friction of hinges or pins", Dimension.MOMENT))
        del shown["linkage.friction"]
    hidden = ("reading.", assemble.MASS, assemble.CENTRE, assemble.ALONG, assemble.BY_AREA)
    rest = sorted(
        (float(proof.after[:, k].std() / proof.before[:, k].std()), path)
        for path, k in shown.items()
        if not path.startswith(hidden)
    )
    for share, path in rest[:MOST_LEARNT]:
        if share <= LEARNT and path in _named(project):
            key = key_of(path)
            found.append(_one(proof, path, key.meaning[0].upper() + key.meaning[1:], key.dimension))
    return tuple(found)


def _named(project: Project) -> frozenset[str]:
    """Return the inputs that are keys of the file."""
    return frozenset(walk(project))


def _one(proof: Proof, path: str, label: str, dimension: Dimension) -> Learnt:
    k = proof.paths.index(path)
    return Learnt(path, label, dimension, _of(proof.before[:, k]), _of(proof.after[:, k]))


def _said(value: tuple[float, float]) -> Uncertain:
    return normal(value[0], 2 * value[1])


def _fact(one: Learnt, say: Wording) -> Fact:
    before, after = (say.ranged(_said(v), one.dimension) for v in (one.before, one.after))
    return Fact(one.label, after, "nothing learnt" if before == after else f"before: {before}")


def stands_out(proof: Proof, number: int) -> bool:
    """Whether a reading stands out: in a set that contradicts, the one named, or one far off."""
    for one in proof.sets:
        if number in one.readings and one.finding.strange:
            k = one.readings.index(number)
            far = abs(float(one.finding.off[k])) > STRANGE * float(one.finding.sd[k])
            return far or any(is_wrong(suspect, number) for suspect in one.finding.likely)
    return False


def _signed(force: float, say: Wording) -> str:
    text = say.force_hand(abs(force))
    if text == say.force_hand(0.0):
        return text
    return f"+{text}" if force > 0 else f"−{text}"


def reading_rows(proof: Proof, say: Wording) -> tuple[ReadingRow, ...]:
    """Return every reading beside what was expected before any of them."""
    found = []
    for k in range(len(proof.project.reading)):
        middle, sd = _of(proof.force_before[:, k])
        off = float(proof.read[k]) - middle
        found.append(
            ReadingRow(
                what=how(k, proof, say),
                measured=say.ranged(
                    normal(float(proof.read[k]), 2 * float(proof.noise[k])), Dimension.FORCE, hand=True
                ),
                expected=say.ranged(normal(middle, 2 * sd), Dimension.FORCE, hand=True),
                off=_signed(off, say),
                strange=stands_out(proof, k),
            )
        )
    return tuple(found)


def reading_chart(proof: Proof, say: Wording) -> ReadingChart | None:
    """Return predicted against measured, ready to draw; None without readings."""
    project = proof.project
    if not project.reading:
        return None
    unit, factor = say.hand_force_unit()

    def row(values: Array) -> tuple[float, ...]:
        return tuple(round(float(v) * factor, 3) for v in values)

    middle, sd = proof.force_before.mean(axis=0), proof.force_before.std(axis=0)
    return ReadingChart(
        unit=unit,
        percent=tuple(round(100 * reading.how_open.nominal, 3) for reading in project.reading),
        measured=row(proof.read),
        before_low=row(middle - 2 * sd),
        before_high=row(middle + 2 * sd),
        after=row(proof.force_after.mean(axis=0)),
        labels=tuple(f"{k + 1} {reading.way}" for k, reading in enumerate(project.reading)),
    )


def tape_facts(found: TapeProof, say: Wording) -> tuple[Fact, ...]:
    """Return every tape reading to take, what it should show, and what it showed."""
    rows = []
    for one in found.expected:
        read = [taken for taken in found.taken if taken.expected.ask == one.ask]
        said = "; ".join(
            f"reads {say.short_length(t.read)}, {say.short_length(abs(t.off))} {'more' if t.off > 0 else 'less'}"
            + (": a miss" if t.missed else "")
            for t in read
        )
        note = "left and right alike" if one.ask.what == "diagonal" and not said else said
        value = f"{say.short_length(one.length)} ± {say.short_length(one.tolerance)}"
        rows.append(Fact(asked(one.ask, say), value, note))
    return tuple(rows)


@dataclass(frozen=True, slots=True)
class Proven:
    """Everything known of the readings of one project; `row` the holes that were handed in, `moves` best first."""

    proof: Proof
    odds: Odds
    tape: TapeProof
    row: HoleRow | None
    moves: tuple[JudgedMove, ...] = ()


def proven(project: Project, row: HoleRow | None = None, listed: Listed | None = None) -> Proven:
    """Return what scale and tape say of a built roof; `row` are the holes that the spring may go to.

    `listed` are springs that can be ordered; left out, nothing is looked for beyond the holes.
    """
    proof = prove(project, positions_of(project, row))
    tape = tape_proof(project, proof.at(proof.before), proof.nominal, proof.sense)
    odds = odds_of(proof)
    moves = () if listed is None else moves_of(proof, odds, listed, hand_of(project.settings.units).grain)
    return Proven(proof, odds, tape, row, moves)


def proof_page(found: Proven) -> ProofPage:
    """Return everything said about the readings on one page."""
    proof = found.proof
    project = proof.project
    say = wording(project)
    count = len(project.reading)
    strange = sum(one.finding.strange for one in proof.sets)
    said = "no readings yet" if not count else "they contradict" if strange else "they agree"
    words = "1 reading" if count == 1 else f"{count} readings"
    taped = "1 tape reading" if len(project.tape) == 1 else f"{len(project.tape)} tape readings"
    return ProofPage(
        name=project.name,
        subtitle=f"The built roof: {f'{words}, {said}' if count else said}; {taped}",
        rows=reading_rows(proof, say),
        learnt=tuple(_fact(one, say) for one in learnt(proof)) if any(s.used for s in proof.sets) else (),
        chart=reading_chart(proof, say),
        verdict=verdict(proof, say),
        odds_before=hundred(found.odds.before),
        odds_after=hundred(found.odds.after),
        cleared=cleared(proof),
        next_hole=next_hole(proof, found.odds),
        holes=found.row,
        tape=tape_facts(found.tape, say),
        tape_verdict=tape_verdict(found.tape, project, say),
        cautions=tuple(Caution(text) for text in (*WHILE_READING, *cautions_of(proof.project))),
        units=project.settings.units,
        made_with=MADE_WITH,
        moves=move_facts(found.moves, say),
        moves_note=moves_note(found.moves, proof),
    )
