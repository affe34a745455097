"""Work that does not come about: the customer declined, or the shop turned it away."""

from __future__ import annotations

from typing import Literal

from store.actions.acting import Acting, Done, acting
from store.actions.conditions import forbidding
from store.actions.desk.check import lay_way_back, spent
from store.actions.hires.needed import left_over_words
from store.actions.jobs_now import BEFORE, JobRow, has_begun, live_job
from store.actions.privates import word_of
from store.actions.words import gate_words
from store.edges.events.desk import QuoteAnswered
from store.edges.events.jobs import Placed, StateChanged
from store.file.change import By
from store.file.route_now import gates_of, phases_of, stands
from store.file.shop import Shop
from store.rules.blocking import blocking_deed
from store.trouble import Refused

End = Literal["declined", "turned-away"]


def decline(
    shop: Shop, by: By, *, job: str, why: str, said_by: str | None = None, means: str | None = None
) -> Done:
    """The customer does not want it; the vehicle goes back, the quote is answered.

    Args:
        why: the reason as it was said.
        said_by: who said so; means: how: telephone, in person, in writing.

    Raises:
        NoSuch: no such job.
        Refused: there is no reason; work beyond the check has begun; or the vehicle is here and
            cannot be handed back: a clock runs, an open condition or hold point forbids it.
    """
    return _end(by, shop, job, "declined", why, (said_by, means))


def turn_away(shop: Shop, by: By, *, job: str, why: str) -> Done:
    """The shop does not do it; the vehicle goes back.

    Raises:
        NoSuch, Refused: as `decline`.
    """
    return _end(by, shop, job, "turned-away", why, (None, None))


def _end(
    by: By, shop: Shop, job: str, end: End, why: str, word: tuple[str | None, str | None]
) -> Done:
    with acting(shop, by, "turn job down") as doing:
        row = live_job(doing, job)
        said = " ".join(why.split())
        if not said:
            raise Refused(f"Say why {job} is {end.replace('-', ' ')}.")
        _refuse_begun(doing, row)
        back = lay_way_back(doing, job)
        if back is not None:
            return doing.done(_not_yet(doing, job, end, back), job=job)
        _refuse_kept(doing, job)
        cost = spent(doing, job) if phases_of(doing.db, job) else None
        _answer_quote(doing, job, end, said, word)
        for part in _parts_here(doing, job):
            doing.record(Placed(job=job, part=part, place=None, state=row.state))
        doing.record(StateChanged(job=job, state=end, why=said))
        says = f"{job} is {end.replace('-', ' ')}: {said}."
        spoken = (says, f"Spent: {cost}." if cost else None, left_over_words(doing, job))
        return doing.done(" ".join(one for one in spoken if one), job=job)


def _not_yet(doing: Acting, job: str, end: End, back: str) -> str:
    """The check left something open: that is ended first, and nothing is answered yet."""
    tags = ", ".join(text for _, text in forbidding(doing, job, "hand-over"))
    return f"{job} cannot go back yet: {tags}. {back}. Then it is {end.replace('-', ' ')} by this."


def _refuse_begun(doing: Acting, row: JobRow) -> None:
    """What was agreed and begun is ended by closing it, with a record of what was done."""
    if row.state in BEFORE:
        return
    if has_begun(doing, row.job) or row.state == "finished":
        raise Refused(
            f"Work on {row.job} has begun: answer its decisions, leave out what is not done, and "
            f"close it."
        )


def _refuse_kept(doing: Acting, job: str) -> None:
    """Refuse while something keeps the vehicle here, naming the first."""
    running = doing.db.execute(
        "select name, phase from clock join person using (person) where job = ? and until is null",
        [job],
    ).fetchone()
    if running is not None:
        raise Refused(
            f"The clock of {running['name']} runs on {job}.{running['phase']}. Clock off first."
        )
    tags = [text for _, text in forbidding(doing, job, "hand-over")]
    if tags:
        raise Refused(f"{job} cannot go back: open condition: {', '.join(tags)}. End it first.")
    phases = phases_of(doing.db, job)
    if stands(phases) == "fixed":
        raise Refused(f"{job} cannot go back: it sits fixed. Make it roll again first.")
    begun = {one.phase for one in phases if one.begun_at is not None}
    gates = [one for one in gates_of(doing.db, job, open_only=True) if one.phase in begun]
    gate = blocking_deed(gates, [one.at() for one in phases], "hand-over")
    if gate is not None:
        raise Refused(f"{job} cannot go back before {gate_words(job, gate)}.")
    asked = doing.db.execute(
        "select text from supplement where job = ? and state = 'asked' order by line", [job]
    ).fetchone()
    if asked is not None:
        raise Refused(f"Extra work of {job} waits for the customer's word: {asked['text']}.")


def _answer_quote(
    doing: Acting, job: str, end: End, why: str, word: tuple[str | None, str | None]
) -> None:
    last = doing.db.execute(
        "select quote from quote where job = ? and state in ('open', 'thinking') "
        "order by quote desc limit 1",
        [job],
    ).fetchone()
    if last is None:
        return
    doing.record(
        QuoteAnswered(
            job=job, quote=last["quote"], answer="declined" if end == "declined" else "withdrawn",
            why=why, by=word_of(doing, job, word[0]), means=word[1],
        )
    )  # fmt: skip


def _parts_here(doing: Acting, job: str) -> list[Literal["body", "unit"]]:
    return [
        row[0]
        for row in doing.db.execute("select part from job_place where job = ? order by part", [job])
    ]
