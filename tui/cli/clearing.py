"""`clear`: what clearing a lift takes and when it pays; with a badge it is done."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from store.edges.instants import for_zone
from store.views.clearing_values import Clearing
from tui import words
from tui.cli import json_clearing
from tui.cli.answer import Answer, encoded
from tui.cli.call import Call
from tui.cli.usage import WRITING, Argument, Command, Option, WrongUsage
from tui.parts.clearing import NO_SOURCE, clearing_lines

WIDTH = 80
NOTHING = "No lift has a job that is held or away: there is nothing to clear."


def clear(call: Call) -> Answer:
    lift = call.typed.text("LIFT") if call.typed.has("LIFT") else None
    if not call.typed.has("as") or lift is None:  # the badge of an SSH line alone moves nothing
        return _says(call, lift)
    from store.actions.clearing import clear as clear_lift

    return call.done(
        lambda shop, by: clear_lift(shop, by, lift=lift, place=call.typed.maybe("place"))
    )


def _says(call: Call, lift: str | None) -> Answer:
    if call.typed.has("place"):
        raise WrongUsage(
            "clear --place CODE takes LIFT and --as BADGE too. Like: hoistbook clear 2 --as F1"
        )
    from store.views.clearing import clearing

    now = call.reading_at()
    found = clearing(call.shop, now, lift)
    if call.as_json:
        zone = call.terminal.zone
        told = [json_clearing.clearing(one, zone) for one in found]
        return Answer((encoded({"at": for_zone(now, zone), "clearings": told}),))
    return Answer(text(found))


def text(found: Sequence[Clearing]) -> Iterator[str]:
    """Each lift with what is to be said of it."""
    for one in found:
        yield words.cut(f"lift {one.lift}  {one.job} {one.vehicle}", WIDTH)
        for line in clearing_lines(one):
            for nth, piece in enumerate(words.wrapped(line, WIDTH - 10)):
                yield f"{' ' * (10 if nth else 8)}{piece}"
    yield from words.wrapped(NO_SOURCE, WIDTH) if found else (NOTHING,)


COMMANDS = (
    Command(
        ("clear",), "Says what clearing a lift takes and when it pays; with --as does it.", clear,
        "clear 2 --as F1", (Argument("LIFT", "code of the lift; else all", needed=False),),
        (Option("place", "CODE", "to this place; else to the first yard"), *WRITING),
        more="Of lifts whose job is held or away. Refused where the vehicle sits fixed, an open "
        "condition forbids it, or the place is taken or too weak.",
    ),
)  # fmt: skip
