"""The parts of one field: its kind, its words, what is allowed, how it is known and what is taken without it."""

from __future__ import annotations

from typing import Any, Final

from loftwright.core.choices import Units
from loftwright.core.errors import Bug
from loftwright.core.field_views import FieldKind, HowTo, Option
from loftwright.core.uncertain import Provenance, Uncertain
from loftwright.core.wording import Wording
from loftwright.project.keys import Choice, Count, Key, Member, Section, Spot, Words, YesNo, members
from loftwright.project.linkage_section import ARM_PINS, PIVOTS
from loftwright.project.model import Project
from loftwright.project.plane import CROSSWISE, LENGTHWISE, plane_of
from loftwright.project.possible_linkage import NEEDED
from loftwright.project.reading import is_unknown, say
from loftwright.project.written import UNKNOWN, Written, with_word, without_word
from loftwright.reference.field_words import BY_SCALES, CHOICE_WORDS, FIELD_HELP, alike, axis_of, label_of
from loftwright.reference.measuring import measurement

KNOWN: Final[dict[str, str]] = {
    "": "your decision",
    Provenance.MEASURED.value: "measured",
    Provenance.LABEL.value: "from a label",
    Provenance.SUGGESTED.value: "suggested",
    Provenance.ASSUMED.value: "assumed",
    Provenance.UNKNOWN.value: "not known",
}
"""How a value is known, as people read it, by the word of the file; no word is a decision."""

_CHOSEN: Final = tuple(word for word in KNOWN if word != Provenance.SUGGESTED.value)
"""What a builder says of a value; only the program suggests."""

LEFT_OUT: Final = "; left out: "
"""In the meaning of a key, what stands before what is taken when it is not written."""

_ALONG = "Counted from the rear edge of the opening towards the cab, roof closed."
_ACROSS = "Counted from the left edge of the opening to the right as seen from behind, roof closed."
_UP = "Counted up from the roof at the opening, roof closed; below it is negative."


def member_at(path: str) -> Member:
    """Return the key of the file at a path; of a half of a point the point's. Errors: Bug for what is no key."""
    table: type[Section] | None = Project
    found: Member | None = None
    for step in path.split("."):
        if step.isdecimal():
            continue
        if found is not None and isinstance(found.about, Spot) and step in ("x", "z"):
            return found
        found = next((member for member in members(table) if member.key == step), None) if table else None
        if found is None:
            break
        table = found.table
    if found is None or found.about is None:
        raise Bug(f"no value of the file is called {path}")
    return found


def required(path: str) -> bool:
    """Whether the value at a path must be written where its section is."""
    member = member_at(path)
    return member.many or member.required


def needed_here(project: Project, path: str) -> bool:
    """Whether the value must be written for a roof of this kind: by itself, or by what carries the shell."""
    section, *rest = path.split(".")
    if section != "linkage":
        return required(path)
    kind = project.linkage.kind
    return required(path) or rest[0] in (*PIVOTS[kind], *(NEEDED if kind == "guides" else ("opens",)))


def kind_of(path: str, about: Any, options: tuple[Option, ...]) -> FieldKind:
    """Return the kind of a field; items have places too, although no point of the file."""
    axis = axis_of(path)
    if isinstance(about, Key):
        return "quantity" if not axis else "point-x" if axis == "x" else "point-z"
    if isinstance(about, YesNo):
        return "yesno"
    if isinstance(about, Count):
        return "count"
    return "choice" if options else "word"


def choices(project: Project, path: str, member: Member) -> tuple[Option, ...]:
    """Return the words that a field may hold, with what people read for them; none where it is no closed list."""
    about = member.about
    unknown = Option(UNKNOWN, KNOWN[UNKNOWN])
    if isinstance(about, YesNo):
        return (Option("true", "yes"), Option("false", "no"), unknown)
    if isinstance(about, Choice):
        return (*(Option(word, _word(path, word)) for word in member.words if word != UNKNOWN), unknown)
    if path.startswith("reading.") and path.endswith(".spring"):
        return tuple(Option(name, name) for name in dict.fromkeys(spring.name for spring in project.spring))
    return ()


def _word(path: str, word: str) -> str:
    if word == UNKNOWN:
        return KNOWN[UNKNOWN]
    return CHOICE_WORDS.get(alike(path), {}).get(word, word)


def help_text(path: str, member: Member, *, across: bool) -> str:
    """Return what a value is, and how to find it out where nothing else tells; in sentences."""
    about = member.about
    if about is None:
        return ""
    key = alike(path)
    text = FIELD_HELP.get(key) or _sentence(about.meaning.partition(LEFT_OUT)[0])
    if text == f"{label_of(path)}.":
        text = ""
    if axis := axis_of(path):
        text += f" {_UP if axis == 'z' else _ACROSS if across else _ALONG}"
    if isinstance(about, Key) and about.default == UNKNOWN and about.default_reason and measurement(path) is None:
        text += f" To find out: {about.default_reason}."
    return text.strip()


def _plain(reason: str) -> str:
    """Return a reason without the words on its source, which stand on the page of the project file."""
    return reason.removeprefix("judgement: ").removeprefix("common practice, no source: ")


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}."


def allowed(project: Project, path: str, about: Any) -> str:
    """Return the bounds of a value in words; of a force of the hand as scales read it."""
    if isinstance(about, Key) and alike(path) in BY_SCALES:
        low, high = (Wording(project.settings.units).force_hand(end) for end in (about.low, about.high))
        return f"between {low} and {high}"
    if isinstance(about, Key):
        low, high = (say(end, about.dimension, project.settings.units) for end in (about.low, about.high))
        return f"between {low} and {high}"
    if isinstance(about, Count):
        return f"a whole number from {about.low} to {about.high}"
    return about.allowed if isinstance(about, Words) else ""


def how_to(path: str) -> HowTo | None:
    """Return how the value at a path is settled with household tools, where that is written down."""
    found = measurement(path)
    return None if found is None else HowTo(found.title, found.minutes, found.how)


def word_of(about: Any, text: str | None) -> str:
    """Return how a written value is known, as the file says it; empty where it says nothing."""
    if text is None:
        return ""
    if is_unknown(text) and not isinstance(about, Words):
        return UNKNOWN
    return without_word(text)[1] if isinstance(about, Key) else ""


def words_for(about: Any, word: str) -> tuple[Option, ...]:
    """Return how a quantity can be known; that the program suggested it only where that stands there already."""
    if not isinstance(about, Key):
        return ()
    return tuple(Option(one, shown) for one, shown in KNOWN.items() if one in (word, *_CHOSEN))


def range_of(project: Project, path: str, about: Any, value: Uncertain | None, text: str | None) -> str:
    """Return the range within which a value is taken to lie, empty where it is taken as exact."""
    if isinstance(about, Choice) and text is not None and is_unknown(text):
        return f"taken as \u201c{_word(path, about.unknown)}\u201d: {about.unknown_reason}"
    if isinstance(about, (Count, YesNo)) and text is not None and is_unknown(text):
        return f"taken as {_default_word(about)}: {about.default_reason}"
    if not isinstance(about, Key) or value is None or value.shape == "exact":
        return ""
    hand = alike(path) in BY_SCALES
    said = Wording(project.settings.units).ranged(value, about.dimension, hand=hand)
    why = _plain(about.unknown_reason)
    if value.provenance is not Provenance.UNKNOWN:
        return f"taken as {said}"
    return f"taken as {said}" if value.low == value.high else f"anything from {said}: {why}"


def _default_word(about: Count | YesNo) -> str:
    if isinstance(about, YesNo):
        return "yes" if about.default else "no"
    return str(about.default)


def left_out(project: Project, path: str, member: Member, value: Uncertain | None) -> tuple[str, str]:
    """Return the text that is taken when nothing is written, and that in words."""
    about = member.about
    if about is None or member.many or needed_here(project, path):
        return "", ""
    without = about.meaning.partition(LEFT_OUT)[2]
    if member.optional or isinstance(about, Spot):
        said = FIELD_WITHOUT.get(alike(path), without)
        return "", f"left out: {said}" if said else "left out: nothing is taken"
    if isinstance(about, Key) and about.same_as:
        return "", f"left out: as \u201c{label_of(about.same_as)}\u201d"
    reason = _plain(getattr(about, "default_reason", ""))
    if isinstance(about, Key):
        text = _in_units(str(about.default), about, value, project.settings.units)
        return text, "left out: not known" if text == UNKNOWN else f"left out: {text} ({reason})"
    if isinstance(about, Choice):
        word = str(about.default)
        return word, f"left out: {_word(path, word)} ({reason})"
    if isinstance(about, (Count, YesNo)):
        text = str(about.default).lower()
        return text, f"left out: {_default_word(about)} ({reason})"
    return str(about.default or ""), f"left out: {about.default}"


def usual(path: str, about: Any) -> str:
    """Return in a few words what is taken when nothing is chosen from a list."""
    if isinstance(about, YesNo) and about.default is not None:
        return f"as usual: {_default_word(about)}"
    if isinstance(about, Choice) and about.default:
        # Behind a colon stands what the word means.
        return f"as usual: {_word(path, str(about.default)).partition(':')[0]}"
    return "not written"


FIELD_WITHOUT: Final[dict[str, str]] = {
    **{f"weighing.reading.{key}": "no part of this weighing" for key in ("at", "other", "reads", "whole", "balance")},
    "links.low_end_rise": "the slope says it",
    "links.tilt": "the rise of the other end says it",
}
"""What is taken without a key, where its meaning in the file names another key."""


def _in_units(text: str, key: Key, value: Uncertain | None, units: Units) -> str:
    """Return a key's default text in the builder's units."""
    if is_unknown(text) or units == "metric" or value is None:
        return text
    return with_word(say(value.nominal, key.dimension, units), without_word(text)[1])


# --- what this kind of roof has ------------------------------------------------------------------------

_OF_GUIDES: Final = ("guide", "guide_far", "guide_length", "guide_friction", "leans", "rise")
_OF_HINGES: Final = ("fit.axis_height", "fit.packer_least", "fit.packer")
_OF_ARMS: Final = (*ARM_PINS, "arm_width")


def of_this_roof(project: Project, there: Written, path: str) -> bool:
    """Whether a roof of this kind has the value at all; one that is written always counts as its own."""
    steps = path.split(".")
    if steps[0] == "linkage":
        return _of_linkage(project, steps[1])
    if steps[0] == "shell":
        plane = plane_of(project)
        other = LENGTHWISE if plane is CROSSWISE else CROSSWISE
        return path not in {other.heights[0], other.heights[2], other.overhang}
    if path in _OF_HINGES:
        return project.linkage.kind == "hinge"
    if path == "brace.track_to":
        return project.brace is None or project.brace.kind == "bar"
    if steps[:2] == ["weighing", "reading"]:
        reading = there.at(".".join(steps[:3]))
        forms = ({"at", "other", "reads"}, {"whole"}, {"balance"})
        return any(steps[3] in form and form & set(reading) for form in forms)
    return True


def _of_linkage(project: Project, key: str) -> bool:
    kind = project.linkage.kind
    if key in _OF_GUIDES:
        return kind == "guides"
    if key in _OF_ARMS:
        return key in PIVOTS[kind] or (key == "arm_width" and kind not in ("hinge", "guides"))
    if key == "hinge":
        return kind == "hinge"
    return kind != "guides" if key in ("opens", "friction") else True


def standing(here: bool, text: str | None) -> bool:
    """Whether a value must stay in sight: what is written although this kind of roof has no such thing."""
    return not here and text is not None
