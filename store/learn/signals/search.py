"""What changed and where the book is wrong, in the work of a shop.

One cause moves many subjects: a phase made faster moves its operations and those who do it. So
each is judged beside the levels of everything else, the loudest that luck hardly explains joins
them, and the rest is judged anew; at the end each once more beside all the others. Thresholds:
`found.ALPHA` over everything together (Bonferroni; `scan` for the dates of one subject), the same
at every step, so at most that often is anything found where nothing is.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from store.learn.records import Record
from store.learn.signals.changes import changes
from store.learn.signals.fit import first
from store.learn.signals.found import FEWEST, Found, Search
from store.learn.signals.heard import Heard
from store.learn.signals.laid import Laid, laid
from store.learn.signals.levels import levels


def search(records: Iterable[Record]) -> Search:
    """Return what luck hardly explains, the surest first. The order of records says nothing."""
    work = laid(records)
    if work is None or work.jobs < 2 * FEWEST:
        return Search((), 0)
    changed, fit = changes(first(work))
    heard = sorted((*changed, *levels(fit, changed)), key=lambda one: one.chance)
    return Search(tuple(_told(work, one) for one in heard), len(work.subjects))


def _told(work: Laid, one: Heard) -> Found:
    subject, job = one.subject, work.job[one.subject.rows]
    share = float(one.weights.mean())
    before = one.middle - one.size * share
    parts = one.weights > 0 if one.kind == "change" else np.ones(len(job), bool)
    book = math.exp(float(work.book[subject.rows].mean())) if subject.what == "phase" else 0.0
    return Found(
        one.kind, subject.what, subject.code, subject.part, one.since, one.early, one.late,
        math.exp(before), math.exp(before + one.size), book,
        len(set(job[~parts].tolist())), len(set(job[parts].tolist())), one.chance,
    )  # fmt: skip
