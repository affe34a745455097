"""What `learned` says of waiting and of odds, as text and as its part of the document."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from tui.cli.answer import Document, hours
from tui.cli.sentences import items
from tui.words import plain

if TYPE_CHECKING:
    from store.views.learned_odds import Odds
    from store.views.learned_waits import AwayHere, HoldHere, PaceHere, Waits

MOST = 20
"""So many odds are said, those furthest from the book; all of them with --json."""


def waits_lines(found: Waits) -> Iterator[str]:
    """Holds, pace, standing and outwork in plain words; no line where nothing is known."""
    if found.pace is not None:
        yield ""
        yield f"Waiting, in hours the shop is open; a shop day has {found.day_h:.1f} of them:"
        yield from items((found.pace.says, *(one.says for one in found.holds)))
    standing = [plain(one.says) for one in found.away if one.kind == "standing"]
    outwork = [plain(one.says) for one in found.away if one.kind != "standing"]
    if standing:
        yield ""
        yield "Standing, in hours of the clock, nights too:"
        yield from items(standing)
    if outwork:
        yield ""
        yield "Outwork, in hours the shop is open:"
        yield from items(outwork)


def odds_lines(found: tuple[Odds, ...]) -> Iterator[str]:
    """Answers and surprises that nobody takes for granted."""
    apart = sorted((one for one in found if one.rare), key=lambda one: -one.away)
    if apart:
        yield ""
        yield "Answers and surprises, furthest from the book's odds first:"
        yield from items(plain(one.says) for one in apart[:MOST])


def waits_document(found: Waits) -> Document:
    """Waiting as its document."""
    return {
        "day_hours": hours(found.day_h),
        "pace": None if found.pace is None else _pace(found.pace),
        "holds": [_hold(one) for one in found.holds],
        "away": [_away(one) for one in found.away],
    }


def _pace(pace: PaceHere) -> Document:
    return {
        "labour_hours_a_day": hours(pace.labour_h),
        "in_hands": round(pace.told.in_hands, 4),
        "worked_hours": hours(pace.told.worked_h),
        "says": pace.says,
    }


def _hold(hold: HoldHere) -> Document:
    told = hold.told
    said = told.said > 0
    return {
        "reason": told.reason,
        "count": told.count,
        "labour_hours_apart": None if told.apart_h is None else hours(told.apart_h),
        "middle": hours(told.middle_h),
        "one_in_ten_over": hours(told.tenth_h),
        "said": told.said,
        "times_as_said": round(told.times, 4) if said else None,
        "one_in_ten_over_times": round(told.tenth_times, 4) if said else None,
        "says": hold.says,
    }


def _away(away: AwayHere) -> Document:
    return {
        "phase": away.phase,
        "kind": away.kind,
        "book_hours": hours(away.book_h),
        "middle": hours(away.middle_h),
        "one_in_ten_over": None if away.tenth_h is None else hours(away.tenth_h),
        "count": away.count,
        "says": away.says,
    }


def odds_document(odds: Odds) -> Document:
    """An answer or a surprise as its document."""
    return {
        "phase": odds.phase,
        "step": odds.step,
        "code": odds.code,
        "kind": "surprise" if odds.step is None else "answer",
        "times": odds.times,
        "of": odds.of,
        "book_chance": round(odds.book, 4),
        "chance": None if odds.chance is None else round(odds.chance, 4),
        "says": odds.says,
    }
