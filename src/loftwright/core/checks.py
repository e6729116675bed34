"""One kind of answer: rules, the judgements made of them, and what a domain returns.

A `Rule` is written once, beside its formula. A `Check` is one judgement of a rule; margin and
verdict are derived, never stored. An `Outcome` is a domain's own numbers with its checks.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import Generic, Literal, TypeVar

from loftwright.core.errors import Bug

SourceKind = Literal["standard", "handbook", "paper", "derivation", "common practice", "judgement"]
Sense = Literal["at most", "at least"]


@dataclass(frozen=True, slots=True)
class Source:
    """Where a formula or a limit comes from."""

    key: str
    locator: str
    kind: SourceKind

    def text(self) -> str:
        """Return the source as printed on paper and screen."""
        known = self.kind if self.key in (self.kind, self.kind.replace(" ", "-")) else f"{self.key} ({self.kind})"
        return f"{known}: {self.locator}" if self.locator else known


class Verdict(StrEnum):
    """The three things that can be said of a rule, worst first."""

    FAILS = "fails"
    NOT_KNOWN = "not known yet"
    HOLDS = "holds"


@dataclass(frozen=True, slots=True)
class Rule:
    """A limit with its reason, remedy and source.

    `title` names the danger in plain words, `promise` says the same thing as it should be, for when it
    holds; `unit` is the SI unit of value and limit ("N", "hand N", "m", "short m", "kg", "rad",
    "s", "m/s", "1" for a bare ratio, "count", "yes or no", "fraction" for a share of the travel).
    """

    id: str
    title: str
    promise: str
    unit: str
    sense: Sense
    reason: str
    remedy: str
    source: Source

    def judge(
        self,
        value: float,
        limit: float,
        *,
        basis: str = "nominal",
        inputs: tuple[str, ...] = (),
        part: str = "",
        holding: float | None = None,
    ) -> Check:
        """Return the judgement of `value` against `limit`, both in the rule's unit."""
        return Check(self, value, limit, basis, None, inputs, part, holding)

    def not_known(
        self,
        measure: str,
        *,
        value: float | None = None,
        limit: float | None = None,
        odds: str = "",
        inputs: tuple[str, ...] = (),
        part: str = "",
        holding: float | None = None,
    ) -> Check:
        """Return a judgement that waits for a measurement; `measure` says which."""
        return Check(self, value, limit, odds or "not judged", measure, inputs, part, holding)


@dataclass(frozen=True, slots=True)
class Check:
    """One judgement of a rule: the value found, its limit, and on what the judgement rests.

    `basis` is "nominal" or the odds; `unknown` names the measurement that would settle it.
    """

    rule: Rule
    value: float | None
    limit: float | None
    basis: str
    unknown: str | None = None
    inputs: tuple[str, ...] = ()
    """Keys of the project file that matter most, the strongest first."""
    part: str = ""
    """Which of several like parts is judged."""
    holding: float | None = None
    """Share of the drawn roofs that hold [1]; None where none were drawn."""

    def __post_init__(self) -> None:
        for number in (self.value, self.limit):
            if number is not None and not math.isfinite(number):
                raise Bug(f"{self.rule.id}: {number} is no number to judge")
        if self.unknown is None and (self.value is None or self.limit is None):
            raise Bug(f"{self.rule.id}: a judgement without value and limit must say what to measure")

    @property
    def margin(self) -> float | None:
        """Distance to the limit in the rule's unit, negative beyond it; None when there is no value."""
        if self.value is None or self.limit is None:
            return None
        return self.limit - self.value if self.rule.sense == "at most" else self.value - self.limit

    @property
    def relative_margin(self) -> float | None:
        """Margin over the greater of value and limit [1], to set unlike rules side by side; None without a margin."""
        margin = self.margin
        if margin is None:
            return None
        return margin / max(abs(self.value or 0.0), abs(self.limit or 0.0), 1e-12)

    @property
    def words(self) -> str:
        """What is said of it in plain words: the promise where it holds, else the danger, with the part."""
        said = self.rule.promise if self.verdict is Verdict.HOLDS else self.rule.title
        return f"{said} ({self.part})" if self.part else said

    @property
    def verdict(self) -> Verdict:
        """Whether the rule holds, fails or is not known yet."""
        margin = self.margin
        if self.unknown is not None or margin is None:
            return Verdict.NOT_KNOWN
        return Verdict.HOLDS if margin >= 0 else Verdict.FAILS


@dataclass(frozen=True, slots=True)
class Tally:
    """How many judgements fail, are not known yet and hold."""

    fails: int
    not_known: int
    holds: int

    def parts(self) -> tuple[tuple[Verdict, str], ...]:
        """Return each verdict with its count in words, worst first."""
        return (
            (Verdict.FAILS, f"{self.fails} {'fails' if self.fails == 1 else 'fail'}"),
            (Verdict.NOT_KNOWN, f"{self.not_known} not known yet"),
            (Verdict.HOLDS, f"{self.holds} {'holds' if self.holds == 1 else 'hold'}"),
        )

    def text(self) -> str:
        """Return the tally in one line.

        >>> Tally(fails=1, not_known=2, holds=26).text()
        '1 fails, 2 not known yet, 26 hold'
        """
        return ", ".join(words for _, words in self.parts())


def tally_of(verdicts: Iterable[Verdict]) -> Tally:
    """Count verdicts."""
    every = list(verdicts)
    return Tally(*(every.count(verdict) for verdict in (Verdict.FAILS, Verdict.NOT_KNOWN, Verdict.HOLDS)))


N = TypeVar("N")


@dataclass(frozen=True, slots=True)
class Outcome(Generic[N]):
    """A domain's completely filled numbers with the judgements made of them."""

    numbers: N
    checks: tuple[Check, ...]
    assumptions: tuple[str, ...] = ()


_ORDER = {Verdict.FAILS: 0, Verdict.NOT_KNOWN: 1, Verdict.HOLDS: 2}


def worst_first(checks: tuple[Check, ...]) -> tuple[Check, ...]:
    """Return the checks with failures first, then what is not known, each by relative margin.

    Against a limit of nought every relative margin is one: there the share that holds tells, from -1 to 1.
    """

    def key(check: Check) -> tuple[int, float]:
        near = check.relative_margin or 0.0
        if check.limit == 0.0 and check.holding is not None:
            near = 2.0 * check.holding - 1.0
        return _ORDER[check.verdict], near

    return tuple(sorted(checks, key=key))
