"""Every month of the demo recomputed from what the program prints: its ledger and its history.

The plain code that does it (`month_plain`) shares nothing with the page.
"""

from __future__ import annotations

import shutil
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

from store.file.shop import Shop
from store.views.about import about
from store.views.month.page import Month, month, months
from store.views.month.values import Accuracy, AccuracyLine
from tests.end_to_end.month_plain import Plain, PlainJob, exported, median
from tests.end_to_end.shell import Shell


@dataclass(frozen=True, slots=True)
class Read:
    """The demo's months, and what its prints say."""

    plain: Plain
    history: dict[str, float]
    months: dict[str, Month]


@pytest.fixture(scope="module", name="read")
def read_fixture(taught_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Read]:
    folder = tmp_path_factory.mktemp("months")
    copy = folder / "demo.shop"
    shutil.copyfile(taught_file, copy)
    shell = Shell(copy)
    ledger = shell.run("ledger", "--json")
    assert ledger.returncode == 0, ledger.stderr
    assert shell.run("history", "export", str(folder / "history.csv")).returncode == 0
    shop = Shop(copy)
    made = about(shop).demo
    assert made is not None
    told = {one.month: month(shop, one.month, made.opens_at) for one in months(shop, made.opens_at)}
    yield Read(Plain(ledger.stdout.splitlines()), exported(folder / "history.csv"), told)
    shop.close()


def closed_in(read: Read, at: str) -> dict[str, PlainJob]:
    """Jobs closed in a month, by plain code."""
    jobs = read.plain.jobs.items()
    return {
        job: one
        for job, one in jobs
        if one.closed is not None and read.plain.month(one.closed) == at
    }


def labour_of(read: Read, job: str, one: PlainJob) -> float:
    """Labour of a job's labour phases."""
    return sum(labour_by(read, job, one, ("lead", "helper")).values())


def labour_by(read: Read, job: str, one: PlainJob, parts: Sequence[str]) -> dict[str, float]:
    """The same by badge, of some parts."""
    found: dict[str, float] = defaultdict(float)
    for number, phase in one.phases.items():
        if phase.kind == "labour":
            for (badge, part), hours in read.plain.labour.get((job, number), {}).items():
                if part in parts:
                    found[badge] += hours
    return found


def judged_alike(found: Accuracy, cases: Sequence[tuple[float, float, float]]) -> None:
    """The page's figures are those of (labour, estimate, cautious figure), one a case."""
    assert found.jobs == len(cases)
    if not cases:
        return
    worked, told = sum(one[0] for one in cases), sum(one[1] for one in cases)
    misses = [abs(labour - estimate) / labour for labour, estimate, _ in cases]
    assert found.lost_h == pytest.approx(worked - told, abs=1e-6)
    if told > 0:
        assert found.bias is not None
        assert found.bias.value == pytest.approx((worked - told) / told, abs=1e-9)
    assert found.miss is not None
    assert found.miss.value == pytest.approx(median(misses), abs=1e-9)
    assert found.mean_miss is not None
    assert found.mean_miss.value == pytest.approx(sum(misses) / len(misses), abs=1e-9)
    assert found.within is not None
    assert found.within.held == sum(one <= 0.25 for one in misses)
    assert found.cautious is not None
    assert found.cautious.held == sum(labour <= most for labour, _, most in cases)


def cases_by(
    read: Read, at: str, key: Callable[[str, PlainJob], str | None]
) -> dict[str, list[tuple[float, float, float]]]:
    """Cases of a month's jobs by a key."""
    found: dict[str, list[tuple[float, float, float]]] = defaultdict(list)
    for job, one in closed_in(read, at).items():
        named, worked = key(job, one), labour_of(read, job, one)
        if named is not None and worked > 0:
            found[named].append((worked, *one.hours))
    return found


def lines_alike(
    lines: Sequence[AccuracyLine], cases: dict[str, list[tuple[float, float, float]]]
) -> None:
    """The same keys, each with its figures; what lost most comes first."""
    assert {one.key for one in lines} == set(cases)
    for one in lines:
        judged_alike(one.accuracy, cases[one.key])
    lost = [one.accuracy.lost_h for one in lines]
    assert lost == sorted(lost, reverse=True)


def test_the_demo_has_nineteen_months_with_a_job_across_an_edge(read: Read) -> None:
    assert len(read.months) == 19
    across = [
        job
        for job, one in read.plain.jobs.items()
        if one.closed is not None
        and {read.plain.month(clock.since) for clock in read.plain.clocks.values()
             if clock.job == job} > {read.plain.month(one.closed)}
    ]  # fmt: skip
    assert across


def test_a_months_accuracy_is_that_of_the_printed_ledger(read: Read) -> None:
    for at, told in read.months.items():
        judged_alike(told.accuracy, cases_by(read, at, lambda job, one: "all").get("all", []))
        assert len(told.jobs) == len(closed_in(read, at))


def test_jobs_inside_the_range_are_those_of_the_printed_agreements(read: Read) -> None:
    moved = 0
    for at, told in read.months.items():
        cases: list[tuple[float, list[float]]] = []
        for job, one in closed_in(read, at).items():
            worked, levels = labour_of(read, job, one), one.range
            if worked > 0 and levels is not None:
                cases.append((worked, levels))
                moved += one.hours[0] != one.frozen
        found = told.accuracy
        assert (found.inside.count if found.inside else 0) == len(cases)
        if found.inside is None or found.scores is None:
            continue
        assert found.inside.held == sum(q[1] <= worked <= q[17] for worked, q in cases)
        losses = [
            sum(abs(worked - q[n]) * (n + 1 if worked > q[n] else 19 - n) for n in range(19)) / 20
            for worked, q in cases
        ]
        assert found.scores.pinball_h == pytest.approx(sum(losses) / 19 / len(cases))
        assert found.scores.crps_h == pytest.approx(sum(losses) / 10 / len(cases))
    assert moved > 30


def test_each_job_has_its_labour_and_what_was_agreed_when_and_why(read: Read) -> None:
    for at, told in read.months.items():
        plain = closed_in(read, at)
        assert {one.job for one in told.jobs} == set(plain)
        for one in told.jobs:
            job = plain[one.job]
            assert one.labour_h == pytest.approx(labour_of(read, one.job, job), abs=1e-6)
            assert (one.estimate_h, one.cautious_h) == job.hours
            assert one.first_h == pytest.approx(job.frozen)
            assert one.extra_h == pytest.approx(job.added["extra"])
            assert one.route_h == pytest.approx(job.added["route"])
            assert one.other_h == pytest.approx(job.added["other"])
            assert (one.closed_at, one.ready_at) == (job.closed, job.ready)


def test_the_exported_history_has_the_same_hours(read: Read) -> None:
    """It holds the deep jobs that teach; what was cut off stands in it too."""
    compared = 0
    for told in read.months.values():
        for one in told.jobs:
            if one.job in read.history:
                assert one.labour_h == pytest.approx(read.history[one.job], abs=0.01)
                compared += 1
    assert compared > 300


def test_lines_by_operation_family_kind_and_lead_are_those_of_the_printed_ledger(
    read: Read,
) -> None:
    def lead(job: str, one: PlainJob) -> str | None:
        hours = labour_by(read, job, one, ("lead",))
        return min(hours, key=lambda badge: (-hours[badge], badge), default=None)

    for at, told in read.months.items():
        lines_alike(
            told.operations, cases_by(read, at, lambda _, o: "+".join(o.operations) or None)
        )
        lines_alike(told.families, cases_by(read, at, lambda _, o: None if o.small else o.family))
        lines_alike(told.kinds, cases_by(read, at, lambda _, o: "small" if o.small else "deep"))
        lines_alike(told.leads, cases_by(read, at, lead))


def test_phases_are_those_finished_in_the_month_with_their_hours_as_agreed(read: Read) -> None:
    for at, told in read.months.items():
        cases: dict[str, list[tuple[float, float, float]]] = defaultdict(list)
        for job, one in read.plain.jobs.items():
            for number, phase in one.phases.items():
                if one.small or phase.kind != "labour" or phase.finished is None:
                    continue
                worked = sum(read.plain.labour.get((job, number), {}).values())
                if read.plain.month(phase.finished) == at and worked > 0:
                    cases[phase.code].append((worked, phase.middle, phase.cautious))
        lines_alike([one for one in told.by_phase if one.accuracy.jobs], cases)


def test_promises_are_kept_where_work_was_finished_by_what_was_told(read: Read) -> None:
    for at, told in read.months.items():
        kept = late = first = 0
        for one in closed_in(read, at).values():
            assert one.ready is not None
            given = [when for said, when, _ in one.promises if said <= one.ready]
            if given and given[-1] is not None:
                kept, late = kept + (one.ready <= given[-1]), late + (one.ready > given[-1])
            if given and given[0] is not None:
                first += one.ready <= given[0]
        counted = told.promises.kept
        assert (counted.held if counted else 0, len(told.promises.late)) == (kept, late)
        assert (told.promises.first.held if told.promises.first else 0) == first


def test_the_months_before_are_the_months_themselves(read: Read) -> None:
    newest = max(read.months)
    for line in read.months[newest].before:
        assert line.accuracy == read.months[line.key].accuracy
    there = {one.key for one in read.months[newest].before}
    assert there == {at for at, told in read.months.items() if told.jobs and at < newest}


def test_every_figure_leads_down_to_entries_that_are_in_the_ledger(read: Read) -> None:
    for told in read.months.values():
        for way in told.ways:
            assert len(way.events) == 1
            phases = [one.value or 0.0 for one in way.ways]
            assert sum(phases) == pytest.approx(way.value, abs=1e-6)
            for phase in way.ways:
                clocks = [one.value or 0.0 for one in phase.ways]
                assert sum(clocks) == pytest.approx(phase.value, abs=1e-6)
                for one in phase.ways:
                    clock = read.plain.clocks[one.events[0]]
                    assert (clock.job, clock.phase) == (way.job, phase.phase)
