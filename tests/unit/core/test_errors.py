"""Errors keep what they say when they are handed from one process to another. Exact constructed cases."""

from __future__ import annotations

import copy
import pickle
from collections.abc import Callable

import pytest

from loftwright.core.amounts import QuantityError
from loftwright.core.errors import CannotAssemble, Fault, LoftwrightError, NewerFormat, ProjectFault
from loftwright.core.quantities import parse
from loftwright.core.units import Dimension

FAULTS = (
    Fault("[shell] mass", '"62"', "it has no unit", 'write "62 kg"'),
    Fault("[shell] length", "missing", "outer length", "write it"),
)


def handed_over(error: LoftwrightError) -> LoftwrightError:
    found: LoftwrightError = pickle.loads(pickle.dumps(error))
    return found


@pytest.mark.parametrize("over", [handed_over, copy.copy, copy.deepcopy])
@pytest.mark.parametrize("kind", [ProjectFault, NewerFormat])
def test_faults_are_handed_over_whole(kind: type[ProjectFault], over: Callable[[ProjectFault], ProjectFault]) -> None:
    for error in (kind(FAULTS), kind(FAULTS, "roof.toml cannot be used:")):
        found = over(error)
        assert type(found) is kind
        assert (found.faults, found.title, str(found)) == (error.faults, error.title, str(error))


@pytest.mark.parametrize("over", [handed_over, copy.copy, copy.deepcopy])
def test_a_quantity_that_is_none_is_handed_over_whole(over: Callable[[QuantityError], QuantityError]) -> None:
    with pytest.raises(QuantityError) as caught:
        parse("2.1 furlongs", Dimension.LENGTH, unknown=None)
    found = over(caught.value)
    assert (found.given, found.allowed, found.do) == (caught.value.given, caught.value.allowed, caught.value.do)
    assert found.fault("[shell] length") == caught.value.fault("[shell] length")
    assert str(found) == str(caught.value)


def test_links_that_do_not_meet_are_handed_over_whole() -> None:
    assert str(handed_over(CannotAssemble("arm b is too short"))) == "arm b is too short"
