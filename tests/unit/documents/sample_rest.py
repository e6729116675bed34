"""Fit-out, parts, order of work and hand-over of a demo with everything that rides on it, worked out once."""

from __future__ import annotations

from functools import cache

from loftwright.answers.book import cover_page, rest_page
from loftwright.answers.kept_walls import NOTHING_KEPT
from loftwright.core.book_views import CoverPage, RestPage
from loftwright.core.wording import Wording
from loftwright.project.file import loads
from tests.unit.answers.fitted_cases import text


@cache
def rest(name: str = "fennimoor") -> RestPage:
    """Return what comes after the design of one demo, few draws."""
    return rest_page(loads(text(name)), NOTHING_KEPT)


@cache
def cover(name: str = "fennimoor") -> CoverPage:
    """Return the three views of one demo with their sizes."""
    project = loads(text(name))
    return cover_page(project, Wording(project.settings.units))
