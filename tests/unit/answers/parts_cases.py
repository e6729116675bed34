"""A roof with few draws, whose list of parts is looked at, and ways to change what is bought for it."""

from __future__ import annotations

import re

from loftwright.core.uncertain import exact
from loftwright.project.demos import demo_text
from loftwright.project.file import loads
from loftwright.project.model import Project
from loftwright.project.plan_sections import Bought

TEXT = re.sub(r"(?m)^(units = .*)$", r"\1\ndraws = 50", demo_text("quellmere"), count=1)


def plain_roof() -> Project:
    """Return the roof without anything bought, money or dates."""
    found = loads(TEXT)
    plan = found.plan.model_copy(update={"budget": None})
    return found.model_copy(update={"bought": (), "todo": (), "plan": plan})


def with_bought(project: Project, *parts: Bought) -> Project:
    return project.model_copy(update={"bought": parts})


def bought(part: str, *, ordered: float = 0.0, have: float = 0.0, **keys: object) -> Bought:
    return Bought.model_validate({"part": part, "ordered": exact(ordered), "have": exact(have), **keys})


def with_plan(project: Project, **keys: object) -> Project:
    return project.model_copy(update={"plan": project.plan.model_copy(update=keys)})
