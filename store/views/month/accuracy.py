"""How near a month's estimates came: all jobs, and by operation, phase, family, lead technician,
and the months before."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar
from zoneinfo import ZoneInfo

from store.rules.book import WorkBook
from store.sums.accuracy import Accuracy, Case, accuracy
from store.sums.month.jobs import JobJudged, PhaseJudged
from store.sums.month.span import month_of
from store.views.month.look import Look
from store.views.month.said import line_says, named
from store.views.month.values import AccuracyLine

Judged = JobJudged | PhaseJudged
T = TypeVar("T", JobJudged, PhaseJudged)


def judged(these: Iterable[Judged]) -> Accuracy:
    """Judge jobs by what was agreed in the end, or phases by their own hours as agreed."""
    cases: list[Case] = []
    left_out = 0
    for one in these:
        if one.estimate_h is None or one.cautious_h is None or one.labour_h <= 0:
            left_out += 1
        else:
            told = one.quantiles if isinstance(one, JobJudged) else None
            cases.append(Case(one.labour_h, one.estimate_h, one.cautious_h, told))
    return accuracy(cases, left_out)


def by_kind(jobs: Sequence[JobJudged]) -> tuple[AccuracyLine, ...]:
    """Return deep jobs and small ones apart."""
    return lines(jobs, lambda one: "small" if one.small else "deep",
                 {"deep": "deep jobs", "small": "small jobs"})  # fmt: skip


def by_operation(jobs: Sequence[JobJudged], book: WorkBook | None) -> tuple[AccuracyLine, ...]:
    """Return jobs by operation, or by operations done together; small ones have none."""
    named_so = {one.operation: _work(one.operations, book) for one in jobs if one.operation}
    return lines(jobs, lambda one: one.operation, named_so)


def by_phase(phases: Sequence[PhaseJudged]) -> tuple[AccuracyLine, ...]:
    """Return phases by code, whichever operation they served; a small job's is none."""
    deep = [one for one in phases if not one.small]
    return lines(deep, lambda one: one.code, {one.code: one.name for one in deep}, "phase")


def by_family(jobs: Sequence[JobJudged]) -> tuple[AccuracyLine, ...]:
    """Return deep jobs by family."""
    return lines([one for one in jobs if not one.small], lambda one: one.family, {})


def by_lead(look: Look, jobs: Sequence[JobJudged]) -> tuple[AccuracyLine, ...]:
    """Return jobs by whoever led them longest, of those that the reader may see."""
    shown = [one for one in jobs if one.lead is not None and look.sees(one.lead)]
    return lines(shown, lambda one: one.lead, look.facts.people)


def by_month(look: Look, jobs: Sequence[JobJudged], zone: ZoneInfo) -> tuple[AccuracyLine, ...]:
    """Return the months before, the oldest first; those in which nothing was closed are none."""
    before = [one for one in jobs if one.closed_at < look.span.since]
    months = {one.job: month_of(one.closed_at.astimezone(zone).date()) for one in before}
    found = lines(before, lambda one: months[one.job], {})
    told = (replace(one, name=named(one.key)) for one in found)
    return tuple(sorted(told, key=lambda one: one.key))


def lines(
    these: Sequence[T], key: Callable[[T], str | None], names: Mapping[str, str], of: str = "job"
) -> tuple[AccuracyLine, ...]:
    """Return accuracy by key; what lost most hours first."""
    groups: dict[str, list[T]] = defaultdict(list)
    for one in these:
        at = key(one)
        if at is not None:
            groups[at].append(one)
    found = [_line(at, names.get(at, at), group, of) for at, group in groups.items()]
    return tuple(sorted(found, key=lambda one: (-one.accuracy.lost_h, one.key)))


def _line(key: str, name: str, group: Sequence[Judged], of: str) -> AccuracyLine:
    found = judged(group)
    jobs = tuple(dict.fromkeys(one.job for one in group))
    return AccuracyLine(key, name, found, line_says(found, of), jobs)


def _work(operations: Sequence[str], book: WorkBook | None) -> str:
    names = {} if book is None else {code: one.name for code, one in book.operations.items()}
    return " + ".join(names.get(one, one) for one in operations)
