"""The owner's month as its document: contract's keys first, then all else of the page."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from store.edges.instants import for_zone
from store.views.month.told_values import Chart, ShouldSay, Signal
from store.views.month.values import JobJudged, Month, Way
from store.views.month.way import Figure
from tui.cli.answer import Document, hours, money
from tui.cli.json_accuracy import accuracy, held, line, operation, percent, scored, share
from tui.papers.month_spent import hours_named, money_named


def document(found: Month) -> Document:
    """A month as its document; what its reader may not see is not in it."""
    zone, judged = ZoneInfo(found.zone), found.accuracy
    return {
        "month": found.span.month, "jobs": len(found.jobs),
        "bias_percent": percent(judged.bias), "typical_miss_percent": percent(judged.miss),
        "within_25_percent": share(judged.within),
        "cautious_held_percent": share(judged.cautious),
        "hours": {key: _figure(one) for key, _, one in hours_named(found.hours) if one.unit == "h"},
        "ratios": {
            "utilisation": found.hours.utilisation.value,
            "efficiency": found.hours.efficiency.value,
            "productivity": found.hours.productivity.value,
        },
        "held_hours": {reason: hours(one.value or 0.0) for reason, one in found.held.reasons},
        "money": {
            **{key: _figure(one) for key, _, one in money_named(found.money)},
            "currency": found.currency,
        },
        "by_operation": [operation(one) for one in found.operations],
        "signals": [_signal(one) for one in (*found.signals.found, *found.signals.old)],
        "book_should_say": [_should(one) for one in found.should_say],
        **_more(found, zone),
    }  # fmt: skip


def _more(found: Month, zone: ZoneInfo) -> Document:
    """What the contract does not ask for."""
    return {
        "inside_range_percent": share(found.accuracy.inside), **scored(found.accuracy.scores),
        "shop": found.shop, "at": for_zone(found.at, zone), "as_of_seq": found.as_of_seq,
        "running": found.span.running, "of": found.of, "reader": found.reader,
        "says": list(found.said), "judged": accuracy(found.accuracy), "aim": found.aim,
        "by_phase": [line(one) for one in found.by_phase],
        "by_family": [line(one) for one in found.families],
        "by_lead": [line(one) for one in found.leads],
        "by_kind": [line(one) for one in found.kinds],
        "months_before": [line(one) for one in found.before],
        "closed": [_job(one, zone) for one in found.jobs],
        "promises": {
            "kept": held(found.promises.kept), "first_kept": held(found.promises.first),
            "chance_held": held(found.promises.likely), "chance_told": found.promises.due,
            "says": found.promises.says,
        },
        "changes": {
            "extra_hours": hours(found.changes.extra_h),
            "route_hours": hours(found.changes.route_h),
            "other_hours": hours(found.changes.other_h),
        },
        **_people(found, zone), **_lost(found), **_lifts(found), **_asked(found),
        "charts": [_chart(one) for one in found.signals.charts],
        "watched": found.signals.watched, "false_a_year": found.signals.false_a_year,
        "prices": _prices(found), "made_of": _made_of(found, zone),
    }  # fmt: skip


def _people(found: Month, zone: ZoneInfo) -> Document:
    return {
        "people": [
            {
                "badge": one.badge, "name": one.name, "attended": hours(one.attended_h),
                "on_jobs": hours(one.on_jobs_h), "indirect": hours(one.indirect_h),
                "estimated": hours(one.estimated_h),
            }
            for one in found.hours.people
        ],
        "left_running": [
            {
                "badge": one.badge, "job": one.job, "phase": one.phase,
                "since": for_zone(one.since, zone), "stopped_at": _at(one.stopped_at, zone),
                "seq": one.seq, "says": one.says,
            }
            for one in found.hours.left_running
        ],
        "comebacks": [
            {
                "job": one.job, "of": one.of, "fault": one.fault, "pays": one.pays,
                "hours": hours(one.labour_h), "money": money(one.money),
            }
            for one in found.hours.comebacks
        ],
    }  # fmt: skip


def _lost(found: Month) -> Document:
    return {
        "not_charged": [
            {
                "cause": one.cause, "basis": one.basis, "hours": hours(one.hours),
                "money": money(one.money),
            }
            for one in found.money.not_charged
        ],
    }  # fmt: skip


def _asked(found: Month) -> Document:
    return {
        "quotes": {
            "given": found.quotes.given.value, "agreed": found.quotes.agreed.value,
            "declined": found.quotes.declined.value, "open": found.quotes.open.value,
            "became_jobs": held(found.quotes.became_jobs),
            "supplements": held(found.quotes.supplements), "says": found.quotes.says,
        },
        "odds": [
            {
                "kind": one.kind, "phase": one.phase, "text": one.text, "answer": one.answer,
                "month": held(one.month), "ever": held(one.ever), "book": one.book,
                "says": one.says,
            }
            for one in found.odds
        ],
    }  # fmt: skip


# -- jobs


def _job(one: JobJudged, zone: ZoneInfo) -> Document:
    return {
        "job": one.job, "operations": list(one.operations), "work": one.work,
        "family": one.family, "small": one.small, "lead": one.lead, "basis": one.basis,
        "closed_at": for_zone(one.closed_at, zone), "labour_hours": hours(one.labour_h),
        "first_hours": _hours(one.first_h), "estimate_hours": _hours(one.estimate_h),
        "cautious_hours": _hours(one.cautious_h), "ratio": one.ratio,
        "promised": _at(one.promised, zone), "ready_at": _at(one.ready_at, zone),
    }  # fmt: skip


def _hours(value: float | None) -> float | None:
    return None if value is None else hours(value)


def _at(value: datetime | None, zone: ZoneInfo) -> str | None:
    return None if value is None else for_zone(value, zone)


# -- what was spent, what is said


def _figure(one: Figure) -> float | None:
    return money(one.value) if one.unit == "money" else _hours(one.value)


def _lifts(found: Month) -> Document:
    return {
        "lifts": [
            {
                "lift": one.lift, "open": hours(one.open_h), "worked": hours(one.worked_h),
                "held": hours(one.held_h), "dead": hours(one.dead_h),
                "empty": hours(one.empty_h), "out": hours(one.out_h),
                "earned": money(one.earned), "days": one.days, "per_day": money(one.per_day),
            }
            for one in found.lifts.lifts
        ],
        "booked_ahead_days": _hours(found.lifts.booked_ahead.value),
    }  # fmt: skip


def _signal(one: Signal) -> Document:
    return {
        "what": one.what, "since": one.since.isoformat(), "says": one.says, "code": one.code,
        "name": one.name, "before": one.before, "after": one.after,
        "count_before": one.count_before, "count_after": one.count_after, "kind": one.kind,
        "early": None if one.early is None else one.early.isoformat(),
        "late": None if one.late is None else one.late.isoformat(), "chance": one.chance,
    }  # fmt: skip


def _should(one: ShouldSay) -> Document:
    return {
        "operation": one.operation, "phase": one.phase, "family": one.family,
        "book_hours": hours(one.book_h), "should": hours(one.should_h), "finished": one.finished,
        "says": one.says, "name": one.name, "q10": hours(one.low_h), "q90": hours(one.high_h),
        "sure": one.sure, "year_hours": hours(one.year_h),
        "command": None if one.command is None else list(one.command), "of": list(one.jobs),
    }  # fmt: skip


def _chart(one: Chart) -> Document:
    return {
        "what": one.what, "code": one.code, "name": one.name, "says": one.says,
        "points": [
            {"at": each.at.isoformat(), "label": each.label, "value": each.value,
             "count": each.count, "outside": each.loud}
            for each in one.points
        ],
        "levels": [
            {"since": each.since.isoformat(), "until": each.until.isoformat(),
             "middle": each.middle, "low": each.low, "high": each.high}
            for each in one.levels
        ],
    }  # fmt: skip


def _prices(found: Month) -> Document:
    here = found.prices
    return {
        "since": here.since.isoformat(), "until": here.until.isoformat(), "says": here.says,
        "ways": [
            {"hours": one.hours, "rate": one.rate, "jobs": one.jobs, "sold": money(one.sold),
             "more": money(one.more), "kept": money(one.kept),
             "below_cost": held(one.below), "says": one.says}
            for one in here.ways
        ],
        "earned": [
            {"operation": one.operation, "jobs": one.jobs, "hours": hours(one.labour_h),
             "fetched_per_hour": money(one.fetched_per_hour),
             "cost_per_hour": money(one.cost_per_hour), "lift_days": one.lift_days,
             "per_lift_day": money(one.per_lift_day), "says": one.says}
            for one in here.earned
        ],
        "costs": [
            {"month": one.month, "wages": money(one.wages), "overheads": money(one.overheads),
             "attended": hours(one.attended_h), "per_hour": money(one.per_hour),
             "taken_from": one.taken_from, "seq": one.seq}
            for one in here.costs
        ],
    }  # fmt: skip


# -- the way down


def _made_of(found: Month, zone: ZoneInfo) -> Document:
    named = (*hours_named(found.hours), *money_named(found.money))
    every = {key: one.ways for key, _, one in named}
    every |= {f"held:{reason}": one.ways for reason, one in found.held.reasons}
    return {key: [_way(one, zone) for one in ways] for key, ways in every.items() if ways}


def _way(one: Way, zone: ZoneInfo) -> Document:
    return {
        "says": one.says, "value": one.value, "job": one.job, "phase": one.phase,
        "badge": one.badge, "at": _at(one.at, zone), "events": list(one.events),
        "ways": [_way(each, zone) for each in one.ways],
    }  # fmt: skip
