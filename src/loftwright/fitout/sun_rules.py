"""Whether the panel does what it is for, and stays on: rules and judgements.

None of this is an assessment of a crash.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Rule, Source
from loftwright.core.judged import Judged, against
from loftwright.core.motion import Array, array_of
from loftwright.fitout.sun import MONTHS

USE_NOT_COVERED: Final = Rule(
    "SUN-2301",
    "The panel does not cover the use in a month that was asked for",
    "The panel covers the use in every month that was asked for",
    "1",
    "at least",
    "Short days, a low sun and cloud leave a flat panel little in winter, and a battery carries days, not weeks.",
    "Use less, raise and turn the panel to the noon sun, fit a larger one, or charge from the engine as well.",
    Source(
        "duffie-beckman",
        "equation 2.15.1; share of cloud and losses are ranges, judgement",
        "handbook",
    ),
)
FIXINGS_PULL_OUT: Final = Rule(
    "SUN-2302",
    "The panel's feet pull out of the shell",
    "The panel's feet hold in the shell",
    "N",
    "at most",
    "Air that gets under a panel lifts it with the square of the speed, most of all at a corner.",
    "Fit more feet or backing plates under the shell, close the front edge with a deflector, or drive slower.",
    Source("en-1991-1-4", "Table 7.6 as the upper bound; coefficients on a vehicle are judgement", "standard"),
)


def use_covered(given: Array, use: ArrayLike, months: tuple[int, ...], heading: int | None = None) -> Judged:
    """Return the worst of the wanted months against the use.

    Parameters
    ----------
    given: energy [W h a day], [..., 12, headings].
    use: energy used in a day [W h a day], over nought, [...] or [..., 12].
    months: the wanted ones, counted from nought.
    heading: index of the van's heading; None takes the worst heading [1].

    Returns
    -------
    Yield over use [1] against 1; `which` names the month that is worst in the first row.
    """
    used = array_of(use)
    every = used if used.ndim and used.shape[-1] == 12 else used[..., None]
    at_heading = np.min(given, axis=-1) if heading is None else given[..., heading]
    ratio = (at_heading / every)[..., list(months)]
    first = np.reshape(ratio, (-1, len(months)))[0]
    return against(USE_NOT_COVERED, np.min(ratio, axis=-1), 1.0, MONTHS[months[int(np.argmin(first))]])


def feet_hold(pull: ArrayLike, limit: ArrayLike | None, safety: ArrayLike = 2.0) -> Judged:
    """Return the worst foot's `pull` [N] against its `limit` [N] over `safety` [1], each [...].

    A limit of None waits for a pull-out test on a scrap of the shell.
    """
    if limit is None:
        return Judged(
            FIXINGS_PULL_OUT,
            array_of(pull),
            None,
            unknown="pull one foot out of a scrap of the shell, with scales",
            missing="foot_limit",
        )
    return against(FIXINGS_PULL_OUT, pull, array_of(limit) / array_of(safety))
