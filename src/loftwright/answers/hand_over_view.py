"""The cards of the hand-over, ready to show: first lift, service, driver, inspector, faults."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.answers.fault_finding import fault_entries, has
from loftwright.answers.fitted_standing import height_open
from loftwright.answers.forces import DIRECTIONS
from loftwright.answers.hand_over import HandOver
from loftwright.answers.held_roof import NO_LICENCE, HeldNumbers
from loftwright.answers.hold_joints_view import hole_schedule
from loftwright.answers.hold_road_view import WALKING, sign_words, van_section
from loftwright.answers.hold_said import capital, lower, nominal
from loftwright.answers.hold_wind_view import LEAST_GUST, lower_words, wind_card
from loftwright.answers.key_figures import Band, far_open
from loftwright.answers.views import cautions_of, check_row, provenance_of, wording
from loftwright.answers.work_open_view import road_words
from loftwright.core.checks import Check
from loftwright.core.units import size_of
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Caution, Fact, Grid
from loftwright.core.wording import MISSING, Wording
from loftwright.core.work_pages import HandOverPage, ServiceRow, StepRow
from loftwright.mechanics.feel import STATES
from loftwright.mechanics.rules import LATCH
from loftwright.reference.hand_over import DOSSIER_OWN, DOSSIER_SHEETS, INSPECTOR_KINDS, NOT_ASSESSED, SERVICE, UNHOOK
from loftwright.strength.on_van import sign_height

FIRST_SHARE: Final = 0.75
"""First road: not above this share of what it may be driven later [1]."""
SLOWLY: Final = 50.0 / 3.6
"""First road: not above this [m/s], 50 km/h, before latches and catch were looked at."""
FULL_LENGTH: Final = 5e-4
"""A spring that is pushed in by less than this is at its full length [m]."""
HOSE: Final = "ten minutes"
NO_CATCH: Final = "There is no second catch in the file: fit one before you drive."


def _band(one: Band, say: Wording) -> tuple[str, str]:
    low, high = say.force_hand(one.low), say.force_hand(one.high)
    return say.force_hand(one.nominal), low if low == high else f"{low} to {high}"


def _readings(found: HandOver, say: Wording) -> Grid:
    rows = []
    for one in found.readings:
        push, pull = _band(one.push, say), _band(one.pull, say)
        rows.append((say.fraction(one.share), far_open(found.moved, say, one.opens), *push, *pull, ""))
    return Grid(
        "Readings at the handle",
        ("open", "that is", "push up", "nine of ten", "pull down", "nine of ten", "read"),
        tuple(rows),
        "Mild air, new springs, moved slowly, straight up and down; negative: it goes by itself. What lies outside "
        "nine of ten goes into the file as [[reading]]; then loftwright prove says why.",
    )


def _value(found: HandOver, rule: str) -> float | None:
    return next((check.value for check in found.checks if check.rule.id == rule), None)


def _let_go(found: HandOver) -> str:
    goes = found.moved.goes[STATES.index(("mild", "new"))]
    ends = [DIRECTIONS[int(np.sign(goes[i]))] for i in (int(0.5 * (goes.size - 1)), goes.size - 1)]
    return f"let go gently, it {ends[0]} half-way and {ends[1]} open"


def commissioning(found: HandOver, say: Wording) -> tuple[StepRow, ...]:
    """Return first lift, latches, water and first fast road, in this order."""
    key, held, there = found.key, found.held, has(found.project)
    prop = "carries the whole shell"
    if key.prop_load is not None:
        prop = f"carries {say.force_hand(key.prop_load)} at the handle, all springs gone, in the gust"
    caught = "There is a second catch." if found.project.latches.catch else NO_CATCH
    rests = "it stays on its stops"
    if key.rests_at > 0:
        rests = f"its lip rests {say.short_length(key.rests_at)} up"
    squeeze = _value(found, LATCH.id)
    road = held.found.road
    steps = [
        StepRow(
            "The prop comes first",
            "2 helpers",
            (
                "Agree on one word that stops everything. Nobody inside, nobody under the rim.",
                "Two raise the shell a hand's breadth by its rim; the third sets the prop and leans on it.",
            ),
            (f"The prop {prop}.", f"The shell weighs {say.mass(key.mass.nominal)}."),
            "the prop slips, bends or rocks",
        ),
        StepRow(
            "First lift",
            "2 helpers",
            (
                "A helper at each side, you at the handle. Undo the latches with a hand on the lip.",
                "Raise it slowly to a tenth, to half, to nine tenths; stop at each, look at springs, arms and edges.",
                "Set the prop before anybody lets go.",
            ),
            (
                f"The lip rises {say.length(key.lip_rise)}; the handle ends {say.length(key.handle_height)} above your "
                "feet.",
                f"In mild air, {_let_go(found)}.",
            ),
            "anything touches, jerks, or one side comes first",
        ),
        StepRow(
            "Readings",
            "1 helper",
            (
                "Luggage scale on the handle, pulled straight up while it moves up, straight down while it moves down.",
                "Three openings, both ways, twice; write down the warmth.",
            ),
            ("The table below says what to expect.",),
            "a reading lies far outside nine of ten",
        ),
        StepRow(
            "Latches",
            "1 helper",
            (
                "Close it, latch it, and pull a strip of paper out from under the rim every hand's width.",
                "Pull at each latch by hand" + (", and at the second catch." if found.project.latches.catch else "."),
            ),
            (
                *(() if squeeze is None else (_squeezed(squeeze, say),)),
                f"In the sun the latches hold down {say.force_hand(key.latch_hold)} at the handle's place.",
                f"Unlatched, {rests}.",
                caught,
            ),
            "a latch does not catch, or paper slides anywhere",
        ),
    ]
    if "brace" in there:
        steps.append(
            StepRow(
                "Brace",
                "1 helper",
                ("Raise it, set and pin the brace, and push the free end sideways by hand.",),
                (f"Lower the roof above a gust of {lower_words(held, say)[0]}.",),
                "it rattles more than the wind card allows",
            )
        )
    steps.append(
        StepRow(
            "Water test",
            "1 helper",
            (
                f"Latched: a hose all round for {HOSE}, from above, never into the gap; one inside with a lamp.",
                "Then open: a hose on the cloth's foot for as long.",
            ),
            ("No drop inside; a damp seal is no leak.",),
            "water runs in: mark the place, dry it, look under fault finding",
        )
    )
    if "lift" in there:
        steps.append(
            StepRow(
                "Powered lift",
                "1 helper",
                (
                    "Up and down once by current, prop at hand.",
                    "Stop it with a soft ball at the lip, never with a hand.",
                ),
                ("It stops at the ball.", "Without current it stays where it is."),
                "it does not stop, or sinks",
            )
        )
    top = min(found.wanted, found.road)
    mended = (*before_road(found), *road_words(found.before_road))
    if top < WALKING:
        do: tuple[str, ...] = (
            "Do not drive with it yet: as far as known, latches or hinges may give at any speed.",
            *mended,
        )
    else:
        look = "pull at each latch, look at the catch" if found.project.latches.catch else "pull at each latch"
        if top <= SLOWLY:
            first: tuple[str, ...] = (f"Not above {say.driving(top)} at all; stop after {_ways(say)}, {look}.",)
        else:
            first = (
                f"Not above {say.driving(min(SLOWLY, FIRST_SHARE * top))} at first; stop, {look}.",
                f"Then up to {say.driving(top)}; stop after {_ways(say)} and do the same.",
            )
        do = (
            *mended,
            *first,
            f"After the first rain look inside; after {_far(say)} tighten the bolts again.",
        )
    steps.append(
        StepRow(
            "First fast road",
            "1 helper",
            do,
            (
                f"The air lifts the shell by {say.force(nominal(road.lift))} at {say.driving(found.wanted)}; the "
                f"hardest worked latch pulls {say.force(float(road.latch[0].max()))}.",
                f"Closed, the van is {say.length(nominal(held.found.van.height))} high: {sign_words(held, say)} on "
                "the dash.",
            ),
            "it hums, lifts, or a latch has moved",
        )
    )
    return tuple(steps)


def before_road(found: HandOver) -> tuple[str, ...]:
    """Return what must be mended before it is driven fast, in one line; nothing where all of it holds."""
    named = "; ".join(lower(check.words) for check in found.before_road)
    return (f"Do not drive fast before this is mended: {named}.",) if named else ()


def unhooking(found: HandOver, say: Wording) -> str:
    """Return how a spring is taken off, with what each of this roof's still pushes when open on its stop."""
    still = " ".join(
        f"{capital(one.name)}, open on the stop, mild and new: each is still pushed in "
        f"{say.short_length(one.pushed_in)} and pushes with {say.force(one.force)}."
        for one in found.still
        if one.pushed_in >= FULL_LENGTH
    )
    return f"{still} {UNHOOK}" if still else UNHOOK


def _squeezed(force: float, say: Wording) -> str:
    """Return what a `force` [N] at the handle does to shut it onto its latches."""
    if force <= 0.0:
        return "It comes down onto its latches by itself."
    return f"Squeezing it shut takes {say.force_hand(force)} at the handle."


def _felt(force: float, does: str, by_itself: str, say: Wording) -> str:
    """Return a hand `force` [N] in words: what the hand `does`, or, where it is negative, what goes by itself."""
    return f"{does if force >= 0.0 else by_itself} {say.force_hand(abs(force))}"


def _ways(say: Wording) -> str:
    return "5, 20 and 100 km" if say.units == "metric" else "3, 12 and 60 miles"


def _far(say: Wording) -> str:
    return "100 km" if say.units == "metric" else "60 miles"


def service(found: HandOver, say: Wording) -> tuple[ServiceRow, ...]:
    """Return what is looked after in each season, with this roof's own figures."""
    there = has(found.project)
    middle = found.readings[1]
    seal = found.held.found.fit.shapes
    push = _felt(middle.push.nominal, "push", "it rises by itself with", say)
    pull = _felt(middle.pull.nominal, "pull", "it falls by itself with", say)
    tired = _felt(found.tired, "push", "it rises by itself with", say)
    least, most = (say.short_length(nominal(v)) for v in (seal.seal_least, seal.seal_most))
    figures = {
        ("Spring", "Springs"): f"half open, mild: {push}; {pull}",
        ("Every third year", "Springs"): f"half open, mild: new {push}; change them at: {tired}",
        ("Spring", "Seal"): f"squeezed between {least} and {most}",
        ("Summer", "Seal and stops"): f"lip {say.short_length(found.key.rests_at)} up",
        ("Before each drive", "Latches and catch"): f"{found.project.latches.count} latches; {_catch(found)}",
    }
    return tuple(
        ServiceRow(when.replace("100 km", _far(say)), what, how, figures.get((when, what), ""))
        for when, what, how, needs in SERVICE
        if needs is None or needs in there
    )


def _torques(found: HandOver, say: Wording) -> Grid:
    holes = hole_schedule(found.held, say)
    at = {name: i for i, name in enumerate(holes.headings)}
    rows: dict[tuple[str, str, str], int] = {}
    for row in holes.rows:
        if row[at["Torque"]] != MISSING:
            what = (row[at["Where"]], row[at["Bolt or rivet"]], row[at["Torque"]])
            rows[what] = rows.get(what, 0) + int(row[at["Count"]])
    return Grid(
        "Bolts to tighten again",
        ("Where", "Count", "Bolt", "Torque"),
        tuple((where, str(count), bolt, torque) for (where, bolt, torque), count in rows.items()),
        "Dry threads, crosswise, when the sealant has cured; from the list of every hole.",
    )


def driver(found: HandOver, say: Wording) -> tuple[str, ...]:
    """Return short lines for the driver's card, the height first."""
    held = found.held
    lines = [f"Height closed: {sign_words(held, say)}"]
    opened = _open_words(held, say)
    gust, force = lower_words(held, say)
    lines.append(
        "Do not raise it in any wind." if found.lower < LEAST_GUST else f"Lower it above a gust of {gust} ({force})."
    )
    lines += [
        "Before driving: prop out, nobody inside under it, every latch closed and pulled at by hand.",
        "Close the second catch." if found.project.latches.catch else NO_CATCH,
        *before_road(found),
    ]
    lines.insert(2, f"Height open: {opened}: look up before you raise it.")
    # Height and gust stand above; what else the wind card says goes on here.
    lines += [line for line in wind_card(held, found.road, say)[2:-1] if line not in lines]
    lines += [
        "If it hums or lifts: slow down, stop, look.",
        "Snow or water on top: sweep it off before you lift.",
    ]
    return tuple(lines)


def _open_words(held: HeldNumbers, say: Wording) -> str:
    """Return how high the van stands with its roof open, rounded up to the centimetre or the inch."""
    step = 0.01 if say.units == "metric" else size_of("in")
    return say.length(nominal(sign_height(height_open(held.found.basis), step=step)))


def _dossier(found: HandOver, say: Wording) -> tuple[Fact, ...]:
    held, key = found.held, found.key
    cut, van = held.found.opening.cut.plan, held.found.van
    gust, force = lower_words(held, say)
    speed = say.driving(found.road) if found.road >= WALKING else "no speed yet"
    ring, sawn = (say.mass(nominal(v)) for v in (held.found.opening.ring_mass, held.found.opening.cut_mass))
    return (
        Fact("Overall height, closed", say.length(nominal(van.height)), f"on the dash {sign_words(held, say)}"),
        Fact("Hole in the roof", f"{say.length(cut.length)} x {say.length(cut.width)}", "corners as on the cut plan"),
        Fact(
            "Shell with all on it",
            say.mass(key.mass.nominal),
            f"likely {say.mass(key.mass.low)} to {say.mass(key.mass.high)}",
        ),
        Fact(
            "Added to the van",
            say.mass(nominal(van.added)),
            f"at {say.length(nominal(van.added_height))} above the ground",
        ),
        Fact("Lower it above a gust of", gust, force),
        Fact("Latches have enough up to", speed, f"wanted {say.driving(found.wanted)}"),
        Fact("Latches", str(found.project.latches.count), _catch(found)),
        Fact("Ring", ring, f"sawn out {sawn}"),
    )


def _catch(found: HandOver) -> str:
    return "a second catch" if found.project.latches.catch else "no second catch in the file"


def _sources(checks: tuple[Check, ...]) -> tuple[str, ...]:
    count: dict[str, int] = {}
    for check in checks:
        text = check.rule.source.text()
        count[text] = count.get(text, 0) + 1
    return tuple(f"{text} ({n} {'verdict' if n == 1 else 'verdicts'})" for text, n in sorted(count.items()))


def hand_over_page(found: HandOver) -> HandOverPage:
    """Return all cards of the hand-over on one page."""
    project = found.project
    say = wording(project)
    asked = tuple(check for check in found.checks if check.rule.id.startswith(INSPECTOR_KINDS))
    van = van_section(found.held, found.held_checks, say)
    own = tuple((text, "yours to add", "") for text in DOSSIER_OWN)
    return HandOverPage(
        name=project.name,
        subtitle=f"height closed {sign_words(found.held, say)}; {lower(driver(found, say)[1]).rstrip('.')}",
        commissioning=commissioning(found, say),
        readings=_readings(found, say),
        service=service(found, say),
        torques=_torques(found, say),
        driver=driver(found, say),
        dossier=_dossier(found, say),
        sheets=Grid("What goes into the folder", ("Sheet", "Shows", "Command"), (*DOSSIER_SHEETS, *own)),
        masses=van.grids[0],
        judged=tuple(check_row(check, say) for check in asked),
        not_assessed=NOT_ASSESSED,
        sources=_sources(asked),
        faults=fault_entries(project, found.checks, say, unhooking(found, say)),
        cautions=tuple(Caution(text) for text in cautions_of(project)),
        said=(NO_LICENCE,),
        provenance=provenance_of(found.held.rows),
        units=project.settings.units,
        made_with=MADE_WITH,
        words=project.settings.words,
    )
