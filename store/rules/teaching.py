"""Which entries of the ledger move a forecast, and which teach."""

from __future__ import annotations

MOVES = frozenset({
    "route-changed", "grade-set", "placed", "state-changed", "clocked-on", "clock-entered",
    "clock-corrected", "clock-removed", "phase-begun", "phase-finished", "phase-skipped",
    "phase-reopened", "phase-taken-back", "held", "hold-changed", "released", "hold-taken-back",
    "release-taken-back", "found", "finding-taken-back", "supplement-answered",
    "answer-taken-back", "job-closed", "outwork-sent", "outwork-chased",
    "line-ordered", "line-order-taken-back",
})  # fmt: skip
"""After them the forecast of their own job is made anew; so it is after an answer to a decision.
Those that a job went past in the line come with it."""
ANSWERS = "step-signed"
"""The kind of entry that may carry such an answer."""

TEACHES_MUCH = frozenset({"history-imported", "history-taken-back", "not-teaching"})
"""After them everything is learned anew, however much is known."""
TEACHES = TEACHES_MUCH | frozenset({
    "phase-finished", "phase-reopened", "phase-taken-back", "job-closed", "day-confirmed",
    "clock-corrected", "clock-entered", "clock-removed", "grade-set",
})  # fmt: skip
"""After them there may be more finished and confirmed work, or other."""
TEACHES_TOO = frozenset({
    "clocked-on", "clocked-off", "held", "hold-changed", "released", "hold-taken-back",
    "release-taken-back", "found", "finding-taken-back", "supplement-answered",
    "answer-taken-back", "step-signed", "signature-taken-back", "route-changed", "placed",
    "state-changed", "phase-begun", "phase-skipped", "person-added", "person-changed",
    "absence-set", "calendar-set", "holiday-set", "holiday-cleared", "book-loaded",
})  # fmt: skip
"""They teach how long waits and holds are, or who there is; taken in with the next work."""

OPENS = frozenset({
    "clocked-off", "promised", "reading-let-stand", "lift-withdrawn", "lift-returned",
})  # fmt: skip
"""They move no forecast of their job, but what helps most may be something else from then on:
somebody has hands, a customer was told another day."""
HELPS = MOVES | OPENS | frozenset({
    "clocked-indirect", "step-signed", "signature-taken-back", "estimate-agreed", "absence-set",
    "place-added", "calendar-set", "holiday-set", "holiday-cleared", "undone",
})  # fmt: skip
"""After them another act may be the one that helps most."""

FEW = 2500
"""Up to so many finished phases everything is learned anew after each of them."""
NEW_SHARE = 0.02
"""Beyond that, after so many new ones as a share of those known."""


def is_due(known: int, finished_since: int) -> bool:
    """Tell whether so much was finished that all of it is to be learned anew.

    Labour of a few phases moves everything; among many thousand one more moves nothing that
    anybody could see.

    Args:
        known: finished phases that taught already.
        finished_since: finished since then.
    """
    if known <= FEW:
        return finished_since > 0
    return finished_since >= NEW_SHARE * known


def is_to_learn(kind: str, *, answered: bool = False) -> bool:
    """Tell whether the learner has something to do after an entry.

    Args:
        answered: it carries an answer to a decision.
    """
    return kind in MOVES or kind in TEACHES or kind in OPENS or (kind == ANSWERS and answered)
