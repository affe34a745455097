"""Acts about what comes from outside: parts, hired kits, work done by other firms, customers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, timedelta

from store.edges.instants import from_text, to_text
from store.file.facts import day_bounds
from store.file.open_acts.going import Gathered
from store.file.open_acts.made import act
from store.file.open_acts.on_kits import acts_on_kits
from store.file.open_acts.people import able
from store.rules.acts import Act


def acts_on_supply(every: Gathered) -> Iterator[Act]:
    """Yield what is to be ordered, chased, received, sent back, asked or answered."""
    yield from _parts(every)
    yield from acts_on_kits(every)
    yield from _outwork(every)
    yield from _desk(every)
    yield from _calls(every)


LIVE = "job.state not in ('closed', 'declined', 'turned-away')"


PART_STATE = (
    "case when part.state != 'ordered' then 'order' when expected is null then 'ask' "
    "else 'late' end"
)
PART_WORDS = {
    "order": "to be ordered", "ask": "nobody knows when they come", "late": "should be here",
}  # fmt: skip


def _parts(every: Gathered) -> Iterator[Act]:
    """Each job's parts together: not ordered or wrong, without a day, or late."""
    for job, what, lines, texts, since, by in every.db.execute(
        f"select part.job, {PART_STATE} as what, group_concat(line), group_concat(text, ', '), "
        "min(moved_at), min(expected) from job cross join part using (job) "
        "left join phase on phase.job = part.job and phase.phase = part.phase "
        f"where {LIVE} and (part.phase is null or phase.state in ('to come', 'under way')) and "
        "(part.state in ('wanted', 'wrong', 'returned') or part.state = 'ordered' and "
        "(expected is null or expected <= ?)) group by part.job, what order by part.job, what",
        [to_text(every.now)],
    ):
        numbers = lines.split(",")
        words = ("parts", "here" if what == "late" else "ordered", job, *numbers)
        yield act(
            every, "parts", "list parts", job, f"{PART_WORDS[what]}: {texts}", since=_at(since),
            by=_at(by) if what == "late" else None, line=f"{what}:{lines}",
            command=words if what == "late" else (*words, "--expected", "-INSTANT"),
        )  # fmt: skip


def _outwork(every: Gathered) -> Iterator[Act]:
    """Work elsewhere that should be back, or is to be asked after today."""
    today = every.calendar.day_of(every.now).isoformat()
    for row in every.db.execute(
        "select outwork.job, phase, what, firm, sent_at, promised_now, chase from outwork "
        f"join job using (job) where back_at is null and {LIVE} and "
        "(promised_now <= ?1 or chase <= ?2) order by +outwork.seq",
        [to_text(every.now), today],
    ):
        yield act(
            every, "chase", "send outwork", row["job"], f"{row['what']} at {row['firm']}",
            since=_at(row["sent_at"]), by=_at(row["promised_now"]), phase=row["phase"],
            command=("outwork", "chase", f"{row['job']}.{row['phase']}", "--said", "-TEXT"),
        )  # fmt: skip


def _desk(every: Gathered) -> Iterator[Act]:
    """A check that is done and not judged, a judged one without a quote, an open quote."""
    for row in every.db.execute(
        "select job, state, check_result, checked_at, opened_at, "
        "exists (select 1 from phase where phase.job = job.job) as laid, "
        "exists (select 1 from phase where phase.job = job.job and phase.state in "
        "('to come', 'under way')) as to_do from job "
        f"where state in ('arrived', 'quoted') and {LIVE} and not small order by opened_at, number"
    ):
        if row["state"] == "quoted":
            continue
        if row["check_result"] is None and row["laid"] and not row["to_do"]:
            yield act(
                every, "judge", "judge check", row["job"], "the check is done: judge it",
                since=None, command=("qualify", row["job"], "--result", "-RESULT"),
            )  # fmt: skip
        elif row["check_result"] in ("pass", "pass with conditions"):
            yield act(
                every, "quote", "give quote", row["job"], "checked, and nothing quoted yet",
                since=_at(row["checked_at"]), command=("quote", row["job"]),
            )  # fmt: skip


def _calls(every: Gathered) -> Iterator[Act]:
    """A quote that nobody answered, or a call that was to be tried again by now."""
    for row in every.db.execute(
        "select quote.job, quote.at, quote.until, (select again from call where "
        "call.job = quote.job and not withdrawn order by seq desc limit 1) as again from job "
        f"cross join quote using (job) where quote.state in ('open', 'thinking') and {LIVE} "
        "and not rough order by quote.at"
    ):
        if row["again"] is not None and row["again"] > to_text(every.now):
            continue
        by = row["again"] or row["until"]
        made = act(
            every, "call", "note call", row["job"], "the customer's word on the quote",
            since=_at(row["at"]), by=_day_or(every, by),
            command=("call", row["job"], "--means", "telephone", "--again", "-INSTANT"),
        )  # fmt: skip
        leads = able(every.people, "take job")
        badge = leads[0].badge if leads else "-BADGE"
        word = ("--by", "the customer", "--means", "telephone", "--as", badge)
        yield replace(made, other=("agree", row["job"], "--basis", "-BASIS", *word))


def _day_or(every: Gathered, text: str | None) -> datetime | None:
    """An instant, or the end of a day."""
    if text is None:
        return None
    if len(text) == len("2026-10-14"):
        end = day_bounds(date.fromisoformat(text), every.calendar.zone)[1]
        return end - timedelta(seconds=1)
    return from_text(text)


def _at(text: str | None) -> datetime | None:
    return None if text is None else from_text(text)
