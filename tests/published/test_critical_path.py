"""Critical path and three-point estimates against published worked examples.

Sources
- Taylor, Introduction to Management Science, chapter 8, problem solutions: seven activities on arrows.
- A hand-out of a public course on operations management (book not named in it): nine activities, three paths.
- Heizer and Render, Operations Management, pollution-control example: eight activities.

Beside each check stands how it was confirmed: "read in a public reproduction", "from memory" or
"computed here from first principles".
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.work import After, Hours, Task
from loftwright.plan.schedule import passes
from loftwright.plan.tasks import Network, network
from loftwright.plan.three_point import pert_mean


def estimated(rows: dict[str, tuple[str, float, float, float]]) -> Network:
    return network(
        [
            Task(name, name, Hours(least, likely, most), tuple(After(each) for each in after))
            for name, (after, least, likely, most) in rows.items()
        ]
    )


def means(net: Network) -> np.ndarray:
    return np.array([float(pert_mean(t.hours.least, t.hours.likely, t.hours.most)) for t in net.tasks])


def test_seven_activities_on_arrows() -> None:
    # Taylor, chapter 8, problem 1: ES EF LS LF slack of each. Read in a public reproduction.
    printed = {
        "1-2": (7, 0, 7, 2, 9, 2),
        "1-3": (10, 0, 10, 0, 10, 0),
        "2-4": (6, 7, 13, 9, 15, 2),
        "3-4": (5, 10, 15, 10, 15, 0),
        "3-5": (4, 10, 14, 14, 18, 4),
        "4-5": (3, 15, 18, 15, 18, 0),
        "5-6": (2, 18, 20, 18, 20, 0),
    }
    # An arrow comes after every arrow that ends in the event where it begins.
    net = network(
        [
            Task(name, name, Hours(t[0], t[0], t[0]), tuple(After(o) for o in printed if o[-1] == name[0]))
            for name, t in printed.items()
        ]
    )
    got = passes(net, np.array([float(t[0]) for t in printed.values()]))
    columns = (got.early_start, got.early_finish, got.late_start, got.late_finish, got.slack)
    assert [tuple(float(c[i]) for c in columns) for i in range(7)] == [t[1:] for t in printed.values()]
    assert float(got.finish) == 20.0
    assert [name for name, on in zip(printed, got.chain(), strict=True) if on] == ["1-3", "3-4", "4-5", "5-6"]


NINE = {
    "A": ("", 5.0, 6.0, 7.0),
    "B": ("", 8.0, 8.0, 11.0),
    "C": ("A", 6.0, 8.0, 11.0),
    "D": ("", 9.0, 12.0, 15.0),
    "E": ("C", 5.0, 6.0, 9.0),
    "F": ("D", 5.0, 6.0, 7.0),
    "G": ("F", 2.0, 3.0, 7.0),
    "H": ("B", 4.0, 4.0, 5.0),
    "I": ("H", 5.0, 7.0, 8.0),
}


def test_nine_activities_with_three_estimates() -> None:
    # Expected times, path lengths, slack: read in a public reproduction.
    net = estimated(NINE)
    assert means(net) == pytest.approx([6, 8.5, 8.1667, 12, 6.3333, 6, 3.5, 4.1667, 6.8333], abs=5e-5)
    got = passes(net, means(net))
    assert float(got.finish) == pytest.approx(21.5)
    assert got.slack == pytest.approx([1, 2, 1, 0, 1, 0, 0, 2, 2])
    assert [net.tasks[i].id for i in np.flatnonzero(got.chain())] == ["D", "F", "G"]
    lengths = {path: sum(means(net)[net.number(name)] for name in path) for path in ("ACE", "DFG", "BHI")}
    assert lengths == pytest.approx({"ACE": 20.5, "DFG": 21.5, "BHI": 19.5})


def test_eight_activities_of_the_pollution_control_example() -> None:
    # Estimates, 15 weeks and the critical path A-C-E-G-H: read in a public reproduction. Slack: from memory.
    net = estimated(
        {
            "A": ("", 1, 2, 3),
            "B": ("", 2, 3, 4),
            "C": ("A", 1, 2, 3),
            "D": ("AB", 2, 4, 6),
            "E": ("C", 1, 4, 7),
            "F": ("C", 1, 2, 9),
            "G": ("DE", 3, 4, 11),
            "H": ("FG", 1, 2, 3),
        }
    )
    got = passes(net, means(net))
    assert float(got.finish) == pytest.approx(15.0)
    path = tuple(int(i) for i in np.flatnonzero(got.chain()))
    assert "".join(net.tasks[i].id for i in path) == "ACEGH"
    assert got.slack == pytest.approx([0, 1, 0, 1, 0, 6, 0, 0], abs=1e-12)
