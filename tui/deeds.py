"""What keys mean to do, ready to be done by whoever proves to be there.

The actions are imported where they run: they bring models that a first paint does not need.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import TYPE_CHECKING, Literal, TypeAlias

from store.file.shop import By, Shop

if TYPE_CHECKING:
    from store.actions import paper
    from store.actions.acting import Done
    from store.actions.agreeing import WorkedOut
    from store.actions.holding import Reason
    from store.edges.tables.paper_rows import RowRead
    from store.learn.records import Record

Deed: TypeAlias = "Callable[[Shop, By], Done]"


def clock_on(job: str, phase: str) -> Deed:
    """Start the clock on a phase."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import clock

        return clock.clock_on(shop, by, job=job, phase=phase)

    return do


def clock_off(shop: Shop, by: By) -> Done:
    """Stop the clock."""
    from store.actions import clock

    return clock.clock_off(shop, by)


def clock_over(job: str, phase: str) -> Deed:
    """Stop the clock and start it elsewhere at one instant."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import clock

        return clock.clock_over(shop, by, job=job, phase=phase)

    return do


def send_over(badge: str, job: str, phase: str) -> Deed:
    """Stop somebody else's clock and start it elsewhere at one instant."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import clock

        return clock.clock_over(shop, by, job=job, phase=phase, badge=badge)

    return do


def clock_away(shop: Shop, by: By) -> Done:
    """Called away."""
    from store.actions import clock

    return clock.clock_away(shop, by)


def clock_back(shop: Shop, by: By) -> Done:
    """Back from being called away."""
    from store.actions import clock

    return clock.clock_back(shop, by)


def clock_indirect(reason: str) -> Deed:
    """Start the clock on no job."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import clock

        return clock.clock_indirect(shop, by, reason=reason)

    return do


def stop_left_running(stopped_at: datetime | None) -> Deed:
    """Say when a clock that was left running stopped; None is the shift's end."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import day_sheet

        return day_sheet.stop_left_running(shop, by, stopped_at=stopped_at)

    return do


def clock_was_on(clock: int, job: str | None, phase: str | None, reason: str | None) -> Deed:
    """Say what a clock was on all the time; what it said before stays in the ledger."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import day_sheet

        where = day_sheet.Where(job, phase, reason)
        return day_sheet.correct_clock(shop, by, clock=clock, where=where)

    return do


def split_clock(
    clock: int, at: datetime, job: str | None, phase: str | None, reason: str | None
) -> Deed:
    """Split a stopped clock: what came after an instant was something else."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import day_sheet

        where = day_sheet.Where(job, phase, reason)
        return day_sheet.split_clock(shop, by, clock=clock, at=at, where=where)

    return do


def went_over(job: str | None, phase: str | None, reason: str | None, at: datetime) -> Deed:
    """Split the running clock: from an instant that has been, it runs on something else."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import clock

        late = replace(by, at=at)
        if job is None or phase is None:
            return clock.clock_indirect(shop, late, reason=reason or "")
        return clock.clock_over(shop, late, job=job, phase=phase)

    return do


def end_clock(clock: int, until: datetime, why: str | None = None) -> Deed:
    """Say when a clock ended that runs into the next one, or was left running."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import day_sheet

        return day_sheet.correct_clock(shop, by, clock=clock, until=until, why=why)

    return do


def enter_clock(
    job: str | None, phase: str | None, reason: str | None, span: tuple[datetime, datetime]
) -> Deed:
    """Enter a whole clock from memory."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import day_sheet

        where = day_sheet.Where(job, phase, reason)
        return day_sheet.enter_clock(shop, by, where=where, since=span[0], until=span[1])

    return do


PaperDay: TypeAlias = "tuple[str, date, Sequence[tuple[int, RowRead]]]"
"""Whose day, which, and its rows with their numbers."""


def _on_paper(day: PaperDay) -> paper.PaperDay:
    from store.actions import paper
    from store.actions.day_sheet import Where

    badge, on, rows = day
    return paper.PaperDay(badge, on, [
        paper.PaperRow(Where(row.job, row.phase, row.reason), row.since, row.until, n)
        for n, row in rows
    ])  # fmt: skip


def enter_paper(day: PaperDay, *, confirm: bool) -> Deed:
    """Enter a day from paper, all its rows at once."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import paper

        return paper.enter_days(shop, by, days=[_on_paper(day)], confirm=confirm)

    return do


def check_paper(day: PaperDay) -> Callable[[Shop, By], dict[int, str]]:
    """What would be refused of a day from paper, by the number of its row; nothing is written."""

    def ask(shop: Shop, by: By) -> dict[int, str]:
        from store.actions import paper

        return {one.row: one.says for one in paper.check_days(shop, by, days=[_on_paper(day)])}

    return ask


def confirm_day(day: date) -> Deed:
    """Confirm one's own day."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import day_sheet

        return day_sheet.confirm_day(shop, by, day=day)

    return do


def undo(shop: Shop, by: By) -> Done:
    """Take one's own last entry back."""
    from store.actions.undo.taking_back import undo as take_back

    return take_back(shop, by)


def sign(
    job: str,
    phase: str,
    step: str,
    *,
    readings: Mapping[str, float] | None = None,
    answer: str | None = None,
    as_is: str | None = None,
) -> Deed:
    """Put one's name under a step, hold point or decision."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import steps

        return steps.sign(
            shop, by, job=job, phase=phase, step=step, readings=readings, answer=answer,
            as_is=as_is,
        )  # fmt: skip

    return do


def type_limits(
    job: str, phase: str, step: str, reading: str, limits: tuple[float | None, float | None],
    source: str,
) -> Deed:  # fmt: skip
    """Type the limits of a reading for this job."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import steps

        return steps.type_limits(
            shop, by, job=job, phase=phase, step=step, reading=reading, low=limits[0],
            high=limits[1], source=source,
        )  # fmt: skip

    return do


def finish(job: str, phase: str, why: str | None = None) -> Deed:
    """Finish a phase, or say afterwards why it took longer."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import phases

        return phases.finish(shop, by, job=job, phase=phase, why=why)

    return do


def skip(job: str, phase: str, reason: str) -> Deed:
    """Leave a phase out."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import phases

        return phases.skip(shop, by, job=job, phase=phase, reason=reason)

    return do


def reopen(job: str, phase: str, why: str | None) -> Deed:
    """Open a phase again."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import phases

        return phases.reopen(shop, by, job=job, phase=phase, why=why)

    return do


def hold(
    job: str,
    phase: str | None,
    reason: Reason,
    *,
    until: datetime | None = None,
    next_move: str | None = None,
) -> Deed:
    """Hold a phase or a whole job."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import holding

        return holding.hold(
            shop, by, job=job, phase=phase, reason=reason, until=until, next_move=next_move
        )

    return do


def release(job: str, phase: str | None) -> Deed:
    """Release what holds it."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import holding

        return holding.release(shop, by, job=job, phase=phase)

    return do


FindingKind = Literal["surprise", "route-ends", "advice"]


def find(
    job: str, phase: str, kind: FindingKind, text: str, hours: float | None,
    money: float | None = None,
) -> Deed:  # fmt: skip
    """Report what was discovered."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import holding

        return holding.find(
            shop, by, job=job, phase=phase, kind=kind, text=text, hours=hours, money=money
        )

    return do


def answer_supplement(
    job: str, approve: bool, lines: Sequence[int], told_by: str | None, means: str | None,
    ceiling: float | None = None,
) -> Deed:  # fmt: skip
    """Write the customer's word down, with a new ceiling where one was agreed."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import holding

        return holding.answer_supplement(
            shop, by, job=job, approve=approve, lines=lines, told_by=told_by, means=means,
            ceiling=ceiling,
        )  # fmt: skip

    return do


def note_answer(
    job: str, lines: Sequence[int], told_by: str | None, means: str | None
) -> Deed:  # fmt: skip
    """Say afterwards who gave the customer's word, and how it came."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import holding

        return holding.note_answer(shop, by, job=job, lines=lines, told_by=told_by, means=means)

    return do


def promise(job: str, at: datetime, chance: float | None = None) -> Deed:
    """Write down what the customer was told, and the chance that it had."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import jobs

        return jobs.promise(shop, by, job=job, at=at, chance=chance)

    return do


def note(job: str, text: str) -> Deed:
    """Write down what is to be remembered of a job."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import notes

        return notes.note(shop, by, job=job, text=text)

    return do


def close(job: str) -> Deed:
    """Close a job."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import jobs

        return jobs.close(shop, by, job=job)

    return do


@dataclass(frozen=True, slots=True)
class Agreed:
    """What was agreed at the counter.

    Attributes:
        mass_kg: gross mass, where it is known.
        told: what the estimate said, as it was worked out; None has it worked out now.
        chance: at which the promise was chosen, where one was.
    """

    operations: tuple[str, ...]
    family: str
    vehicle: str
    options: Mapping[str, str]
    grade: int = 2
    lift: str | None = None
    promise: datetime | None = None
    chance: float | None = None
    mass_kg: float | None = None
    complaint: str | None = None
    told: Callable[[], WorkedOut | None] | None = None


def take(agreed: Agreed) -> Deed:
    """Take a job, agreed at once from its estimate."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import jobs

        return jobs.take(
            shop, by, operations=agreed.operations, family=agreed.family, vehicle=agreed.vehicle,
            options=agreed.options, grade=agreed.grade, lift=agreed.lift, promise=agreed.promise,
            chance=agreed.chance, mass_kg=agreed.mass_kg, complaint=agreed.complaint,
            told=agreed.told() if agreed.told else None,
        )  # fmt: skip

    return do


def take_small(text: str, vehicle: str, hours: float | None, lift: str | None) -> Deed:
    """Take a small job."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import jobs

        return jobs.take_small(shop, by, text=text, vehicle=vehicle, hours=hours, lift=lift)

    return do


def move(job: str, place: str, *, lift: bool) -> Deed:
    """Move a vehicle."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import places

        return places.move(shop, by, job=job, place=place, lift=lift)

    return do


def withdraw_lift(code: str, reason: str) -> Deed:
    """Take a lift out of service."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import places

        return places.withdraw_lift(shop, by, code=code, reason=reason)

    return do


def return_lift(code: str) -> Deed:
    """Put a lift back into service."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import places

        return places.return_lift(shop, by, code=code)

    return do


RoleName = Literal["technician", "foreman", "owner"]


def add_lift(code: str, kind: str, rated_kg: float) -> Deed:
    """Add a lift."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import places

        return places.add_place(shop, by, code=code, kind="lift", lift_kind=kind, rated_kg=rated_kg)

    return do


def add_place(code: str, kind: Literal["yard", "bench", "stand"]) -> Deed:
    """Add a place that is no lift."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import places

        return places.add_place(shop, by, code=code, kind=kind)

    return do


def add_person(badge: str, name: str, role: RoleName) -> Deed:
    """Add somebody who works here."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import people

        return people.add_person(shop, by, badge=badge, name=name, role=role)

    return do


def set_pin(badge: str, pin: str) -> Deed:
    """Set a PIN."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import people

        return people.set_pin(shop, by, badge=badge, pin=pin)

    return do


def import_history(records: Sequence[Record], source: str) -> Deed:
    """Take finished phases in."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import history

        return history.import_history(shop, by, records=records, source=source)

    return do


def load_book(source: str, upon: int | None = None) -> Deed:
    """Load a work book from its text; `upon` is the version that it was made from."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import books

        return books.load_workbook(shop, by, source=source, upon=upon)

    return do


def adopt(lines: Sequence[tuple[str, str, str | None]] | None, upon: int | None = None) -> Deed:
    """Let the work book say what was learned: operation, phase and family of each; None: all."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import adopting

        asked = None if lines is None else [adopting.Adopted(*one) for one in lines]
        return adopting.adopt(shop, by, lines=asked, upon=upon)

    return do


def set_costs(month: str, wages: float, overheads: float) -> Deed:
    """Write down what a month cost."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import month_costs

        return month_costs.set_costs(shop, by, month=month, wages=wages, overheads=overheads)

    return do
