"""`floor`, `job`, `estimate`, `ledger`: reading commands.

Each imports what it shows when it is run: a look should not wait for the others' needs.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from store.edges.instants import for_zone
from tui.cli.answer import Answer, Document, encoded
from tui.cli.call import Call
from tui.cli.taking import TAKING, grade_of
from tui.cli.usage import NOW, READING, Argument, Command, Option

if TYPE_CHECKING:
    from store.views.ledger import Entry

NUMBER = Argument("NUMBER", "the job's number")


def floor(call: Call) -> Answer:
    from store.views.floor import floor as floor_view
    from tui.cli import json_floor, text_floor

    found = floor_view(call.shop, call.reading_at())
    if call.as_json:
        return Answer((encoded(json_floor.document(found)),))
    return Answer(text_floor.lines(found))


def job(call: Call) -> Answer:
    from store.views.job import job_card
    from tui.cli import json_job, text_job

    number = call.typed.job(NUMBER.name)
    found = job_card(call.shop, number, call.reading_at(), names=call.sees_names())
    if call.as_json:
        return Answer((encoded(json_job.document(found)),))
    return Answer(text_job.lines(found, all_steps=call.typed.has("steps")))


def estimate(call: Call) -> Answer:
    from store.views.estimate import estimate as estimate_view
    from tui.cli import json_estimate, text_estimate
    from tui.learner import take_in

    typed = call.typed
    badge, grade = typed.maybe("badge"), grade_of(call)
    now = call.reading_at()
    if badge is not None:
        call.check_badge(badge)
        badge = badge.strip().upper()
    take_in(call.shop, call.terminal.clock)
    found = estimate_view(
        call.shop, now, operations=typed.all("operation"), family=typed.text("family"),
        options=typed.pairs("option"), grade=grade, badge=badge, by=call.instant("by"),
    )  # fmt: skip
    if call.as_json:
        return Answer((encoded(json_estimate.document(found, call.terminal.zone)),))
    return Answer(text_estimate.lines(found, call.terminal.zone, now))


def ledger(call: Call) -> Answer:
    from store.views.job import job_card
    from store.views.ledger import ledger as ledger_view

    call.check_reader()
    first = call.typed.whole("from") or 1
    number = call.typed.job("job") if call.typed.has("job") else None
    if number is not None:
        job_card(call.shop, number, call.terminal.clock.look())  # refuses a number that is none
    entries = ledger_view(call.shop, since_seq=first, job=number)
    if call.as_json:
        return Answer(encoded(_entry(call, one)) for one in entries)
    return Answer(_lines(call, entries))


def _entry(call: Call, entry: Entry) -> Document:
    zone = call.terminal.zone
    return {
        "seq": entry.seq,
        "happened_at": for_zone(entry.happened_at, zone),
        "recorded_at": for_zone(entry.recorded_at, zone),
        "badge": entry.badge,
        "terminal": entry.terminal,
        "kind": entry.kind,
        "payload": entry.payload,
        "hash": entry.hash,
        "stepped_back": entry.stepped_back,
        "says": entry.says,
    }


def _lines(call: Call, entries: Iterator[Entry]) -> Iterator[str]:
    from tui import words

    zone = call.terminal.zone
    for one in entries:
        late = "  (entered late)" if one.recorded_at != one.happened_at else ""
        when = f"{words.local(one.happened_at, zone):%Y-%m-%d %H:%M}"
        yield f"{one.seq:>6}  {when}  {one.badge:<5} {words.plain(one.says)}{late}"


COMMANDS = (
    Command(
        ("floor",), "Shows every lift once, the waiting line and what wants somebody.", floor,
        "floor --json", (), (NOW, *READING),
    ),
    Command(
        ("job",), "Shows the card of a job: phases, steps, holds, estimate.", job,
        "job 2417", (NUMBER,),
        (Option("steps", "", "every step of every phase, not of the present one alone"), NOW,
         *READING),
    ),
    Command(
        ("estimate",), "Says what work would take that nobody has agreed to; writes nothing.",
        estimate, "estimate --operation CL --operation RM --family B4-M-F", (),
        (
            *TAKING, Option("badge", "BADGE", "who would do it"),
            Option("by", "INSTANT", "a day, to be told the chance that it is done then"), NOW,
            *READING,
        ),
    ),
    Command(
        ("ledger",), "Shows everything that happened, in order.", ledger,
        "ledger --from 500 --job 2417", (),
        (
            Option("from", "SEQ", "from this number on"),
            Option("job", "NUMBER", "only what is about this job"), *READING,
        ),
    ),
)  # fmt: skip
