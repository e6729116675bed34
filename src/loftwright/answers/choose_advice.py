"""What would free a roof for which no springs work: changes of the project, each tried before it is said."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Final, Literal

from loftwright.choice.advice import Kind
from loftwright.core.uncertain import Provenance, Uncertain, exact
from loftwright.core.units import STANDARD_GRAVITY
from loftwright.core.wording import Wording
from loftwright.mechanics.rules import (
    CLOSED_LENGTH,
    LATCH,
    ON_THE_WAY,
    ONE_LOST,
    OPEN_LENGTH,
    PANEL_OFF,
    PULL_AFTER_SUN,
    PULL_ON,
    PULL_START,
    SINKS,
    START,
    STAYS_SHUT,
    STAYS_UP,
    TAKES_OVER,
    TIGHT_CLOTH_RULE,
)
from loftwright.project.model import Project, key_of
from loftwright.project.shell_sections import Item

DEGREE: Final = 0.017453292519943295
_KG: Final = STANDARD_GRAVITY


@dataclass(frozen=True, slots=True)
class Change:
    """One kind of change: how it is searched for, how it is made, and how it is said.

    `made` returns the project with so much of the change; `said` words it. `path`: the key of the file that it changes.
    """

    kind: Kind
    made: Callable[[Project, float], Project]
    said: Callable[[float, Wording], str]
    path: str = ""


def _moved(value: Uncertain, by: float, path: str) -> Uncertain:
    """Return a value moved by so much, within what the file allows."""
    key = key_of(path)
    off = min(max(by, key.low - value.low), key.high - value.high)
    return replace(value, nominal=value.nominal + off, low=value.low + off, high=value.high + off)


def _with(project: Project, section: str, **values: Any) -> Project:
    return project.model_copy(update={section: getattr(project, section).model_copy(update=values)})


def _limit(name: str, sign: int) -> Callable[[Project, float], Project]:
    def made(project: Project, size: float) -> Project:
        value = getattr(project.requirements, name)
        return _with(project, "requirements", **{name: _moved(value, sign * size, f"requirements.{name}")})

    return made


def _more_force(words: str) -> Callable[[float, Wording], str]:
    return lambda size, say: f"{words} {say.force_hand(size)} more"


def _less_force(words: str) -> Callable[[float, Wording], str]:
    return lambda size, say: f"{words} {say.force_hand(size)} less"


def _at_the_lip(state: Literal["add", "remove"]) -> Callable[[Project, float], Project]:
    """Return how weight is put on, or taken off, at the handle's place."""

    def made(project: Project, size: float) -> Project:
        at = project.handle.at
        weight = Item(
            name="weight at the lip" if state == "add" else "weight off the lip",
            kind="other",
            mass=exact(size, Provenance.SUGGESTED),
            x=exact(at.x.nominal),
            z=exact(at.z.nominal),
            state=state,
            removable=False,
        )
        return project.model_copy(update={"item": (*project.item, weight)})

    return made


def _opens_less(project: Project, size: float) -> Project:
    opens = project.linkage.opens
    return project if opens is None else _with(project, "linkage", opens=_moved(opens, -size, "linkage.opens"))


def _more_a_side(project: Project, size: float) -> Project:
    return _with(project, "choice", per_side_most=project.choice.per_side_most + round(size))


def _prop(project: Project, size: float) -> Project:
    return _with(project, "requirements", prop_fitted=True)


def _same(project: Project, size: float) -> Project:
    return project


WIDER: Final = "wider zones"
"""Name of the change that is made to the zones, not to the project."""


def _ids(*rules: Any) -> frozenset[str]:
    return frozenset(rule.id for rule in rules)


_TOO_STRONG = (STAYS_SHUT, PANEL_OFF, PULL_START, PULL_AFTER_SUN, PULL_ON, LATCH)
_TOO_WEAK = (START, ON_THE_WAY, TAKES_OVER, SINKS, STAYS_UP, ONE_LOST, TIGHT_CLOTH_RULE)


def changes(project: Project) -> tuple[Change, ...]:
    """Return every kind of change that this project allows; effort is in minutes of work, or what a limit is worth."""
    found = [
        Change(
            Kind("heavier lip", 0.5, 12, 40.0, _ids(STAYS_SHUT, PANEL_OFF)),
            _at_the_lip("add"),
            lambda size, say: f"put {say.mass(size)} more on the lip",
        ),
        Change(
            Kind("lighter lip", 0.5, 12, 120.0, _ids(*_TOO_WEAK)),
            _at_the_lip("remove"),
            lambda size, say: f"take {say.mass(size)} off the lip",
        ),
        Change(
            Kind(WIDER, 0.01, 8, 50.0, _ids(*_TOO_WEAK, *_TOO_STRONG, CLOSED_LENGTH, OPEN_LENGTH)),
            _same,
            lambda size, say: f"let the brackets sit {say.short_length(size)} further out on every side of their zones",
        ),
        Change(
            Kind("push", 0.5 * _KG, 16, 80.0, _ids(START)),
            _limit("push_to_start", 1),
            _more_force("accept a push to start of"),
            "requirements.push_to_start",
        ),
        Change(
            Kind("pull", 0.5 * _KG, 16, 80.0, _ids(PULL_START, PULL_ON)),
            _limit("pull_to_start_down", 1),
            _more_force("accept a pull to start down of"),
            "requirements.pull_to_start_down",
        ),
        Change(
            Kind("pull after sun", 0.5 * _KG, 16, 60.0, _ids(PULL_AFTER_SUN)),
            _limit("pull_after_hot", 1),
            _more_force("accept a pull straight after a hot opening of"),
            "requirements.pull_after_hot",
        ),
        Change(
            Kind("takes over", 0.05, 6, 70.0, _ids(TAKES_OVER)),
            _limit("rises_from", 1),
            lambda size, say: f"let it rise by itself {say.percent(size)} of the travel later",
            "requirements.rises_from",
        ),
        Change(
            Kind("stays shut", 5.0, 16, 90.0, _ids(STAYS_SHUT, PANEL_OFF)),
            _limit("stays_shut_margin", -1),
            _less_force("let it stay shut, unlatched in the sun, with"),
            "requirements.stays_shut_margin",
        ),
    ]
    if project.linkage.opens is not None:
        eases = _ids(TAKES_OVER, SINKS, STAYS_UP, PULL_START, OPEN_LENGTH, CLOSED_LENGTH)
        less = Change(
            Kind("opens", DEGREE, 16, 60.0, eases),
            _opens_less,
            lambda size, say: f"let it open {say.angle(size)} less",
            "linkage.opens",
        )
        found.append(less)
    if project.choice.per_side_most < 3:
        found.append(
            Change(
                Kind("more a side", 1.0, 1, 45.0, _ids(ONE_LOST)),
                _more_a_side,
                lambda size, say: f"allow {project.choice.per_side_most + 1} springs a side",
                "choice.per_side_most",
            )
        )
    if not project.requirements.prop_fitted:
        found.append(
            Change(
                Kind("prop", 1.0, 1, 30.0, _ids(ONE_LOST, STAYS_UP)),
                _prop,
                lambda size, say: "fit a positive prop, and use it whenever the roof is open",
                "requirements.prop_fitted",
            )
        )
    return tuple(found)


def changed(project: Project, every: tuple[Change, ...], sizes: Mapping[str, float]) -> Project:
    """Return the project with changes of so much each, by the name of their kind."""
    for one in every:
        if one.kind.name in sizes:
            project = one.made(project, sizes[one.kind.name])
    return project
