"""One's own last entry taken back: events that put things as they were, both truths kept."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from store.actions.acting import Acting, Done, acting
from store.actions.assigning import assignment_back
from store.actions.calls import call_gone
from store.actions.ceilings import ceiling_back
from store.actions.follow_ups import follow_up_as_before, follow_up_open_again, follow_ups_gone
from store.actions.hires.kit_let import let_back
from store.actions.history import history_gone
from store.actions.jobs_now import live_job
from store.actions.lining_up import line_order_back
from store.actions.notes import note_gone
from store.actions.privates import OF_WORDS, customer_stays
from store.actions.undo.book import book_back, costs_back
from store.actions.undo.clocks import clock_gone, clock_runs
from store.actions.undo.corrections import as_before
from store.actions.undo.desk import (
    answer_gone,
    booking_gone,
    ends_at_desk,
    judgement_gone,
    quote_gone,
)
from store.actions.undo.holds import answer_back, finding_gone, held_again, hold_gone, promise_back
from store.actions.undo.kits import called_off_back, terms_gone
from store.actions.undo.outside import advice_gone, asked_gone, back_gone, sent_gone
from store.actions.undo.parts import asked_back, hire_back, listed_back
from store.actions.undo.parts import moved_back as parts_back
from store.actions.undo.phases import not_begun, not_finished, not_skipped, state_back
from store.actions.undo.places import lift_back, moved_back, route_back
from store.actions.undo.signatures import signature_gone
from store.edges.events.base import Event
from store.edges.events.holds import Undone
from store.file.change import By
from store.file.ledger import Row, rows
from store.file.shop import Shop
from store.file.words_of import in_words
from store.trouble import Refused

AFTERWARDS = (
    "job-noted", "call-tried", "advice-answered", "follow-ups-set", "follow-up-moved",
    "follow-up-done", "hire-arrived-back", "deposit-returned", "hire-invoiced",
)  # fmt: skip
"""Kinds of entry that a job may have when it is closed."""
Taker = Callable[[Acting, Row, Any], None]


def undo(shop: Shop, by: By) -> Done:
    """Take one's own last entry back.

    Raises:
        Refused: there is none, it was taken back already, somebody built on it since, or it is of
            a kind that an undo cannot mend.
    """
    with acting(shop, by, "undo") as doing:
        first, last = _last_entry(doing)
        found = [row for row in rows(doing.db, since_seq=first) if row.seq <= last]
        takers = [(row, _taker(row)) for row in found]
        told = next((row for row in found if row.kind not in OF_WORDS), found[0])
        says = in_words(doing.db, told)
        doing.change.job = doing.db.execute(
            "select job from entry where seq = ?", [first]
        ).fetchone()[0]
        if doing.late:
            raise Refused("What is taken back never was: that has no time of its own.")
        ended = any(ends_at_desk(row) for row in found)
        if doing.change.job is not None and found[0].kind not in AFTERWARDS and not ended:
            live_job(doing, doing.change.job)
        doing.record(Undone(entry=first, says=says))
        for row, taker in reversed(takers):
            taker(doing, row, row.event())
        return doing.done(f"Taken back: {says}.", job=doing.change.job)


def _last_entry(doing: Acting) -> tuple[int, int]:
    row = doing.db.execute(
        "select entry.seq, last, undone, kind from entry join ledger on ledger.seq = entry.seq "
        "where entry.person = ? order by entry.seq desc limit 1",
        [doing.person.person],
    ).fetchone()
    if row is None or row["kind"] == "undone":
        raise Refused(
            f"{doing.person.name} has nothing to take back: only the last entry can be, once."
        )
    return row["seq"], row["last"]


def _taker(row: Row) -> Taker:
    taker = TAKERS.get(row.kind)
    if taker is None:
        raise Refused(
            f"Entry {row.seq} ({row.kind.replace('-', ' ')}) cannot be taken back. "
            "Put it right with its own command."
        )
    return taker


def _nothing(doing: Acting, row: Row, event: Event) -> None:
    """What follows from another event of the entry goes with it."""


TAKERS: dict[str, Taker] = {
    "book-loaded": book_back,
    "kit-known": _nothing,
    "month-costs": costs_back,
    "clocked-on": clock_gone,
    "clocked-indirect": clock_gone,
    "clock-entered": clock_gone,
    "clocked-off": clock_runs,
    "clock-corrected": as_before,
    "step-signed": signature_gone,
    "phase-begun": not_begun,
    "phase-taken-back": _nothing,
    "phase-finished": not_finished,
    "phase-skipped": not_skipped,
    "state-changed": state_back,
    "held": hold_gone,
    "released": held_again,
    "found": finding_gone,
    "placed": moved_back,
    "route-changed": route_back,
    "estimate-changed": _nothing,
    "promised": promise_back,
    "job-noted": note_gone,
    "supplement-answered": answer_back,
    "lift-withdrawn": lift_back,
    "parts-listed": listed_back,
    "parts-moved": parts_back,
    "hire-asked": asked_back,
    "hire-received": hire_back,
    "hire-extended": hire_back,
    "hire-mended": hire_back,
    "hire-given": hire_back,
    "hire-sent-back": hire_back,
    "hire-arrived-back": hire_back,
    "deposit-returned": hire_back,
    "hire-invoiced": hire_back,
    "hire-taken-back": called_off_back,
    "supplier-known": terms_gone,
    "offer-known": terms_gone,
    "kit-priced": terms_gone,
    "kit-inspected": terms_gone,
    "kit-let": let_back,
    "follow-ups-set": follow_ups_gone,
    "follow-up-moved": follow_up_as_before,
    "follow-up-done": follow_up_open_again,
    "history-imported": history_gone,
    "assigned": assignment_back,
    "line-ordered": line_order_back,
    "call-tried": call_gone,
    "ceiling-set": ceiling_back,
    "outwork-sent": sent_gone,
    "outwork-chased": asked_gone,
    "outwork-back": back_gone,
    "advice-answered": advice_gone,
    "arrival-booked": booking_gone,
    "quote-given": quote_gone,
    "quote-answered": answer_gone,
    "check-judged": judgement_gone,
    "customer-known": _nothing,
    "customer-of-job": customer_stays,
}
"""How each kind of event is taken back; a kind that is not here cannot be."""
