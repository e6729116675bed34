"""What the answers say of a new file: nothing that is only suggested is to be measured, nor called a decision."""

from __future__ import annotations

import pytest

from loftwright.answers.judged_roof import judged_roof
from loftwright.answers.views import provenance_note
from loftwright.core.checks import Verdict
from loftwright.mechanics.rules import PRESSURE, ROD_BENDS
from loftwright.project.file import loads
from loftwright.project.newfile import FiveAnswers, new_project


@pytest.mark.parametrize("length", ["1.3 m", "1.9 m", "3.2 m"])
@pytest.mark.parametrize("lifts", ["hinge front", "hinge rear", "arms", "level arms", "scissor"])
def test_a_spring_that_is_not_there_is_neither_measured_nor_too_thin(lifts: str, length: str) -> None:
    outcome = judged_roof(loads(new_project(FiveAnswers(lifts, length, "1.2 m", "1.4 m", "1.7 m"))))
    checks = outcome.checks
    waits = [check.inputs[0] for check in checks if check.verdict is Verdict.NOT_KNOWN and check.inputs]
    assert waits
    # What the bracket carries is asked of every builder: it is made, not bought with the spring.
    assert [path for path in waits if path.startswith("spring.") and not path.endswith("bracket_limit")] == []
    thin = {check.rule.id: check.verdict for check in checks if check.rule in (ROD_BENDS, PRESSURE)}
    assert set(thin.values()) == {Verdict.HOLDS}


def test_suggestions_are_counted_apart_from_decisions() -> None:
    answers = FiveAnswers("hinge front", "1.9 m", "1.2 m", "1.4 m", "1.7 m")
    text = new_project(answers)
    found = judged_roof(loads(text)).numbers
    before = provenance_note(found.rows)
    taken = judged_roof(loads(text.replace('gust = "10 m/s, suggested"', 'gust = "10 m/s"'))).numbers
    after = provenance_note(taken.rows)

    def count(note: str, words: str) -> int:
        return int(note.split(words)[0].split()[-1])

    for words, step in (("are your decisions", 1), ("are suggested by the program", -1)):
        assert count(after, words) == count(before, words) + step
