"""A project without what is planned, bought and done: what answers on the roof itself do not hang on.

Answers that take long are kept by project. Asked of the project without its work, they are not worked out anew when a
price changes or a task is ticked off.
"""

from __future__ import annotations

from functools import cache
from typing import Final

from loftwright.project.file import loads
from loftwright.project.model import Project
from loftwright.project.plan_sections import Plan

LEAST: Final = (
    'format = 1\nname = "plain"\n[opening]\nlength = "2 m"\nwidth = "1.2 m"\n[shell]\n'
    '[linkage]\nkind = "hinge"\nend = "front"\nopens = "30 deg"\nhinge = ["2 m", "30 mm"]\n'
)
"""A file that says nothing of its work."""


@cache
def plain_plan() -> Plan:
    """Return the plan of a file that says nothing of it."""
    return loads(LEAST).plan


def without_work(project: Project) -> Project:
    """Return a project with nothing bought or ticked off, and the plan of a file that says nothing of it."""
    return project.model_copy(update={"bought": (), "todo": (), "plan": plain_plan()})
