"""What lifts, holds and stops the shell: springs, coils, cords, hinges or arms, latches, catch, stops, prop, strap."""

from __future__ import annotations

from typing import Final

from loftwright.answers.part_lines import Asked, Listed, key_word
from loftwright.core.choices import LinkageKind

STOPS: Final = 4
"""Solid stops under the rim, one near each corner; as fit and strength take them."""
SET_OF_ARMS: Final[dict[LinkageKind, str]] = {
    "four-bar": "four arms with pins and bushes",
    "parallel arms": "four equal arms with pins and bushes",
    "scissor": "two pairs of crossing arms with pins, slides and a cross tube",
}


def lift_parts(asked: Asked) -> Listed:
    """Return gas springs, coil springs, torsion springs and cords with their brackets, and the parts that move."""
    found = Listed()
    _springs(asked, found)
    _linkage(asked, found)
    _holding(asked, found)
    return found


def numbered(word: str, number: int) -> str:
    """Return an id for the first, second, ... part of a kind: "coil", "coil-2"; `number` from nought."""
    return word if number == 0 else f"{word}-{number + 1}"


def _springs(asked: Asked, found: Listed) -> None:
    project, say = asked.project, asked.say
    on_arms = 0
    every = 0
    for number, spring in enumerate(project.spring):
        force, stroke, length = (asked.number(f"spring.{number}.{k}") for k in ("force", "stroke", "extended_length"))
        count = 2 * spring.per_side
        every += count
        on_arms += count * sum(not end.startswith(("van", "shell")) for end in (spring.foot_on, spring.head_on))
        found.add(
            numbered("gas-spring", number),
            f"{spring.name}: gas spring {say.force(force)} ({spring.force_is}), stroke {say.short_length(stroke)}, "
            f"{say.short_length(length)} long",
            "lifting",
            float(count),
            f"spring.{number}.force",
            note="from one batch; the request to a shop is among the sheets",
        )
    if every:
        found.add("spring-bracket", "bracket for a spring end", "lifting", 2.0 * every, "spring.0.place")
        found.add("ball-stud", "ball stud for a spring end", "lifting", 2.0 * every, "spring.0.end_limit")
    if on_arms:
        found.said.append("Brackets of springs that sit on arms are counted like all others.")
    for number, coil in enumerate(project.coil):
        _other(found, numbered("coil", number), coil.name, "coil spring", coil.per_side, f"coil.{number}")
    for number, bar in enumerate(project.torsion):
        _other(found, numbered("torsion", number), bar.name, "torsion spring", bar.per_side, f"torsion.{number}")
    for number, cord in enumerate(project.cord):
        _other(found, numbered("cord", number), cord.name, "elastic cord", cord.per_side, f"cord.{number}")


def _other(found: Listed, id_: str, name: str, word: str, per_side: int, source: str) -> None:
    """Add what lifts beside gas springs."""
    found.add(
        id_,
        name if word in name else f"{name}: {word}",
        "lifting",
        2.0 * per_side,
        source,
        note="with what holds its ends; goggles on while it is hooked in",
    )


def _linkage(asked: Asked, found: Listed) -> None:
    link, say = asked.project.linkage, asked.say
    if link.kind == "hinge":
        found.add(
            "hinge", "hinge", "hinges", 2.0, "linkage.kind", note="with bushed pins of stainless steel, if you can"
        )
    elif link.kind == "guides":
        count = 2 if link.guide_far is None else 4
        long = asked.number("linkage.guide_length")
        found.add(
            "guide", f"guide with its shoe, {say.length(long)} of travel", "hinges", float(count), "linkage.guide"
        )
    else:
        found.add("arm-set", "lifting arms, set", "hinges", 1.0, "linkage.kind", note=SET_OF_ARMS[link.kind])


def _holding(asked: Asked, found: Listed) -> None:
    project, say = asked.project, asked.say
    latches = project.latches
    found.add("latch", "latch with its keeper", "latches", float(latches.count), "latches.count")
    found.add(
        "safety-catch",
        "safety catch with a bolt of its own",
        "latches",
        1.0,
        "latches.catch",
        note="" if latches.catch else "the file has none yet: fit one",
    )
    if latches.stops:
        found.add("stop-block", "solid stop under the rim", "latches", float(STOPS), "latches.stops")
    else:
        found.said.append("No solid stops are in the list, as the file has none.")
    stop = project.stop.kind
    if stop == "strap":
        found.add(
            "stop-strap",
            "strap that stops the opening, with end fittings",
            "lifting",
            2.0,
            "stop.kind",
        )
    elif stop == "link":
        found.add("stop-link", "link that stops the opening", "lifting", 2.0, "stop.kind")
    strap = asked.number("handle.strap_length")
    if strap > 0.0:
        found.add(
            "lip-strap",
            f"pull strap at the lip, {say.short_length(strap)}",
            "lifting",
            1.0,
            "handle.strap_length",
        )
    found.add(
        "prop",
        "prop or lock for the open roof",
        "lifting",
        1.0,
        "requirements.prop_fitted",
        note="nobody works or reaches under a shell that springs alone hold up",
    )
    for number, item in enumerate(project.item):
        if item.kind not in ("panel", "lining"):
            found.add(
                key_word(f"item {item.name}", (part.id for part in found.parts)),
                item.name,
                "tools & protection" if item.kind == "other" else "windows" if item.kind == "vent" else "latches",
                1.0,
                f"item.{number}",
                note="rides on the shell",
                before_cut=False,
            )
