"""What age, folds and edges leave of a cloth's strength, and the safety asked of it."""

from __future__ import annotations

from typing import Final

UNEVEN: Final = 1.5
"""Pull at the worst place of an edge, corner or crease over the mean [1]: judgement."""
AGED: Final = 0.6
"""What sun, folding and wet leave of the strength in some years [1]: judgement."""
SAFETY: Final = 2.0
"""Strength over what is allowed [1]: judgement, a setting."""
