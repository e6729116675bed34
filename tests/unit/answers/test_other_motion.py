"""Another way of moving: from every demo to every other way, one change that reads and can be put together."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from loftwright.answers import other_motion as other
from loftwright.answers.judged_roof import judged_roof
from loftwright.answers.other_motion import other_motion
from loftwright.answers.ways import WAYS, way_of
from loftwright.core.errors import CannotAssemble, ProjectFault
from loftwright.project.demos import DEMOS, demo, demo_text
from loftwright.project.file import loads
from loftwright.project.newfile import FiveAnswers, new_project

NAMES = [way.name for way in WAYS]
ALONG = '[opening]\nlength = "2 m"\nwidth = "1.2 m"\n[shell]\n'
SIDEWAYS = (
    f'format = 1\nname = "side"\n{ALONG}height_left = "120 mm"\n[linkage]\nkind = "hinge"\nend = "left"\n'
    'opens = "35 deg"\nhinge = ["-50 mm", "30 mm"]\n[[spring]]\nforce = "500 N"\nstroke = "0.3 m"\n'
    'extended_length = "0.64 m"\nfoot = ["0.45 m", "-60 mm"]\nhead = ["0.7 m", "60 mm"]\n'
)


def flat(value: Any, path: str = "") -> dict[str, Any]:
    """Return every value of a file by its path; points of two as one."""
    if isinstance(value, dict):
        return {k: v for key, part in value.items() for k, v in flat(part, f"{path}{key}.").items()}
    if isinstance(value, list) and value and isinstance(value[0], (dict, list)):
        return {k: v for at, part in enumerate(value) for k, v in flat(part, f"{path}{at}.").items()}
    return {path[:-1]: value}


@pytest.mark.parametrize("wanted", NAMES)
@pytest.mark.parametrize("name", DEMOS)
def test_from_every_demo_to_every_way(name: str, wanted: str) -> None:
    project, text = demo(name), demo_text(name)
    if wanted == way_of(project):
        with pytest.raises(ProjectFault, match="moves so already"):
            other_motion(project, text, wanted)
        return
    if name == "quellmere" and wanted in ("hinge left", "hinge right"):
        # Its weighing was read along the van.
        with pytest.raises(ProjectFault, match="take the weighing out first"):
            other_motion(project, text, wanted)
        return
    made = other_motion(project, text, wanted)
    after = loads(made.text(text))
    assert way_of(after) == wanted
    assert judged_roof(after).checks
    # A roof that moves along the van as before keeps all that is not said to change.
    if wanted not in ("hinge left", "hinge right"):
        before, there = flat(tomllib.loads(text)), flat(tomllib.loads(made.text(text)))
        touched = {path.removesuffix(".x").removesuffix(".z") for path in made.changes}
        assert {path for path in {*before, *there} if before.get(path) != there.get(path)} <= touched
        assert made.gone == ()
    # And back again.
    back = other_motion(after, made.text(text), way_of(project))
    assert way_of(loads(back.text(made.text(text)))) == way_of(project)


@pytest.mark.parametrize("wanted", [name for name in NAMES if name != "hinge left"])
def test_from_a_hinge_at_a_side(wanted: str) -> None:
    made = other_motion(loads(SIDEWAYS), SIDEWAYS, wanted)
    after = loads(made.text(SIDEWAYS))
    assert way_of(after) == wanted
    assert judged_roof(after).checks
    assert (after.shell.height_left is None) is (wanted != "hinge right")


@pytest.mark.parametrize("wanted", ["hinge front", "four-bar", "guides"])
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_of_a_roof_of_which_nothing_is_known(wanted: str, units: Any) -> None:
    text = new_project(FiveAnswers("hinge rear"), units)
    after = loads(other_motion(loads(text), text, wanted).text(text))
    assert way_of(after) == wanted
    assert judged_roof(after).checks


def test_a_spring_on_an_arm_that_is_gone_stays_where_it_was() -> None:
    project, text = demo("larkenmoor"), demo_text("larkenmoor")
    after = loads(other_motion(project, text, "guides").text(text))
    assert (project.spring[0].head_on, after.spring[0].head_on) == ("arm a", "shell")
    assert after.spring[0].head == project.spring[0].head
    assert after.spring[0].foot == project.spring[0].foot


def test_what_is_proposed_is_marked_as_suggested() -> None:
    made = other_motion(demo("fennimoor"), demo_text("fennimoor"), "four-bar")
    values = [text for path, text in made.changes.items() if path.startswith("linkage.") and text is not None]
    assert [text for text in values if "suggested" not in text] == ["four-bar", "front"]
    assert made.changes["linkage.hinge"] is None


def test_other_lifters_come_along() -> None:
    more = '\n[[torsion]]\nmoment = "9 N m"\nper_degree = "0.1 N m"\n'
    text = demo_text("quellmere") + more
    project = loads(text)
    assert loads(other_motion(project, text, "scissor").text(text)).torsion[0].at == "arm a"
    made = other_motion(project, text, "guides")
    assert made.gone == ("torsion",)
    assert loads(made.text(text)).torsion == ()


def test_what_cannot_be_put_together_is_refused_in_a_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    def jams(*_: object, **__: object) -> None:
        raise CannotAssemble("The arms jam after 5 of 47 degrees.")

    monkeypatch.setattr(other, "assembled", jams)
    with pytest.raises(ProjectFault) as caught:
        other_motion(demo("fennimoor"), demo_text("fennimoor"), "four-bar")
    (fault,) = caught.value.faults
    assert fault.sentence() == (
        'Another way of moving is "two unlike lifting arms a side": what is proposed cannot be put together for this '
        "shell: The arms jam after 5 of 47 degrees; nothing was changed; choose another way."
    )


def test_a_way_that_is_not_known_is_refused() -> None:
    with pytest.raises(ProjectFault, match="none of the ways"):
        other_motion(demo("fennimoor"), demo_text("fennimoor"), "wheels")
