"""Who may do what: one table, which the actions ask and the tests go through cell by cell.

A badge is enough to clock. What a second person vouches for, and what a foreman or owner decides,
takes the PIN as well, since a badge lies about on a bench.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Role = Literal["technician", "foreman", "owner"]
Act = Literal[
    "clock", "enter clock", "put right own", "put right others", "confirm own day",
    "confirm another's day", "undo", "sign step", "sign hold point", "sign second",
    "sign as foreman", "answer decision", "type limits", "let reading stand", "finish phase",
    "hold", "release", "release customer's word", "report finding", "answer supplement",
    "skip phase", "reopen phase", "take job", "take small job", "promise", "move job",
    "close job", "close small job", "note job", "mark as not teaching",
    "look lift over", "withdraw lift", "return lift", "record inspection", "add place",
    "add person", "change person",
    "set own pin", "set another's pin", "set absence", "set attendance", "set calendar",
    "set rate", "change setting", "load work book", "import history", "erase customer",
    "allow signing alone",
    "take enquiry", "book arrival", "receive vehicle", "judge check", "give quote",
    "turn job down", "know customer", "note call", "set ceiling", "link comeback", "list parts",
    "bring in unready", "hire kit", "receive kit", "know supplier", "date kit",
    "let begin without kit", "send outwork", "receive outwork",
    "answer advice", "hand over", "follow up", "enter day from paper",
    "assign", "take work on", "set costs", "order line",
]  # fmt: skip
"""Everything a person can mean to do."""


@dataclass(frozen=True, slots=True)
class May:
    """Whom an act is open to.

    Attributes:
        roles: roles that may.
        apprentice: an apprentice may too.
        pin: it takes the PIN.
    """

    roles: frozenset[Role]
    apprentice: bool = True
    pin: bool = False


ALL: frozenset[Role] = frozenset({"technician", "foreman", "owner"})
LEADS: frozenset[Role] = frozenset({"foreman", "owner"})
OWNER: frozenset[Role] = frozenset({"owner"})

ANYBODY = May(ALL)
SKILLED = May(ALL, apprentice=False)
VOUCHED = May(ALL, apprentice=False, pin=True)
LEAD = May(LEADS, apprentice=False, pin=True)
OWN = May(OWNER, apprentice=False, pin=True)

TABLE: dict[Act, May] = {
    "clock": ANYBODY,
    "enter clock": ANYBODY,
    "put right own": ANYBODY,
    "put right others": LEAD,
    "confirm own day": ANYBODY,
    "confirm another's day": LEAD,
    "undo": ANYBODY,
    "sign step": ANYBODY,
    "sign hold point": SKILLED,
    "sign second": VOUCHED,
    "sign as foreman": LEAD,
    "answer decision": SKILLED,
    "type limits": SKILLED,
    "let reading stand": LEAD,
    "finish phase": ANYBODY,
    "hold": ANYBODY,
    "release": ANYBODY,
    "release customer's word": LEAD,
    "report finding": ANYBODY,
    "answer supplement": LEAD,
    "skip phase": LEAD,
    "reopen phase": SKILLED,
    "take job": LEAD,
    "take small job": ANYBODY,
    "promise": LEAD,
    "move job": SKILLED,
    "close job": LEAD,
    "close small job": SKILLED,
    "note job": ANYBODY,
    "mark as not teaching": LEAD,
    "look lift over": SKILLED,
    "withdraw lift": ANYBODY,
    "return lift": LEAD,
    "record inspection": LEAD,
    "add place": OWN,
    "add person": OWN,
    "change person": OWN,
    "set own pin": ANYBODY,
    "set another's pin": OWN,
    "set absence": LEAD,
    "set attendance": LEAD,
    "set calendar": OWN,
    "set rate": OWN,
    "set costs": OWN,
    "change setting": OWN,
    "load work book": LEAD,
    "import history": LEAD,
    "erase customer": LEAD,
    "allow signing alone": OWN,
    "take enquiry": ANYBODY,
    "book arrival": SKILLED,
    "receive vehicle": SKILLED,
    "judge check": LEAD,
    "give quote": LEAD,
    "turn job down": LEAD,
    "know customer": LEAD,
    "note call": SKILLED,
    "set ceiling": LEAD,
    "link comeback": LEAD,
    "list parts": ANYBODY,
    "bring in unready": LEAD,
    "hire kit": LEAD,
    "receive kit": ANYBODY,
    "know supplier": LEAD,
    "date kit": SKILLED,
    "let begin without kit": LEAD,
    "send outwork": SKILLED,
    "receive outwork": SKILLED,
    "answer advice": LEAD,
    "hand over": LEAD,
    "follow up": SKILLED,
    "enter day from paper": LEAD,
    "assign": LEAD,
    "take work on": ANYBODY,
    "order line": LEAD,
}


def is_apprentice(experience: str) -> bool:
    """Tell whether somebody may not vouch for work alone."""
    return experience.startswith("apprentice")


def why_not(act: Act, role: str, experience: str) -> str | None:
    """Say who may do it, where this person may not; None where they may.

    Returns:
        The end of a sentence that begins with the person's name.
    """
    may = TABLE[act]
    if role not in may.roles:
        who = " or ".join(sorted(may.roles))
        return f"may not do this: it takes the {who}. Ask one of them."
    if not may.apprentice and is_apprentice(experience):
        return "is an apprentice and may not do this alone. Ask a skilled colleague."
    return None


def sees_customers(role: str) -> bool:
    """Whether somebody is shown the names of customers: whoever speaks with them."""
    return role in LEADS


def sees_days(role: str) -> bool:
    """Whether somebody is shown the day sheets of others: whoever may put them right."""
    return role in LEADS


def sees_paces(role: str) -> bool:
    """Whether somebody is shown how fast others work: the month's figures of people too."""
    return role in OWNER
