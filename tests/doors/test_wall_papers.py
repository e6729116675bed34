"""Papers of the command `walls`: one sheet, patterns for a plotter and a cutter, and what is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from loftwright.cli.main import run

Capture = pytest.CaptureFixture[str]


def test_a_sheet_and_patterns_are_written(tmp_path: Path, capsys: Capture) -> None:
    sheet, long, drawing, folder = (tmp_path / name for name in ("trial.pdf", "long.pdf", "walls.dxf", "pieces"))
    asked = ["--sheet", "trial", "--pdf", str(sheet), "--long", str(long), "--dxf", str(drawing), "--svg", str(folder)]
    assert run(["walls", "--demo", "quellmere", "--part", "water", "--brief", *asked]) == 0
    assert sheet.read_bytes().startswith(b"%PDF")
    assert long.read_bytes().startswith(b"%PDF")
    assert b"LWPOLYLINE" in drawing.read_bytes()
    made = sorted(path.name for path in folder.iterdir())
    assert {"W1.svg", "W2.svg", "W3.svg", "W4.svg"} <= set(made)
    told = capsys.readouterr().err
    for path in (sheet, long, drawing, folder / "W1.svg"):
        assert f"Written: {path}" in told


def test_a_sheet_without_a_file_to_write_is_refused(capsys: Capture) -> None:
    assert run(["walls", "--demo", "quellmere", "--sheet", "trial"]) == 2
    assert "without --pdf" in capsys.readouterr().err
