"""What readings on the built roof say, as plain numbers ready for JSON."""

from __future__ import annotations

from loftwright.answers import numbers
from loftwright.answers.proof import HoleOdds, Proof
from loftwright.answers.proof_moves import JudgedMove
from loftwright.answers.proof_view import Proven, learnt, proof_page, stands_out


def proof_numbers(found: Proven) -> numbers.Numbers:
    """Return the same as a dictionary ready for JSON, in SI units; every doubt is one standard deviation."""
    proof, tape = found.proof, found.tape
    project = proof.project
    page = proof_page(found)
    return {
        **numbers.head(project),
        "verdict": page.verdict,
        "readings": [_reading(proof, k) for k in range(len(project.reading))],
        "sets": [
            {
                "after": one.after,
                "strange": one.finding.strange,
                "explained": one.finding.explained,
                "threshold": one.finding.threshold,
                "learnt_from": [k + 1 for k in one.used],
                "suspects": [
                    {"cause": s.name, "size": s.size, "sd": s.sd, "score": s.score}
                    for s in one.finding.suspects
                    if s.score > 0
                ],
            }
            for one in proof.sets
        ],
        "learnt": [
            {
                "key": one.key,
                "what": one.label,
                "unit": numbers.unit_of(one.dimension),
                "before": one.before[0],
                "before_sd": one.before[1],
                "after": one.after[0],
                "after_sd": one.after[1],
            }
            for one in learnt(proof)
        ],
        "odds_before": found.odds.before,
        "odds_after": found.odds.after if page.cleared else None,
        "holes": [_hole(one) for one in found.odds.holes],
        "next_hole": page.next_hole,
        "moves": [_move(one) for one in found.moves],
        "tape": [
            {
                "after": one.ask.step,
                "what": one.ask.what,
                "how_open": one.ask.share,
                "expected_m": one.length,
                "tolerance_m": one.tolerance,
                "read_m": [t.read for t in tape.taken if t.expected.ask == one.ask],
            }
            for one in tape.expected
        ],
        "tape_verdict": page.tape_verdict,
        "brackets": [{"bracket": s.name, "off_m": s.size, "sd_m": s.sd, "score": s.score} for s in tape.brackets],
        "cautions": [caution.text for caution in page.cautions],
    }


def _reading(proof: Proof, k: int) -> numbers.Numbers:
    reading = proof.project.reading[k]
    return {
        "number": k + 1,
        "after": reading.after,
        "way": reading.way,
        "how_open": reading.how_open.nominal,
        "place": proof.place(k).words,
        "read_n": proof.read[k],
        "read_sd_n": proof.noise[k],
        "expected_n": proof.force_before[:, k].mean(),
        "expected_sd_n": proof.force_before[:, k].std(),
        "after_n": proof.force_after[:, k].mean(),
        "after_sd_n": proof.force_after[:, k].std(),
        "strange": stands_out(proof, k),
    }


def _move(one: JudgedMove) -> numbers.Numbers:
    fit = one.fit
    return {
        "kind": one.kind,
        "odds": one.odds,
        "place": one.words,
        "new_holes": list(one.new),
        "foot_m": [fit.foot_x, fit.foot_z],
        "head_m": [fit.head_x, fit.head_z],
        "spring": one.spring,
        "force_1_n": one.force_1,
        "stroke_m": one.stroke,
        "extended_m": one.extended,
    }


def _hole(one: HoleOdds) -> numbers.Numbers:
    return {"place": one.position.words, "odds": one.odds}
