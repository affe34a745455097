"""`learned`: what the shop's past taught."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from store.trouble import Refused
from tui.cli.answer import Answer, Document, encoded, hours
from tui.cli.call import Call
from tui.cli.usage import READING, Command, Option, WrongUsage

if TYPE_CHECKING:
    from store.views.learned import Learned

MOST = 20
"""So many lines of each kind, the ones that cost or save most; all of them with --json."""


def learned(call: Call) -> Answer:
    from store.views.learned import learned as learned_view
    from tui.learner import take_in, turns

    anew, keep_up = call.typed.has("anew"), call.typed.has("keep-up")
    if anew and keep_up:
        raise WrongUsage("learned takes --anew or --keep-up, not both.")
    if keep_up:
        turns(call.shop, call.terminal.clock).keep_up()
        return Answer()
    now = call.reading_at()
    if not anew:
        take_in(call.shop, call.terminal.clock)
    elif not turns(call.shop, call.terminal.clock).anew():
        raise Refused("Another learner is at work on this shop. Do it again in a minute.")
    found = learned_view(call.shop, now)
    return Answer((encoded(document(found)),)) if call.as_json else Answer(lines(found))


def document(found: Learned) -> Document:
    """What was learned as its document."""
    return {
        "as_of_seq": found.as_of_seq,
        "phases": [
            {
                "operation": one.operation, "phase": one.phase, "family": one.family,
                "book_hours": hours(one.book_h), "middle": hours(one.middle_h),
                "q10": hours(one.q10_h), "q90": hours(one.q90_h), "finished": one.finished,
                "says": one.says, "ratio": round(one.ratio, 4), "sure": one.sure,
            }
            for one in found.phases
        ],
        "people": [
            {
                "badge": one.badge, "ratio": round(one.ratio, 4), "q10": round(one.q10, 4),
                "q90": round(one.q90, 4), "finished": one.finished, "says": one.says,
            }
            for one in found.people
        ],
        "doubted": [
            {
                "job": one.job, "phase": one.phase, "badge": one.badge,
                "hours": hours(one.hours), "why": one.why,
            }
            for one in found.doubted
        ],
    }  # fmt: skip


def lines(found: Learned) -> Iterator[str]:
    """What was learned in plain words, what matters most first."""
    from tui.words import counted, plain, tenth

    if not found.finished:
        yield "Nothing yet: a finished phase teaches once its clocks are confirmed."
        return
    yield f"From {counted(found.finished, 'finished phase')}, up to entry {found.as_of_seq:,}."
    apart = [one for one in found.phases if one.sure != "open" and one.family is None]
    apart.sort(key=lambda one: -abs(one.ratio - 1) * one.book_h * one.finished)
    for one in apart[:MOST]:
        yield f"  {plain(one.says)}"
        yield (
            f"    book {tenth(one.book_h)} h; half take {tenth(one.middle_h)} h at most, "
            f"8 in 10 between {tenth(one.q10_h)} and {tenth(one.q90_h)} h"
        )
    if not apart:
        yield "  No phase differs from the book by more than chance would."
    for person in found.people:
        yield f"  {plain(person.says)}"
    for doubt in found.doubted[-MOST:]:
        yield (
            f"  ? {doubt.job} {plain(doubt.name)}, {doubt.badge}, {tenth(doubt.hours)} h: "
            f"{plain(doubt.why)}"
        )


COMMANDS = (
    Command(
        ("learned",), "Says what the shop's past taught, in words and figures.", learned,
        "learned --json", (),
        (
            Option("anew", "", "forgets it and learns it from the ledger again: it says the same"),
            Option("keep-up", "", "does what is due and says nothing; terminals begin this by "
                   "themselves"),
            *READING,
        ),
        more="First takes in whatever was finished and has not taught yet.",
    ),
)  # fmt: skip
