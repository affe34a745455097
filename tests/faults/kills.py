"""Processes killed at work: acting, loading a work book."""

from __future__ import annotations

from functools import partial

from tests.faults.kills_left import acts_left, goes_on, ready
from tests.faults.kills_run import Kind, killed
from tests.faults.row import Row
from tests.faults.traced import lacks_tracing

MADE = "SIGKILL just before or after a call of the disk picked at random, three in ten at a moment"
KNOWN = "wait status is SIGKILL; an act was announced on a pipe and not acknowledged"
KNOWN_STAGE = "wait status is SIGKILL; the beginning was announced on a pipe, the end was not"

ACTS = Kind("acts", "transaction", ready, acts_left, goes_on, aim="before pwrite64")
BOOK = Kind("book", "transaction", ready, acts_left, goes_on, aim="before pwrite64")
ROWS: tuple[Row, ...] = (
    Row(
        "killed while acting", MADE, KNOWN,
        "the transaction: each statement by itself; half an act stays, the file does not verify",
        partial(killed, ACTS),
        quick=4, long=200, bare=8, lacks=lacks_tracing,
    ),
    Row(
        "killed while loading a work book", MADE, KNOWN,
        "the transaction; the book stands without its operations or its entry",
        partial(killed, BOOK),
        quick=2, long=40, bare=8, lacks=lacks_tracing,
    ),
)  # fmt: skip
