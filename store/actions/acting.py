"""How every action begins and ends: who, may they, when; then all of it or nothing."""

from __future__ import annotations

import sqlite3
from collections.abc import Generator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date, datetime

from store.actions.behind import stands_behind
from store.actions.naming import refuse_naming
from store.actions.trouble import (
    InTheFuture,
    MayNot,
    NoPin,
    NotEmployed,
    PinNeeded,
    PinWaits,
    UnknownBadge,
    WrongPin,
)
from store.actions.typed import (
    CANNOT_BE,
    may_be_unshowable,
    put_into_words,
    refuse_unshowable,
)
from store.edges.events.base import Event
from store.edges.instants import to_text
from store.file.change import By, Change, load_models
from store.file.facts import calendar_of
from store.file.ledger import payload_of
from store.file.memory import memory_of
from store.file.pins import (
    Secret,
    derived,
    fits,
    note_right,
    note_waiting,
    note_wrong,
    read_secret,
    secret_of,
    wait_s,
)
from store.file.shop import Shop
from store.rules.roles import TABLE, Act, is_apprentice, why_not
from store.rules.teaching import is_to_learn
from store.rules.undoing import CAN_BE_TAKEN_BACK
from store.sums.working_time import Calendar


@dataclass(frozen=True, slots=True)
class Done:
    """What an action answers once it is durable.

    Attributes:
        recorded: sequence numbers of its events.
        job: number of the job it was about.
        says: what was done, in words.
        can_undo: its author can take it back.
        to_learn: a forecast is old by it, or something that teaches is new.
    """

    recorded: tuple[int, ...]
    job: str | None
    says: str
    can_undo: bool = False
    to_learn: bool = False


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody of the shop, as the tables know them."""

    person: str
    badge: str
    name: str
    role: str
    experience: str
    from_day: str
    until_day: str | None

    @property
    def apprentice(self) -> bool:
        """True for an apprentice of any year."""
        return is_apprentice(self.experience)


PERSON = "person, badge, name, role, experience, from_day, until_day"


def person_by(db: sqlite3.Connection, badge: str) -> Person:
    """Return who carries a badge.

    Raises:
        UnknownBadge: nobody does.
    """
    badge = badge.upper()
    memory = memory_of(db)
    known: Person | None = memory.people.get(badge) if memory is not None else None
    if known is not None:
        return known
    row = db.execute(f"select {PERSON} from person where badge = ?", [badge]).fetchone()
    if row is None:
        raise UnknownBadge(badge)
    person = Person(*row)
    if memory is not None:
        memory.people[badge] = person
    return person


def person_of(db: sqlite3.Connection, person: str) -> Person:
    """Return a person by id."""
    return Person(*db.execute(f"select {PERSON} from person where person = ?", [person]).fetchone())


class Acting:
    """One action under way.

    Attributes:
        person: who acts.
        db: the open transaction; read it freely, write only by `record`.
        at: when it was so (a late entry lies before `now`); `at_text` the same as the file has it.
        now: the instant of recording.
    """

    def __init__(self, shop: Shop, change: Change, by: By) -> None:
        self.shop, self.change = shop, change
        self.by = by = change.by
        self.db = change.db
        self.person = person_by(self.db, by.badge)
        self.now: datetime = change.now
        self.at: datetime = self.now if by.at is None else change.at
        self.at_text = change.happened_at
        self._calendar: Calendar | None = None
        self._kinds: set[str] = set()
        self._to_learn = False

    @property
    def calendar(self) -> Calendar:
        """The shop's calendar."""
        if self._calendar is None:
            self._calendar = calendar_of(self.db)
        return self._calendar

    @property
    def today(self) -> date:
        """The shop's local day at which it was so."""
        return self.calendar.day_of(self.at)

    @property
    def late(self) -> bool:
        """True where a time was given."""
        return self.by.at is not None

    def may(self, act: Act) -> None:
        """Go on only if the person may do this.

        Raises:
            MayNot, PinNeeded, NoPin, WrongPin, PinWaits: as they say.
        """
        reason = why_not(act, self.person.role, self.person.experience)
        if reason:
            raise MayNot(f"{self.person.name} {reason}")
        if TABLE[act].pin:
            self.prove_pin()

    def prove_pin(self) -> None:
        """Go on only with the person's PIN.

        Raises:
            PinNeeded, NoPin, WrongPin, PinWaits: as they say.
        """
        person, pin = self.person, self.by.pin
        secret = self._secret()
        if secret is None:
            raise NoPin(person.name, person.badge)
        if pin is None:
            raise PinNeeded(person.name)
        proof = secret.proof(person.person, pin)
        if self.shop.proven.get(person.person) == proof:
            note_right(self.db, person.person)
            return
        wait = wait_s(self.db, person.person, to_text(self.by.now), self.by.up)
        if wait:
            raise PinWaits(person.person, person.name, wait)
        tried = self.shop.derived.pop(person.person, None)
        if tried is None or tried.proof != proof:  # it was set since
            tried = derived(secret, person.person, pin)
        if not fits(secret, tried):
            raise WrongPin(person.person, person.name)
        note_right(self.db, person.person)
        self.shop.proven[person.person] = proof

    def _secret(self) -> Secret | None:
        memory, person = memory_of(self.db), self.person.person
        if memory is None:
            return read_secret(self.db, person)
        if person not in memory.people:
            memory.people[person] = read_secret(self.db, person)
        found: Secret | None = memory.people[person]
        return found

    def record(self, event: Event, *, happened_at: str | None = None) -> int:
        """Append an event and apply it; return its sequence number.

        Raises:
            BadText, BadInput: a text of it is not one line of signs.
            NamesCustomer: a free text of it names the job's customer.
        """
        self._kinds.add(event.kind)
        if not self._to_learn:
            answered = vars(event).get("answer") is not None
            self._to_learn = is_to_learn(event.kind, answered=answered)
        payload = payload_of(event)
        if may_be_unshowable(payload):
            refuse_unshowable(event)
        refuse_naming(self.db, event)
        return self.change.record(event, happened_at=happened_at, payload=payload)

    def done(self, says: str, *, job: str | None = None) -> Done:
        """Close the action's account."""
        says += stands_behind(self.change)
        can_undo = self._kinds <= CAN_BE_TAKEN_BACK
        return Done(tuple(self.change.recorded), job, says, can_undo, self._to_learn)


@contextmanager
def acting(shop: Shop, by: By, act: Act | None = None) -> Generator[Acting]:
    """Begin an action as a person: known, employed that day, allowed.

    Raises:
        UnknownBadge, NotEmployed, InTheFuture, MayNot, PinNeeded, WrongPin: nothing was changed.
        BadInput, BadText: what was typed cannot be; nothing was changed.
    """
    if by.badge != by.badge.strip():
        by = replace(by, badge=by.badge.strip())
    refused: WrongPin | PinWaits | None = None
    try:
        _get_ready(shop, by)
        with shop.changing(by) as change:
            change.mark()
            try:
                yield _begun(Acting(shop, change, by), act)
            except (WrongPin, PinWaits) as error:
                change.take_back()
                _note(change, error)
                refused = error
    except CANNOT_BE as error:
        raise put_into_words(error) from error
    if refused is not None:
        raise refused


def _get_ready(shop: Shop, by: By) -> None:
    """Do what takes long before the file is locked: nobody else can write meanwhile.

    A PIN's key is derived here and looked at behind the lock, where tries are counted.
    """
    load_models()
    if by.pin is None:
        return
    with shop.reading() as db:
        found = secret_of(db, by.badge.upper())
    if found is None:
        return
    person, secret = found
    proof, there = secret.proof(person, by.pin), shop.derived.get(person)
    if shop.proven.get(person) != proof and (there is None or there.proof != proof):
        shop.derived[person] = derived(secret, person, by.pin)


def _begun(doing: Acting, act: Act | None) -> Acting:
    _check_time(doing)
    _check_roll(doing)
    if doing.by.proves:
        doing.prove_pin()
    if act is not None:
        doing.may(act)
    return doing


def _check_time(doing: Acting) -> None:
    if doing.by.at is None:
        return
    if to_text(doing.by.at) > doing.change.recorded_at:
        raise InTheFuture
    confirmed = doing.db.execute(
        "select 1 from day_confirmed where person = ? and day = ?",
        [doing.person.person, doing.today.isoformat()],
    ).fetchone()
    if confirmed is not None:
        doing.may("put right others")


def _check_roll(doing: Acting) -> None:
    person = doing.person
    if person.until_day is None and person.from_day < doing.change.recorded_at[:10]:
        return  # since before yesterday by UTC: so by the shop's days too, in any zone
    day = doing.calendar.day_of(doing.now).isoformat()
    if person.from_day > day and doing.calendar.day_of(doing.at).isoformat() < person.from_day:
        raise NotEmployed(person.name)
    if person.until_day is not None and person.until_day < day:
        raise NotEmployed(person.name)


def _note(change: Change, refused: WrongPin | PinWaits) -> None:
    """Count a wrong PIN before anybody else can try one: all else of the transaction is undone."""
    note = note_wrong if isinstance(refused, WrongPin) else note_waiting
    note(change.db, refused.person, to_text(change.by.now), change.by.up)
