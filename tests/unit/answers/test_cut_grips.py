"""The plan whose corners are moved: exact constructed cases on demos, and what a moved corner writes."""

from __future__ import annotations

from pathlib import Path

import pytest

from loftwright.answers.cut_grips import cut_board, cut_moved
from loftwright.core.errors import ProjectFault
from loftwright.documents.hold_board import cut_picture
from loftwright.project.demos import demo_text
from loftwright.project.file import loads
from loftwright.project.model import Project

SIDE = Path(__file__).parents[2] / "roofs" / "side_hinge.toml"


@pytest.fixture(scope="module")
def roof() -> Project:
    return loads(demo_text("fennimoor"))


def test_the_plan_is_that_of_the_file(roof: Project) -> None:
    board = cut_board(roof)
    # Opening 2 m by 1.38 m with corners of 60 mm; the roof begins 330 mm behind it and is 2.98 m long.
    assert board.plan.opening == pytest.approx((0.0, 0.69, 2.0, 0.69))
    assert board.plan.roof == pytest.approx((-0.33, 0.81, 2.65, 0.81))
    assert board.plan.radius == pytest.approx(0.06)
    assert [bow.at for bow in board.plan.bows] == pytest.approx([-0.12, 0.52, 1.04, 1.56, 2.12])
    places = {grip.name: grip.at for grip in board.grips}
    assert places["front left"] == pytest.approx((2.0, 0.69))
    assert places["rear right"] == pytest.approx((0.0, -0.69))
    assert places["radius"] == pytest.approx((1.94, 0.63))


def test_a_shell_hinged_at_a_side_lies_across() -> None:
    project = loads(SIDE.read_text(encoding="utf-8"))
    rear, right, front, left = cut_board(project).plan.shell
    assert front - rear == pytest.approx(project.shell.length.nominal)
    assert left + right == pytest.approx(project.shell.width.nominal)
    assert left - project.opening.width.nominal / 2 == pytest.approx(project.shell.overhang_left.nominal)


def test_where_points_lie_on_the_drawing_is_where_the_cut_line_is_drawn(roof: Project) -> None:
    board = cut_board(roof)
    for width in (320.0, 900.0):
        made = cut_picture(board, width_px=width, units="metric", words="kerb", name=roof.name)
        x, y, scale = made["view"]
        wide, tall = made["size"]
        assert 0 < x < x + 2.0 * scale < wide
        assert 0 < y - 0.69 * scale < y + 0.69 * scale < tall
        # The roof's own outline is drawn to the same scale, from the same edge.
        corner = f"{x - 0.33 * scale:.3f}".rstrip("0").rstrip(".")
        assert corner in made["svg"]


@pytest.mark.parametrize(
    ("name", "x", "y", "written"),
    [
        ("front left", 1.8, 0.69, {"opening.length": "1.8 m"}),
        ("front right", 2.0, -0.6, {"opening.width": "1.2 m"}),
        ("rear right", -0.5, -0.6, {"opening.width": "1.2 m"}),
        ("radius", 1.9, 0.59, {"cut.corner_radius": "100 mm"}),
        ("front left", 2.0004, 0.69, {}),
    ],
)
def test_what_a_moved_corner_writes(roof: Project, name: str, x: float, y: float, written: dict[str, str]) -> None:
    assert cut_moved(roof, name, x, y) == written


def test_inches_are_those_of_the_tape(roof: Project) -> None:
    inches = roof.model_copy(update={"settings": roof.settings.model_copy(update={"units": "imperial"})})
    # 1.8 m is 70.866 in: 70 14/16 in on a tape.
    assert cut_moved(inches, "front left", 1.8, 0.69) == {"opening.length": "5 ft 10 7/8 in"}


def test_a_radius_that_nobody_decided_can_be_taken(roof: Project) -> None:
    undecided = roof.model_copy(update={"cut": roof.cut.model_copy(update={"corner_radius": None})})
    board = cut_board(undecided)
    assert board.plan.radius is None
    place = next(grip.at for grip in board.grips if grip.name == "radius")
    # Put down where it stands, it is a decision.
    assert cut_moved(undecided, "radius", *place) == {"cut.corner_radius": "60 mm"}


@pytest.mark.parametrize(("name", "x"), [("middle", 1.0), ("radius", float("inf")), ("rear left", float("nan"))])
def test_what_is_no_place_is_refused(roof: Project, name: str, x: float) -> None:
    with pytest.raises(ProjectFault, match="cut line"):
        cut_moved(roof, name, x, 0.5)
