"""Roofs on which the fit-out is tried: a demo with everything that rides on it, few draws."""

from __future__ import annotations

import re

from loftwright.project.demos import demo_text

PANEL = """
[panel]
power = "100, label"
length = "1.0 m, measured"
width = "0.6 m, measured"
gap = "20 mm, measured"
fixing_limit = "1200 N, measured"
short_circuit = "5.8, label"
use = "260, measured"
latitude = "45 .. 58 deg, assumed"
fuse = "7.5, label"
"""
LINING = '\n[lining]\ninsulation = "20 mm"\nboard = "3 mm"\n'
LIFT = """
[lift]
foot = ["1.496 m", "-36 mm"]
head = ["1.086 m", "67 mm"]
force = "1500 N, label"
holds = "2000 N, label"
stroke = "0.25 m, label"
shortest = "0.40 m, label"
speed = "0.01 m/s, label"
amps = "5, label"
"""
SAMPLE = '\n[seal]\nsample = "0.2 m"\nheight = "14 mm"\nsqueezed = "8 mm"\npressed = "9 N"\nbend = "60 mm, measured"\n'
SIDE = (
    'format = 1\nname = "side"\n[settings]\ndraws = 50\n[opening]\nlength = "2 m"\nwidth = "1.2 m"\n[shell]\n'
    '[linkage]\nkind = "hinge"\nend = "left"\nopens = "35 deg"\n'
    'hinge = ["-50 mm", "30 mm"]\n[[spring]]\nforce = "500 N"\nstroke = "0.3 m"\nextended_length = "0.64 m"\n'
    'foot = ["0.45 m", "-60 mm"]\nhead = ["0.7 m", "60 mm"]\n'
)
EVERYTHING = PANEL + LINING + LIFT + SAMPLE


def text(name: str = "fennimoor", more: str = EVERYTHING, draws: int = 50) -> str:
    """Return a demo's file with `more` at its end in place of what rides on it and its work, and few draws."""
    return re.sub(r"(?m)^draws = .*$", f"draws = {draws}", bare(demo_text(name))) + more


def bare(file: str) -> str:
    """Return a file without what rides on the roof, what is bought and what is done."""
    without = re.sub(r"(?ms)^\[(?:panel|lining|seal|standing|plan|lift)\]\n.*?(?=^\[|\Z)", "", file)
    return re.sub(r"(?ms)^(?:bought|todo) = \[\n.*?^\]\n", "", without)


def without_springs(file: str) -> str:
    """Return a file without its springs and the tape readings of them."""
    return re.sub(r"(?s)\[\[(?:spring|tape)\]\].*?(?=\n\[)", "", file)
