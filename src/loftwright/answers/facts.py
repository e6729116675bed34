"""Key figures in words."""

from __future__ import annotations

from loftwright.answers.judged_roof import RoofNumbers
from loftwright.answers.key_figures import far_open, key_figures
from loftwright.core.checks import Outcome, Rule
from loftwright.core.motion import Travel
from loftwright.core.units import Dimension
from loftwright.core.views import Fact
from loftwright.core.wording import Wording
from loftwright.mechanics import weigh
from loftwright.mechanics.feel import NEVER
from loftwright.mechanics.rules import PULL_START, START


def facts(outcome: Outcome[RoofNumbers], say: Wording) -> tuple[Fact, ...]:
    """Return the key figures of the nominal roof."""
    found = outcome.numbers
    key, roof = key_figures(found), found.roof
    strap = key.strap_needed
    rows = [
        Fact("Standing height, open", say.length(key.standing_height), f"wins {say.length(key.standing_height_won)}"),
        Fact("Rise at the lip", say.length(key.lip_rise), f"opens {far_open(found, say, key.opens)}"),
        Fact(
            "Weight of the shell, all on",
            say.mass(key.mass.nominal),
            f"likely {say.mass(key.mass.low)} to {say.mass(key.mass.high)}",
        ),
        Fact("Push to start, cold and aged", say.force_hand(_value(outcome, START))),
        Fact("Pull to start down, hot and new", say.force_hand(_value(outcome, PULL_START))),
        Fact("Rises by itself, mild and new", _rises(key.rises_from, say)),
    ]
    if found.failures:
        worst = min(found.failures, key=lambda f: float(f.holds_with[0]))
        holds = float(worst.holds_with[0])
        if holds < 0:
            run = worst.release
            if run.moves[0]:
                said = f"falls in {say.time(float(run.time[0]))}"
                note = f"lip at {say.speed(float(run.speed[0]))}; cold and aged, no damping"
            else:
                said, note = "sinks slowly", "cold and aged"
        else:
            said, note = "stays up", "cold and aged"
        rows.append(Fact(worst.what[0].upper() + worst.what[1:], said, note))
        fitted = "fitted" if roof.limits.prop_fitted else "not fitted yet"
        need = "required" if key.prop_required else "not required"
        rows.append(Fact("Positive prop or lock", need, f"{fitted}; for the day a spring fails"))
        load = say.force_hand(key.prop_load)
        rows.append(Fact("A prop at the handle carries", load, "all springs gone, in the gust"))
    else:
        rows.append(Fact("Positive prop or lock", "required", "no springs hold the open roof up"))
    rows += [
        Fact(
            "Closed, above the old roof",
            say.short_length(key.closed_top),
            "add it to the van's height and note that on the dash",
        ),
        Fact("Latches hold down, in the sun", say.force_hand(key.latch_hold), "at the handle's place"),
        Fact(
            "Handle above your feet, open",
            say.length(key.handle_height),
            f"needs a strap of {say.short_length(strap)} or longer" if strap > 0 else "within reach without a strap",
        ),
    ]
    if found.failures:
        rows.append(
            Fact(
                "Left to pull the cloth tight",
                " to ".join(say.quantity(pull, Dimension.LINE_FORCE) for pull in key.cloth_pull),
                "of rim, cold and aged to hot from the sun",
            )
        )
    if key.rests_at > 0:
        rows.append(Fact("Unlatched, it rests on its seal", f"lip {say.short_length(key.rests_at)} up", "mild and new"))
    how, holds_most = _held(roof.travel)
    rows.append(Fact("Left and right true to within", say.short_length(key.true_to), how))
    if key.unequal:
        rows.append(
            Fact(
                "Unequal springs load each hinge by",
                f"± {say.force(key.unequal)}",
                "left against right, as delivered",
            )
        )
    rows.append(
        Fact(
            holds_most,
            say.force(key.most_on_pin),
            "on a still day, springs cold to hot from the sun",
        )
    )
    if found.flight is not None:
        rows.append(
            Fact(
                "Without the panel it meets its stop at",
                say.speed(float(found.flight.speed[0])),
                "let go where that is worst, springs hot from the sun",
            )
        )
    if found.one_more is not None:
        better = found.one_more
        rows.append(
            Fact(
                "Next weighing worth doing",
                better.what,
                f"doubt of the weight's moment from {say.moment(better.now)} to {say.moment(better.then)}",
            )
        )
    if isinstance(found.weighed, weigh.NotEnough):
        rows.append(Fact("Weighing", "not enough readings", found.weighed.missing))
    return tuple(rows)


def _value(outcome: Outcome[RoofNumbers], rule: Rule) -> float | None:
    """Return the nominal value that a rule was judged by."""
    return next((check.value for check in outcome.checks if check.rule is rule), None)


def _rises(share: float, say: Wording) -> str:
    if share == 0:
        return "from the start"
    return "never to the top" if share >= NEVER else f"from {say.fraction(share)} open"


def _held(travel: Travel) -> tuple[str, str]:
    """Return how left and right are compared, and what the fact on the greatest force is called."""
    if travel.slides:
        return "spacing of the guides, closed against open", "Most on one end of the shoes"
    if travel.arms:
        return "plumb or spacing over an arm's length", "Most on one arm's pin"
    return "rod held along one, read at the other", "Most on one hinge"
