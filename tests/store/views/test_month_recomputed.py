"""Hours and money of every month of the demo shop, recomputed from what the program exports.

`ledger --json` and `history export` are read as plain text; `month_again` reckons from them and
shares no code with the program. A figure that cannot be followed to its entries fails too.
"""

from __future__ import annotations

import csv
import shutil
import subprocess
import sys
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from datetime import datetime
from pathlib import Path

import pytest

from store.edges.instants import from_text
from store.file.books import book_on
from store.file.facts import calendar_of
from store.file.month.facts import Facts, facts
from store.file.shop import Shop
from store.sums.month.span import month_span, shifted
from store.views.month.hours import held_of, hours_of
from store.views.month.lifts import lifts_of
from store.views.month.look import Look
from store.views.month.money import money_of
from store.views.month.odds import odds_of
from store.views.month.quotes import quotes_of
from store.views.month.spent_values import Money
from store.views.month.way import Figure, Way
from tests.store.views.month_again import Again
from tests.store.views.month_again_hires import HiresAgain
from tests.store.views.month_again_money import MoneyAgain
from tests.store.views.month_again_read import read
from tests.store.views.month_again_sums import long

FIRST, MONTHS = "2025-04", 19
ALL = [shifted(FIRST, n) for n in range(MONTHS)]


def told(args: list[str]) -> str:
    """What a command prints."""
    done = subprocess.run(
        [sys.executable, "-m", "tui", *args], capture_output=True, text=True, check=True
    )
    return done.stdout


@pytest.fixture(name="shop", scope="module")
def shop_fixture(taught_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    path = tmp_path_factory.mktemp("again") / "demo.shop"
    shutil.copyfile(taught_file, path)
    shop = Shop(path)
    yield shop
    shop.close()


@pytest.fixture(name="past", scope="module")
def past_fixture(shop: Shop) -> Again:
    lines = shop.path.with_suffix(".jsonl")
    lines.write_text(told(["--shop", str(shop.path), "ledger", "--json"]), "utf-8")
    return read(lines)


@pytest.fixture(name="looks", scope="module")
def looks_fixture(shop: Shop, past: Again) -> Iterator[dict[str, Look]]:
    with shop.reading() as db:
        now = from_text(db.execute("select max(recorded_at) from ledger").fetchone()[0])
        calendar = calendar_of(db)
        spans = {month: month_span(month, now, calendar.zone) for month in ALL}
        known: Facts = facts(db, spans[ALL[-1]].until, now)
        yield {
            month: Look(db, span, now, calendar, known, book_on(db, span.last)[1])
            for month, span in spans.items()
        }


@pytest.fixture(name="monies", scope="module")
def monies_fixture(looks: dict[str, Look]) -> dict[str, Money]:
    return {month: money_of(look) for month, look in looks.items()}


def near(figure: Figure | float | None, expected: float) -> bool:
    """To a millionth, which is less than a second."""
    value = figure.value if isinstance(figure, Figure) else figure
    return value == pytest.approx(expected, abs=1e-6, rel=1e-9)


def leaves(ways: Iterable[Way]) -> Iterator[Way]:
    """The ends of the ways."""
    for one in ways:
        if one.ways:
            yield from leaves(one.ways)
        else:
            yield one


@pytest.mark.parametrize("month", ALL)
def test_hours(looks: dict[str, Look], past: Again, month: str) -> None:
    found, again = hours_of(looks[month]), MoneyAgain(past, month)
    assert near(found.attended, again.attended())
    assert near(found.on_jobs, again.clocked("on jobs"))
    assert near(found.indirect, again.clocked("indirect"))
    assert near(found.learning, again.clocked("learning"))
    finished = again.finished()
    estimated = sum(one["estimate"] for _, one in finished)
    labour = sum(again.phase_h(key) for key, _ in finished)
    assert near(found.estimated, estimated)
    assert near(found.finished, labour)
    assert near(found.utilisation, again.clocked("on jobs") / again.attended())
    assert near(found.efficiency, estimated / labour)
    assert near(found.productivity, estimated / again.attended())
    assert near(found.sold, sum(hours for hours, _, _ in again.paid()))
    assert near(sum(one.attended_h for one in found.people), again.attended())


@pytest.mark.parametrize("month", ALL)
def test_held_time_and_lifts(looks: dict[str, Look], past: Again, month: str) -> None:
    again = MoneyAgain(past, month)
    expected = {reason: hours for reason, hours in again.held().items() if hours > 1e-9}
    held = held_of(looks[month])
    assert {reason: figure.value for reason, figure in held.reasons} == pytest.approx(expected)
    assert near(held.total, sum(expected.values()))
    lifts = lifts_of(looks[month]).lifts
    assert [one.lift for one in lifts] == [one["code"] for one in past.lifts.values()]
    for one, place in zip(lifts, past.lifts, strict=True):
        swept = again.lift(place)
        for name in ("open_h", "worked_h", "out_h", "held_h", "dead_h", "empty_h", "earned"):
            assert near(getattr(one, name), swept[name]), (one.lift, name)


@pytest.mark.parametrize("month", ALL)
def test_money(monies: dict[str, Money], past: Again, month: str) -> None:
    found, again = monies[month], MoneyAgain(past, month)
    assert near(found.labour_worked, again.worked())
    rate = again.days.rate
    assert near(
        found.labour_estimated,
        sum(one["estimate"] * rate(again.days.day(one["finished"])) for _, one in again.finished()),
    )
    assert near(found.labour_sold, sum(money for _, money, _ in again.paid()))
    lost = {(one.cause, one.basis): one.hours for one in found.not_charged}
    assert lost == pytest.approx(again.not_charged())
    hires = sum(
        way.value or 0.0
        for job in found.not_billed.ways
        for way in job.ways
        if past.hire_seqs.intersection(way.events)
    )
    assert near((found.not_billed.value or 0.0) - hires, again.not_billed())


@pytest.mark.parametrize("month", ALL)
def test_hires(monies: dict[str, Money], past: Again, month: str) -> None:
    found, again = monies[month], HiresAgain(past, month)
    came = again.hires()
    assert near(found.hire, came.spent)
    assert near(found.late_fees, came.late)
    assert near(found.idle_days, again.idle_days())
    assert near(found.hire_idle, came.idle)
    assert near(found.deposits, came.deposits)


@pytest.mark.parametrize("month", ALL)
def test_what_customers_were_asked(
    looks: dict[str, Look], monies: dict[str, Money], past: Again, month: str
) -> None:
    money, quotes = monies[month], quotes_of(looks[month])
    again = MoneyAgain(past, month)
    extras = list(past.extras.values())
    for figure, state in ((money.supplements, "approved"), (money.supplements_refused, "refused")):
        mine = [one for one in extras if one["state"] == state and again.holds(one["answered_at"])]
        assert near(figure, sum(one["money"] for one in mine))
    asked = [one for one in extras if again.holds(one["asked_at"])]
    assert near(money.supplements_asked, sum(one["money"] for one in asked))
    states = Counter(one["state"] for one in asked)
    answered = states["approved"] + states["refused"]
    share = quotes.supplements
    assert (share and (share.held, share.count)) == (
        (states["approved"], answered) if answered else None
    )
    jobs = {one["job"] for one in past.quotes if again.holds(one["at"])}
    became = Counter(outcome(past, job) for job in jobs)
    assert near(quotes.given, len(jobs))
    assert near(quotes.agreed, became["agreed"])
    assert near(quotes.declined, became["declined"])
    assert near(quotes.open, became["open"])
    back = [one for one in past.outwork if again.holds(one["back"])]
    prices = [one["charged"] if one["charged"] is not None else one.get("price") for one in back]
    assert near(money.outwork, sum(price for price in prices if price is not None))


def outcome(past: Again, job: str) -> str:
    """What became of a job's last quote."""
    last = [one for one in past.quotes if one["job"] == job][-1]
    if any(not one.get("check") and one["seq"] > last["seq"] for one in past.agreed[job]):
        return "agreed"
    gone = past.jobs[job]["gone"] is not None
    return "declined" if gone or last["answer"] in ("declined", "withdrawn") else "open"


@pytest.mark.parametrize("month", ALL)
def test_work_booked_ahead(looks: dict[str, Look], past: Again, month: str) -> None:
    again, ahead = MoneyAgain(past, month), lifts_of(looks[month]).booked_ahead
    hours = 0.0
    for job in again.live():
        agreed = [one for one in past.agreed[job] if not one.get("check")]
        if agreed and agreed[0]["at"] < again.hi:
            begun = [
                clock
                for clock in past.by_job.get(job, ())
                if agreed[0]["at"] <= clock["since"] < again.hi
            ]
            told = [one["middle"] for one in past.changed[job] if one["at"] < again.hi]
            hours += 0.0 if begun else told[-1]
    today = again.days.day(past.now)
    days = sum(bool(again.days.shifts(day)) for day in again.all_days if day <= today)
    assert near(ahead, hours / (again.clocked("on jobs") / days))


@pytest.mark.parametrize("month", ALL)
def test_surprises(looks: dict[str, Look], past: Again, month: str) -> None:
    """Each found surprise of the phases finished, among those the book gives one chance for."""
    again = MoneyAgain(past, month)
    keys = {
        key
        for key, one in past.phases.items()
        if again.holds(one["finished"]) and not one["skipped"]
    }
    found: dict[tuple[str, str], int] = defaultdict(int)
    for one in past.surprises.values():
        key = (one["job"], one["phase"])
        if key in keys and one.get("code"):
            found[past.phases[key]["code"], one["text"]] += 1
    for line in odds_of(looks[month]):
        if line.kind == "surprise":
            assert line.month is not None
            assert line.month.held <= found[line.phase, line.text], line
            assert len(line.ways) == line.month.held
        for way in line.ways:
            assert (way.job, way.phase) in keys


@pytest.mark.parametrize("month", ALL)
def test_decisions(looks: dict[str, Look], past: Again, month: str) -> None:
    """Each answer given in the phases that ended in the month is one of its phase's lines."""
    again = MoneyAgain(past, month)
    expected = Counter(
        past.phases[job, phase]["code"]
        for job, phase, _ in past.answers
        if again.holds(past.phases[job, phase]["finished"])
        and not past.phases[job, phase]["skipped"]
        and job not in past.silent
    )
    found: Counter[str] = Counter()
    for line in odds_of(looks[month]):
        if line.kind == "decision":
            assert line.month is not None
            found[line.phase] += line.month.held
    assert +found == expected


def test_history_says_the_same_of_finished_phases(looks: dict[str, Look], shop: Shop) -> None:
    """The export's labour of each closed phase is what the month says of it, in the same month."""
    out = shop.path.with_suffix(".csv")
    told(["--shop", str(shop.path), "history", "export", str(out)])
    with out.open(encoding="utf-8", newline="") as lines:
        rows = list(csv.DictReader(lines))
    assert len(rows) > 3000
    expected: dict[str, float] = defaultdict(float)
    ended: dict[str, set[tuple[str, datetime]]] = defaultdict(set)
    for row in rows:
        if row["cut_off"] == "1":
            continue
        at = datetime.fromisoformat(row["closed_at"])
        expected[row["closed_at"][:7]] += float(row["actual_hours"])
        ended[row["closed_at"][:7]].add((row["job"], at))
    for month, look in looks.items():
        phases = [way for job in hours_of(look).finished.ways for way in job.ways]
        mine = [way for way in phases if (way.job, way.at) in ended[month]]
        assert sum(way.value or 0.0 for way in mine) == pytest.approx(expected[month], abs=1e-3)


@pytest.mark.parametrize("month", [ALL[0], ALL[9], ALL[-1]])
def test_every_figure_leads_to_entries_of_the_ledger(
    looks: dict[str, Look], monies: dict[str, Money], past: Again, month: str
) -> None:
    """A sum is that of its lines, on every step down; and each line ends at entries."""
    hours, money = hours_of(looks[month]), monies[month]
    figures = [
        hours.on_jobs, hours.indirect, hours.learning, hours.estimated, hours.finished, hours.sold,
        money.labour_worked, money.labour_estimated, money.labour_sold, money.not_billed,
        money.supplements, money.outwork, money.hire, money.hire_idle, money.deposits,
        held_of(looks[month]).total,
    ]  # fmt: skip
    for figure in [*figures, hours.attended]:
        assert near(figure, sum(way.value or 0.0 for way in figure.ways)), figure.explained
        for way in figure.ways:
            if way.ways:
                assert near(way.value, sum(one.value or 0.0 for one in way.ways)), way.says
    for figure in figures:
        for way in leaves(figure.ways):
            assert way.events or not way.value, (figure.explained, way)
    for clock in (way for job in hours.on_jobs.ways for way in leaves([job])):
        told_ = past.clocks[clock.events[0]]
        assert (clock.job, clock.phase) == (told_["job"], told_["phase"])


def test_clocks_left_running(looks: dict[str, Look], past: Again) -> None:
    """Those that somebody put right the next morning, and the one that still runs."""
    found = [one for look in looks.values() for one in hours_of(look).left_running]
    assert all(one.seq in past.clocks for one in found)
    running = {seq for seq, one in past.clocks.items() if one["until"] is None}
    still = {one.seq for one in found if one.stopped_at is None}
    assert still <= running
    assert len(found) - len(still) == past.put_right_later


def test_a_job_over_a_months_edge_is_split_at_it(looks: dict[str, Look], past: Again) -> None:
    """The hours of a job with clocks in two months and more are those of the months together."""
    months = [(MoneyAgain(past, month), looks[month]) for month in ALL]
    parts: dict[str, list[float]] = defaultdict(list)
    for _, look in months:
        for way in hours_of(look).on_jobs.ways:
            parts[way.job or ""].append(way.value or 0.0)
    over = {job: values for job, values in parts.items() if len(values) > 1}
    assert len(over) > 20
    again = months[-1][0]
    for job, values in over.items():
        whole = sum(long(again.labour(clock)) for clock in again.of_job(job))
        assert sum(values) == pytest.approx(whole, abs=1e-6)
