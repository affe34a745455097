"""Who is qualified for what on a day, and who may lead a phase that asks for it."""

from __future__ import annotations

from store.actions.acting import Acting, Person
from store.actions.words import named
from store.edges.events.base import Part
from store.file.route_now import PhaseRow, book_phase
from store.trouble import Refused


def refuse_unqualified(doing: Acting, person: Person, job: str, row: PhaseRow, part: Part) -> None:
    """Refuse to lead work that asks for a qualification which the person does not hold that day.

    Helpers and learners need none while somebody who holds it leads.

    Raises:
        Refused: naming the qualification and who holds it.
    """
    for what in book_phase(doing.db, row.version, row.code).needs:
        if holds(doing, person.person, what):
            continue
        if part != "lead" and _led_by_holder(doing, job, row, what):
            continue
        alone = "" if part == "lead" else " in the lead"
        raise Refused(
            f"{named(job, row)} takes somebody qualified for {what}{alone}, and "
            f"{person.name} is not today. {who_holds(doing, what)}"
        )


def _led_by_holder(doing: Acting, job: str, row: PhaseRow, what: str) -> bool:
    leads = doing.db.execute(
        "select person from clock where job = ? and phase = ? and part = 'lead' and since <= ? "
        "and (until is null or until > ?)",
        [job, row.phase, doing.at_text, doing.at_text],
    ).fetchall()
    return any(holds(doing, one["person"], what) for one in leads)


def holds(doing: Acting, person: str, what: str) -> bool:
    """Tell whether a person holds a qualification on that day."""
    found = doing.db.execute(
        "select 1 from qualification where person = ? and what = ? and until >= ?",
        [person, what, doing.today.isoformat()],
    ).fetchone()
    return found is not None


def who_holds(doing: Acting, what: str) -> str:
    """Say who holds a qualification on that day, as somebody to ask."""
    names = [
        row[0]
        for row in doing.db.execute(
            "select name from qualification join person using (person) where what = ? and "
            "until >= ? order by name",
            [what, doing.today.isoformat()],
        )
    ]
    return f"Ask {' or '.join(names)}." if names else "Nobody here is: it waits, or goes out."
