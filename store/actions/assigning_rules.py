"""What work can be given to whom: what is over, and who may not have it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from store.actions.acting import Acting, Person, person_of
from store.actions.jobs_now import live_job, phase_row, refuse_workable_state
from store.actions.qualified import holds, who_holds
from store.actions.words import named
from store.file.route_now import PhaseRow, book_phase, gates_of, phases_of
from store.file.work_lists import Line
from store.trouble import Refused

LIVE = ("to come", "under way")


@dataclass(frozen=True, slots=True)
class Work:
    """A job, or one phase of it, that somebody is to do.

    Attributes:
        todo: the phases of labour that are left of it.
    """

    job: str
    phase: str | None
    name: str
    todo: tuple[PhaseRow, ...]

    @property
    def where(self) -> str:
        """`2417.4`, or `2417`."""
        return self.job if self.phase is None else f"{self.job}.{self.phase}"


def work_of(doing: Acting, job: str, phase: str | None) -> Work:
    """Return work that can be given to somebody.

    Raises:
        NoSuch: no such job or phase.
        Refused: the job or phase is over, or takes no hands.
    """
    row = live_job(doing, job)
    phases = phases_of(doing.db, job)
    if phase is None:
        todo = tuple(one for one in phases if one.kind == "labour" and one.state in LIVE)
        if not todo:
            raise Refused(f"No phase of {job} is left to be worked on. Give another job.")
        return Work(job, None, f"{job} {row.work}", todo)
    found = phase_row(phases, job, phase)
    if found.kind != "labour":
        raise Refused(f"{named(job, found)} is {found.kind}: nobody works on it.")
    refuse_workable_state(job, found)
    return Work(job, phase, named(job, found), (found,))


def refuse_apprentice(doing: Acting, work: Work, people: Sequence[str]) -> None:
    """Refuse apprentices alone on work that takes a skilled hand: a hold point or a decision in it.

    Raises:
        Refused: with who could be given it as well.
    """
    who = [person_of(doing.db, one) for one in people]
    if not all(one.apprentice for one in who):
        return
    wanted = {one.phase for one in work.todo}
    gate = next(
        (one for one in gates_of(doing.db, work.job, open_only=True) if one.phase in wanted), None
    )
    if gate is None:
        return
    raise Refused(
        f"{who[0].name} is an apprentice and cannot be alone on {work.name}: {work.job}.{gate.at} "
        f"({gate.spec.text}) takes a skilled colleague. Give it to one first, then to "
        f"{who[0].name} too."
    )


def refuse_unqualified(doing: Acting, work: Work, person: Person, others: Sequence[Line]) -> None:
    """Refuse a phase to somebody not qualified for it, unless somebody who is has it too.

    Raises:
        Refused: naming the qualification and who holds it.
    """
    if work.phase is None:
        return
    for what in needs_of(doing, work.todo[0]):
        if any(holds(doing, one, what) for one in (person.person, *(o.person for o in others))):
            continue
        raise Refused(
            f"{work.name} takes somebody qualified for {what}, and {person.name} is not today. "
            f"{who_holds(doing, what)}"
        )


def needs_of(doing: Acting, phase: PhaseRow) -> tuple[str, ...]:
    """Return the qualifications that a phase asks for."""
    return book_phase(doing.db, phase.version, phase.code).needs
