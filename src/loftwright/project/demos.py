"""Four invented roofs, complete enough to answer from: where to start and what a full file looks like."""

from __future__ import annotations

from importlib.resources import files

from loftwright.core.errors import Fault, ProjectFault
from loftwright.project.file import loads
from loftwright.project.model import Project
from loftwright.project.reading import nearest, quoted

DEMOS: dict[str, str] = {
    "fennimoor": "hinged at the front, foam and plywood, with a solar panel",
    "ottergate": "two arms a side at the front, aluminium skin, in inches and pounds",
    "quellmere": "hinged at the rear, second-hand glass-fibre with a roof vent, weighed on scales",
    "larkenmoor": "rises level on two equal arms a side, springs on the arms, a light lid for the summer",
}
"""Name and one line on each demo; the first is the one to start with."""


def demo_text(name: str) -> str:
    """Return a demo's project file as text. Errors: ProjectFault when there is no such demo."""
    if name not in DEMOS:
        near = nearest(name, list(DEMOS))
        said = f'the nearest is "{near}"' if near else "there are " + ", ".join(DEMOS)
        raise ProjectFault([Fault("demo", quoted(name), said, "choose one of these")])
    return (files("loftwright.project") / "demos" / f"{name}.toml").read_text(encoding="utf-8")


def demo(name: str) -> Project:
    """Return a demo as a project. Errors: ProjectFault when there is no such demo."""
    return loads(demo_text(name), f"{name}.toml")
