"""The shop as if one act were done now: a moment in, a moment out, nothing written."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from store.edges.instants import to_text
from store.file.learned.hand import Hand, HandPhase, Stretch
from store.file.learned.moment import Moment
from store.learn.dates.spans import Span
from store.rules.acts import Act, ActKind


@dataclass(frozen=True, slots=True)
class Changed:
    """A moment that is not, and the jobs of which something is other than it is.

    Attributes:
        line: the line that waits, or who stands on a lift, is other too.
        back: a job off its lift that needs one again.
    """

    moment: Moment
    jobs: frozenset[str]
    line: bool = False
    back: str | None = None


def as_if(moment: Moment, act: Act) -> Changed | None:
    """Return the shop as if an act were done now; None where no forecast would move."""
    change = CHANGES.get(act.kind)
    if change is None or act.job is None or act.job not in moment.hands:
        return None
    return change(moment, act, act.job)


def as_if_refused(moment: Moment, act: Act) -> Changed | None:
    """Return the shop as if the customer said no to extra work; None for any other act."""
    if act.kind != "answer" or act.job is None or act.job not in moment.hands:
        return None
    released = _released(moment, act, act.job)
    hand = released.moment.hands[act.job]
    without = _with_phase(
        hand, act.phase, lambda one: replace(one, extra_h=max(0.0, one.extra_h - act.hours))
    )
    return Changed(_with_hand(released.moment, without), released.jobs)


def free_of_holds(moment: Moment, job: str) -> Moment:
    """Return the shop as if nothing held a job any more."""
    return _ended(moment, job, lambda one: True)


def _released(moment: Moment, act: Act, job: str) -> Changed:
    """A hold ends now."""
    ends = set(act.ends)
    return Changed(
        _ended(moment, job, lambda one: (one.reason, one.started) in ends), frozenset({job})
    )


def _stands(moment: Moment, act: Act, job: str) -> Changed:
    """A reading is let stand; where it takes two names, the second is owed from then on."""
    released = _released(moment, act, job)
    if act.owed_since is None:
        return released
    hand = _with_phase(
        moment.hands[job], act.phase, lambda one: replace(one, owed_since=act.owed_since)
    )
    return Changed(_with_hand(released.moment, hand), released.jobs)


def _ended(moment: Moment, job: str, which: Callable[[Span], bool]) -> Moment:
    now = moment.now.timestamp()
    spans = tuple(
        replace(one, ended=now)
        if one.job == job and one.kind == "held" and one.ended is None and which(one)
        else one
        for one in moment.spans
    )
    return replace(moment, spans=spans)


def _signed(moment: Moment, act: Act, job: str) -> Changed:
    """Another person's name is there."""
    hand = moment.hands[job]
    named = _with_phase(hand, act.phase, lambda one: replace(one, owed_since=None))
    return Changed(_with_hand(moment, named), frozenset({job}))


def _manned(moment: Moment, act: Act, job: str) -> Changed:
    """Somebody's clock begins on a phase now."""
    assert act.badge is not None
    since, badge = moment.now.timestamp(), act.badge
    begun = _with_phase(
        moment.hands[job], act.phase,
        lambda one: replace(
            one, clocks=(*one.clocks, Stretch(badge, since, None, 0.0, False)),
            row=one.row._replace(
                state="under way", begun_at=one.row.begun_at or to_text(moment.now)
            ),
        ),
    )  # fmt: skip
    seq = next(one.seq for one in begun.phases if one.row.phase == act.phase)
    span = Span(job, seq, "labour", "", badge, since, None)
    return Changed(
        replace(_with_hand(moment, begun), spans=(*moment.spans, span)), frozenset({job})
    )


def _brought_in(moment: Moment, act: Act, job: str) -> Changed:
    """It stands on a lift now; those behind it move up."""
    hand = moment.hands[job]
    place = hand.line
    hands = {
        name: replace(one, line=one.line - 1)
        if place is not None and one.line is not None and one.line > place
        else one
        for name, one in moment.hands.items()
    }
    hands[job] = replace(hand, been_on=True, line=None)
    lifts = moment.lifts.with_job(job, act.lift)
    return Changed(replace(moment, hands=hands, lifts=lifts), frozenset({job}), line=True)


def _cleared(moment: Moment, act: Act, job: str) -> Changed:
    """It stands on no lift any more, and needs one again once it can go on."""
    lifts = moment.lifts.with_job(job, None)
    return Changed(replace(moment, lifts=lifts), frozenset(), line=True, back=job)


def _earlier(moment: Moment, act: Act, job: str) -> Changed | None:
    """It comes in before another that waits; that one and those between come in one later."""
    other = moment.hands.get(act.line or "")
    here, place = moment.hands[job].line, None if other is None else other.line
    if here is None or place is None or place >= here:
        return None
    hands = {
        name: replace(one, line=one.line + 1)
        if one.line is not None and place <= one.line < here
        else one
        for name, one in moment.hands.items()
    }
    hands[job] = replace(moment.hands[job], line=place)
    return Changed(replace(moment, hands=hands), frozenset(), line=True)


def _with_phase(hand: Hand, phase: str | None, change: Callable[[HandPhase], HandPhase]) -> Hand:
    return replace(
        hand,
        phases=tuple(change(one) if one.row.phase == phase else one for one in hand.phases),
    )


def _with_hand(moment: Moment, hand: Hand) -> Moment:
    return replace(moment, hands={**moment.hands, hand.job: hand})


CHANGES: Mapping[ActKind, Callable[[Moment, Act, str], Changed | None]] = {
    "answer": _released, "release": _released, "let stand": _stands, "sign": _signed,
    "person": _manned, "bring in": _brought_in, "clear": _cleared,
    "line": _earlier,
}  # fmt: skip
