"""The shell in the side view: one bent line from rim to rim, for outside and inside alike."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array


def shell_outline(
    rear: ArrayLike,
    front: ArrayLike,
    rim_z: ArrayLike,
    height_rear: ArrayLike,
    height_middle: ArrayLike,
    height_front: ArrayLike,
    *,
    thickness: ArrayLike = 0.0,
) -> tuple[Array, Array]:
    """Return (x, z) [m], each [..., 5], of the closed shell: rear rim, rear top, middle, front top, front rim.

    rear, front: x of the rim's ends; rim_z: its height; heights above the rim at the three stations, outside;
    thickness: the inner face lies this much inside walls and top; all [m], [...].
    """
    x0, x1, z0, h0, h1, h2, t = np.broadcast_arrays(
        *(
            np.asarray(v, dtype=np.float64)
            for v in (rear, front, rim_z, height_rear, height_middle, height_front, thickness)
        )
    )
    x = np.stack([x0 + t, x0 + t, (x0 + x1) / 2, x1 - t, x1 - t], axis=-1)
    z = np.stack([z0, *(z0 + np.maximum(h - t, 0.0) for h in (h0, h1, h2)), z0], axis=-1)
    return x, z
