"""Where one panel of a chart over the travel is drawn: how far open to the right, a figure upwards."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Plot:
    """Where one panel is drawn: x0..x1 [mm] is 0..100 % open, and y [mm] = y_zero - y_scale * figure.

    `kind` tells a chart's panels apart; the panel's marker is the group of that name.
    """

    kind: str
    x0: float
    x1: float
    top: float
    bottom: float
    y_zero: float
    y_scale: float

    def x(self, percent: float) -> float:
        """Return the place of a per cent of opening."""
        return self.x0 + (self.x1 - self.x0) * percent / 100

    def y(self, figure: float) -> float:
        """Return the place of a figure in the chart's unit."""
        return self.y_zero - self.y_scale * figure
