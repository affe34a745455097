"""The terms of the model of y = ln(labour hours / book hours), and what is believed beforehand.

A finished phase of operation t, phase p, family v, technician k and job j is

    y = mu + per(time) + tpl(t) + acc(p) + tp(t,p) + tpw(t,p,time) + var(v) + tok(parts of v)
        + tv(t,v) + tpv(t,p,v) + tech(k) + tt(k,t) + f(e) (learn + tsl(k)) + grade(g, class)
        + loading(class) job(j) + (rev0 + rev(t,p)) ln(b / b0) + noise

with f(e) = exp(-e / 6), e the jobs of this operation that k has finished, and b0 the first book
value of the phase. Every term's levels are normal with a spread of their own, learned from the
levels; the first guess counts like so many observed ones. Common practice, no source, for the
guesses; the form follows Henderson's mixed-model equations (1975), exponential learning Heathcote,
Brown and Mewhort (2000).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

from store.learn.records import PhaseClass


class Term(IntEnum):
    """The terms, in the order of their levels' first appearance in a row."""

    MU = 0
    TPL = 1
    ACC = 2
    TP = 3
    VAR = 4
    TOK = 5
    TV = 6
    TPV = 7
    TECH = 8
    TT = 9
    LEARN = 10
    TSL = 11
    GRADE = 12
    REV0 = 13
    REV = 14
    PER = 15
    TPW = 16


@dataclass(frozen=True, slots=True)
class Prior:
    """What is believed of a term's levels before anything was seen.

    Attributes:
        sd: first guess of the levels' standard deviation, on the log scale. Of walks: per unit.
        worth: how many levels that guess counts for; None: fixed.
        mean: of every level.
        least: jobs that must show a level before it is solved for; until then it only widens.
    """

    sd: float
    worth: float | None
    mean: float = 0.0
    least: int = 1


PRIORS: dict[Term, Prior] = {
    Term.MU: Prior(0.25, None),
    Term.TPL: Prior(0.12, 4),
    Term.ACC: Prior(0.15, 6),
    Term.TP: Prior(0.25, 6),
    Term.VAR: Prior(0.12, 4),
    Term.TOK: Prior(0.06, 8),
    Term.TV: Prior(0.06, 8),
    Term.TPV: Prior(0.08, 10, least=2),
    Term.TECH: Prior(0.12, 3),
    Term.TT: Prior(0.05, 8, least=2),
    Term.LEARN: Prior(0.15, None, mean=0.08),
    Term.TSL: Prior(0.12, 4),
    Term.GRADE: Prior(0.10, 6),
    Term.REV0: Prior(0.50, None, mean=-0.5),
    Term.REV: Prior(0.20, None),
    Term.PER: Prior(0.04, 8),
    Term.TPW: Prior(0.05, 12),
}

JOB_SD = 0.18
"""How much jobs differ among themselves: the vehicle's condition, the same in all its phases."""
JOB_WORTH = 6.0
LOADING: dict[PhaseClass, float] = {"strip": 1.3, "work": 1.0, "refit": 0.7}
"""How much of a vehicle's condition a phase of each class feels. Common practice, no source."""
LOADING_SD = 0.25
NOISE_SD = 0.22
NOISE_WORTH = 5.0
NOISE_COMMON_WORTH = 12.0

SURPRISE_ODDS = 0.08
SURPRISE_WORTH = 20.0
SURPRISE_MEAN, SURPRISE_SD = 0.65, 0.30
SURPRISE_SIZE_WORTH = 15.0
FORGOTTEN_ODDS, FORGOTTEN_MEAN, FORGOTTEN_SD = 0.004, 1.75, 0.40
MISPUNCH_ODDS, MISPUNCH_MEAN, MISPUNCH_SD = 0.004, -3.3, 1.0
FREAK_ODDS, FREAK_SD = 0.0005, 4.0
"""Hours that no other kind explains: they teach next to nothing."""
FAULT_WORTH = 250.0

LEARNING_JOBS = 6.0
"""e in f(e) = exp(-e / 6)."""
EXPERIENCE: dict[str, float] = {
    "apprentice 1": 0.64, "apprentice 2": 0.40, "apprentice 3": 0.20, "apprentice 4": 0.10,
    "skilled": 0.0, "expert": -0.05,
}  # fmt: skip
"""ln of how much longer somebody of that experience takes alone. Common practice, no source: 1.6
to 2.2 times in the first year, 1.15 to 1.3 in the third."""

GRADES: dict[tuple[int, PhaseClass | None], float] = {
    (1, "strip"): -0.163, (3, "strip"): 0.372, (4, "strip"): 0.140,
    (1, "refit"): -0.051, (3, "refit"): 0.095, (4, "refit"): 0.140,
    (1, "work"): -0.05, (3, "work"): 0.10, (4, "work"): 0.10,
    (1, None): -0.08, (3, None): 0.18, (4, None): 0.13,
}  # fmt: skip
"""ln of how much longer a phase takes than on a vehicle of grade 2: strip x.85, 1.45, 1.15, refit
x.95, 1.10, 1.15 at grades 1, 3, 4. Common practice, no source; where the class of a phase is not
known, and for phases that are neither, in between."""

MONTH_S = 30.4375 * 86_400
MONTH_AGES = (0.0, 1.0, 2.0, 3.0, 4.5, 6.0, 9.0, 12.0, 18.0, 24.0, 36.0, 54.0, 80.0, 120.0, 180.0)
"""Knots of the shop's own drift, in months before now; straight lines between them."""
QUARTER_S = 3 * MONTH_S
QUARTER_AGES = (0.0, 1.5, 4.0, 9.0, 18.0, 36.0)
"""Knots of a phase's drift, in quarters before now."""
RECORDS_A_KNOT = 8
"""A phase's drift gets another knot for so many records."""
