"""What is shown of two designs side by side: pages of both, and in what they differ.

Filled by the answers; every text is plain text in the builder's units. A difference is what the other design has more,
with its sign; it is empty where no number can be taken off another.
"""

from __future__ import annotations

from dataclasses import dataclass

from loftwright.core.checks import Verdict
from loftwright.core.field_views import Link
from loftwright.core.views import RoofPage


@dataclass(frozen=True, slots=True)
class FigureBeside:
    """One key figure of both designs; an empty text where a design has none."""

    label: str
    here: str
    there: str
    difference: str

    @property
    def same(self) -> bool:
        """Whether both read alike."""
        return self.here == self.there


@dataclass(frozen=True, slots=True)
class JudgedBeside:
    """One judgement in which two designs differ: its verdict and value in both; None where it is not judged."""

    title: str
    verdict_here: Verdict | None
    verdict_there: Verdict | None
    here: str
    there: str
    difference: str
    limit: str

    @property
    def same(self) -> bool:
        """Whether the verdict is the same and only the value differs; what only one has is so where it holds."""
        verdicts = {self.verdict_here, self.verdict_there}
        return len(verdicts) == 1 or verdicts == {None, Verdict.HOLDS}


@dataclass(frozen=True, slots=True)
class ValueBeside:
    """One value of the file in which two designs differ; `path` and where it is edited, an empty text where none is."""

    path: str
    label: str
    link: Link
    here: str
    there: str
    difference: str


@dataclass(frozen=True, slots=True)
class Beside:
    """Two designs: what is said of each, and their differences, judgements worst first.

    `wrong` are sentences on why one of them cannot be built; only values are then compared.
    """

    here: RoofPage | None
    there: RoofPage | None
    odds: FigureBeside | None
    figures: tuple[FigureBeside, ...]
    judged: tuple[JudgedBeside, ...]
    values: tuple[ValueBeside, ...]
    wrong: tuple[str, ...] = ()
