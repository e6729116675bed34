"""The order of work and the hand-over as plain numbers ready for JSON: hours, days, SI units.

The keys are explained in docs/reference/json-plan.md.
"""

from __future__ import annotations

import numpy as np

from loftwright.answers import numbers
from loftwright.answers.hand_over import HandOver, ReadAt
from loftwright.answers.hand_over_view import hand_over_page
from loftwright.answers.hold_said import nominal
from loftwright.answers.key_figures import Band
from loftwright.answers.work_plan import WorkNumbers, back_days
from loftwright.core.checks import Outcome, Tally, tally_of
from loftwright.core.work import GoRow, Planned
from loftwright.core.work_pages import CARDS, Card, HandOverPage
from loftwright.plan.roof_open import RoofOpen

Numbers = numbers.Numbers
HOUR, DAY = 3600.0, 86_400.0


def _tally(counted: Tally) -> Numbers:
    return {"fails": counted.fails, "not_known": counted.not_known, "holds": counted.holds}


def work(outcome: Outcome[WorkNumbers]) -> Numbers:
    """Return what `plan` says: verdicts worst first, then tasks, days, the open roof and the list before the cut."""
    found = outcome.numbers
    plan = found.project.plan
    hours, days = back_days(found)
    return {
        **numbers.head(found.project),
        "tally": _tally(tally_of(check.verdict for check in outcome.checks)),
        "checks": [numbers.check_numbers(check) for check in outcome.checks],
        "days": {
            "first": found.job.calendar.first.isoformat(),
            "today": found.job.today.isoformat(),
            "worked": list(found.job.calendar.worked),
            "hours_a_day_s": found.job.calendar.hours * HOUR,
            "finish": found.schedule.finish.isoformat(),
            "one_in_ten": found.days.one_in_ten.isoformat(),
            "half": found.days.half.isoformat(),
            "nine_in_ten": found.days.nine_in_ten.isoformat(),
            "wanted": plan.finish,
            "by_wanted": found.by_finish,
            "pace": found.pace,
            "pace_taken": found.job.pace.likely,
        },
        "tasks": [_task(one, found) for one in found.schedule.tasks],
        "path": list(found.schedule.path),
        "too_early": [{"done": done, "before": before} for done, before in found.schedule.too_early],
        "roof_open": {
            **_open(found.open),
            "shares": [
                {"task": one.id, "days_s": one.days * DAY, "critical": one.critical, "work_s": one.hours * HOUR}
                for one in found.open.shares
            ],
            "with_frame": _open(found.with_frame),
            "without_frame": _open(found.without_frame),
            "others": [{"what": one.what, **_open(one.open)} for one in found.others],
        },
        "before_the_cut": None
        if found.go is None
        else {
            "go": found.go.list.go,
            "unmet": found.go.list.unmet,
            "on_assumption": found.go.list.on_assumption,
            "rows": [_go(row) for row in found.go.list.rows],
        },
        "way_back": {"work_s": hours * HOUR, "days_s": days.days * DAY, "tasks": [task.id for task in found.back]},
        "assumptions": list(outcome.assumptions),
    }


def _task(one: Planned, found: WorkNumbers) -> Numbers:
    entry = found.listed.entry.get(one.task.id)
    return {
        "task": one.task.id,
        "name": one.task.name,
        "chapter": one.task.chapter,
        "after": [after.id for after in one.task.after],
        "least_s": one.task.hours.least * HOUR,
        "likely_s": one.task.hours.likely * HOUR,
        "most_s": one.task.hours.most * HOUR,
        "work_s": one.hours * HOUR,
        "begins": one.begins.isoformat(),
        "ends": one.ends.isoformat(),
        "free_from": one.free_from.isoformat(),
        "wait_is": one.task.wait_is,
        "latest_begin": one.latest_begin.isoformat(),
        "latest_end": one.latest_end.isoformat(),
        "slack_s": one.slack * HOUR,
        "free_slack_s": one.free_slack * HOUR,
        "critical": one.critical,
        "done": one.done,
        "helpers": one.task.helpers,
        "roof_open": one.task.roof_open,
        "entry": entry,
    }


def _open(found: RoofOpen) -> Numbers:
    draws = found.nights[1:] if found.nights.size > 1 else found.nights
    return {
        "nights": nominal(found.nights),
        "nights_half": float(np.quantile(draws, 0.5, method="inverted_cdf")),
        "nights_nine_in_ten": float(np.quantile(draws, 0.9, method="inverted_cdf")),
        "time_s": nominal(found.days) * DAY,
    }


def _go(row: GoRow) -> Numbers:
    return {
        "what": row.what,
        "verdict": row.verdict.value,
        "basis": row.basis,
        "part_is": row.status,
        "stop": row.stop,
        "do": row.do,
        "rests_on": list(row.rests_on),
    }


def handed_over(found: HandOver, card: Card | None = None) -> Numbers:
    """Return what `handover` says: the figures behind the cards, and the words of one card or of all."""
    page = hand_over_page(found)
    return {
        **numbers.head(found.project),
        "tally": _tally(tally_of(row.verdict for row in page.judged)),
        "height_closed_m": nominal(found.held.found.van.height),
        "sign_m": nominal(found.held.found.van.sign),
        "lower_above_m_s": found.lower,
        "road_m_s": found.road,
        "road_wanted_m_s": found.wanted,
        "shell_kg": _band(found.key.mass),
        "readings": [_reading(one, found) for one in found.readings],
        **{one: _card(page, one) for one in CARDS if card in (None, one)},
        "assumptions": list(page.said),
        "provenance": page.provenance,
        "cautions": [caution.text for caution in page.cautions],
    }


def _band(one: Band) -> Numbers:
    return {"nominal": one.nominal, "low": one.low, "high": one.high}


def _reading(one: ReadAt, found: HandOver) -> Numbers:
    slides = found.moved.roof.travel.slides
    return {
        "open": one.share,
        "opens_m" if slides else "opens_rad": one.opens,
        "push_n": _band(one.push),
        "pull_n": _band(one.pull),
    }


def _card(page: HandOverPage, card: Card) -> object:
    if card == "driver":
        return list(page.driver)
    if card == "commissioning":
        return [
            {"step": s.title, "people": s.people, "do": list(s.do), "expect": list(s.expect), "stop_if": s.stop_if}
            for s in page.commissioning
        ]
    if card == "service":
        return [{"when": s.when, "what": s.what, "how": s.how, "figure": s.figure} for s in page.service]
    if card == "inspector":
        return {
            "facts": [{"what": f.label, "figure": f.value, "note": f.note} for f in page.dossier],
            "sheets": [row[0] for row in page.sheets.rows],
            "checks": [row.id for row in page.judged],
            "not_assessed": list(page.not_assessed),
            "sources": list(page.sources),
        }
    return [
        {
            "fault": f.id,
            "where": f.where,
            "symptom": f.symptom,
            "care": f.care,
            "causes": [
                {
                    "cause": c.cause,
                    "measure": c.measure,
                    "own": c.own,
                    "verdict": None if c.verdict is None else c.verdict.value,
                    "rule": c.rule,
                    "page": c.help.path,
                }
                for c in f.causes
            ],
        }
        for f in page.faults
    ]
