"""What pictures and figures of the nominal roof are made from, be it fully judged or only tried."""

from __future__ import annotations

from typing import Protocol

from loftwright.mechanics.feel import Feel, Roof
from loftwright.mechanics.room import Surroundings
from loftwright.plan.scout import Headroom
from loftwright.project.model import Project


class ShownRoof(Protocol):
    """A roof whose row 0 is nominal; every array may carry further rows, and pictures read row 0 alone."""

    @property
    def project(self) -> Project:
        """What the builder decided."""
        ...

    @property
    def roof(self) -> Roof:
        """The mechanics' input."""
        ...

    @property
    def felt(self) -> Feel:
        """All forces over the travel."""
        ...

    @property
    def around(self) -> Surroundings:
        """What stands round the shell."""
        ...

    @property
    def stand(self) -> Headroom:
        """Where one can stand under the open roof."""
        ...
