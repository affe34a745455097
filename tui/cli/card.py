"""`card`: a job on paper, for the day on which no terminal answers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from store.rules.codes import written
from store.trouble import Refused
from tui.cli.answer import Answer, Document, encoded, of_words
from tui.cli.call import Call
from tui.cli.usage import READING, Argument, Command, Option

if TYPE_CHECKING:
    from store.views.printed_card import PrintedCard


def card(call: Call) -> Answer:
    from store.views.printed_card import printed_card

    found = printed_card(call.shop, call.typed.job(), call.reading_at())
    if call.typed.has("html"):
        from store.file.text_out import write_text
        from tui.papers.card_html import card_html

        target = call.typed.path("html")
        if target.resolve() == call.terminal.path.resolve():
            raise Refused(f"{target} is the shop file: give the name of a page.")
        write_text(target, card_html(found))
        return of_words(f"Job card of {found.card.job.number}: {target}", as_json=call.as_json)
    if call.as_json:
        return Answer((encoded(_document(found)),))
    from tui.papers.card_text import card_lines

    return Answer(card_lines(found))


def _document(found: PrintedCard) -> Document:
    from tui.papers.card import alarms, facts, phases

    return {
        "job": found.card.job.number, "entry": found.entry,
        "facts": [{"name": name, "value": value} for name, value in facts(found)],
        "alarms": alarms(found),
        "phases": [
            {
                "phase": one.number, "name": one.name, "state": one.state,
                "code": written(one.code) if one.code else None,
                "steps": [
                    {"step": step.number, "text": step.text, "kind": step.kind,
                     "done": step.done or None, "names": step.names,
                     "code": written(step.code) if step.code else None,
                     "readings": [{"text": text, "limits": limits, "unit": unit}
                                  for text, limits, unit in step.readings]}
                    for step in one.steps
                ],
            }
            for one in phases(found)
        ],
    }  # fmt: skip


COMMANDS = (
    Command(
        ("card",), "Prints a job card to work from: boxes, fields and codes for the scanner.", card,
        "card 2417 --html 2417-card.html", (Argument("JOB", "its number"),),
        (Option("html", "FILE", "as a page to print, with QR codes", path=True), *READING),
        more="For the day on which no terminal answers: hours are written on it and entered "
        "afterwards with `hoistbook paper`. No customer is on it.",
    ),
)  # fmt: skip
