"""Finished phases for tests, as they come from outside."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from store.learn.records import Record

START = datetime(2024, 3, 4, 7, 0, tzinfo=UTC).timestamp()
HOUR = 3600.0


def finished(job: str = "88", seq: int = 1, **more: Any) -> Record:
    """A finished phase; every job begins a week after the one before, every phase a day."""
    number = int(job) if job.isdecimal() else 0
    started = START + number * 168 * HOUR + seq * 24 * HOUR
    fields: dict[str, Any] = {
        "job": job, "template": "CL", "variant": "B4-M-F", "phase": f"CL{seq}", "seq": seq,
        "technician": "B12", "started": started, "closed": started + 3 * HOUR, "book_h": 2.0,
        "actual_h": 2.5,
    }  # fmt: skip
    return Record(**{**fields, **more})
