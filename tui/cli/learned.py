"""`learned`: what the shop's past taught."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from store.trouble import Refused
from tui.cli.answer import Answer, Document, encoded, hours
from tui.cli.call import Call
from tui.cli.learned_waits import odds_document, odds_lines, waits_document, waits_lines
from tui.cli.sentences import items, wrapped
from tui.cli.usage import READING, Command, Option, WrongUsage
from tui.words import plain, tenth

if TYPE_CHECKING:
    from store.views.learned import Doubted, Learned

MOST = 20
"""So many lines of each kind, the ones that cost or save most; all of them with --json."""
LAST_LUMPED = 6
"""Nobody can do anything about them any more."""


def learned(call: Call) -> Answer:
    from tui.learner import take_in, turns

    anew, keep_up = call.typed.has("anew"), call.typed.has("keep-up")
    if anew and keep_up:
        raise WrongUsage("learned takes --anew or --keep-up, not both.")
    if keep_up:
        turns(call.shop, call.terminal.clock).keep_up()
        return Answer()
    from store.views.learned import learned as learned_view

    now = call.reading_at()
    if not anew:
        take_in(call.shop, call.terminal.clock)
    elif not turns(call.shop, call.terminal.clock).anew():
        raise Refused("Another learner is at work on this shop. Do it again in a minute.")
    found = learned_view(call.shop, now, by=call.maybe_badge())
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
        "waits": waits_document(found.waits),
        "odds": [odds_document(one) for one in found.odds],
    }  # fmt: skip


def lines(found: Learned) -> Iterator[str]:
    """What was learned in plain words, what matters most first."""
    if not found.finished:
        yield "Nothing yet: a finished phase teaches once its clocks are confirmed."
        return
    yield (
        f"From {found.finished:,} finished phase{'' if found.finished == 1 else 's'}, up to entry "
        f"{found.as_of_seq:,}."
    )
    yield from _phases(found)
    if found.people:
        yield ""
        yield "People:"
        yield from items(plain(one.says) for one in found.people)
    yield from waits_lines(found.waits)
    yield from odds_lines(found.odds)
    yield from _doubts(found)


def _phases(found: Learned) -> Iterator[str]:
    """Phases that differ from the book by more than chance would, those that cost most first."""
    yield ""
    apart = [one for one in found.phases if one.sure != "open" and one.family is None]
    apart.sort(key=lambda one: -abs(one.ratio - 1) * one.book_h * one.finished)
    if not apart:
        yield "No phase differs from the book by more than chance would."
        return
    yield from wrapped(
        "Phases that take longer or shorter here, those that weigh most first ('sure': 1 in 20 "
        "that it is chance; 'likely': 1 in 5):"
    )
    for one in apart[:MOST]:
        yield from items([plain(one.says)])
        yield (
            f"    book {tenth(one.book_h)} h; half take {tenth(one.middle_h)} h at most, "
            f"8 in 10 between {tenth(one.q10_h)} and {tenth(one.q90_h)} h"
        )


def _doubts(found: Learned) -> Iterator[str]:
    """Hours that somebody may put right; then those of which the sum at least is true."""
    alone = [one for one in found.doubted if not one.lumped]
    lumped = [one for one in found.doubted if one.lumped]
    if alone:
        yield ""
        yield "Hours in doubt, which teach next to nothing until they are put right:"
        yield from items(_doubt(one) for one in alone[-MOST:])
    if lumped:
        yield ""
        yield f"Two phases under one clock ({len(lumped) // 2}): only their sum teaches; the last:"
        yield from items(_doubt(one) for one in lumped[-LAST_LUMPED:])


def _doubt(doubt: Doubted) -> str:
    return (
        f"{doubt.job} {plain(doubt.name)}, {doubt.badge}, {tenth(doubt.hours)} h: "
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
