"""People of the shop: badges, roles, PINs, qualifications, absence."""

from __future__ import annotations

import secrets
from datetime import date, datetime

from store.actions.acting import Acting, Done, acting, person_by
from store.edges.events.base import Badge, Experience, Role
from store.edges.events.people import (
    AbsenceSet,
    AttendanceCorrected,
    PersonAdded,
    PersonChanged,
    PinSet,
    Qualified,
)
from store.edges.events.shop import SettingChanged
from store.edges.instants import to_text
from store.file.change import By
from store.file.pins import Secret, keep_secret, make_secret, note_right
from store.file.shop import Shop
from store.rules.roles import is_apprentice
from store.trouble import Refused

SHORTEST_PIN, LONGEST_PIN = 4, 12


def add_person(
    shop: Shop,
    by: By,
    *,
    badge: Badge,
    name: str,
    role: Role,
    experience: Experience = "skilled",
    from_day: date | None = None,
    until_day: date | None = None,
) -> Done:
    """Add somebody who works here.

    Args:
        from_day: first day of employment; None is today.
        until_day: last day, where it is known.

    Raises:
        Refused: the badge is taken or not made of capitals and digits; the days contradict.
    """
    with acting(shop, by, "add person") as doing:
        record_person(doing, badge, name, role, experience, from_day, until_day)
        return doing.done(f"{name} added with badge {badge.upper()}, {role}.")


def record_person(
    doing: Acting,
    badge: str,
    name: str,
    role: Role,
    experience: Experience,
    from_day: date | None,
    until_day: date | None,
) -> str:
    """Write a new person down; return the id."""
    badge = badge.strip().upper()
    _refuse_badge(doing, badge, None)
    _refuse_learning_lead(role, experience)
    _refuse_days(from_day or doing.today, until_day)
    if not name.strip():
        raise Refused("A person has a name: --name TEXT.")
    ident = doing.change.new_id("p")
    doing.record(
        PersonAdded(
            person=ident, badge=badge, name=name.strip(), role=role, experience=experience,
            from_day=(from_day or doing.today).isoformat(),
            until_day=until_day.isoformat() if until_day else None,
        )
    )  # fmt: skip
    return ident


def _refuse_badge(doing: Acting, badge: str, person: str | None) -> None:
    if not badge.isascii() or not badge.isalnum() or len(badge) > 12:
        raise Refused(f"{badge or 'An empty text'} is no badge: 1 to 12 letters and digits.")
    there = doing.db.execute("select person, name from person where badge = ?", [badge]).fetchone()
    if there is not None and there["person"] != person:
        raise Refused(f"The badge {badge} is {there['name']}'s. Give another.")


def _refuse_days(from_day: date, until_day: date | None) -> None:
    if until_day is not None and until_day < from_day:
        raise Refused("The last day lies before the first one.")


def change_person(
    shop: Shop,
    by: By,
    *,
    badge: str,
    new_badge: str | None = None,
    name: str | None = None,
    role: Role | None = None,
    experience: Experience | None = None,
    until_day: date | None = None,
    since: date | None = None,
) -> Done:
    """Change what holds of a person from a day on; what they were before stays.

    Args:
        since: the day from which on they are so; None is today.

    Raises:
        UnknownBadge: nobody has that badge.
        Refused: nothing to change; the new badge is taken; the last owner leaves or gives up
            the role; an apprentice as foreman or owner.
    """
    with acting(shop, by, "change person") as doing:
        person = person_by(doing.db, badge)
        if not any((new_badge, name, role, experience, until_day)):
            raise Refused("Say what changes: --name, --role, --experience, --until or --badge.")
        if since is not None and since < doing.today:
            raise Refused("What a person was on a past day stays. Give today or a later day.")
        if new_badge is not None:
            _refuse_badge(doing, new_badge.upper(), person.person)
        _refuse_days(date.fromisoformat(person.from_day), until_day)
        _refuse_learning_lead(role or person.role, experience or person.experience)
        if person.role == "owner" and (role not in (None, "owner") or until_day is not None):
            _refuse_last_owner(doing, person.person)
        doing.record(
            PersonChanged.model_validate(
                {
                    "person": person.person, "badge": (new_badge or person.badge).upper(),
                    "name": name or person.name, "role": role or person.role,
                    "experience": experience or person.experience, "from_day": person.from_day,
                    "until_day": until_day.isoformat() if until_day else person.until_day,
                    "since": (since or doing.today).isoformat(),
                }
            )
        )  # fmt: skip
        return doing.done(f"{name or person.name}: changed.")


def _refuse_learning_lead(role: str, experience: str) -> None:
    """Whoever leads vouches for others; an apprentice vouches for nothing alone."""
    if role != "technician" and is_apprentice(experience):
        raise Refused(f"An apprentice is no {role}. Say --experience skilled, or another role.")


def _refuse_last_owner(doing: Acting, person: str) -> None:
    others = doing.db.execute(
        "select 1 from person where role = 'owner' and person != ? and "
        "(until_day is null or until_day >= ?)",
        [person, doing.today.isoformat()],
    ).fetchone()
    if others is None:
        raise Refused("A shop has at least one owner. Make somebody else owner first.")


def set_pin(shop: Shop, by: By, *, badge: str, pin: str, secret: Secret | None = None) -> Done:
    """Set a person's PIN: one's own first PIN freely, then with the old one; another's as owner.

    Args:
        secret: what is kept of this PIN, where it was made already: it takes 50 ms. It counts as
            proven then.

    Raises:
        UnknownBadge: nobody has that badge.
        Refused: it is no PIN of 4 to 12 digits; or as for whoever may not.
    """
    made = secret or _new_secret(pin)
    with acting(shop, by) as doing:
        person = person_by(doing.db, badge)
        if person.person == doing.person.person:
            doing.may("set own pin")
            if _has_pin(doing, person.person):
                doing.prove_pin()
        else:
            doing.may("set another's pin")
        record_pin(doing, person.person, pin, made)
        if secret is None:
            shop.proven.pop(person.person, None)
        return doing.done(f"{person.name}'s PIN is set.")


def _has_pin(doing: Acting, person: str) -> bool:
    row = doing.db.execute("select pin_check from person where person = ?", [person]).fetchone()
    return row[0] is not None


def _new_secret(pin: str) -> Secret | None:
    """Make what is kept of a PIN, before a file is locked; None of what can be none."""
    if not pin.isdecimal() or not pin.isascii() or not SHORTEST_PIN <= len(pin) <= LONGEST_PIN:
        return None
    return make_secret(pin, secrets.token_bytes(16))


def record_pin(doing: Acting, person: str, pin: str, made: Secret | None = None) -> None:
    """Write a PIN down: the secret beside the ledger, its check in it.

    Args:
        made: of this PIN, by a caller that acts for everybody; it is not proven again.
    """
    secret = made or _new_secret(pin)
    if secret is None:
        raise Refused(f"A PIN is {SHORTEST_PIN} to {LONGEST_PIN} digits.")
    keep_secret(doing.db, person, secret)
    doing.record(PinSet(person=person, check=secret.check(person)))
    note_right(doing.db, person)
    doing.shop.proven.pop(person, None)
    if made is not None:
        doing.shop.proven[person] = secret.proof(person, pin)


def qualify(shop: Shop, by: By, *, badge: str, what: str, until: date) -> Done:
    """Write down that a person holds a qualification up to and on a day.

    Raises:
        UnknownBadge: nobody has that badge.
    """
    with acting(shop, by, "change person") as doing:
        person = person_by(doing.db, badge)
        doing.record(Qualified(person=person.person, what=what, until=until.isoformat()))
        return doing.done(f"{person.name} is qualified for {what} until {until}.")


def set_absence(
    shop: Shop, by: By, *, badge: str, since: datetime, until: datetime, why: str
) -> Done:
    """Write down that a person is away.

    Raises:
        UnknownBadge: nobody has that badge.
        Refused: the end lies before the start.
    """
    with acting(shop, by, "set absence") as doing:
        person = person_by(doing.db, badge)
        if until <= since:
            raise Refused("The absence ends before it begins.")
        doing.record(
            AbsenceSet(person=person.person, since=to_text(since), until=to_text(until), why=why)
        )
        return doing.done(f"{person.name} is away: {why}.")


def set_attendance(
    shop: Shop, by: By, *, badge: str, day: date, hours: float, why: str | None = None
) -> Done:
    """Correct how long a person was here on a day.

    Raises:
        UnknownBadge: nobody has that badge.
        Refused: the day lies in the future, or the hours are not 0 to 24.
    """
    with acting(shop, by) as doing:
        person = person_by(doing.db, badge)
        if person.person == doing.person.person:
            doing.may("put right own")
        else:
            doing.may("set attendance")
        if day > doing.today:
            raise Refused("That day has not come yet.")
        if not 0 <= hours <= 24:
            raise Refused("A day has 0 to 24 hours.")
        doing.record(
            AttendanceCorrected(person=person.person, day=day.isoformat(), hours=hours, why=why)
        )
        return doing.done(f"{person.name} was here {hours:.1f} h on {day}.")


def allow_alone(shop: Shop, by: By, *, codes: list[str], reason: str) -> Done:
    """Name the hold points that one person may sign twice, for a shop of one; with the reason.

    Raises:
        Refused: a code names no hold point of the work book.
    """
    with acting(shop, by, "allow signing alone") as doing:
        known = {
            row[0]
            for row in doing.db.execute(
                "select distinct code from book_step where kind = 'hold point'"
            )
        }
        for code in codes:
            if code not in known:
                raise Refused(f"The work book has no hold point {code}.")
        doing.record(SettingChanged(name="signed alone", value=list(codes), why=reason))
        listed = ", ".join(codes) or "none"
        return doing.done(f"May be signed twice by one person: {listed} ({reason}).")
