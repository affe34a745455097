"""`dates`: every date that the shop owes or is owed, as a file for a calendar."""

from __future__ import annotations

from tui.cli.answer import Answer, of_words
from tui.cli.call import Call
from tui.cli.usage import NOW, READING, Argument, Command


def dates(call: Call) -> Answer:
    from store.file.text_out import write_text
    from store.trouble import Refused
    from store.views.dates import dates as look
    from tui.papers.ics import ics_of
    from tui.words import counted

    target = call.typed.path("FILE.ics")
    if target.resolve() == call.terminal.path.resolve():
        raise Refused(f"{target} is the shop file: give the name of a calendar file.")
    found = look(call.shop, call.reading_at())
    write_text(target, ics_of(found))
    return of_words(f"{counted(len(found.dates), 'date')}: {target}", as_json=call.as_json)


COMMANDS = (
    Command(
        ("dates",), "Writes what is due into a file that calendars read (RFC 5545).", dates,
        "dates shop.ics", (Argument("FILE.ics", "the file", path=True),), (NOW, *READING),
        more="Promises, arrivals, lift inspections, follow-ups, kits and outwork. No name of "
        "a customer is in it. The same thing keeps its mark, so that a calendar that reads the "
        "file again moves it and shows it once.",
    ),
)  # fmt: skip
