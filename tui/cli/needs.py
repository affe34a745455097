"""`needs`, `helps`, `why`: who must do what by when, what helps most, what waits for what."""

from __future__ import annotations

from store.trouble import Refused
from tui.cli.answer import Answer, encoded
from tui.cli.call import Call
from tui.cli.usage import NOW, READING, Argument, Command, Option


def needs(call: Call) -> Answer:
    from store.views.needs import needs as needs_view
    from tui.cli import json_needs, text_needs

    found = needs_view(call.shop, call.reading_at())
    if call.as_json:
        return Answer((encoded(json_needs.needs(found)),))
    return Answer(text_needs.needs(found))


def helps(call: Call) -> Answer:
    from store.views.helps import helps as helps_view
    from tui.cli import json_needs, text_needs

    number = call.typed.whole("try")
    found = helps_view(call.shop, call.reading_at(), every=call.typed.has("all"))
    if number is not None:
        return _tried(call, number)
    if call.as_json:
        return Answer((encoded(json_needs.helps(found)),))
    return Answer(text_needs.helps(found))


def _tried(call: Call, number: int) -> Answer:
    from store.views.as_if import tried
    from store.views.helps import helps as helps_view
    from tui.cli import json_needs, text_needs

    now = call.reading_at()
    lines = helps_view(call.shop, now, every=call.typed.has("all")).lines
    line = next((one for one in lines if one.place == number), None)
    if line is None:
        there = f"1 to {len(lines)}" if lines else "none: nothing is worth a line now"
        raise Refused(f"There is no number {number} in what helps most. There is {there}.")
    found = tried(call.shop, now, line.need.act.name)
    if call.as_json:
        return Answer((encoded(json_needs.tried(found)),))
    return Answer(text_needs.tried(found))


def why(call: Call) -> Answer:
    from store.views.why import why as why_view
    from tui.cli import json_needs, text_needs

    job = call.typed.job() if call.typed.has("JOB") else None
    found = why_view(call.shop, call.reading_at(), job)
    if call.as_json:
        return Answer((encoded(json_needs.why(found)),))
    return Answer(text_needs.why(found))


ALL = Option("all", "", "also what helps too little to be worth a line")

COMMANDS = (
    Command(
        ("needs",), "Says who must do what by when, what matters most first.", needs,
        "needs --json", (), (NOW, *READING),
        more="Under each stands the command that does it; what is in capitals there is yours to "
        "fill in.",
    ),
    Command(
        ("helps",), "Says which act now keeps most promises.", helps, "helps --try 1", (),
        (
            Option("try", "N", "shows the floor as if the act of that number were done; writes "
                   "nothing"),
            ALL, NOW, *READING,
        ),
    ),
    Command(
        ("why",), "Says what waits for what, down to what somebody can do now.", why,
        "why 2417", (Argument("JOB", "only this one", needed=False),), (NOW, *READING),
    ),
)  # fmt: skip
