"""Who does what next: work given to people, taken from them, and the order of their lists."""

from __future__ import annotations

from collections.abc import Sequence

from store.actions.acting import Acting, Done, Person, acting, person_by
from store.actions.assigning_rules import (
    Work,
    refuse_apprentice,
    refuse_unqualified,
    work_of,
)
from store.actions.assigning_warnings import warnings
from store.actions.jobs_now import live_job
from store.actions.trouble import NotEmployed
from store.actions.words import clock_time
from store.edges.events.next import Assigned, AssignedTakenBack
from store.edges.instants import from_text
from store.file.change import By
from store.file.ledger import Row
from store.file.shop import Shop
from store.file.work_lists import Line, ends_of, lines_of, who_has
from store.rules.roles import Act
from store.trouble import Refused


class WantsWord(Refused):
    """It can be done, once whoever decides has heard what speaks against it."""

    def __init__(self, warnings: Sequence[str]) -> None:
        self.warnings = tuple(warnings)
        super().__init__(f"{' '.join(warnings)} To do it all the same: --all-the-same.")


def assign(
    shop: Shop,
    by: By,
    *,
    job: str,
    badge: str,
    phase: str | None = None,
    at_front: bool = False,
    too: bool = False,
    all_the_same: bool = False,
    seen: Sequence[str] | None = None,
) -> Done:
    """Give a job, or one phase of it, to somebody: as the last line of their list.

    Whoever had it before has it no more. What is nobody's anybody may take on for themselves.

    Args:
        at_front: as the first line; what is on the list already goes there.
        too: beside whoever has it, as a second pair of hands.
        all_the_same: whoever decides has heard what speaks against it.
        seen: badges of who had it when the actor looked; None where they did not look.

    Raises:
        UnknownBadge, NotEmployed, NoSuch: no such person, job or phase.
        Refused: it is over; an apprentice would be alone on it, or somebody unqualified lead it;
            it is on that list already; somebody gave it to somebody else meanwhile.
        WantsWord: they are away when it is likely to be done, are wanted elsewhere at that hour, or
            are not qualified for all of the job.
    """
    with acting(shop, by) as doing:
        person = _works_here(doing, badge)
        had = who_has(doing.db, job, phase, doing.today.isoformat())
        doing.may(_act(doing, person, had, at_front=at_front))
        work = work_of(doing, job, phase)
        _refuse_unseen(doing, work, had, seen)
        mine = next((one for one in had if one.person == person.person), None)
        lines = lines_of(doing.db, person.person)
        if mine is not None and (not at_front or lines[0] == mine):
            raise Refused(_there(doing, work, mine))
        others = [one for one in had if one is not mine]
        beside = others if too or mine is not None else []
        refuse_apprentice(doing, work, [person.person, *(one.person for one in beside)])
        refuse_unqualified(doing, work, person, beside)
        said = warnings(
            doing, work, person, [one for one in lines if one != mine], at_front=at_front
        )
        if said and not all_the_same:
            raise WantsWord(said)
        _give(doing, work, person, at_front=at_front, moved=mine is not None)
        for one in others if not beside else ():
            doing.record(Assigned(job=job, phase=phase, person=one.person))
        return doing.done(_given(doing, work, person, (others, beside), said), job=job)


def _works_here(doing: Acting, badge: str) -> Person:
    person = person_by(doing.db, badge.strip())
    day = doing.today.isoformat()
    if person.from_day > day or (person.until_day is not None and person.until_day < day):
        raise NotEmployed(person.name)
    return person


def _act(doing: Acting, person: Person, had: Sequence[Line], *, at_front: bool) -> Act:
    """What is nobody's is taken on by anybody; else the foreman decides."""
    own = person.person == doing.person.person
    return "take work on" if own and not had and not at_front else "assign"


def _refuse_unseen(
    doing: Acting, work: Work, had: Sequence[Line], seen: Sequence[str] | None
) -> None:
    """Refuse where it is somebody else's by now than when the actor looked."""
    if seen is None or {one.upper() for one in seen} == {one.badge for one in had}:
        return
    if not had:
        raise Refused(f"{work.name} was taken off the list a moment ago. Look again.")
    raise Refused(f"{work.name} is {_whose(doing, had[-1])}. Look again.")


def _whose(doing: Acting, line: Line) -> str:
    since = clock_time(from_text(line.since), doing.calendar)
    return f"on {line.name}'s list, given by {line.by} {since}"


def _there(doing: Acting, work: Work, mine: Line) -> str:
    see = f"See the list: hoistbook next {mine.badge}."
    return f"{work.name} is {_whose(doing, mine)} already. {see}"


def _give(doing: Acting, work: Work, person: Person, *, at_front: bool, moved: bool) -> None:
    first, last = ends_of(doing.db, person.person)
    doing.record(
        Assigned(
            job=work.job, phase=work.phase, person=person.person,
            position=first - 1 if at_front else last + 1, moved=moved,
        )
    )  # fmt: skip


def _given(
    doing: Acting, work: Work, person: Person, had: tuple[Sequence[Line], Sequence[Line]],
    said: Sequence[str],
) -> str:  # fmt: skip
    """What was done: after what it stands, instead of whom or beside whom; what was warned of."""
    rest, beside = had
    lines = lines_of(doing.db, person.person)
    place = next(n for n, one in enumerate(lines) if one.where == work.where)
    after = f"after {lines[place - 1].where}" if place else "next"
    names = " and ".join(one.name for one in rest)
    others = f", with {names}" if beside else f", instead of {names}" if rest else ""
    text = f"{work.name} is on {person.name}'s list, {after}{others}."
    return " ".join((text, *said))


def unassign(
    shop: Shop,
    by: By,
    *,
    job: str,
    phase: str | None = None,
    badge: str | None = None,
    seen: Sequence[str] | None = None,
) -> Done:
    """Take a job or phase off somebody's list, or off everybody's.

    Whoever took it on themselves may put it back.

    Args:
        badge: off whose list; None is everybody's.
        seen: as for `assign`.

    Raises:
        NoSuch, UnknownBadge: no such job, phase or person.
        Refused: it is on nobody's list, or not on that one; an apprentice would stay alone on it.
    """
    with acting(shop, by) as doing:
        had = who_has(doing.db, job, phase, doing.today.isoformat())
        person = None if badge is None else person_by(doing.db, badge.strip())
        gone = [one for one in had if person is None or one.person == person.person]
        doing.may("take work on" if _took_it(doing, gone) else "assign")
        work = work_of(doing, job, phase)
        _refuse_unseen(doing, work, had, seen)
        if not gone:
            whose = "nobody's list" if person is None or not had else f"{had[-1].name}'s list"
            raise Refused(f"{work.name} is on {whose}. See who does what: hoistbook next.")
        stay = [one.person for one in had if one not in gone]
        if stay:
            refuse_apprentice(doing, work, stay)
        only = None if len(gone) == len(had) else gone[0].person
        doing.record(Assigned(job=job, phase=phase, person=only))
        names = " and ".join(one.name for one in gone)
        return doing.done(f"{work.name} is off {names}'s list.", job=job)


def _took_it(doing: Acting, gone: Sequence[Line]) -> bool:
    """Whether all of it is what the actor gave themselves."""
    givers = [
        doing.db.execute("select by from assignment where seq = ?", [one.seq]).fetchone()[0]
        for one in gone
    ]
    own = doing.person.person
    return bool(gone) and all(one.person == own for one in gone) and set(givers) == {own}


def reorder(shop: Shop, by: By, *, badge: str, works: Sequence[tuple[str, str | None]]) -> Done:
    """Put somebody's list in order: these lines first, as they are given, then the others.

    Args:
        works: job and phase of each; a phase of None is the whole job.

    Raises:
        UnknownBadge: nobody has that badge.
        Refused: one of them is not on the list, or there twice; the order is that already.
    """
    with acting(shop, by, "assign") as doing:
        person = person_by(doing.db, badge.strip())
        lines = lines_of(doing.db, person.person)
        wanted = _in_order(person, lines, works)
        places = [one.position for one in lines]
        moved = [(one, to) for one, to in zip(wanted, places, strict=True) if one.position != to]
        if not moved:
            raise Refused(f"{person.name}'s list is in that order already.")
        for one, to in moved:
            doing.record(
                Assigned(
                    job=one.job, phase=one.phase, person=person.person, position=to, moved=True
                )
            )
        order = ", ".join(one.where for one in wanted)
        return doing.done(f"{person.name}'s list: {order}.")


def _in_order(
    person: Person, lines: Sequence[Line], works: Sequence[tuple[str, str | None]]
) -> list[Line]:
    """Every line of the list, the wanted ones first."""
    by_work = {(one.job, one.phase): one for one in lines}
    first: list[Line] = []
    for job, phase in works:
        where = job if phase is None else f"{job}.{phase}"
        line = by_work.get((job, phase))
        if line is None:
            raise Refused(
                f"{where} is not on {person.name}'s list. See it: hoistbook next {person.badge}."
            )
        if line in first:
            raise Refused(f"{where} stands there twice: name each line once.")
        first.append(line)
    return [*first, *(one for one in lines if one not in first)]


def assignment_back(doing: Acting, row: Row, event: Assigned) -> None:
    """Let a line of a list be as it was before it was given, moved or taken away.

    Raises:
        Refused: it was given or moved on since.
    """
    live_job(doing, event.job)
    after = doing.db.execute("select until from assignment where seq = ?", [row.seq]).fetchone()
    again = doing.db.execute(
        "select 1 from assignment as gone join assignment as now on now.person = gone.person "
        "and now.job = gone.job and now.phase is gone.phase and now.until is null "
        "where gone.ended_seq = ?1 and now.seq != ?1",
        [row.seq],
    ).fetchone()
    if again is not None or (after is not None and after["until"] is not None):
        where = event.job if event.phase is None else f"{event.job}.{event.phase}"
        raise Refused(f"Who does {where} was decided anew since: that stays.")
    doing.record(AssignedTakenBack(job=event.job, entry=row.seq))
