"""What the events of one job teach: one rule at a time."""

from __future__ import annotations

from collections.abc import Sequence

from numpy.testing import assert_allclose

from store.learn.dates.seen import (
    AwayLasted,
    Begun,
    HoldBegan,
    HoldLasted,
    PhaseDone,
    Seen,
    Waited,
    Worked,
)
from store.learn.dates.spans import Span
from store.learn.dates.stay import Stay
from store.learn.records import Record
from tests.store.learn.dates.made import HOURS, at, done, happened, span, step, taught


def waits(spans: list[Span], records: Sequence[Record] = ()) -> list[tuple[str, int, float]]:
    """Kind, phase and open hours of each wait."""
    _, seen = taught(spans, list(records))
    return [
        (one.kind, one.step.seq, round(one.until - one.since, 6))
        for one in seen
        if isinstance(one, Waited)
    ]


def holds(spans: list[Span], records: Sequence[Record] = ()) -> list[tuple[str, int, int]]:
    """Where each hold fell, of which phase it counts, how many phases ahead it lies."""
    _, seen = taught(spans, list(records))
    return [(one.where, one.step.seq, one.rank) for one in seen if isinstance(one, HoldBegan)]


def until(moment: float, spans: list[Span], records: Sequence[Record] = ()) -> Stay:
    """The stay as it is at a moment."""
    stay = Stay("J1", (step(1), step(2), step(3)), HOURS)
    for event in happened(spans, list(records)):
        if event.at < moment:
            list(stay.take(event))
    return stay


def test_a_clock_is_exposure_in_open_hours_breaks_cut_out() -> None:
    _, seen = taught([span(1, "labour", at(0, 11), at(0, 14))])
    worked = [one for one in seen if isinstance(one, Worked)]
    assert [(one.step.seq, one.until - one.since) for one in worked] == [(1, 2.0)]


def test_two_at_once_are_one_stretch_of_work() -> None:
    pair = [
        span(1, "labour", at(0, 8), at(0, 10)),
        span(1, "labour", at(0, 9), at(0, 11), who="B2"),
    ]
    _, seen = taught(pair)
    assert_allclose(sum(one.until - one.since for one in seen if isinstance(one, Worked)), 3.0)


def test_the_first_clock_of_a_stay_waited_for_nobody() -> None:
    assert waits([span(1, "labour", at(0, 9), at(0, 10))]) == []


def test_a_gap_within_a_phase_is_a_wait_inside() -> None:
    spans = [span(1, "labour", at(0, 8), at(0, 9)), span(1, "labour", at(0, 11), at(0, 12))]
    assert waits(spans) == [("inside", 1, 2.0)]


def test_a_gap_before_the_next_phase_is_a_wait_between() -> None:
    spans = [span(1, "labour", at(0, 8), at(0, 9)), span(2, "labour", at(0, 11), at(0, 12))]
    assert waits(spans, [done(1, at(0, 9))]) == [("between", 2, 2.0)]


def test_over_night_is_no_wait() -> None:
    spans = [span(1, "labour", at(0, 15), at(0, 17)), span(2, "labour", at(1, 8), at(1, 9))]
    assert waits(spans, [done(1, at(0, 17))]) == [("between", 2, 0.0)]


def test_after_a_hold_the_wait_begins_with_its_end() -> None:
    spans = [
        span(1, "labour", at(0, 8), at(0, 9)),
        span(1, "held", at(0, 9), at(0, 14), who="parts"),
        span(1, "labour", at(0, 16), at(0, 17)),
    ]
    assert waits(spans) == [("inside", 1, 0.0), ("after", 1, 2.0)]


def test_waiting_that_a_hold_puts_an_end_to_was_a_wait() -> None:
    spans = [
        span(1, "labour", at(0, 8), at(0, 9)),
        span(2, "held", at(0, 11), at(0, 14), who="parts"),
        span(2, "labour", at(0, 14), at(0, 15)),
    ]
    assert waits(spans, [done(1, at(0, 9))]) == [("between", 2, 2.0), ("after", 2, 0.0)]


def test_nobody_knows_how_long_a_hold_released_late_had_been_over() -> None:
    spans = [
        span(1, "labour", at(0, 8), at(0, 9)),
        span(1, "held", at(0, 9), at(2, 9), who="parts"),
        span(1, "labour", at(1, 9), at(1, 10)),
        span(1, "labour", at(1, 11), at(1, 12)),
    ]
    assert waits(spans) == [("inside", 1, 0.0), ("inside", 1, 1.0)]


def test_a_hold_on_a_later_phase_is_not_the_last_thing_until_the_job_has_come_there() -> None:
    spans = [
        span(1, "labour", at(0, 8), at(0, 9)),
        span(3, "held", at(0, 8.5), at(0, 10), who="parts"),
        span(2, "labour", at(0, 11), at(0, 12)),
        span(3, "labour", at(0, 14), at(0, 15)),
    ]
    assert waits(spans, [done(1, at(0, 9)), done(2, at(0, 12))]) == [
        ("between", 2, 2.0),
        ("between", 3, 1.0),
    ]


def test_a_job_that_came_to_a_held_phase_waits_only_after_the_hold() -> None:
    spans = [
        span(1, "labour", at(0, 8), at(0, 9)),
        span(2, "held", at(0, 8.5), at(0, 15), who="parts"),
        span(2, "labour", at(0, 16), at(0, 17)),
    ]
    assert waits(spans, [done(1, at(0, 9))]) == [("after", 2, 1.0)]


def test_holds_fall_inside_before_or_on_a_later_phase() -> None:
    spans = [
        span(1, "labour", at(0, 8), at(0, 10)),
        span(1, "held", at(0, 10), at(0, 11), who="tool"),
        span(3, "held", at(0, 9), at(0, 16), who="parts"),
        span(1, "labour", at(0, 11), at(0, 12)),
        span(2, "held", at(0, 12), at(0, 13), who="person"),
    ]
    assert holds(spans, [done(1, at(0, 12))]) == [
        ("later", 1, 2),
        ("inside", 1, 0),
        ("before", 2, 0),
    ]


def test_every_phase_but_the_first_could_have_been_held_before_it_began() -> None:
    spans = [span(n, "labour", at(0, 8 + n), at(0, 9 + n)) for n in (1, 2, 3)]
    _, seen = taught(spans, [done(n, at(0, 9 + n)) for n in (1, 2, 3)])
    assert [one.step.seq for one in seen if isinstance(one, Begun)] == [2, 3]


def test_a_hold_teaches_its_open_hours_and_those_that_were_said() -> None:
    held = span(1, "held", at(0, 16), at(1, 10), who="parts", said=at(1, 9))
    _, seen = taught([span(1, "labour", at(0, 8), at(0, 16)), held])
    (lasted,) = [one for one in seen if isinstance(one, HoldLasted)]
    assert (lasted.reason, lasted.hours, lasted.said_h) == ("parts", 3.0, 2.0)


def test_standing_goes_on_at_night_outwork_does_not() -> None:
    route = (step(1), step(2, "standing"), step(3, "outwork"), step(4))
    spans = [
        span(1, "labour", at(0, 8), at(0, 16)),
        span(2, "standing", at(0, 16), at(1, 8)),
        span(3, "outwork", at(1, 8), at(2, 10), who="Firm"),
    ]
    _, seen = taught(spans, [done(1, at(0, 16))], route)
    away = [one for one in seen if isinstance(one, AwayLasted)]
    assert [(one.step.seq, one.hours, one.firm) for one in away] == [
        (2, 16.0, ""),
        (3, 10.0, "Firm"),
    ]


def test_work_further_on_while_parts_are_away_is_seen() -> None:
    route = (step(1), step(2, "outwork"), step(3))
    away = span(2, "outwork", at(0, 9), at(2, 9), who="Firm")
    first = span(1, "labour", at(0, 8), at(0, 9))
    beside, after = span(3, "labour", at(1, 9), at(1, 10)), span(3, "labour", at(2, 9), at(2, 10))
    for clock, seen_beside in ((beside, True), (after, False)):
        _, seen = taught([first, away, clock], [done(1, at(0, 9))], route)
        assert [one.beside for one in seen if isinstance(one, AwayLasted)] == [seen_beside]


def test_a_finished_phase_compares_open_hours_with_labour() -> None:
    pair = [span(1, "labour", at(0, 8), at(0, 10), who=who) for who in ("B1", "B2")]
    _, seen = taught(pair, [done(1, at(0, 10), hours=4.0)])
    (phase,) = [one for one in seen if isinstance(one, PhaseDone)]
    assert (phase.hours, phase.labour_h) == (2.0, 4.0)


def test_a_job_waits_since_the_last_thing_ended() -> None:
    spans = [span(1, "labour", at(0, 8), at(0, 9)), span(2, "labour", at(0, 16), at(0, 17))]
    stay = until(at(0, 12), spans, [done(1, at(0, 9))])
    assert (stay.waiting_since, stay.waiting_kind) == (HOURS.upto(at(0, 9)), "between")
    assert until(at(0, 16.5), spans, [done(1, at(0, 9))]).waiting_since is None


def test_a_held_job_waits_for_nobody() -> None:
    spans = [
        span(1, "labour", at(0, 8), at(0, 9)),
        span(1, "held", at(0, 9), at(0, 15), who="tool"),
    ]
    assert until(at(0, 12), spans).waiting_since is None
    assert until(at(0, 16), spans).waiting_since == HOURS.upto(at(0, 15))


def test_a_hold_of_a_phase_that_was_left_out_keeps_the_next_one() -> None:
    route = (step(1), step(4))
    held = span(2, "held", at(0, 9), at(0, 11), who="parts")
    _, seen = taught([span(1, "labour", at(0, 8), at(0, 9)), held], [done(1, at(0, 9))], route)
    assert [one.step.seq for one in seen if isinstance(one, HoldBegan)] == [4]


def test_nothing_is_left_of_a_finished_job() -> None:
    spans = [span(n, "labour", at(0, 8 + n), at(0, 9 + n)) for n in (1, 2, 3)]
    stay = until(at(1, 8), spans, [done(n, at(0, 9 + n)) for n in (1, 2, 3)])
    assert stay.remaining == ()
    assert stay.waiting_since is None


def test_what_goes_unnamed_teaches_no_wait() -> None:
    kinds = {type(one) for one in _all_kinds()}
    assert kinds == {Worked, Waited, PhaseDone, Begun}


def _all_kinds() -> list[Seen]:
    spans = [span(1, "labour", at(0, 8), at(0, 9)), span(2, "labour", at(0, 9), at(0, 10))]
    return taught(spans, [done(1, at(0, 9)), done(2, at(0, 10))])[1]
