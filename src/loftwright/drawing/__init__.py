"""Drawings in millimetres on paper: side views and force curves."""
