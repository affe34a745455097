"""The judge's own truth: what simulated shops call the true distribution is the one they follow."""

from __future__ import annotations

import csv
import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from store.learn.records import Record
from store.learn.scores import mean_pinball
from tests.bench.hours.baselines import by_the_book, mixed_model, running_means
from tests.bench.hours.dice import log_mean
from tests.bench.hours.files import write_history
from tests.bench.hours.flavours import FLAVOURS
from tests.bench.hours.history import MAKES, History, simulate
from tests.bench.hours.multiplicative import MultiplicativeJob
from tests.bench.hours.rows import AnyRow, Row, slots
from tests.bench.hours.scoring import Method, scored
from tests.bench.hours.truth import truth


def shop(name: str, jobs: int, number: int = 0) -> History:
    make, _, flavour = name.partition("-")
    return simulate(make, flavour, jobs, (2024, number))


def without_faults(history: History) -> list[float]:
    """The hours that were worked, row by row."""
    worked = {
        (one.job.number, record.seq): float(hours)
        for one in history.done
        for record, hours in zip(one.records, one.hours, strict=True)
    }
    return [sum(worked[one.job, one.seq] for one in slot.covers) for slot in slots(history.records)]


def one_row_a_job(history: History, rows: Sequence[Row]) -> list[int]:
    """Rows of one job hang together: take a different one of each."""
    first: dict[str, list[int]] = {}
    for n, row in enumerate(rows):
        first.setdefault(row.job, []).append(n)
    return [places[n * 7 % len(places)] for n, places in enumerate(first.values())]


@pytest.mark.parametrize("name", ["a-all", "b-all"])
def test_true_ranges_hold_as_often_as_they_say(name: str) -> None:
    """Worked hours against true quantiles: each share within 4 binomial standard deviations."""
    seen: list[float] = []
    quantiles: list[Sequence[float]] = []
    for number in range(4):
        history = shop(name, 100, number)
        rows = list(truth(history, draws=300))
        worked = without_faults(history)
        chosen = one_row_a_job(history, rows)
        seen += [worked[n] for n in chosen]
        quantiles += [rows[n].quantiles for n in chosen]
    below = (np.array(seen)[:, None] <= np.array(quantiles)).mean(axis=0)
    for level, share in zip((0.1, 0.5, 0.9), below[[1, 9, 17]].tolist(), strict=True):
        assert abs(share - level) < 4 * math.sqrt(level * (1 - level) / len(seen))


@pytest.mark.parametrize("name", [f"{make}-{flavour}" for make in MAKES for flavour in FLAVOURS])
def test_nobody_does_better_than_the_truth(name: str) -> None:
    history = shop(name, 40)
    records = history.records
    asked = list(slots(records))
    best = scored(asked, list(truth(history, draws=300)), 0.0).loss.mean()
    others = [list(by_the_book.hours(records)), list(running_means.hours(records))]
    for rows in others:
        assert scored(asked, rows, 0.0).loss.mean() > best


def test_the_truth_is_better_than_itself_pushed_aside() -> None:
    """Against worked hours the true quantiles lose least: neither wider, narrower, nor shifted."""
    losses = np.zeros(5)
    for number in range(3):
        history = shop("b-rust", 60, number)
        q = np.array([row.quantiles for row in truth(history, draws=300)])
        middle = q[:, 9:10]
        wider, narrower = (middle * (q / middle) ** power for power in (1.25, 0.75))
        worked = without_faults(history)
        tried = (q, wider, narrower, q * 1.07, q / 1.07)
        losses += [float((mean_pinball(worked, one) / middle[:, 0]).mean()) for one in tried]
    assert losses.argmin() == 0


def test_a_single_draw_of_hands_follows_the_odds() -> None:
    history = shop("a-strong", 1)
    job = replace(history.done[0].job, odds=np.array([0.6, 0.0, 0.3, 0.1]))
    dice = np.random.default_rng(5)
    firsts = [int(job.hands(dice, 1, 0)[0, 0]) for _ in range(1000)]
    shares = np.bincount(firsts, minlength=4) / 1000
    assert np.abs(shares - job.odds).max() < 4 * math.sqrt(0.25 / 1000)
    assert shares[1] == 0


def plain_job(chance: float) -> MultiplicativeJob:
    """Three phases by one person: load .3, noise .2, about 0 in logs."""
    return MultiplicativeJob(
        centre=np.zeros((1, 3)),
        load=np.full(3, 0.3),
        sd=np.full(3, 0.2),
        chance=np.full(3, chance),
        surprise=(0.65, 0.3),
        graded=np.zeros((3, 4)),
        grade=2,
    )


def test_the_vehicle_is_judged_as_the_conjugate_normal_formula_says() -> None:
    # Gelman et al., Bayesian Data Analysis, 3rd ed. (2013), section 2.5: normal data, known
    # variance; with z ~ N(0, 1): precision 1 + n load^2/sd^2, mean sum(y) load/sd^2 / precision.
    law = plain_job(chance=1e-12)
    y = [0.5, 0.1, 0.45]
    logs = np.log(law.weights) + sum(
        law.log_density(i, 0, math.exp(one)) for i, one in enumerate(y)
    )
    weights = np.exp(logs - logs.max())
    drawn = law.conditions(weights / weights.sum(), 40_000, np.random.default_rng(0))[:, 0]
    precision = 1 + 3 * 0.3**2 / 0.2**2
    assert abs(drawn.mean() - sum(y) * 0.3 / 0.2**2 / precision) < 0.005
    assert abs(drawn.std() - precision**-0.5) < 0.01


def test_a_sum_of_two_phases_is_weighed_as_numerical_convolution_does() -> None:
    law, total = plain_job(chance=0.1), 3.0
    steps = (np.arange(4000) + 0.5) / 4000 * total
    both = [
        np.stack([law.log_density(i, 0, float(h)) - math.log(h) for h in hours], axis=1)
        for i, hours in ((0, steps), (1, total - steps))
    ]
    exact = log_mean(both[0] + both[1], axis=1)
    found = law.log_density_of_two(0, 1, 0, total)
    assert np.allclose(found, exact, rtol=0, atol=0.002)


@pytest.mark.parametrize("make", list(MAKES))
def test_a_longer_history_begins_with_the_shorter_one(make: str) -> None:
    short, long = (simulate(make, "all", jobs, (3, 1)).records for jobs in (20, 40))
    assert long[: len(short)] == short


def test_rows_come_in_the_order_of_a_scored_file() -> None:
    def record(job: str, seq: int, started: float, closed: float) -> Record:
        return Record(job, "OP", "F", f"P{seq}", seq, "T", started, closed, 2.0, 3.0)

    later, earlier = record("1", 1, 50, 60), record("2", 1, 10, 20)
    asked = list(slots([later, record("2", 3, 20, 30), earlier]))
    assert [(one.job, one.moment, one.phase, one.seq) for one in asked] == [
        ("2", "booked", "P1", 1),
        ("2", "booked", "P3", 3),
        ("2", "booked", "*", 0),
        ("2", "started", "P1", 1),
        ("2", "started", "*", 1),
        ("2", "started", "P3", 3),
        ("2", "started", "*", 3),
        ("1", "booked", "P1", 1),
        ("1", "booked", "*", 0),
        ("1", "started", "P1", 1),
        ("1", "started", "*", 1),
    ]
    assert [one.book_h for one in asked[:7]] == [2, 2, 4, 2, 4, 2, 2]
    # closed at the very moment is not closed before it
    assert asked[5].own == ()


@pytest.mark.parametrize("method", [by_the_book.hours, running_means.hours])
def test_methods_it_is_compared_with_never_see_the_future(method: Method) -> None:
    records = shop("a-faulty", 40).records
    turn = sorted(one.closed for one in records)[len(records) // 2]
    changed = [
        replace(one, actual_h=one.actual_h * 3) if one.closed >= turn else one for one in records
    ]
    before: list[AnyRow] = [row for row in method(records) if row.as_of <= turn]
    after: list[AnyRow] = [row for row in method(changed) if row.as_of <= turn]
    assert len(before) > 100
    assert before == after


def test_the_mixed_model_gives_every_row_where_its_library_is_installed() -> None:
    pytest.importorskip(mixed_model.LIBRARY)
    history = shop("a-clean", 40)
    asked = list(slots(history.records))
    mixed = scored(asked, list(mixed_model.hours(history.records)), 0.0)
    book = scored(asked, list(by_the_book.hours(history.records)), 0.0)
    assert mixed.loss.mean() < book.loss.mean()


def test_rows_that_were_not_asked_for_are_refused() -> None:
    records = shop("a-clean", 3).records
    asked, rows = list(slots(records)), list(by_the_book.hours(records))
    with pytest.raises(ValueError, match="rows where"):
        scored(asked, rows[:-1], 0.0)
    with pytest.raises(ValueError, match="row 1 is"):
        scored(asked, [rows[1], rows[0], *rows[2:]], 0.0)
    falling = replace(rows[0], quantiles=rows[0].quantiles[::-1])
    with pytest.raises(ValueError, match="fall"):
        scored(asked, [falling, *rows[1:]], 0.0)


@pytest.mark.parametrize("further", [True, False])
def test_a_history_is_written_as_the_file_that_is_read(tmp_path: Path, further: bool) -> None:
    records = shop("a-all", 10).records
    write_history(tmp_path / "history.csv", records, further=further)
    with (tmp_path / "history.csv").open(encoding="utf-8", newline="") as file:
        lines = list(csv.DictReader(file))
    assert [(one["job"], int(one["seq"])) for one in lines] == [(r.job, r.seq) for r in records]
    assert all(line["started_at"].endswith("+00:00") for line in lines)
    assert ("lumped_with" in lines[0]) is further
