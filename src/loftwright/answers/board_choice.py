"""The search for springs as the drawing board asks for it: from which list, what came of it, what fitting writes.

A result is small enough to be sent between processes: the page of text, and the changes that fit springs.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal, get_args

from loftwright.answers.book import BookChoice, book_choice
from loftwright.answers.choice_view import SPRINGS_OUT, choice_page
from loftwright.answers.choice_written import as_changes
from loftwright.answers.choose import NONE_AT_HAND, Chosen, choose
from loftwright.answers.choose_holes import HoleNumbers, drilled_holes
from loftwright.answers.choose_search import DRAWS, NOTHING_WORKS, Candidate, Work
from loftwright.answers.decisions import link_at
from loftwright.answers.hole_words import hand_of
from loftwright.answers.odds_words import of_100
from loftwright.answers.views import cautions_of
from loftwright.core.choice_views import ChoicePage
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.field_views import Link
from loftwright.project.model import Project
from loftwright.project.possible_choice import catalogue_faults, catalogue_path
from loftwright.project.spring_list import read_springs
from loftwright.project.typed import Value
from loftwright.project.written import written
from loftwright.project.zones import zones_of

Which = Literal["own", "along", "at hand"]
"""A list of springs: the project's own catalogue, the invented one that comes along, the springs at hand."""

LEAST_DRAWS, MOST_DRAWS = 100, 5000
"""How many roofs may be tried on."""

WHICH_LIST, HOW_MANY = "Which springs", "How many roofs"
"""What the form asks for; faults name it."""

NO_PLACE: Final = Fault(
    "No place for brackets",
    "marked out yet",
    "it is not said where brackets of springs may sit",
    "mark out one for feet and one for heads, or add a spring with its holes",
)
"""Said where a search has nowhere to put springs; the page has the forms for both."""

FITS: Final = "Fit this"
"""What the button says; faults name it."""


@dataclass(frozen=True, slots=True)
class Offer:
    """One list that can be searched: its label, what to know of it, and whether it is taken when nothing is said."""

    which: Which
    label: str
    note: str
    usual: bool


@dataclass(frozen=True, slots=True)
class Asked:
    """One request for a search: the list (`path` of a file, None: the one that comes along), and how many roofs."""

    which: Which
    path: Path | None
    draws: int


@dataclass(frozen=True, slots=True)
class Fitting:
    """What fitting some springs writes into the file; nothing where it is `refused` with faults.

    `name` is the springs', `what` says in words what was changed, for the undo button; `words` say what is written.
    `own`: only the springs that were in the file when it was searched are moved.
    """

    name: str
    what: str
    words: str
    changes: Mapping[str, Value | None]
    own: bool
    refused: tuple[Fault, ...] = ()


@dataclass(frozen=True, slots=True)
class BoardChoice:
    """What a search found: its page, and what fitting writes.

    `best` are the springs with their row of holes where one insures them; `alone` the best without that row (None:
    there is no row). `others` are as long as the page's. `project` is the one that was asked about.
    """

    project: Project
    asked: Asked
    page: ChoicePage
    prop_needed: bool
    stopped: bool
    best: Fitting | None
    alone: Fitting | None
    others: tuple[Fitting, ...]
    book: BookChoice
    """What the build book needs of it."""


# --- asking ------------------------------------------------------------------------------------------


def offers(project: Project) -> tuple[Offer, ...]:
    """Return the lists that this project can be searched in."""
    own = project.choice.catalogue
    kinds = len(project.at_hand)
    along = Offer(
        "along",
        "The list that comes along",
        "Invented, in common sizes; no supplier stands behind it."
        + ("" if own else " Name your supplier's list, a CSV file, as the list of springs below."),
        own is None,
    )
    hand = Offer(
        "at hand",
        "Only the springs at hand",
        "None are written down yet: describe them below."
        if not kinds
        else f"{kinds} {'kind' if kinds == 1 else 'kinds'} written down: where to mount them.",
        False,
    )
    if own is None:
        return along, hand
    return Offer("own", "The project's own list", f"{own}, beside the project file.", True), along, hand


def usual_draws() -> int:
    """Return how many roofs are tried when nothing is said."""
    return DRAWS


def places_said(project: Project) -> tuple[str, ...]:
    """Return in sentences what is taken on where brackets may sit."""
    return zones_of(project).said


def asked(project: Project, folder: Path, which: str, draws: str) -> Asked:
    """Return a request for a search as a form writes it; `folder` is the project file's.

    Errors: ProjectFault where it cannot be answered: no such list, no springs at hand, no place for brackets.
    """
    faults: list[Fault] = []
    if not draws.strip().isdecimal() or not LEAST_DRAWS <= int(draws.strip()[:9]) <= MOST_DRAWS:
        allowed = f"a whole number from {LEAST_DRAWS} to {MOST_DRAWS} is asked for"
        faults.append(Fault(HOW_MANY, f'"{draws.strip()[:40]}"', allowed, f"write one, such as {DRAWS}"))
    if which not in get_args(Which):
        faults.append(Fault(WHICH_LIST, f'"{which[:40]}"', "no list is called so", "choose one of the lists"))
    if not zones_of(project).pairs:
        faults.append(NO_PLACE)
    if which == "at hand" and not project.at_hand:
        faults.append(NONE_AT_HAND)
    path = catalogue_path(project, folder) if which == "own" else None
    if which == "own":
        if path is None:
            do = 'name it in [choice], as catalogue = "springs.csv", or choose another list'
            faults.append(Fault("[choice] catalogue", "not there", "the project names no list of its own", do))
        faults += catalogue_faults(project, folder)
    if faults:
        raise ProjectFault(faults)
    chosen: Which = "own" if which == "own" else "at hand" if which == "at hand" else "along"
    return Asked(chosen, path, int(draws.strip()))


def springs_for(project: Project, asked: Asked, work: Work) -> BoardChoice:
    """Return the springs found for a project. Errors: ProjectFault, as `choose` and reading a list."""
    found = choose(
        project,
        read_springs(asked.path),
        at_hand=asked.which == "at hand",
        draws=asked.draws,
        hand=hand_of(project.settings.units),
        work=work,
    )
    return board_choice(project, asked, found)


# --- what came of it ---------------------------------------------------------------------------------


def board_choice(project: Project, asked: Asked, found: Chosen) -> BoardChoice:
    """Return what a search found, without what it was found from."""
    best = found.best
    return BoardChoice(
        project=project,
        asked=asked,
        page=choice_page(found),
        prop_needed=found.prop_needed,
        stopped=found.stopped,
        best=None if best is None else _fitting(found, best, found.holes),
        alone=None if best is None or found.holes is None else _fitting(found, best, None),
        others=tuple(_fitting(found, one, None) for one in found.others),
        book=book_choice(project, found),
    )


def _fitting(found: Chosen, one: Candidate, row: HoleNumbers | None) -> Fitting:
    """Return what fitting one candidate writes, in its place alone or with a row of holes."""
    fit = row.fit if row is not None else one.fit
    name = found.listed.entries.names[fit.entry]
    what, written = f"springs fitted: {name}", "places"
    if row is not None:
        holes = f"{row.drilled} {'hole' if row.drilled == 1 else 'holes'}"
        what, written = f"{what}, with {holes}", f"{holes}, in the place to start with,"
    words = f"Writes these springs ({name}) and their {written} into the file"
    words += "; that a prop is fitted, too. " if found.prop_needed else ". "
    words += "Undo takes all of it back at once."
    own = fit.entry == found.own
    if one.odds < NOTHING_WORKS:
        few = Fault(
            "Not offered for fitting", "", f"these work in {of_100(one.odds)} roofs", "look at what is in the way"
        )
        return Fitting(name, what, words, {}, own, (few,))
    try:
        return Fitting(name, what, words, as_changes(found, None if row is not None else one, asked=FITS), own)
    except ProjectFault as error:
        return Fitting(name, what, words, {}, own, error.faults)


def of_this_roof(found: BoardChoice, project: Project) -> bool:
    """Return whether a project is still the roof that was searched for.

    Left out are the springs of the file, but for their brackets and their own speed, which the search took over; so
    fitting one of the answers does not make the others void. Neither do readings of the built roof, the project's name,
    springs at hand where they were not searched in, nor a prop where the search found that one is needed.
    """
    return _roof_of(found, found.project) == _roof_of(found, project)


_NOT_SEARCHED: Final = frozenset({"name", "spring", "reading", "tape", "taken"})


def _roof_of(found: BoardChoice, project: Project) -> tuple[object, ...]:
    """Return what the search hangs on."""
    left_out = _NOT_SEARCHED | (frozenset() if found.asked.which == "at hand" else {"at_hand"})
    if found.prop_needed:
        needs = project.requirements.model_copy(update={"prop_fitted": True})
        project = project.model_copy(update={"requirements": needs})
    parts = tuple(getattr(project, name) for name in Project.model_fields if name not in left_out)
    if not found.project.spring:
        return parts
    return (*parts, *((one.bracket_limit, one.own_speed) for one in project.spring[:1]))


def fit(found: BoardChoice, project: Project, key: str) -> Fitting:
    """Return what fitting writes into the file of `project`: `key` is "best", "alone" or the number of another choice.

    Errors: ProjectFault where the project has changed so that the springs would not be those that were judged.
    """
    chosen = fittings(found).get(key)
    if chosen is None:
        raise ProjectFault([Fault(FITS, "asked for", "no springs were found", "search again")])
    if chosen.refused:
        raise ProjectFault(chosen.refused)
    if not of_this_roof(found, project):
        why = "these springs were searched for the roof before your last change"
        raise ProjectFault([Fault(FITS, "asked for", why, "search again, or undo the change")])
    if project.spring != found.project.spring:
        _others_in_the_way(found, project, chosen)
    return chosen


def fittings(found: BoardChoice) -> dict[str, Fitting]:
    """Return everything that can be fitted, by its key."""
    several = {"best": found.best, "alone": found.alone} | {str(i): one for i, one in enumerate(found.others)}
    return {key: one for key, one in several.items() if one is not None}


def refusals(found: BoardChoice) -> tuple[str, ...]:
    """Return in sentences why some of it cannot be fitted, each reason once and of the first that it keeps out."""
    said: dict[tuple[str, str], str] = {}
    for one in fittings(found).values():
        for fault in one.refused:
            said.setdefault((fault.where, fault.do), fault.sentence())
    return tuple(said.values())


def advice_links(found: BoardChoice) -> tuple[tuple[Link, ...], ...]:
    """Return for each advice of the page where what it changes is edited."""
    return tuple(tuple(link_at(found.project, path) for path in one.paths) for one in found.page.advice)


def _others_in_the_way(found: BoardChoice, project: Project, chosen: Fitting) -> None:
    """Refuse to fit springs over others than those that were in the file when it was searched, where that matters."""
    if len(project.spring) > 1:
        given, do = f"{len(project.spring)} kinds of springs", "take all but one [[spring]] out first"
        raise ProjectFault([Fault(FITS, given, "the choice is of one kind", do)])
    if drilled_holes(project) is not None:
        why = "a row of holes is in the file, and only one row can be"
        raise ProjectFault([Fault(FITS, "asked for", why, "undo the fitting of before, or take its holes out")])
    if chosen.own or not (project.spring and found.project.spring):
        why = "the springs in the file are not those of the search any more"
        raise ProjectFault([Fault(FITS, "asked for", why, "undo what changed them, or search again")])


def is_in(text: str, fitting: Fitting) -> bool:
    """Return whether a project file holds all that fitting would write; `text` is the file's."""
    if fitting.refused:
        return False
    there = written(text)
    return all(there.text(path) == _spelt(value) for path, value in fitting.changes.items())


def _spelt(value: Value | None) -> str | None:
    if isinstance(value, bool):
        return "true" if value else "false"
    return None if value is None else str(value)


def care(project: Project) -> tuple[str, ...]:
    """Return the cautions of whoever fits springs to this roof."""
    return (SPRINGS_OUT, *cautions_of(project))
