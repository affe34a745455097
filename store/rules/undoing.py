"""Which kinds of event their author can take back; all else is put right by its own act."""

from __future__ import annotations

CAN_BE_TAKEN_BACK = frozenset({
    "book-loaded", "kit-known", "month-costs",
    "clocked-on", "clocked-indirect", "clock-entered", "clocked-off", "clock-corrected",
    "step-signed", "phase-begun", "phase-taken-back", "phase-finished", "phase-skipped",
    "state-changed", "held", "released", "found", "placed", "route-changed", "estimate-changed",
    "promised", "supplement-answered", "job-noted", "lift-withdrawn", "history-imported",
    "parts-listed", "parts-moved", "hire-asked", "hire-received", "hire-extended",
    "hire-sent-back", "hire-mended", "hire-given", "hire-arrived-back", "deposit-returned",
    "hire-invoiced", "hire-taken-back", "supplier-known", "offer-known", "kit-priced",
    "kit-inspected", "kit-let",
    "call-tried", "ceiling-set", "outwork-sent", "outwork-chased", "outwork-back",
    "advice-answered",
    "arrival-booked", "quote-given", "quote-answered", "check-judged",
    "customer-known", "customer-of-job", "assigned", "line-ordered",
    "follow-ups-set", "follow-up-moved", "follow-up-done",
})  # fmt: skip
