"""The search for the shortest layout by a library, as a small program of its own.

It is started in its own process by `loftwright.cloth.laying_library`: what it reads and writes is one line of JSON
each, in millimetres and degrees. Nothing of Loftwright is imported here, so that it starts at once and can be ended
at any time.
"""

from __future__ import annotations

import json
import sys
from typing import Any


def search(asked: dict[str, Any]) -> dict[str, Any]:
    """Return the library's layout of `asked`: length, and for each piece laid its index, turn and shift.

    asked: width [mm], seed, explore and compress [s], items as outline [mm], count and turns [deg] (None: any).
    """
    import spyrrow

    items = [
        spyrrow.Item(str(index), [(x, y) for x, y in item["outline"]], item["count"], item["turns"])
        for index, item in enumerate(asked["items"])
    ]
    config = spyrrow.StripPackingConfig(
        total_computation_time=None,
        exploration_time=asked["explore"],
        compression_time=asked["compress"],
        num_workers=1,
        seed=asked["seed"],
    )
    found = spyrrow.StripPackingInstance("roll", asked["width"], items).solve(config)
    return {
        "length": found.width,
        "placed": [[int(item.id), item.rotation, *item.translation] for item in found.placed_items],
    }


def main() -> None:
    """Read what is asked from standard input and write what was found to standard output."""
    json.dump(search(json.load(sys.stdin)), sys.stdout)


if __name__ == "__main__":
    main()
