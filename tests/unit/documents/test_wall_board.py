"""The walls as data for the board's scripts. Exact constructed cases."""

from __future__ import annotations

import importlib.util
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from loftwright.core.wall_views import FoldPlace, FoldPose
from loftwright.documents.wall_board import MOST_POSES, MOST_SPOTS, counts_text, fold_play, letters, walls_in_space

_PATH = Path(__file__).parents[2] / "doors" / "board" / "sample_walls.py"
_SPEC = importlib.util.spec_from_file_location("sample_walls_board", _PATH)
assert _SPEC is not None
assert _SPEC.loader is not None
sample = importlib.util.module_from_spec(_SPEC)
sys.modules["sample_walls_board"] = sample
_SPEC.loader.exec_module(sample)


def test_letters_go_on_after_the_last() -> None:
    assert letters(28) == (*"ABCDEFGHIJKLMNOPQRSTUVWXYZ", "A2", "B2")


@pytest.mark.parametrize(
    ("counts", "words"),
    [
        ((24, 0, 0), "All 24 starts end inside."),
        ((0, 0, 24), "All 24 starts lie both ways."),
        ((1, 22, 1), "Of 24 starts 1 ends inside, 22 end outside, 1 lies both ways."),
        ((1, 0, 0), "The one start ends inside."),
        ((0, 0, 0), ""),
    ],
)
def test_counts_are_words(counts: tuple[int, int, int], words: str) -> None:
    assert counts_text(counts) == words


def test_a_long_fold_is_thinned_and_keeps_its_ends() -> None:
    cloth = tuple((0.001 * k, 0.0) for k in range(501))
    poses = tuple(FoldPose(1.0 - k / 100, cloth, ((0.0, 1.0), (0.3, 1.0))) for k in range(101))
    place: FoldPlace = replace(sample.page().places[0], poses=poses, ends=(cloth,))
    play = fold_play(replace(sample.page(), places=(place,)))
    assert play is not None
    (shown,) = play["places"]
    opens = [pose["open"] for pose in shown["poses"]]
    # From closed to open, as a script looks between two of them.
    assert opens == sorted(opens)
    assert (len(opens), opens[0], opens[-1]) == (MOST_POSES, 0.0, 1.0)
    # Tenths of a millimetre, u and z in turn.
    for flat in (shown["poses"][0]["cloth"], shown["ends"][0]):
        assert len(flat) == 2 * MOST_SPOTS
        assert flat[:2] == [0, 0]
        assert flat[-2:] == [5000, 0]


def test_what_hangs_below_the_ring_is_told_beside_the_fold() -> None:
    place = sample.page().places[0]
    told, silent = (fold_play(replace(sample.page(), places=(replace(place, hang=hang),))) for hang in ("90 mm", ""))
    assert told is not None
    assert silent is not None
    assert ["Hangs below the ring", "90 mm"] in told["places"][0]["facts"]
    assert not any(label.startswith("Hangs") for label, _ in silent["places"][0]["facts"])


def test_without_places_or_lines_there_is_nothing_to_draw() -> None:
    assert fold_play(replace(sample.page(), places=())) is None
    assert walls_in_space(replace(sample.page(), lower=())) is None
