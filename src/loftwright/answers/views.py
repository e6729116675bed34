"""From results to rows and series that are ready to show: every sum that a screen or page needs is done here."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from loftwright.answers.judged_roof import RoofNumbers
from loftwright.core.checks import Check, Outcome, Rule, Verdict
from loftwright.core.motion import Array, Motion
from loftwright.core.quantities import Dimension
from loftwright.core.scene import (
    Arm,
    Board,
    Item,
    Person,
    Pivot,
    Pose,
    PoseTable,
    Scene,
    Spot,
    SpringShape,
)
from loftwright.core.uncertain import Provenance
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Caution, CheckRow, Curve, DoNext, Fact, ForceChart, LimitZone, RoofPage
from loftwright.core.wording import Wording
from loftwright.mechanics import weigh
from loftwright.mechanics.feel import NEAR_CLOSED, NEAR_OPEN, STATES, Age, Temperature, cloth_pull, push_limit, state
from loftwright.mechanics.linkage import opening_of
from loftwright.mechanics.rules import PULL_START, START
from loftwright.project.model import Item as OnShell
from loftwright.project.model import Project
from loftwright.reference.cautions import ALWAYS
from loftwright.reference.measuring import measurement

SHOWN = 61
"""Stations on a page or in a table."""
STEPS = 8
"""Steps in which a limit that changes over the travel is drawn."""


def wording(project: Project) -> Wording:
    """Return the wording in the project's units."""
    return Wording(project.settings.units)


def check_row(check: Check, say: Wording) -> CheckRow:
    """Return one judgement as people read it."""
    rule = check.rule
    value, limit = say.rule_pair(check.value, check.limit, rule.unit)
    margin = "" if check.margin is None else say.rule_value(check.margin, rule.unit)
    basis = check.basis if check.unknown is None else f"measure first: {check.unknown}; {check.basis}"
    return CheckRow(
        id=rule.id,
        title=check.words,
        verdict=check.verdict,
        value=value if check.value is not None else "",
        limit=f"{rule.sense} {limit}" if check.limit is not None else "",
        margin=margin,
        basis=basis,
        reason=rule.reason,
        remedy=rule.remedy,
        source=rule.source.text(),
        inputs=check.inputs,
    )


def _shown(values: Array) -> Array:
    """Return `SHOWN` stations of an array whose last axis is the travel."""
    picked = np.linspace(0, values.shape[-1] - 1, SHOWN).round().astype(int)
    return np.asarray(np.take(values, picked, axis=-1), dtype=np.float64)


def how_far_open(found: RoofNumbers) -> Array:
    """Return how far the nominal roof is open [rad], [travel]: the shell's turn for a hinge, arm a's swing for arms."""
    return np.asarray(found.roof.travel.q[0] if found.roof.travel.arms else opening_of(found.roof.travel)[0])


_LABELS = {
    ("cold", "aged"): "cold, aged springs",
    ("cold", "new"): "cold, new springs",
    ("mild", "new"): "mild, new springs",
    ("mild", "aged"): "mild, aged springs",
    ("hot", "new"): "hot, new springs",
    ("hot", "aged"): "hot, aged springs",
    ("sun", "new"): "springs hot from the sun",
}
_ON_PAGE: tuple[tuple[Temperature, Age], ...] = (("cold", "aged"), ("mild", "new"), ("hot", "new"))


def force_chart(found: RoofNumbers, say: Wording) -> ForceChart:
    """Return the curves of push and pull with their limits, in the unit that scales show."""
    unit, factor = say.hand_force_unit()
    felt, limits, drawn = found.felt, found.roof.limits, found.rows.draws

    def numbers(values: Array) -> tuple[float, ...]:
        return tuple(round(float(v), 3) for v in _shown(values) * factor)

    curves = []
    for kind, forces in (("push", felt.push_up), ("pull", felt.pull_down)):
        for heat, age in _ON_PAGE:
            rows = forces[STATES.index((heat, age))]
            banded = (kind, heat) in (("push", "cold"), ("pull", "hot"))
            low, high = np.quantile(rows[drawn], (0.1, 0.9), axis=0)
            curves.append(
                Curve(
                    label=_LABELS[heat, age],
                    kind="push" if kind == "push" else "pull",
                    state=heat,
                    age=age,
                    y=numbers(rows[0]),
                    low=numbers(low) if banded else None,
                    high=numbers(high) if banded else None,
                )
            )
    allowed = push_limit(found.roof, felt)[0]
    fraction = found.roof.travel.fraction
    start, on = 100 * NEAR_CLOSED, 100 * NEAR_OPEN
    ends = np.linspace(start, on, STEPS + 1)
    least = [allowed[(100 * fraction >= a - 1e-9) & (100 * fraction <= b + 1e-9)].min() for a, b in pairwise(ends)]
    way = [
        LimitZone("too hard on the way" if i == STEPS // 2 else "", "push", float(a), float(b), y * factor, "at most")
        for i, ((a, b), y) in enumerate(zip(pairwise(ends), map(float, least), strict=True))
    ]
    zones = (
        LimitZone("too hard to start", "push", 0.0, start, float(limits.push_to_start[0]) * factor, "at most"),
        *way,
        LimitZone("too hard to pull down", "pull", on, 100.0, float(limits.pull_to_start_down[0]) * factor, "at most"),
    )
    return ForceChart(
        x=tuple(float(v) for v in _shown(100 * fraction)),
        degrees=tuple(float(v) for v in np.degrees(_shown(how_far_open(found)))),
        x_label="how far open",
        y_label="force at the handle",
        unit=unit,
        decimals=1,
        curves=tuple(curves),
        limits=zones,
        band_note="shaded: 8 of 10 roofs like yours",
    )


def _poses(motion: Motion) -> tuple[Pose, ...]:
    x, z, phi = (_shown(np.atleast_2d(v)[0]) for v in (motion.x, motion.z, motion.phi))
    return tuple(Pose(float(a), float(b), float(c)) for a, b, c in zip(x, z, phi, strict=True))


def pose_table(found: RoofNumbers) -> PoseTable:
    """Return where the bodies of the nominal roof are from closed to open."""
    travel = found.roof.travel
    arms = [_poses(arm) for arm in travel.arms]
    return PoseTable(
        fraction=tuple(float(v) for v in _shown(travel.fraction)),
        opening=tuple(float(v) for v in _shown(how_far_open(found))),
        shell=_poses(travel.shell),
        arm_a=arms[0] if arms else (),
        arm_b=arms[1] if arms else (),
    )


def scene(found: RoofNumbers) -> Scene:
    """Return the nominal roof, closed, as the side view draws it."""
    project = found.project
    shell, link = project.shell, project.linkage
    rear = -shell.overhang_rear.nominal
    front = rear + shell.length.nominal
    rim = shell.rim_height.nominal
    outline = (
        (rear, rim),
        (front, rim),
        (front, rim + shell.height_front.nominal),
        ((rear + front) / 2, rim + shell.height_middle.nominal),
        (rear, rim + shell.height_rear.nominal),
    )
    roof, around = found.roof, found.around
    lip = (float(roof.lip[0][0]), float(roof.lip[1][0]))
    pivots: tuple[Pivot, ...]
    arms: tuple[Arm, ...] = ()
    if link.kind == "hinge":
        pivots = (Pivot("hinge", "van", _spot(roof.pins.van[0])),)
    else:
        named = tuple(zip(("arm a", "arm b"), roof.pins.van, roof.pins.shell, strict=True))
        pivots = tuple(
            pivot
            for name, van, top in named
            for pivot in (Pivot(f"{name}, van", "van", _spot(van)), Pivot(f"{name}, shell", "shell", _spot(top)))
        )
        arms = tuple(
            Arm("arm a" if name == "arm a" else "arm b", _spot(van), _spot(top), link.arm_width.nominal)
            for name, van, top in named
        )
    springs = tuple(
        SpringShape(
            name=spring.name,
            foot_on=spring.foot_on,
            foot=(spring.foot.x.nominal, spring.foot.z.nominal),
            head_on=spring.head_on,
            head=(spring.head.x.nominal, spring.head.z.nominal),
            tube_length=max(0.02, spring.extended_length.nominal - spring.stroke.nominal),
            tube_diameter=spring.tube_diameter.nominal,
            tube_at="head",
        )
        for spring in project.spring
    )
    profile = tuple((p.x.nominal, p.z.nominal) for p in project.roof.profile) or ((rear - 0.3, 0.0), (front + 0.3, 0.0))
    bed = project.bed
    return Scene(
        roof_profile=profile,
        roof_build=project.van.roof_build.nominal,
        opening=(0.0, project.opening.length.nominal),
        upstand=project.roof.upstand.nominal,
        floor_z=-project.van.floor_to_roof.nominal,
        shell=outline,
        rim=((rear, rim), (front, rim)),
        lip=lip,
        pivots=pivots,
        arms=arms,
        springs=springs,
        handle=(float(roof.handle[0][0]), float(roof.handle[1][0])),
        strap_length=project.handle.strap_length.nominal,
        items=tuple(_item(item) for item in project.item if item.state != "remove"),
        bed=None if bed is None else Board(bed.from_.nominal, bed.to.nominal, bed.height.nominal),
        person=Person(float(roof.person_height[0]), float(around.stands_x[0]), float(roof.feet_z[0])),
        headroom_at=highest_place(found),
    )


def highest_place(found: RoofNumbers) -> Spot:
    """Return the point of the shell's inside under which the open headroom is greatest, where it lies when closed."""
    top = float(found.stand.best[0]) - found.project.van.floor_to_roof.nominal
    shell = found.roof.travel.shell
    x, z, phi = (float(np.atleast_2d(v)[0, -1]) for v in (shell.x, shell.z, shell.phi))
    at = float(found.stand.best_x[0])
    dx, dz = at - x, top - z
    return dx * np.cos(phi) + dz * np.sin(phi), dz * np.cos(phi) - dx * np.sin(phi)


_HALF_LENGTH = {"panel": 0.5, "vent": 0.2, "lining": 0.4, "handle": 0.06, "other": 0.1}
_HALF_HEIGHT = {"panel": 0.018, "vent": 0.05, "lining": 0.01, "handle": 0.015, "other": 0.03}


def _item(item: OnShell) -> Item:
    half, high, x, z = _HALF_LENGTH[item.kind], _HALF_HEIGHT[item.kind], item.x.nominal, item.z.nominal
    return Item(item.name, item.kind, x - half, x + half, z - high, z + high)


def _spot(point: tuple[Array, Array]) -> tuple[float, float]:
    return float(point[0][0]), float(point[1][0])


def facts(outcome: Outcome[RoofNumbers], say: Wording) -> tuple[Fact, ...]:
    """Return the key figures of the nominal roof."""
    found = outcome.numbers
    felt, roof = found.felt, found.roof
    mild = state("mild", "new")
    mass, drawn = roof.body.mass, found.rows.draws
    low, high = np.quantile(mass[drawn], (0.05, 0.95))
    strap = float(felt.hand.z[0, -1] - roof.feet_z[0] - found.around.reach[0])
    lip_rise = felt.lip.z[0, -1] - felt.lip.z[0, 0]
    rows = [
        Fact(
            "Standing height, open",
            say.length(float(found.stand.best[0])),
            f"wins {say.length(float(found.stand.won[0]))}",
        ),
        Fact("Rise at the lip", say.length(float(lip_rise)), f"opens {say.angle(float(how_far_open(found)[-1]))}"),
        Fact(
            "Weight of the shell, all on",
            say.mass(float(mass[0])),
            f"likely {say.mass(float(low))} to {say.mass(float(high))}",
        ),
        Fact("Push to start, cold and aged", say.force_hand(_value(outcome, START))),
        Fact("Pull to start down, hot and new", say.force_hand(_value(outcome, PULL_START))),
        Fact("Rises by itself, mild and new", _takes_over(felt.drive.push_up[mild, 0], roof.travel.fraction, say)),
        Fact(
            "Latches hold down, in the sun",
            say.force_hand(max(0.0, float(felt.pull_down[state("sun", "new"), 0, 0]))),
            "at the handle's place",
        ),
        Fact(
            "Handle above your feet, open",
            say.length(float(felt.hand.z[0, -1] - roof.feet_z[0])),
            f"needs a strap of {say.short_length(strap)} or longer" if strap > 0 else "within reach without a strap",
        ),
    ]
    pull = cloth_pull(roof, felt)[:, 0]
    rows.append(
        Fact(
            "Left to pull the cloth tight",
            f"{say.quantity(float(pull.min()), Dimension.LINE_FORCE)} to "
            f"{say.quantity(float(pull.max()), Dimension.LINE_FORCE)}",
            "of rim, cold and aged to hot from the sun",
        )
    )
    rest = resting_height(found)
    if rest is not None:
        rows.append(Fact("Unlatched, it rests on its seal", f"lip {say.short_length(rest)} up", "mild and new"))
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
        need = "required" if holds < 0 else "not required"
        rows.append(Fact("Positive prop or lock", need, f"{fitted}; for the day a spring fails"))
        rows.append(
            Fact(
                "A prop at the handle carries",
                say.force_hand(float(worst.prop_load[0])),
                "all springs gone, in the gust",
            )
        )
    how = "rod held along one, read at the other" if not roof.travel.arms else "plumb or spacing over an arm's length"
    rows.append(Fact("Left and right true to within", say.short_length(float(found.space.reading[0])), how))
    if found.unequal > 0:
        rows.append(
            Fact(
                "Unequal springs load each hinge by",
                f"± {say.force(found.unequal)}",
                "left against right, as delivered",
            )
        )
    pins = found.up.at_van
    most = max(float(np.hypot(x, z).max()) for x, z in pins)
    rows.append(
        Fact(
            "Most on one hinge" if not roof.travel.arms else "Most on one arm's pin",
            say.force(most / 2),
            "mild and new, raising",
        )
    )
    if found.flight is not None and found.flight.release.moves[0]:
        rows.append(
            Fact(
                "Without the panel it meets its stop at",
                say.speed(float(found.flight.release.speed[0])),
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


def _takes_over(push: Array, fraction: Array, say: Wording) -> str:
    needs = np.flatnonzero(push > 0)
    if needs.size == 0:
        return "from the start"
    if needs[-1] == fraction.size - 1:
        return "never to the top"
    return f"from {say.fraction(float(fraction[needs[-1] + 1]))} open"


def resting_height(found: RoofNumbers) -> float | None:
    """Return how far the unlatched nominal roof stands up on its seal at the lip [m]; None on its stops."""
    falling = found.felt.pull_down[state("mild", "new"), 0]
    fraction = found.roof.travel.fraction
    near = fraction <= NEAR_CLOSED
    if falling[0] <= 0 or not (falling[near] < 0).any():
        return None
    first = int(np.argmax(falling < 0))
    lip = found.felt.lip.z[0]
    return float(lip[first] - lip[0])


def do_next(outcome: Outcome[RoofNumbers]) -> tuple[DoNext, ...]:
    """Return what to measure or change next: inputs that open verdicts hang on, most verdicts a minute first."""
    waits: dict[str, list[Check]] = {}
    for check in outcome.checks:
        if check.verdict is Verdict.NOT_KNOWN:
            waits.setdefault(check.inputs[0] if check.inputs else check.rule.id, []).append(check)
    found = []
    for path, checks in waits.items():
        known = measurement(path)
        why = "settles: " + "; ".join(c.rule.title[0].lower() + c.rule.title[1:] for c in checks[:3])
        if len(checks) > 3:
            why += f" and {len(checks) - 3} more"
        if known is None:
            found.append((0.0, DoNext(f"Find out: {checks[0].unknown}", None, "", why)))
        else:
            found.append((len(checks) / known.minutes, DoNext(known.title, known.minutes, known.how, why)))
    merged: dict[str, tuple[float, DoNext]] = {}
    for rank, task in found:
        seen = merged.get(task.title)
        merged[task.title] = (rank, task) if seen is None else (seen[0] + rank, seen[1])
    ordered = sorted(merged.values(), key=lambda pair: (-pair[0], pair[1].title))
    fails = [
        DoNext(check.rule.remedy, None, "", f"as planned: {check.rule.title[0].lower()}{check.rule.title[1:]}")
        for check in outcome.checks
        if check.verdict is Verdict.FAILS
    ]
    return (*fails[:2], *(task for _, task in ordered))


def provenance_note(project: Project, found: RoofNumbers) -> str:
    """Return how much of what the answer used is measured."""
    used = [found.rows.inputs[path].value.provenance for path in found.rows.columns]
    count = {p: used.count(p) for p in Provenance}
    firm = count[Provenance.MEASURED] + count[Provenance.LABEL]
    return (
        f"Of {len(used)} inputs, {firm} are measured or from a label, {count[Provenance.GIVEN]} are your decisions, "
        f"{count[Provenance.ASSUMED]} are assumed and {count[Provenance.UNKNOWN]} are unknown."
    )


@dataclass(frozen=True, slots=True)
class Tally:
    """How many judgements hold, fail and are not known yet."""

    holds: int
    fails: int
    not_known: int

    def text(self) -> str:
        """Return the tally in one line."""
        return f"{self.fails} fail, {self.not_known} not known yet, {self.holds} hold"


def tally(outcome: Outcome[RoofNumbers]) -> Tally:
    """Count the verdicts."""
    verdicts = [check.verdict for check in outcome.checks]
    return Tally(*(verdicts.count(v) for v in (Verdict.HOLDS, Verdict.FAILS, Verdict.NOT_KNOWN)))


def roof_page(outcome: Outcome[RoofNumbers]) -> RoofPage:
    """Return everything said about one roof on one page."""
    found = outcome.numbers
    project = found.project
    say = wording(project)
    kinds = {"hinge": "hinged", "four-bar": "on four-bar arms", "parallel arms": "on parallel arms"}
    return RoofPage(
        name=project.name,
        subtitle=f"{kinds[project.linkage.kind]} at the {project.linkage.end}; {tally(outcome).text()}",
        facts=facts(outcome, say),
        rows=tuple(check_row(check, say) for check in outcome.checks),
        chart=force_chart(found, say),
        scene=scene(found),
        poses=pose_table(found),
        do_next=do_next(outcome),
        cautions=tuple(Caution(text) for text in ALWAYS),
        assumptions=outcome.assumptions,
        units=project.settings.units,
        provenance=provenance_note(project, found),
        made_with=MADE_WITH,
    )
