"""When a job will need its kits: draws of the walks that its forecast is made of.

Draw k is the k-th part of how the shop is to get on, the best first, in every job: what is shared
is the same in it, all else is each job's own. Jobs that wait for a lift wait together likewise.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from zlib import crc32

import numpy as np

from store.file.kits.wanted import Wanted
from store.file.learned.kept_needs import DRAWS, LONGEST_H, PARTS, KitNeed, StretchDrawn
from store.file.learned.line import table
from store.learn.arrays import Floats, Ints
from store.sums.mixing import Quantiles

LINE = "the line"
LEAST_H = 2 / PARTS


@dataclass(frozen=True, slots=True)
class WayWalked:
    """One way that a job may go, walked to its end.

    Attributes:
        seqs: of the phases ahead, as branches number them; none where nothing is left.
        starts, ends: (draws, phases ahead) open hours from when its stay begins.
        shop: (draws,) how the shop is to get on.
    """

    odds: float
    seqs: tuple[int, ...] = ()
    starts: Floats | None = None
    ends: Floats | None = None
    shop: Floats | None = None


@dataclass(frozen=True, slots=True)
class Made:
    """Of which moment what is made is.

    Attributes:
        seq, fit_seq: the newest entry known, and the newest that what was learned knew.
        at: the instant.
    """

    seq: int
    fit_seq: int
    at: datetime


def needs(
    made: Made,
    wanted: Sequence[Wanted],
    seqs: dict[str, int],
    ways: Sequence[WayWalked],
    waits: Floats,
) -> tuple[KitNeed, ...]:
    """Return when a job needs each of its kits.

    Args:
        wanted: its stretches, one at least.
        seqs: of its phases, by number.
        ways: that it may go; their draws are taken in proportion to their odds.
        waits: (draws,) open hours before its stay begins.
    """
    job = wanted[0].job
    taken = [_taken(one, rows) for one, rows in zip(ways, _rows(job, ways), strict=True)]
    ends = np.concatenate([one.finish for one in taken])
    back = np.argsort(np.concatenate([one.places for one in taken]))
    finishes = np.minimum(ends[back] + waits, LONGEST_H)
    drawn = [_drawn(one, seqs, taken, back, waits, finishes) for one in wanted]
    by_kit = {kit: [one for one, each in zip(drawn, wanted, strict=True) if each.kit == kit]
              for kit in dict.fromkeys(one.kit for one in wanted)}  # fmt: skip
    return tuple(
        KitNeed(job, kit, made.seq, made.fit_seq, made.at, tuple(each), tuple(finishes.tolist()))
        for kit, each in by_kit.items()
    )


def drawn(quantiles: Quantiles | None, whose: str) -> Floats:
    """(draws,) of a forecast that is 19 quantiles; None is nothing.

    Args:
        whose: the same name gives the same level in each draw.
    """
    if quantiles is None:
        return np.zeros(DRAWS)
    known = table(quantiles)
    return known[(_levels(whose) * len(known)).astype(np.int64)]


def _levels(whose: str) -> Floats:
    """(draws,) above 0, below 1, one in each of as many equal parts."""
    rng = np.random.Generator(np.random.PCG64(crc32(whose.encode())))
    found: Floats = (rng.permutation(DRAWS) + 0.5) / DRAWS
    return found


@dataclass(frozen=True, slots=True)
class _Taken:
    """Draws of one way: where they go among the kept ones, and which rows of its walk they are."""

    way: WayWalked
    places: Ints
    rows: Ints

    @property
    def finish(self) -> Floats:
        """Hours until nothing is left."""
        if self.way.ends is None:
            return np.zeros(len(self.rows))
        found: Floats = self.way.ends[self.rows, -1]
        return found

    def bounds(self, uses: Sequence[int], frees: Sequence[int]) -> tuple[Floats, Floats] | None:
        """From the first phase that uses a kit to the last that frees it; None: no such phase."""
        column = {seq: n for n, seq in enumerate(self.way.seqs)}
        first = [column[one] for one in uses or frees if one in column]
        last = [column[one] for one in frees if one in column]
        if self.way.starts is None or self.way.ends is None or not first or not last:
            return None
        starts, ends = self.way.starts[self.rows], self.way.ends[self.rows]
        return starts[:, first].min(axis=1), ends[:, last].max(axis=1)


def _rows(job: str, ways: Sequence[WayWalked]) -> list[Ints]:
    """Which of the kept draws are of each way: as many as its odds, in an order of the job."""
    order = np.argsort(_levels(f"{job} ways"))
    upto = np.round(np.cumsum([one.odds for one in ways]) / sum(one.odds for one in ways) * DRAWS)
    return [np.sort(one) for one in np.split(order, upto[:-1].astype(np.int64))]


def _taken(way: WayWalked, places: Ints) -> _Taken:
    if way.shop is None:
        return _Taken(way, places, np.zeros(len(places), np.int64))
    ranks = ((places + 0.5) * len(way.shop) / DRAWS).astype(np.int64)
    return _Taken(way, places, np.argsort(way.shop, kind="stable")[ranks])


def _drawn(
    wanted: Wanted,
    seqs: dict[str, int],
    taken: Sequence[_Taken],
    back: Ints,
    waits: Floats,
    finishes: Floats,
) -> StretchDrawn:
    uses, frees = [seqs[one] for one in wanted.uses], [seqs[one] for one in wanted.frees]
    starts, ends = np.empty(DRAWS), np.empty(DRAWS)
    for one in taken:
        found = one.bounds(uses, frees)
        at = one.places
        if found is None:
            starts[at] = ends[at] = finishes[at]
            continue
        starts[at] = np.minimum(found[0] + waits[at], LONGEST_H - LEAST_H)
        ends[at] = np.clip(found[1] + waits[at], starts[at] + LEAST_H, LONGEST_H)
    return StretchDrawn(wanted.phases, tuple(starts.tolist()), tuple(ends.tolist()))
