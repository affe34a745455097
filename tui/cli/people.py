"""`people …` and `sshline`: badges, roles, PINs, qualifications, absence."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import cast, get_args

from store.actions import people
from store.actions.acting import Done, person_by
from store.edges.events.base import Experience, Role
from store.edges.instants import parse_instant
from store.file.shop import By, Shop
from store.trouble import Refused
from store.views.people import PersonLine
from store.views.people import people as people_view
from tui import words
from tui.cli import pins as pin_ways
from tui.cli import ssh
from tui.cli.answer import Answer, Document, encoded
from tui.cli.call import Call
from tui.cli.usage import READING, WRITING, Argument, Command, Option, WrongUsage

BADGE = Argument("BADGE", "the person's badge")
ROLES, EXPERIENCE = get_args(Role), get_args(Experience)


def show(call: Call) -> Answer:
    call.check_reader()
    found = people_view(call.shop)
    if call.as_json:
        return Answer((encoded({"people": [_document(one) for one in found]}),))
    return Answer(line for one in found for line in _lines(one))


def _document(one: PersonLine) -> Document:
    return {
        "badge": one.badge,
        "name": one.name,
        "role": one.role,
        "experience": one.experience,
        "from": one.from_day.isoformat(),
        "until": one.until_day.isoformat() if one.until_day else None,
        "has_pin": one.has_pin,
        "qualifications": [
            {"what": what, "until": until.isoformat()} for what, until in one.qualifications
        ],
    }


def _lines(one: PersonLine) -> Iterator[str]:
    until = f" to {one.until_day}" if one.until_day else ""
    pin = "" if one.has_pin else "  no PIN yet"
    yield words.cut(
        f"{one.badge:<6} {words.cut(one.name, 20):<20} {one.role:<10} {one.experience:<12} "
        f"since {one.from_day}{until}{pin}",
        80,
    )
    held = ", ".join(f"{what} until {last}" for what, last in one.qualifications)
    yield from (f"{'':6} {line}" for line in words.wrapped(held, 73))


def add(call: Call) -> Answer:
    typed = call.typed
    first, last = typed.date("from"), typed.date("until")
    return call.done(
        lambda shop, by: people.add_person(
            shop, by, badge=typed.text("BADGE"), name=typed.text("name"),
            role=cast("Role", typed.text("role")), from_day=first, until_day=last,
            experience=cast("Experience", typed.maybe("experience") or "skilled"),
        )
    )  # fmt: skip


def change(call: Call) -> Answer:
    typed = call.typed
    last = typed.date("until")
    return call.done(
        lambda shop, by: people.change_person(
            shop, by, badge=typed.text("BADGE"), new_badge=typed.maybe("badge"),
            name=typed.maybe("name"), role=cast("Role | None", typed.maybe("role")),
            experience=cast("Experience | None", typed.maybe("experience")), until_day=last,
        )
    )  # fmt: skip


def pin(call: Call) -> Answer:
    badge = call.typed.text("BADGE").strip().upper()
    new = _listed_pin(call, badge) if call.terminal.in_batch else _new_pin(call, badge)
    return call.done(lambda shop, by: people.set_pin(shop, by, badge=badge, pin=new))


def _listed_pin(call: Call, badge: str) -> str:
    found = call.terminal.pins.get(badge)
    if found is None:
        raise Refused(f"The file of --pins has no PIN for {badge}. Write it there first.")
    return found


def _new_pin(call: Call, badge: str) -> str:
    """The last line of standard input is the new PIN; one before it is that of whoever acts."""
    if call.typed.has("pin-stdin"):
        lines = pin_ways.piped()
        if len(lines) > 1:
            call.terminal.pins[call.badge()] = lines[0]
        else:
            call.terminal.pins.setdefault(call.badge(), lines[0])
        return lines[-1]
    if not call.terminal.asks:
        raise WrongUsage(
            "people pin reads the PIN at a terminal, or with --pin-stdin: first the PIN of "
            "whoever acts, where they have one, then the new one, a line each."
        )
    new = pin_ways.ask(f"{badge}, the new one")
    if pin_ways.ask(f"{badge}, the new one again") != new:
        raise Refused("The two are not the same; nothing was changed. Type the new PIN again.")
    return new


def qualify(call: Call) -> Answer:
    until = call.typed.date("until")
    assert until is not None
    return call.done(
        lambda shop, by: people.qualify(
            shop, by, badge=call.typed.text("BADGE"), what=call.typed.text("for"), until=until
        )
    )


def absence(call: Call) -> Answer:
    typed = call.typed
    if typed.has("date") == typed.has("from") or typed.has("from") != typed.has("until"):
        raise WrongUsage("people absence takes --date DATE, or --from and --until INSTANT.")
    return call.done(lambda shop, by: _absence(call, shop, by))


def _absence(call: Call, shop: Shop, by: By) -> Done:
    day, since, until = call.typed.date("date"), call.instant("from"), call.instant("until")
    if day is not None:
        since = parse_instant(f"{day}T00:00", call.terminal.zone)
        until = parse_instant(f"{day + timedelta(days=1)}T00:00", call.terminal.zone)
    assert since is not None
    assert until is not None
    return people.set_absence(
        shop, by, badge=call.typed.text("BADGE"), since=since, until=until,
        why=call.typed.text("why"),
    )  # fmt: skip


def alone(call: Call) -> Answer:
    return call.done(
        lambda shop, by: people.allow_alone(
            shop, by, codes=call.typed.all("hold-point"), reason=call.typed.text("reason")
        )
    )


def sshline(call: Call) -> Answer:
    with call.shop.reading() as db:
        person = person_by(db, call.typed.text("BADGE").strip())
    line = ssh.line(person.badge, call.terminal.path.resolve())
    if call.as_json:
        return Answer((encoded({"badge": person.badge, "line": line}),))
    return Answer((line,))


COMMANDS = (
    Command(
        ("people",), "Shows everybody who works or worked here.", show, "people --json", (),
        READING,
    ),
    Command(
        ("people", "add"), "Adds somebody who works here.", add,
        "people add B12 --name Ines --role technician --as O1", (BADGE,),
        (
            Option("name", "TEXT", "how they are called", needed=True),
            Option("role", "ROLE", f"one of {', '.join(ROLES)}", needed=True, choices=ROLES),
            Option("experience", "TEXT", "apprentice 1 to 4, skilled or expert",
                   choices=EXPERIENCE),
            Option("from", "DATE", "first day; else today"),
            Option("until", "DATE", "last day, where it is known"),
            *WRITING,
        ),
    ),
    Command(
        ("people", "change"), "Changes what holds of a person from now on.", change,
        "people change B12 --experience expert --as O1", (BADGE,),
        (
            Option("badge", "BADGE", "a new badge"),
            Option("name", "TEXT", "how they are called"),
            Option("role", "ROLE", f"one of {', '.join(ROLES)}", choices=ROLES),
            Option("experience", "TEXT", "apprentice 1 to 4, skilled or expert",
                   choices=EXPERIENCE),
            Option("until", "DATE", "last day here"),
            *WRITING,
        ),
    ),
    Command(
        ("people", "pin"), "Sets a PIN: your own, or as owner anybody's.", pin,
        "people pin B12 --as B12", (BADGE,), WRITING,
        more="With --pin-stdin: the PIN of whoever acts, where they have one, then the new one, "
        "a line each.",
    ),
    Command(
        ("people", "qualify"), "Writes down what a person is qualified for, and until when.",
        qualify, 'people qualify B12 --for "high voltage" --until 2027-06-30 --as O1', (BADGE,),
        (
            Option("for", "TEXT", "the qualification, as the work book names it", needed=True),
            Option("until", "DATE", "the last day on which it holds", needed=True),
            *WRITING,
        ),
    ),
    Command(
        ("people", "absence"), "Writes down that a person is away.", absence,
        "people absence B12 --date 2026-10-16 --why holiday --as F1", (BADGE,),
        (
            Option("date", "DATE", "a whole day"),
            Option("from", "INSTANT", "or from then"),
            Option("until", "INSTANT", "to then"),
            Option("why", "TEXT", "why", needed=True),
            *WRITING,
        ),
    ),
    Command(
        ("people", "alone"), "Names the hold points that one person may sign twice, and why.",
        alone, 'people alone --hold-point locked --reason "I work alone" --as O1', (),
        (
            Option("hold-point", "CODE", "its code in the work book", many=True),
            Option("reason", "TEXT", "why", needed=True),
            *WRITING,
        ),
        more="Without --hold-point none may be any more.",
    ),
    Command(
        ("sshline",), "Prints a line for authorized_keys: put it before the person's key.",
        sshline, "sshline B12", (BADGE,), READING,
        more="Whoever comes with that key sees their own bay and nothing else of the machine.",
    ),
)  # fmt: skip
