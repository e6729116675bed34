"""What moving a window or a seam on the strip writes. Exact constructed cases."""

from __future__ import annotations

import pytest

from loftwright.answers.board_walls import seam_moved, single_seams, window_moved
from loftwright.core.errors import ProjectFault
from loftwright.core.wall_views import Strip, StripSeam, WallPage
from loftwright.project.demos import demo_text
from loftwright.project.file import loads
from loftwright.project.model import Project

AROUND = 6.0


def project(seams: tuple[str, ...] = ()) -> Project:
    """A demo without windows and seams of its own, with one window and seams as given."""
    text = demo_text("fennimoor")
    for name in ("window", "seam"):
        head, *entries = text.split(f"\n[[{name}]]")
        text = head + "".join("\n[" + one.split("\n[", 1)[1] for one in entries if "\n[" in one)
    text += '\n[[window]]\nalong = "-40 mm +- 5 mm"\nbottom = "0.1 m, measured"\nwidth = "0.4 m"\nheight = "0.2 m"\n'
    text += "".join(f'\n[[seam]]\nat = "{at}"\n' for at in seams)
    return loads(text)


def page(*arcs: float) -> WallPage:
    """A page of which only the strip is asked: seams at places along a line of 6 m, the first one closing it."""
    seams = tuple(StripSeam(f"seam {k + 1}", (arc, 0.0), (arc, 0.5), arc) for k, arc in enumerate(arcs))
    closing = StripSeam(seams[0].name, (arcs[0] + AROUND, 0.0), (arcs[0] + AROUND, 0.5), arcs[0] + AROUND)
    made = object.__new__(WallPage)
    object.__setattr__(made, "strip", Strip((), (), (*seams, closing), AROUND, AROUND, 0.5))
    return made


def test_the_seam_that_closes_the_ring_is_one_seam() -> None:
    strip = page(-0.5, 1.0, 2.5).strip
    assert [seam.arc for seam in single_seams(strip.seams, AROUND)] == [-0.5, 1.0, 2.5]
    # Counted from the other end it is the same place.
    assert [seam.low[0] for seam in single_seams(strip.seams[::-1], AROUND)] == [-0.5, 1.0, 2.5]


def test_a_window_goes_to_marks_of_the_tape() -> None:
    made = project()
    # A range that was given to a decision stays; what was measured is a decision now.
    assert window_moved(made, 0, 0.0604, 0.1496) == {"window.0.along": "60 +- 5 mm", "window.0.bottom": "150 mm"}
    assert window_moved(made, 0, -0.0404, 0.0996) == {}
    assert window_moved(made, 0, -0.0404, 0.2) == {"window.0.bottom": "200 mm"}


@pytest.mark.parametrize("where", [(1, 0.0, 0.1), (-1, 0.0, 0.1), (0, float("nan"), 0.1), (0, 0.0, float("inf"))])
def test_where_there_is_no_window_or_no_place(where: tuple[int, float, float]) -> None:
    with pytest.raises(ProjectFault, match="load the page again"):
        window_moved(project(), *where)


def test_without_seams_in_the_file_all_of_them_are_written_in_their_order() -> None:
    walls = page(-0.5, 1.0, 2.5)
    places = {"seam.0.at": "1 m", "seam.1.at": "2.5 m", "seam.2.at": "5.6 m"}
    assert seam_moved(project(), walls, "seam 1", -0.4) == places
    assert seam_moved(project(), walls, "seam 1", 5.6) == places
    # Over the start of the line it comes first.
    assert list(seam_moved(project(), walls, "seam 1", 0.2).values()) == ["200 mm", "1 m", "2.5 m"]
    assert seam_moved(project(), walls, "seam 1", -0.4997) == {}


def test_seams_of_the_file_are_moved_one_by_one() -> None:
    made, walls = project(seams=("2.5 m", "5.5 m", "1 m, measured")), page(-0.5, 1.0, 2.5)
    assert seam_moved(made, walls, "seam 1", -0.25) == {"seam.1.at": "5.75 m"}
    assert seam_moved(made, walls, "seam 2", 1.2) == {"seam.2.at": "1.2 m"}
    assert seam_moved(made, walls, "seam 3", 2.5004) == {}


def test_two_seams_are_kept_apart() -> None:
    walls = page(-0.5, 1.0, 2.5)
    assert seam_moved(project(), walls, "seam 2", 2.44)
    with pytest.raises(ProjectFault, match="seam 3 stands there"):
        seam_moved(project(), walls, "seam 2", 2.46)
    with pytest.raises(ProjectFault, match="no seam of the walls"):
        seam_moved(project(), walls, "seam 9", 1.0)
