"""The judge of dates: who knows the end loses nothing, who speaks of other rows is refused."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from store.edges.tables.history import read_history
from store.edges.tables.history_more import people_of, read_open, read_people, read_spans
from store.learn.dates.spans import Span
from store.learn.records import People, Record
from store.learn.scores import LEVELS
from tests.bench.floors.baselines import FEWEST, nearest
from tests.bench.floors.cases import Case, cases
from tests.bench.floors.drawing import drawn
from tests.bench.floors.files import write
from tests.bench.floors.judge import BrokenJudge, Learner, judged
from tests.bench.floors.kept import Asked
from tests.bench.floors.oracle import Seen, oracle
from tests.bench.floors.past import Past, past


@dataclass(frozen=True)
class Said:
    """A row as a learner gives it."""

    job: str
    seq: int
    moment: str
    open_hours: float
    quantiles: Sequence[float]
    naive: float


@cache
def made() -> Past:
    """A small past."""
    return past(drawn("parttime", 2), 2, 8)


@cache
def seen() -> list[Seen]:
    """What the oracle says of some of its rows."""
    return oracle(drawn("parttime", 2), 2, 8, 15, 20)


def knowing(case: Case, times: float = 1.0) -> Said:
    """Return a row of somebody who knows the end, or so many times it."""
    return Said(*case.key, case.open_h, (times * case.open_h,) * 19, times * case.open_h)


def learner(rows: Iterable[Said]) -> Learner:
    """Return a learner who says these rows, whatever it is given."""
    given = list(rows)

    def says(
        records: Sequence[Record],
        spans: Sequence[Span],
        open_spans: Sequence[tuple[float, float]],
        people: People,
    ) -> list[Said]:
        assert (records, spans) == (made().records, made().spans)
        assert open_spans
        assert people.employed
        return given

    return says


def test_whoever_knows_the_end_loses_nothing_and_all_ranges_hold() -> None:
    verdict = judged(made(), seen(), learner(knowing(case) for case in cases(made())))
    assert verdict.learner_came == 0
    assert verdict.learner >= verdict.oracle
    assert verdict.naive == verdict.learner
    assert verdict.in_range.all()
    assert verdict.kept.all()
    assert verdict.booked.sum() == 8
    assert verdict.oracle > 0


def test_whoever_always_says_too_much_loses_and_keeps_every_promise() -> None:
    verdict = judged(made(), seen(), learner(knowing(case, 2) for case in cases(made())))
    picked = {(one.job, one.seq, one.moment) for one in seen()}
    mean = np.mean([case.open_h for case in cases(made()) if case.key in picked])
    assert math.isclose(verdict.learner_came, mean / 2)
    assert not verdict.in_range.any()
    assert verdict.kept.all()


def test_whoever_says_what_the_oracle_says_scores_as_the_oracle() -> None:
    """Up to the share by which draws flatter themselves; and the laws' ranges hold four in five."""
    laws = {(one.job, one.seq, one.moment): np.quantile(one.draws, LEVELS) for one in seen()}
    rows = [knowing(case) for case in cases(made())]
    rows = [
        replace(one, quantiles=tuple(laws[one.job, one.seq, one.moment]))
        if (one.job, one.seq, one.moment) in laws
        else one
        for one in rows
    ]
    verdict = judged(made(), seen(), learner(rows))
    assert 0.94 < verdict.learner / verdict.oracle <= 0.96
    assert math.isclose(verdict.learner_came / verdict.oracle_came, 1.05, abs_tol=0.02)
    assert math.isclose(verdict.law, 0.8, abs_tol=0.06)


def test_the_oracle_beats_past_stays() -> None:
    verdict = judged(made(), seen(), learner(knowing(case) for case in cases(made())))
    assert verdict.oracle < verdict.nearest


def test_a_row_that_lacks_or_speaks_of_other_hours_breaks_the_judge() -> None:
    rows = [knowing(case) for case in cases(made())]
    with pytest.raises(BrokenJudge, match="on one side only: 1"):
        judged(made(), seen(), learner(rows[1:]))
    wrong = replace(rows[0], open_hours=rows[0].open_hours + 0.5)
    with pytest.raises(BrokenJudge, match="the learner says"):
        judged(made(), seen(), learner([wrong, *rows[1:]]))


def test_past_stays_are_those_of_jobs_that_were_finished() -> None:
    """Whatever becomes of jobs that end later changes nothing."""
    asked = cases(past(drawn("urgent", 2), 2, 30))
    moment = asked[len(asked) // 2].as_of
    other = [replace(one, open_h=9 * one.open_h) if one.ends >= moment else one for one in asked]
    early = [i for i, one in enumerate(asked) if one.as_of <= moment]
    assert sum(one.ends < moment for one in asked) > FEWEST
    assert (nearest(asked)[early] == nearest(other)[early]).all()
    assert not (nearest(asked) == nearest(other)).all()


def test_what_the_oracle_saw_is_kept_for_the_next_learner(tmp_path: Path) -> None:
    asked = Asked(rows=3, clones=2, folder=tmp_path)
    first = asked.oracle(drawn("parttime", 2), 2, 8)
    (file,) = tmp_path.iterdir()
    file.write_text(file.read_text("utf-8").replace(first[0].moment, "again", 1), "utf-8")
    assert asked.oracle(drawn("parttime", 2), 2, 8) == [
        replace(first[0], moment="again"), *first[1:]
    ]  # fmt: skip


def test_the_files_read_back_as_what_they_were_written_from(tmp_path: Path) -> None:
    write(made(), tmp_path)
    history = read_history(tmp_path / "history.csv")
    assert not history.faults
    assert len(history.rows) == len(made().records)
    for read, was in zip(history.rows, made().records, strict=True):
        assert math.isclose(read.actual_h, was.actual_h, abs_tol=1e-6)
        assert replace(read, actual_h=was.actual_h) == was
    assert list(read_spans(tmp_path / "spans.csv").rows) == made().spans
    assert list(read_open(tmp_path / "open.csv").rows) == made().open_spans
    assert people_of(read_people(tmp_path / "people.csv").rows) == made().people
