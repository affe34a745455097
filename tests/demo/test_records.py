"""Records of the demo's finished jobs, compared with what the file holds of them."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest

from store.file.shop import Shop
from store.views.about import last_entry_at
from store.views.record.page import record
from tui.papers.record import record_paper
from tui.papers.text import text_of

PICKED = 12
"""Finished jobs that are looked through, those of which most is written down."""
FACTS = {
    "vehicle": "select coalesce(vin, label), coalesce(plate, label), coalesce(engine, label) "
               "from job join vehicle using (vehicle) where job = ?",
    "complaint": "select complaint from job where job = ? and complaint is not null",
    "extra work": "select text from supplement where job = ? and state != 'withdrawn'",
    "advice": "select text from finding where job = ? and kind = 'advice' and not withdrawn",
    "parts": "select text, batch from part where job = ? and state = 'fitted'",
    "outwork": "select firm, report from outwork where job = ? and back_at is not null",
    "who signed": "select distinct name from signature join person using (person) join step "
                  "using (job, phase, step) where signature.job = ? and kind = 'hold point'",
    "points": "select distinct spec ->> '$.text' from signature join step using (job, phase, step) "
              "join phase using (job, phase) join book_step on book_step.version = phase.version "
              "and book_step.phase = phase.code and book_step.code = step.code "
              "where signature.job = ? and step.kind = 'hold point'",
    "limits": "select source from step_limit where job = ?",
    "what follows": "select what, who from follow_up where job = ? and state != 'withdrawn'",
    "handed over": "select name from handed_over join person on person = by where job = ?",
    "phases": "select name from phase where job = ?",
}  # fmt: skip
"""What a record must hold, and where the file has it."""


@pytest.fixture(name="shop", scope="module")
def shop_fixture(demo_file: Path) -> Iterator[tuple[Shop, datetime]]:
    shop = Shop(demo_file)
    at = last_entry_at(shop)
    assert at is not None
    yield shop, at
    shop.close()


@pytest.fixture(name="db", scope="module")
def db_fixture(shop: tuple[Shop, datetime]) -> Iterator[sqlite3.Connection]:
    with closing(sqlite3.connect(f"file:{shop[0].path}?mode=ro", uri=True)) as db:
        yield db


@pytest.fixture(name="jobs", scope="module")
def jobs_fixture(db: sqlite3.Connection) -> list[str]:
    rows = db.execute(
        "select job, (select count(*) from finding where finding.job = handed_over.job) + "
        "(select count(*) from signature where signature.job = handed_over.job and void) + "
        "2 * (select count(*) from outwork where outwork.job = handed_over.job) as much "
        "from handed_over order by much desc, job limit ?",
        [PICKED],
    )
    return [row[0] for row in rows]


@pytest.mark.parametrize("fact", FACTS)
def test_whatever_the_file_holds_of_a_finished_job_stands_on_its_record(
    shop: tuple[Shop, datetime], db: sqlite3.Connection, jobs: list[str], fact: str
) -> None:
    assert len(jobs) == PICKED
    for job in jobs:
        found = record(shop[0], job, shop[1], names=True, hours=True)
        text = "".join("".join(text_of(record_paper(found), 400)).split())
        for row in db.execute(FACTS[fact], [job]):
            for value in row:
                assert value is None or "".join(str(value).split()) in text, (job, value)


def test_every_reading_is_there_void_ones_too(
    shop: tuple[Shop, datetime], db: sqlite3.Connection, jobs: list[str]
) -> None:
    for job in jobs:
        found = record(shop[0], job, shop[1])
        told = sum(
            len(value.places)
            for point in found.points
            for signed in point.signed
            for value in signed.values
        )
        (kept,) = db.execute(
            "select count(*) from signature join step using (job, phase, step), "
            "json_each(readings) where signature.job = ? and kind = 'hold point'",
            [job],
        ).fetchone()
        assert told == kept, job
