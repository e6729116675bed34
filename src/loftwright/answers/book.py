"""Everything that the build book says of one project: the roof with its springs, what to order, drill and build."""

from __future__ import annotations

from dataclasses import dataclass, replace

from loftwright.answers.choice_view import choice_page
from loftwright.answers.choose import Chosen
from loftwright.answers.choose_roofs import fitted_with
from loftwright.answers.choose_search import NOTHING_WORKS
from loftwright.answers.drilling import Spot, drill_plans, lifter_spots, spots_of
from loftwright.answers.held_roof import held_roof
from loftwright.answers.hold_view import hold_page
from loftwright.answers.judged_roof import RoofNumbers, judged_roof
from loftwright.answers.kept_walls import NOTHING_KEPT, KeptWalls
from loftwright.answers.proof_view import proof_page, proven
from loftwright.answers.side_view import scene
from loftwright.answers.trial_frame import Height, frame_page
from loftwright.answers.views import cautions_of, roof_page, wording
from loftwright.core.book_views import BookPage, CoverPage, Request, RestPage, Work
from loftwright.core.choice_views import ChoicePage, HoleRow, ProofPage
from loftwright.core.version import MADE_WITH
from loftwright.core.views import Caution, Fact, RoofPage
from loftwright.core.wall_views import WallPage
from loftwright.core.wording import Wording
from loftwright.project.model import Project
from loftwright.project.motion_sections import Spring
from loftwright.project.plane import lengthwise_only
from loftwright.project.stock import Listed
from loftwright.reference.fitting import HOME_CAUTIONS, HOME_TEST, STEPS
from loftwright.reference.timber import BENDING_SOURCE

NOT_SEARCHED = "The choice of springs was not asked for in this book: `loftwright choose` makes it."
FORCE_NAMES = {
    "F1": "pushing out, near its full length (F1)",
    "F3": "being pushed in, near its full length (F3)",
    "middle": "the middle between pushing out and being pushed in, near its full length",
}


@dataclass(frozen=True, slots=True)
class Plan:
    """What is built: the project with the springs that are ordered, at the hole to start with, and its holes.

    `on` are the parts that carry feet and heads.
    """

    project: Project
    row: HoleRow | None
    on: tuple[str, str]
    chosen: bool


def plan_of(project: Project, chosen: Chosen | None, page: ChoicePage | None) -> Plan:
    """Return what is built: with the chosen springs where any work, else with those of the file."""
    best = None if chosen is None else chosen.best
    if best is None or page is None or best.odds < NOTHING_WORKS:
        return Plan(project, None, ("van", "shell"), False)
    holes = None if chosen is None else chosen.holes
    if chosen is None or holes is None:
        return Plan(best.drawn.project, None, (best.pair.foot.on, best.pair.head.on), True)
    at_start = fitted_with(best.drawn.project, chosen.listed.entries, chosen.pairs, holes.fit)
    return Plan(at_start, page.holes, (holes.pair.foot.on, holes.pair.head.on), True)


@dataclass(frozen=True, slots=True)
class BookChoice:
    """What the book needs of a search for springs, small enough to be kept: its page, what is built, its list.

    `together` are forces [N] to order at once, none: one is enough.
    """

    page: ChoicePage
    plan: Plan
    together: tuple[float, ...]
    listed: Listed


def book_choice(project: Project, chosen: Chosen) -> BookChoice:
    """Return what the book needs of a search for springs of `project`."""
    page = choice_page(chosen)
    return BookChoice(page, plan_of(project, chosen, page), together_of(chosen), chosen.listed)


def height_of(word: str) -> Height:
    """Return the height of the timber frame that a word asks for: "true", else low."""
    return "true" if word == "true" else "low"


def pivots_of(found: RoofNumbers) -> tuple[Spot, ...]:
    """Return hinge and arm pins where they lie when closed."""
    return tuple(Spot(p.name, p.body, *p.at) for p in scene(found).pivots)


def book_page(
    project: Project,
    *,
    chosen: Chosen | BookChoice | None = None,
    missing: str = NOT_SEARCHED,
    proof: ProofPage | None = None,
    height: Height = "low",
    hold: bool = False,
    walls: bool = False,
    rest: bool = False,
    kept: KeptWalls = NOTHING_KEPT,
) -> BookPage:
    """Return the whole book; `missing` says why there is no choice of springs, `height` is that of the timber frame.

    `hold`: with the chapters on fit and strength, which take a second or two. `walls`: with those on the cloth walls,
    which take a few, and what is `kept` of their slow answers. `rest`: with fit-out, parts, order of work and
    hand-over, which rest on both.

    Errors: ProjectFault or CannotAssemble when the roof cannot be built at all, or is hinged at a side.
    """
    lengthwise_only(project, "a book is")
    choice = book_choice(project, chosen) if isinstance(chosen, Chosen) else chosen
    page = None if choice is None else choice.page
    plan = plan_of(project, None, None) if choice is None else choice.plan
    outcome = judged_roof(plan.project)
    found = outcome.numbers
    say = wording(project)
    roof = roof_page(outcome)
    pivots = pivots_of(found)
    spots = (*spots_of(plan.project, plan.row, plan.on), *lifter_spots(plan.project))
    springs = "with the chosen springs" if plan.chosen else "with the springs of the file"
    if not (plan.project.spring or found.felt.lifters):
        springs = "without springs"
    return BookPage(
        name=project.name,
        subtitle=f"{roof.subtitle.split(';')[0]}, {springs}",
        roof=replace(roof, subtitle=f"{springs}; {roof.subtitle.split('; ')[-1]}"),
        choice=page,
        choice_missing="" if page is not None else missing,
        proof=proof,
        drilling=drill_plans(plan.project, spots, pivots, say),
        requests=requests_of(plan, found, page, say, () if choice is None else choice.together),
        works=tuple(Work(s.title, s.people, s.do, s.checks) for s in STEPS),
        home_test=HOME_TEST,
        home_cautions=HOME_CAUTIONS,
        frame=frame_page(plan.project, found, spots, pivots, say, height),
        sources=sources_of(roof),
        cautions=tuple(Caution(text) for text in cautions_of(project)),
        units=project.settings.units,
        hold=hold_page(held_roof(plan.project)) if hold else None,
        walls=_walls(plan.project, kept) if walls else None,
        rest=rest_page(plan.project, kept) if rest else None,
        cover=cover_page(plan.project, say) if hold else None,
        made_with=MADE_WITH,
    )


def rest_page(project: Project, kept: KeptWalls) -> RestPage:
    """Return fit-out, parts, order of work and hand-over of one roof, with what is `kept` of the walls' slow answers.

    Raises ProjectFault or CannotAssemble when the planned roof cannot be put together.
    """
    from loftwright.answers.fitted_roof import fitted_roof
    from loftwright.answers.fitting_view import fitting_page
    from loftwright.answers.hand_over import hand_over
    from loftwright.answers.hand_over_view import hand_over_page
    from loftwright.answers.part_list import part_list
    from loftwright.answers.parts_view import parts_page
    from loftwright.answers.work_plan import work_plan
    from loftwright.answers.work_view import work_page

    return RestPage(
        fitting=fitting_page(fitted_roof(project)),
        parts=parts_page(part_list(project, kept)),
        work=work_page(work_plan(project, kept)),
        hand_over=hand_over_page(hand_over(project, kept)),
    )


def cover_page(project: Project, say: Wording) -> CoverPage:
    """Return the roof for the three views of the cover, with the size of its shell.

    Raises ProjectFault or CannotAssemble when the nominal roof cannot be built at all.
    """
    from loftwright.answers.solid_view import solid

    shown = solid(project)
    shell = [spot for part in shown.parts if part.tone == "shell" for face in part.faces for spot in face]
    (x0, x1), (y0, y1) = ((min(s[k] for s in shell), max(s[k] for s in shell)) for k in (0, 1))
    opened = shown.poses.shell[-1]
    rise = max(shown.swing.moved(spot, opened)[2] for spot in shell) - max(spot[2] for spot in shell)
    return CoverPage(shown, say.length(rise), say.length(x1 - x0), say.length(y1 - y0))


def _walls(project: Project, kept: KeptWalls) -> WallPage:
    from loftwright.answers.wall_view import wall_page
    from loftwright.answers.walled_roof import walled_roof

    return wall_page(walled_roof(project, kept))


def sources_of(roof: RoofPage) -> tuple[str, ...]:
    """Return where the rules of this book come from, each source once, with the rules that stand on it counted."""
    count: dict[str, int] = {}
    for row in roof.rows:
        count[row.source] = count.get(row.source, 0) + 1
    said = [f"{source} ({n} {'verdict' if n == 1 else 'verdicts'})" for source, n in sorted(count.items())]
    return (
        *said,
        f"{BENDING_SOURCE.text()} (timber frame)",
        "common practice: fitting steps, home test of a spring, screws, ballast and cautions",
    )


def together_of(chosen: Chosen | None) -> tuple[float, ...]:
    """Return forces F1 [N] to order together; none where they are of another spring than the chosen one."""
    if chosen is None or chosen.best is None or chosen.ratings is None:
        return ()
    ordered = chosen.best.fit if chosen.holes is None else chosen.holes.fit
    kinds = {int(chosen.listed.entries.body[fit.entry]) for fit in (ordered, *chosen.ratings.fits)}
    return tuple(float(force) for force in chosen.ratings.force_1) if len(kinds) == 1 else ()


def proof_of(project: Project, chosen: Chosen | BookChoice | None) -> ProofPage | None:
    """Return what the readings in the file say; None where there are none.

    The row of holes is offered to them where it is for the spring that is fitted.
    """
    if not (project.reading or project.tape):
        return None
    choice = book_choice(project, chosen) if isinstance(chosen, Chosen) else chosen
    row = None if choice is None else choice.plan.row
    if choice is not None and row is not None:
        same = project.spring and choice.plan.project.spring[0].name == project.spring[0].name
        row = row if same else None
    return proof_page(proven(project, row, None if choice is None else choice.listed))


def requests_of(
    plan: Plan, found: RoofNumbers, page: ChoicePage | None, say: Wording, together: tuple[float, ...]
) -> tuple[Request, ...]:
    """Return one request for each kind of spring; `together` are forces [N] to order at once, none: one is enough."""
    made = []
    for i, spring in enumerate(plan.project.spring):
        push = float(found.felt.end_force[i][0].max())
        fits = "as planned in the project file"
        offered = "" if not plan.chosen or page is None or page.ratings is None else f"{page.ratings.odds} of 100"
        if plan.chosen and page is not None and page.best is not None:
            fits = f"the best answer of the search: {page.best.why}"
            if plan.row is not None and plan.row.take:
                fits = f"chosen together with their holes: {plan.row.note}"
        made.append(
            Request(
                f"Request for gas springs: {spring.name}",
                _lines(plan.project, spring, push, together, offered, say),
                fits,
            )
        )
    return tuple(made)


def _lines(
    project: Project, spring: Spring, push: float, together: tuple[float, ...], offered: str, say: Wording
) -> tuple[Fact, ...]:
    metric = Wording("metric")

    def force(newtons: float) -> str:
        # Springs are sold by the newton everywhere.
        said = say.force(newtons)
        return said if say.units == "metric" else f"{metric.force(newtons)} ({said})"

    def size(metres: float) -> str:
        said = say.short_length(metres)
        return said if say.units == "metric" else f"{metric.short_length(metres)} ({said})"

    warm = project.temperatures
    heat = f"{say.temperature(warm.cold.nominal)} to {say.temperature(warm.sun.nominal)}"
    lines = [
        Fact("What it is", "gas spring (gas strut) with nitrogen, pushing", "plain, not locking"),
        Fact("How many", f"{2 * spring.per_side}", "from one batch, as like each other as can be"),
        Fact(
            "Force",
            force(spring.force.nominal),
            f"at 20 °C, {FORCE_NAMES[spring.force_is]}; say which force your list gives",
        ),
        Fact("Stroke", size(spring.stroke.nominal)),
        Fact(
            "Length", size(spring.extended_length.nominal), "rod fully out, between the middles of the two end fittings"
        ),
        Fact(
            "Rod and tube", f"{size(spring.rod_diameter.nominal)} / {size(spring.tube_diameter.nominal)}", "diameters"
        ),
        Fact("Pushed in", f"{say.ratio(spring.ratio.nominal)} times that force", "F2 over F1: please give yours"),
        Fact(
            "End fittings",
            f"to carry {force(push * (1 + spring.tolerance.nominal))} or more",
            "each, pushed in and hot, at the upper end of the tolerance; type and thread: see below",
        ),
        Fact(
            "Delivered force",
            f"within ± {say.percent(spring.tolerance.nominal)}",
            "of the force ordered: please give yours",
        ),
        Fact("Temperature", heat, "from frost to a roof in the sun"),
        Fact("Mounted", "rod down when closed", "as near as the place allows; some 500 movements a year at most"),
    ]
    if together and offered:
        said = f"a pair of each: in {offered} roofs one of them works, each in holes of its own"
        lines.insert(3, Fact("Or a set of forces", ", ".join(force(one) for one in together), said))
    return tuple(lines)
