"""`parts …`, `ready`: what jobs need before they come in, and what became of it."""

from __future__ import annotations

from collections.abc import Callable

from store.actions import parts
from store.rules.part_states import PartState
from tui.cli.answer import Answer, encoded
from tui.cli.call import Call
from tui.cli.days_typed import by_when
from tui.cli.typed import whole
from tui.cli.usage import NOW, READING, WRITING, Argument, Command, Option

JOB = Argument("JOB", "its number")
LINES = Argument("LINE", "numbers of the part lines, as `parts JOB` shows them", many=True)


def show(call: Call) -> Answer:
    from store.views.job import job_card
    from tui.cli import json_ready, text_ready

    card = job_card(call.shop, call.typed.job(), call.reading_at())
    if not call.as_json:
        return Answer(text_ready.part_lines(card))
    zone = card.calendar.zone
    return Answer((encoded({
        "job": card.job.number,
        **json_ready.signs(card.job, zone),
        "parts": [json_ready.part(one, zone) for one in card.parts],
        "kits": [json_ready.tool(one, zone) for one in card.tools],
        "unready": list(card.unready),
    }),))  # fmt: skip


def add(call: Call) -> Answer:
    job, texts = call.typed.job(), call.typed.all("TEXT")
    phase = call.typed.maybe("phase")
    return call.done(lambda shop, by: parts.list_parts(shop, by, job=job, texts=texts, phase=phase))


def moving(state: PartState) -> Callable[[Call], Answer]:
    """What a command does that says what became of parts."""

    def move(call: Call) -> Answer:
        job = call.typed.job()
        lines = [whole(one, "LINE") for one in call.typed.all("LINE")]
        expected = by_when(call, "expected")
        price = call.typed.number("price")
        return call.done(
            lambda shop, by: parts.move_parts(
                shop, by, job=job, lines=lines, state=state, expected=expected,
                supplier=call.typed.maybe("supplier"), batch=call.typed.maybe("batch"),
                note=call.typed.maybe("note"), price=price,
            )
        )  # fmt: skip

    return move


def ready(call: Call) -> Answer:
    from store.views.ready import waiting_jobs
    from tui.cli import json_floor, text_ready

    job = call.typed.job() if call.typed.has("JOB") else None
    found = waiting_jobs(call.shop, call.reading_at(), job)
    if not call.as_json:
        return Answer(text_ready.ready_lines(found))
    zone = call.terminal.zone
    return Answer((encoded({"jobs": [json_floor.job(one, zone) for one in found]}),))


MOVED = (
    Option("expected", "WHEN", "a day or an instant on which they are to be here"),
    Option("supplier", "TEXT", "who sells them"),
    Option("batch", "TEXT", "batch or serial number, where it matters"),
    Option("note", "TEXT", "what is to be remembered of them"),
    Option("price", "X", "of each line"),
    *WRITING,
)
STATES: tuple[tuple[str, PartState, str, str], ...] = (
    ("ordered", "ordered", "Parts were ordered, and when they are to be here.",
     "parts ordered 2417 1 2 --expected 2026-10-16 --supplier Factor --as B12"),
    ("here", "here", "Parts are here.", "parts here 2417 1 2 --as B12"),
    ("wrong", "wrong", "Parts are the wrong ones, or damaged.",
     'parts wrong 2417 2 --note "for the other side" --as B12'),
    ("returned", "returned", "Parts went back.", "parts returned 2417 2 --as B12"),
    ("fitted", "fitted", "Parts were fitted.", "parts fitted 2417 1 --batch 4711 --as B12"),
    ("drop", "not needed", "Parts are not needed.", "parts drop 2417 3 --as B12"),
)  # fmt: skip
"""Second word, the state that it means, what it says, an example."""

COMMANDS = (
    Command(
        ("parts",), "Shows the parts and kits of a job, and what lacks.", show, "parts 2417",
        (JOB,), (NOW, *READING),
    ),
    Command(
        ("parts", "add"), "Lists parts that a job needs.", add,
        'parts add 2417 "gasket set" "oil, 6 l" --phase 4 --as B12',
        (JOB, Argument("TEXT", "what it is, and how many", many=True)),
        (Option("phase", "N", "phase for which they must be here; else for the job"), *WRITING),
        more="What the work book renews every time is listed when a job is taken.",
    ),
    *(
        Command(("parts", word), says, moving(state), example, (JOB, LINES), MOVED)
        for word, state, says, example in STATES
    ),
    Command(
        ("ready",), "Says which jobs are ready to come in, and what lacks of the others.", ready,
        "ready 2417", (Argument("JOB", "this job only", needed=False),), (NOW, *READING),
        more="Ready: checked, agreed, parts here, kits here or dated, a skilled person, a lift.",
    ),
)  # fmt: skip
