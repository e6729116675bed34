"""Two designs side by side: in which figures, judgements and values of the file they differ, in finished words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from loftwright.answers.beside_words import sign, text_difference
from loftwright.answers.decisions import link_at
from loftwright.answers.judged_roof import RoofNumbers, judged_roof
from loftwright.answers.odds_words import of_100
from loftwright.answers.scout import scout
from loftwright.answers.scout_view import money_band
from loftwright.answers.views import roof_page
from loftwright.core.beside_views import Beside, FigureBeside, JudgedBeside, ValueBeside
from loftwright.core.checks import Check, Outcome, Verdict
from loftwright.core.errors import LoftwrightError, ProjectFault
from loftwright.core.units import Dimension
from loftwright.core.views import RoofPage
from loftwright.core.wording import Wording, hundredths
from loftwright.project.catalogues import read_prices
from loftwright.project.changing import named as named_by
from loftwright.project.differences import differences
from loftwright.project.file import edited
from loftwright.project.model import Project, key_of, walk
from loftwright.project.rewriting import without
from loftwright.project.written import Written, written
from loftwright.reference.field_words import BY_SCALES, alike

NOT_DESIGN: Final = ("format", "name")
"""Keys at the top of a file that say nothing of the design."""

SECTION: Final = "as a whole"
"""What is shown of a section that only one of two files has."""

LINKAGE: Final = "linkage"
"""The section on what carries the shell, which every file has."""

_ORDER: Final = (Verdict.FAILS, Verdict.NOT_KNOWN, Verdict.HOLDS, None)


def beside(project: Project, text: str, other: Project, other_text: str) -> Beside:
    """Return two designs side by side, all in the units of the first."""
    say = Wording(project.settings.units)
    settings = other.settings.model_copy(update={"units": project.settings.units})
    # How answers are written comes last: it is no part of the roof.
    found = value_differences(project, text, other, other_text)
    values = tuple(sorted(found, key=lambda row: row.path.startswith("settings.")))
    try:
        one, two = judged_roof(project), judged_roof(other.model_copy(update={"settings": settings}))
    except LoftwrightError as error:
        # Values can still be taken over, which may be what mends it.
        wrong = tuple(f.sentence() for f in error.faults) if isinstance(error, ProjectFault) else (f"{error}",)
        return Beside(None, None, None, (), (), values, wrong)
    here, there = roof_page(one), roof_page(two)
    odds = FigureBeside(
        "Out of 100 roofs, all is met by",
        of_100(one.numbers.odds.meets),
        of_100(two.numbers.odds.meets),
        _count(hundredths(two.numbers.odds.meets) - hundredths(one.numbers.odds.meets)),
    )
    figures = (*_figures(here, there, say), *_cost(project, other, say))
    return Beside(here, there, odds, figures, judged_differences(one, two, say), values)


def _count(more: int) -> str:
    return f"{sign(more)}{abs(more)}" if more else ""


def _figures(here: RoofPage, there: RoofPage, say: Wording) -> Iterator[FigureBeside]:
    """Yield every key figure of both, in the order of the first."""
    ours, theirs = ({fact.label: fact for fact in page.facts} for page in (here, there))
    for label in dict.fromkeys([*ours, *theirs]):
        one, two = (facts[label].value if label in facts else "" for facts in (ours, theirs))
        yield FigureBeside(label, one, two, text_difference(one, two, say))


def _cost(project: Project, other: Project, say: Wording) -> Iterator[FigureBeside]:
    """Yield what both would cost by the usual prices, where these are known."""
    try:
        found = [scout(one, read_prices()).numbers for one in (project, other)]
    except LoftwrightError:
        return
    if not all(one.cost.rows for one in found):
        return
    currency = found[0].cost.currency
    ours, theirs = (money_band(one.cost_low, one.cost_high, currency, say) for one in found)
    middle = [(one.cost_low + one.cost_high) / 2 for one in found]
    more = round(middle[1]) - round(middle[0])
    said = f"{sign(more)}{say.money(abs(more), currency)}" if more else ""
    yield FigureBeside("Still to be bought, by usual prices", ours, theirs, said)


# --- judgements --------------------------------------------------------------------------------------


def judged_differences(one: Outcome[RoofNumbers], two: Outcome[RoofNumbers], say: Wording) -> tuple[JudgedBeside, ...]:
    """Return the judgements whose verdict or value differs: first those whose verdict does, each the worst first."""
    ours, theirs = ({(check.rule.id, check.part): check for check in found.checks} for found in (one, two))
    found = []
    for key in dict.fromkeys([*ours, *theirs]):
        pair = ours.get(key), theirs.get(key)
        row = _judged(*pair, say)
        if row is not None:
            found.append((_rank(*pair), key, row))
    return tuple(row for *_, row in sorted(found, key=lambda one: one[:2]))


def _rank(here: Check | None, there: Check | None) -> tuple[bool, int, float]:
    verdicts = [None if check is None else check.verdict for check in (here, there)]
    margins = [0.0 if check is None else check.relative_margin or 0.0 for check in (here, there)]
    return verdicts[0] is verdicts[1], min(_ORDER.index(verdict) for verdict in verdicts), min(margins)


def _judged(here: Check | None, there: Check | None, say: Wording) -> JudgedBeside | None:
    """Return one judgement in both designs, None where they read alike."""
    either = here or there
    assert either is not None
    unit = either.rule.unit
    a, b = (None if check is None else check.value for check in (here, there))
    ours, theirs = say.rule_pair(a, b, unit)
    one, two = (None if check is None else check.verdict for check in (here, there))
    if one is two and ours == theirs:
        return None
    difference = ""
    if a is not None and b is not None and ours != theirs:
        difference = sign(b - a) + say.rule_margin(abs(b - a), a, b, unit)
    worst = next((check for check in (here, there) if check and check.verdict is not Verdict.HOLDS), either)
    shown = ours if a is not None else "", theirs if b is not None else ""
    return JudgedBeside(worst.words, one, two, *shown, difference, _limit(here, there, say))


def _limit(here: Check | None, there: Check | None, say: Wording) -> str:
    """Return the limit of a judgement in words, of both designs where these differ."""
    found = [
        (check.rule.sense, say.rule_value(check.limit, check.rule.unit))
        for check in (here, there)
        if check is not None and check.limit is not None
    ]
    if len(found) == 2 and found[0] != found[1]:
        return f"{found[0][0]} {found[0][1]} here, {found[1][1]} there"
    return " ".join(found[0]) if found else ""


# --- values of the file ------------------------------------------------------------------------------


def value_differences(project: Project, text: str, other: Project, other_text: str) -> Iterator[ValueBeside]:
    """Yield the values of the file in which two designs differ, in the order of the first's file."""
    here, there = written(text), written(other_text)
    sizes = walk(project), walk(other)
    say = Wording(project.settings.units)
    if project.linkage.kind != other.linkage.kind:
        # Its values cannot be taken over one by one: what one kind needs another may not have.
        link = link_at(project, LINKAGE)
        yield ValueBeside(LINKAGE, link.label, link, project.linkage.kind, other.linkage.kind, "")
    before = ""
    for at, *texts in differences(here.tables, there.tables):
        path = _whole(here, there, at)
        if path in (*NOT_DESIGN, before):
            continue
        before = path
        ours, theirs = texts if path == at else (SECTION if one.at(path) else "" for one in (here, there))
        # Where only one of them has an entry or section, it is that one which gives it its name.
        named = project if here.at(path) is not None else other
        link = link_at(named, path)
        yield ValueBeside(path, link.label, link, ours, theirs, _size_difference(path, *sizes, say))


def _whole(here: Written, there: Written, path: str) -> str:
    """Return the path of the whole section where a value lies in one that only one of the files has, else the path."""
    steps = path.split(".")
    for count in range(1, len(steps)):
        above = ".".join(steps[:count])
        sections = [one.at(above) for one in (here, there)]
        if None in sections:
            holder = here.tables if sections[0] is not None else there.tables
            return above if named_by(above, holder) == "section" else path
    return path


def _size_difference(path: str, ours: Mapping[str, Any], theirs: Mapping[str, Any], say: Wording) -> str:
    """Return by how much a quantity differs, empty for what is none."""
    if path not in ours or path not in theirs:
        return ""
    dimension = key_of(path).dimension
    more = theirs[path].nominal - ours[path].nominal
    if dimension is Dimension.MONEY or not more:
        return ""
    if dimension is Dimension.TEMPERATURE:
        # A difference of degrees has no nought of its own.
        return text_difference(say.temperature(ours[path].nominal), say.temperature(theirs[path].nominal), say)
    hand = dimension is Dimension.FORCE and alike(path) in BY_SCALES
    said = say.force_hand(abs(more)) if hand else say.quantity(abs(more), dimension)
    return f"{sign(more)}{said}" if any(digit in said for digit in "123456789") else ""


# --- taking over -------------------------------------------------------------------------------------


def taken_over(text: str, other_text: str, path: str) -> str:
    """Return the text of a file with what another one has at `path`: a value, a section or a whole list.

    Errors: ProjectFault of a path in which they do not differ, and of a text that cannot be changed so.
    """
    ours, theirs = written(text), written(other_text)
    here, there = ours.at(path), theirs.at(path)
    if path == LINKAGE:
        gone = dict.fromkeys(f"{path}.{key}" for key in here if key not in there)
        return edited(text, {**gone, **dict(_values(there, path))})
    if isinstance(here, (dict, list)) and not _is_point(here):
        text = without(text, path)
        here = None
    if there is None:
        return text if here is None else edited(text, {path: None})
    return edited(text, dict(_values(there, path)))


def _is_point(value: Any) -> bool:
    return isinstance(value, list) and len(value) == 2 and all(isinstance(part, (str, int, float)) for part in value)


def _values(value: Any, path: str) -> Iterator[tuple[str, Any]]:
    """Yield the values at and below a path, each under its own."""
    if isinstance(value, dict):
        for key, part in value.items():
            yield from _values(part, f"{path}.{key}")
    elif _is_point(value):
        yield from ((f"{path}.x", value[0]), (f"{path}.z", value[1]))
    elif isinstance(value, list):
        for number, part in enumerate(value):
            yield from _values(part, f"{path}.{number}")
    else:
        yield path, value
