"""Sentences about readings of the built roof: what contradicts, where to go next, which bracket is off."""

from __future__ import annotations

from typing import Final

from loftwright.answers.proof import DRAG, HOLE, STRONG, WEAK, WRONG, Odds, Proof, ReadingSet
from loftwright.answers.proof_readings import AS_IN_FILE, is_same
from loftwright.answers.proof_tape import FURTHEST, Ask, TapeProof
from loftwright.choice.contradiction import Suspect
from loftwright.core.uncertain import normal
from loftwright.core.units import Dimension
from loftwright.core.wording import Wording, hundredths
from loftwright.project.model import Project

MUCH_BETTER = 0.02
"""Odds by which another hole must be better to be worth the move [1]: judgement."""

AGREES = "The readings agree with what was known of this roof."
NO_READINGS = (
    "No readings yet. Move the roof slowly by its handle, once up and once down, at two openings or more; read the "
    "scale while it moves, and write each reading as [[reading]]."
)
READ_AGAIN = "Nothing is learnt from that set before this is cleared; then read again."


def how(number: int, proof: Proof, say: Wording) -> str:
    """Return what a reading was: "2: pull down at 40 % open, 18 °C"."""
    reading = proof.project.reading[number]
    place = proof.place(number)
    moved = any(proof.place(k) != place for k in range(len(proof.project.reading)))
    where = f", {place.words}" if moved else ""
    several = len(proof.sets) > 1
    after = f"set {reading.after}, " if several else ""
    at, warm = say.fraction(reading.how_open.nominal), say.temperature(reading.temperature.nominal)
    return f"{number + 1}: {after}{reading.way} at {at} open, {warm}{where}"


def about(suspect: Suspect, proof: Proof, of: ReadingSet, say: Wording) -> str:
    """Return one likely cause in a sentence, with its size."""
    kind, _, which = suspect.name.partition(" ")
    later = bool(proof.sets) and of.after != proof.sets[0].after
    if kind == DRAG:
        size = say.ranged(normal(suspect.size, 2 * suspect.sd), Dimension.FORCE, hand=True)
        since = "new since the last readings, " if later else ""
        return (
            f"Something drags with {size} at the handle, {since}both ways alike: a hinge or pin that binds, a spring "
            "that rubs, cloth or seal that is caught."
        )
    if kind == WEAK:
        spring = proof.project.spring[int(which)]
        count = 2 * spring.per_side
        size = say.ranged(normal(suspect.size, 2 * suspect.sd), Dimension.PERCENT)
        one = say.percent(min(1.0, count * suspect.size))
        if later:
            return (
                f'The springs "{spring.name}" have lost {size} of their force since the last readings '
                f"(one of {count} alone: {one}): gas is leaking."
            )
        return (
            f'The springs "{spring.name}" push {size} less than their list allows for (one of {count} alone: {one} '
            "less): leaking, or not the springs that were ordered."
        )
    if kind == STRONG:
        spring = proof.project.spring[int(which)]
        size = say.ranged(normal(suspect.size, 2 * suspect.sd), Dimension.PERCENT)
        return (
            f'The springs "{spring.name}" push {size} more than their list allows for: not the springs that were '
            "ordered, or the list means another force (force_is)."
        )
    if kind == HOLE:
        return f"The spring sits in {proof.places[int(which)].words}, not where the readings say."
    off = say.force_hand(abs(suspect.size))
    more = "more" if suspect.size > 0 else "less"
    reading = how(int(which), proof, say)
    return f"Reading {reading}, alone shows {off} {more} than it can: misread, or the roof was moved fast."


def verdict(proof: Proof, say: Wording) -> str:
    """Return whether the readings agree, and if not the likeliest cause."""
    if not proof.sets:
        return NO_READINGS
    said: list[str] = []
    for one in proof.sets:
        likely = one.finding.likely
        if not likely:
            continue
        name = f"Set {one.after} of the readings contradicts" if len(proof.sets) > 1 else "The readings contradict"
        said.append(f"{name} what was known. Likeliest: {about(likely[0], proof, one, say)}")
        if len(likely) > 1:
            said.append(f"Nearly as likely: {' Or: '.join(about(x, proof, one, say) for x in likely[1:3])}")
        if one.used:
            said.append("The other readings of the set are used; read that one again.")
        else:
            if not one.finding.explained:
                said.append("No single cause explains all of them: check scale, handle, openings and holes as well.")
            said.append(READ_AGAIN)
    return " ".join(said) if said else AGREES


UNCLEARED: Final = (
    "Clear what contradicts first, with the roof propped: until then no hole is the right one, and odds after the "
    "readings are not told."
)
TOO_FEW: Final = (
    "Too few readings to move a spring by: read a push up and a pull down, each at two openings, and ask again."
)


def cleared(proof: Proof) -> bool:
    """Whether no set of readings contradicts what is known in a way that is still open."""
    return all(one.used or not one.finding.likely for one in proof.sets)


def next_hole(proof: Proof, odds: Odds) -> str:
    """Return which hole next."""
    if not proof.project.spring:
        return "No spring is fitted."
    if not cleared(proof):
        return UNCLEARED
    ways = [reading.way for reading in proof.project.reading]
    if ways and len(set(ways)) < 2:
        return TOO_FEW
    if not odds.holes:
        now_odds = _of_100(odds.after)
        return f"As it is now, {now_odds} roofs like yours meet everything; no other hole is written down."
    best = odds.holes[0]
    last = len(proof.project.reading) - 1
    here = AS_IN_FILE if last < 0 else proof.place(last)
    now = next(one for one in odds.holes if is_same(proof.project, one.position, here))
    if now is best or best.odds < now.odds + MUCH_BETTER:
        said = f"Stay: with {now.position.words}, {_of_100(now.odds)} roofs like yours meet everything."
    else:
        said = (
            f"Go to {best.position.words}: {_of_100(best.odds)} roofs like yours meet everything there, against "
            f"{hundred(now.odds)} with {now.position.words}."
        )
    rest = [f"{one.position.words}: {hundred(one.odds)}" for one in odds.holes if one is not best and one is not now]
    return f"{said} Of 100 in the others: {'; '.join(rest)}." if rest else said


def hundred(share: float) -> int:
    """Return a share [1] out of 100; 0 and 100 are kept for none and all."""
    return hundredths(share)


def _of_100(share: float) -> str:
    return f"{hundred(share)} of 100"


# --- tape ------------------------------------------------------------------------------------------


def asked(ask: Ask, say: Wording) -> str:
    """Return what is measured with the tape: "After the hinges: lip height, open"."""
    pose = {0.0: "closed", 1.0: "open"}.get(ask.share, f"{say.fraction(ask.share)} open")
    return f"After the {ask.step}: {ask.what}, {pose}"


_END = {"x": ("too far to the cab", "too far to the rear"), "z": ("too high", "too low")}


def bracket(suspect: Suspect, project: Project, say: Wording) -> tuple[str, str]:
    """Return what a bracket is called, and which way and how far it is off."""
    parts = suspect.name.split(".")
    if parts[0] == "spring":
        name = f'{parts[2]} of "{project.spring[int(parts[1])].name}"'
    else:
        name = parts[1].replace("_", " ").replace(" van", " on the van").replace(" shell", " on the shell")
        name = f"pin of {name}" if parts[1].startswith("arm") else name
    ahead, behind = _END[parts[-1]]
    return name, f"about {say.short_length(abs(suspect.size))} {ahead if suspect.size > 0 else behind}"


def tape_verdict(found: TapeProof, project: Project, say: Wording) -> str:
    """Return what the tape readings say: which bracket is off and which sheets to print again."""
    if not found.taken:
        return "No tape readings yet: measure after each step and write them as [[tape]]."
    said = []
    if found.missed:
        missed = [one for one in found.taken if one.missed]
        said.append(f"{len(missed)} of {len(found.taken)} tape readings miss.")
        if found.brackets:
            named = [bracket(one, project, say) for one in found.brackets[:4]]
            if max(abs(one.size) for one in found.brackets[:1]) >= FURTHEST - 1e-3:
                said.append("Read it again first: no bracket is off that far; perhaps a digit is wrong.")
            said.append(f"Likeliest: the {named[0][0]} sits {named[0][1]}.")
            if len(named) > 1:
                said.append(f"As good: {'; '.join(f'the {name}, {off}' for name, off in named[1:])}.")
                said.append("A further tape reading of another kind or pose tells them apart.")
            sheets = ", ".join(dict.fromkeys(f"the {name}" for name, _ in named))
            said.append(
                f"Move it, or write where it truly sits in the file and print again: the drilling sheets of {sheets}, "
                "the tuning card and the drawings of the build book."
            )
        else:
            said.append("No single bracket explains it: measure again, then check the opening and the shell's size.")
    else:
        said.append("The tape agrees: every bracket sits where it was meant, within what a tape can tell.")
    for one in found.skew:
        if not one.square:
            said.append(
                f"The diagonals differ by {say.short_length(abs(one.difference))}: the shell is not square on its "
                f"pivots; its lip sits about {say.short_length(abs(one.shift))} to one side. Shift one hinge before "
                "the springs go on."
            )
    return " ".join(said)


def is_wrong(suspect: Suspect, number: int) -> bool:
    """Whether a cause says that this one reading is wrong."""
    return suspect.name == f"{WRONG} {number}"
