"""`assign`, `next`: who does which work, in what order."""

from __future__ import annotations

from store.actions import assigning
from store.views.assigned import assigned, list_of
from tui.cli import json_assigned, text_assigned
from tui.cli.answer import Answer, encoded
from tui.cli.call import Call
from tui.cli.typed import job_or_phase
from tui.cli.usage import READING, WRITING, Argument, Command, Option, WrongUsage

WORK, BADGE = "JOB[.PHASE]", "BADGE"
ALONE = ("front", "too", "off", "nobody", "all-the-same")
"""Options that say what becomes of one work; none of them goes with --order."""


def assign(call: Call) -> Answer:
    typed = call.typed
    if typed.has("order"):
        return _order(call)
    job, phase = typed.job_or_phase()
    badges = typed.all(BADGE)
    if len(badges) > 1:
        raise WrongUsage(f"assign takes one badge, not {badges[1]!r} too: once for each of them.")
    if typed.has("nobody") or typed.has("off"):
        return _off(call, job, phase, badges)
    if not badges:
        raise WrongUsage(
            "assign lacks BADGE: who does it? Like: hoistbook assign 2417.4 B12 --as F1"
        )
    return call.done(
        lambda shop, by: assigning.assign(
            shop, by, job=job, phase=phase, badge=badges[0], at_front=typed.has("front"),
            too=typed.has("too"), all_the_same=typed.has("all-the-same"),
        )
    )  # fmt: skip


def _off(call: Call, job: str, phase: str | None, badges: list[str]) -> Answer:
    if call.typed.has("nobody") and badges:
        raise WrongUsage("assign takes a badge or --nobody. Off one list: assign JOB BADGE --off")
    if call.typed.has("off") and not badges:
        raise WrongUsage("--off lacks the badge: off whose list? Like: assign 2417.4 B12 --off")
    badge = badges[0] if badges else None
    return call.done(
        lambda shop, by: assigning.unassign(shop, by, job=job, phase=phase, badge=badge)
    )


def _order(call: Call) -> Answer:
    typed = call.typed
    other = next((one for one in ALONE if typed.has(one)), None)
    if other is not None:
        raise WrongUsage(f"assign takes --order or --{other}, one after the other.")
    works = [job_or_phase(one) for one in (typed.text(WORK), *typed.all(BADGE))]
    return call.done(
        lambda shop, by: assigning.reorder(shop, by, badge=typed.text("order"), works=works)
    )


def following(call: Call) -> Answer:
    view = assigned(call.shop, call.reading_at())
    badge = call.typed.maybe(BADGE) or call.maybe_badge()
    people = [list_of(view, badge)] if badge else list(view.people)
    if call.as_json:
        return Answer((encoded(json_assigned.document(view, people, alone=badge is not None)),))
    return Answer(text_assigned.lines(view, people, alone=badge is not None))


COMMANDS = (
    Command(
        ("assign",), "Puts a job, or one phase of it, on somebody's list.", assign,
        "assign 2417.4 B12 --as F1",
        (
            Argument(WORK, "the job, or one phase of it"),
            Argument(BADGE, "who does it", needed=False, many=True),
        ),
        (
            Option("front", "", "as the first line of the list; else as the last"),
            Option("too", "", "beside whoever has it already; else instead"),
            Option("all-the-same", "", "though something speaks against it"),
            Option("off", "", "off that person's list"),
            Option("nobody", "", "off everybody's list"),
            Option("order", "BADGE", "puts that list in order: the works named come first"),
            *WRITING,
        ),
        more="In order: hoistbook assign --order B12 2420.2 2417. What is nobody's anybody may "
        "take on for themselves; all else is the foreman's.",
    ),
    Command(
        ("next",), "What somebody has to do next, and what could go on and is nobody's.",
        following, "next B12",
        (Argument(BADGE, "whose list; else everybody's", needed=False),), READING,
    ),
)  # fmt: skip
