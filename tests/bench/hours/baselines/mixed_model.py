"""A reference mixed-model library, fitted to the log ratios again and again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from store.learn.records import Record
from tests.bench.hours.rows import Row

LIBRARY = "statsmodels.regression.mixed_linear_model"


def hours(records: Iterable[Record]) -> Iterator[Row]:
    raise NotImplementedError
