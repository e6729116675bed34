"""The shell on its supports by a general frame library: stiff beams for the shell, pinned bars for brace and strap.

Second way: PyNite assembles beams, we a rigid body. Reactions must agree within 1 per cent.
"""

from __future__ import annotations

import warnings
from typing import Any

import numpy as np
import pytest

from loftwright.strength.support_parts import HingeStiffness, bar_stiffness, hinge, link, strap
from loftwright.strength.supports import hold, wrench_at

E = 210e9
HINGES = {"left hinge": [0.0, 0.55, 0.0], "right hinge": [0.0, -0.55, 0.0]}
WAYS = (4e5, 2e5, 3e5, 2e3, 3e3)
BRACE = ([1.9, -0.6, 0.1], [2.0, 0.5, 0.7])
STRAPS = {
    "left strap": ([1.9, 0.6, 0.0], [2.0, 0.6, 0.8]),
    "right strap": ([1.9, -0.6, 0.0], [2.0, -0.6, 0.8]),
}
LINK = ([1.0, 0.6, 0.0], [1.2, 0.6, 0.5])
LOAD_AT = [1.1, 0.1, 0.5]
AREAS = {"brace": 2e-6, "strap": 3e-6, "link": 1.5e-6}
LOADS = ([60.0, 300.0, 250.0], [-40.0, -350.0, 900.0], [80.0, 900.0, 150.0])


def length(ends: tuple[list[float], list[float]]) -> float:
    return float(np.linalg.norm(np.subtract(ends[1], ends[0])))


def frame(load: list[float]) -> Any:
    """Return the solved frame."""
    from Pynite import FEModel3D

    model = FEModel3D()
    model.add_material("steel", E, E / 2.6, 0.3, 0.0)
    # Beams a hundred thousand times as stiff as what holds the shell.
    model.add_section("shell", 0.05, 1e-3, 1e-3, 2e-3)
    model.add_node("middle", *LOAD_AT)

    def arm(name: str, point: list[float]) -> None:
        model.add_node(name, *point)
        model.add_member(f"shell {name}", "middle", name, "steel", "shell")

    for name, point in HINGES.items():
        arm(name, point)
        for dof, k in zip(("DX", "DY", "DZ", "RX", "RZ"), WAYS, strict=True):
            model.def_support_spring(name, dof, k)

    def bar(name: str, ends: tuple[list[float], list[float]], area: float, pulls: bool) -> None:
        arm(f"{name} head", ends[1])
        model.add_node(f"{name} foot", *ends[0])
        model.def_support(f"{name} foot", *(True,) * 6)
        model.add_section(name, area, 1e-12, 1e-12, 1e-12)
        model.add_member(name, f"{name} foot", f"{name} head", "steel", name, tension_only=pulls)
        model.def_releases(name, Ryi=True, Rzi=True, Ryj=True, Rzj=True)

    bar("brace", BRACE, AREAS["brace"], False)
    bar("link", LINK, AREAS["link"], False)
    for name, ends in STRAPS.items():
        bar(name, ends, AREAS["strap"], True)
    for direction, force in zip(("FX", "FY", "FZ"), load, strict=True):
        model.add_node_load("middle", direction, force)
    model.add_load_combo("wind", {"Case 1": 1.0})
    model.analyze(check_stability=False)
    return model


@pytest.mark.parametrize("load", LOADS, ids=["one strap slack", "both taut", "both slack"])
def test_reactions_agree_within_a_per_cent(load: list[float]) -> None:
    stiff = HingeStiffness(*(np.asarray(k) for k in WAYS))
    supports = [s for name, point in HINGES.items() for s in hinge(name, point, stiff)]
    supports += link("brace", *BRACE, stiffness=bar_stiffness(area=AREAS["brace"], length=length(BRACE), modulus=E))
    supports += link("link", *LINK, stiffness=bar_stiffness(area=AREAS["link"], length=length(LINK), modulus=E))
    for name, ends in STRAPS.items():
        k = bar_stiffness(area=AREAS["strap"], length=length(ends), modulus=E)
        supports += strap(name, *ends, stiffness=k)
    found = hold(supports, wrench_at(load, LOAD_AT))
    assert bool(found.held)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        model = frame(load)
    size = 0.01 * float(np.linalg.norm(load))
    for name in HINGES:
        node = model.nodes[name]
        reaction = [node.RxnFX["wind"], node.RxnFY["wind"], node.RxnFZ["wind"]]
        couple = [node.RxnMX["wind"], node.RxnMZ["wind"]]
        assert found.vector(name) == pytest.approx(reaction, rel=0.01, abs=0.1 * size)
        assert found.couple(name)[[0, 2]] == pytest.approx(couple, rel=0.01, abs=0.01 * size)
    for name in ("brace", "link", *STRAPS):
        foot = model.nodes[f"{name} foot"]
        reaction = [foot.RxnFX["wind"], foot.RxnFY["wind"], foot.RxnFZ["wind"]]
        assert found.vector(name) == pytest.approx(reaction, rel=0.01, abs=0.1 * size)


@pytest.mark.parametrize(("load", "count"), list(zip(LOADS, (1, 0, 2), strict=True)))
def test_the_loads_slacken_one_none_and_both_straps(load: list[float], count: int) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        model = frame(load)
    assert sum(abs(model.members[name].axial(0, "wind")) < 1e-3 for name in STRAPS) == count
