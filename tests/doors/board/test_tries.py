"""Points that are dragged: a try is answered at once, also while the verdicts on an earlier one are not there yet."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import Any

from starlette.testclient import TestClient

from loftwright.board.app import build
from loftwright.board.desk import Desk
from loftwright.project.newfile import from_demo


def received(socket: Any, kind: str) -> dict[str, Any]:
    while True:
        message: dict[str, Any] = socket.receive_json()
        if message["t"] == kind:
            return message


def test_a_try_does_not_wait_for_verdicts(tmp_path: Path) -> None:
    file = tmp_path / "fennimoor.toml"
    file.write_text(from_demo("fennimoor"), encoding="utf-8")
    desk = Desk(tmp_path, file)
    begun: list[Any] = []
    ended: list[Any] = []

    async def slow(project: Any) -> None:
        begun.append(project)
        await asyncio.sleep(5)
        ended.append(project)

    desk.try_home = slow  # type: ignore[method-assign, assignment]
    with TestClient(build(desk)) as client, client.websocket_connect("/live") as socket:
        socket.send_json({"t": "hello", "page": "/", "width": 700})
        grip = received(socket, "picture")["picture"]["grips"][0]
        for seq in range(1, 4):
            if seq == 3:
                while not begun:
                    socket.send_json({"t": "width", "width": 700})
                    received(socket, "picture")
            socket.send_json({"t": "try", "grip": grip["path"], "x": grip["at"][0] + seq / 1000, "z": grip["at"][1]})
            assert "picture" in received(socket, "trial")
        assert len(begun) == 1
        assert ended == []
