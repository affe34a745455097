"""What may still have to be done on a job: as it stands, and as open decisions may make it."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import cast

from store.file.learned.hand import Hand, HandPhase
from store.learn.records import PhaseClass, Planned
from store.rules import routes
from store.rules.book import WorkBook
from store.rules.forks import Fork, Question, forks, open_after
from store.rules.route_check import qualifying
from store.rules.route_end import still_needed
from store.trouble import Refused

ROOM = 100
"""Between the numbers of two phases of a route, for those that an answer may add."""

Chances = Callable[[Question], Sequence[float]]


@dataclass(frozen=True, slots=True)
class Piece:
    """One phase of a route, as the learners ask for it.

    Attributes:
        seq: its order; `ROOM` times its place in the route as it stands.
        kind: labour, standing or outwork.
        book_h: hours of the book: of labour, of the wall clock, of the shop.
        done: finished.
    """

    seq: int
    kind: str
    planned: Planned
    done: bool = False

    @property
    def left_labour(self) -> bool:
        """There is labour to do in it."""
        return self.kind == "labour" and not self.done and self.planned.book_h > 0


@dataclass(frozen=True, slots=True)
class Branch:
    """One way that a job may go, with its odds."""

    odds: float
    pieces: tuple[Piece, ...]

    def planned(self) -> list[Planned]:
        """Labour that is left, in the order of the route."""
        return [one.planned for one in self.pieces if one.left_labour]


def as_it_stands(hand: Hand) -> Branch:
    """Return the route with nothing answered that is open."""
    return Branch(1.0, tuple(_piece(one) for one in hand.phases if one.row.state != "skipped"))


def branches(hand: Hand, book: WorkBook | None, chances: Chances) -> list[Branch]:
    """Return the ways that a job may go, the likeliest first; their odds sum to 1.

    Args:
        book: the version that the job was taken with.
        chances: gives the odds of each answer.
    """
    if book is None or not hand.asked:
        return [as_it_stands(hand)]
    return [Branch(one.odds, _route(hand, book, one)) for one in forks(hand.asked, chances)]


def _route(hand: Hand, book: WorkBook, fork: Fork) -> tuple[Piece, ...]:
    """The route as it would be: what was done stays done."""
    if not fork.sets and fork.ends is None:
        return as_it_stands(hand).pieces
    try:
        laid = routes.lay(
            book, operations=hand.operations, family=hand.family,
            options={**hand.options, **fork.sets}, grade=hand.grade,
        )  # fmt: skip
    except Refused:  # no route can be laid so: nobody will answer so
        return as_it_stands(hand).pieces
    if not hand.agreed:
        laid = qualifying(laid)
    return _changed(hand, laid) if fork.ends is None else _ended(hand, laid, fork.ends)


def _ended(hand: Hand, laid: Sequence[routes.RoutePhase], phase: str) -> tuple[Piece, ...]:
    """All up to the phase in which the planned work ends, and what gives the vehicle back."""
    there = [one for one in hand.phases if one.row.state != "skipped"]
    last = next((one.seq for one in there if one.row.code == phase), 0)
    done = [one for one in there if one.seq <= last or one.row.state != "to come"]
    codes = {one.row.code for one in done}
    conditions = {*hand.conditions, *open_after([one for one in laid if one.phase.code in codes])}
    stays = set(still_needed(laid, codes, sorted(conditions)))
    return tuple(_piece(one) for one in there if one in done or one.row.code in stays)


def _changed(hand: Hand, laid: Sequence[routes.RoutePhase]) -> tuple[Piece, ...]:
    there = {one.row.code: one for one in hand.phases if one.row.state != "skipped"}
    found = {one.seq * ROOM: _piece(one) for one in there.values() if one.row.state == "finished"}
    seq = 0
    for one in laid:
        known = there.get(one.phase.code)
        if known is not None:
            seq = max(seq, known.seq * ROOM)
            if known.left:
                found[known.seq * ROOM] = _rated(known, one)
        else:
            seq += 1
            found[seq] = _new(seq, one)
    return tuple(found[at] for at in sorted(found))


def _piece(phase: HandPhase) -> Piece:
    row = phase.row
    return Piece(
        phase.seq * ROOM, row.kind,
        Planned(
            row.code, phase.seq, row.book_h / phase.learned, cast("PhaseClass", row.phase_class),
            tuple(json.loads(row.serves)), phase.technician, phase.labour_h, phase.extra_h,
        ),
        not phase.left,
    )  # fmt: skip


def _rated(phase: HandPhase, laid: routes.RoutePhase) -> Piece:
    """A phase whose book hours are others beside the changed route."""
    piece = _piece(phase)
    return replace(piece, planned=replace(piece.planned, book_h=laid.book.middle / laid.learned))


def _new(seq: int, laid: routes.RoutePhase) -> Piece:
    phase = laid.phase
    return Piece(
        seq, phase.kind,
        Planned(phase.code, seq, laid.book.middle / laid.learned, phase.phase_class, laid.serves),
    )  # fmt: skip


def of_route(laid: Sequence[routes.RoutePhase], technician: str | None = None) -> Branch:
    """Return a route that nobody has begun.

    Args:
        technician: who would do all of it.
    """
    pieces = [_new(n * ROOM, one) for n, one in enumerate(laid, 1)]
    return Branch(
        1.0,
        tuple(replace(one, planned=replace(one.planned, technician=technician)) for one in pieces),
    )
