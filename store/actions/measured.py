"""Readings of a hold point: judged by their limits, and the phase held while one is outside."""

from __future__ import annotations

from collections.abc import Mapping

from store.actions.acting import Acting, Done
from store.actions.clock import stop_all
from store.actions.step_asked import Asked, record_signature
from store.actions.words import named
from store.edges.events.holds import Held, Released
from store.rules.book import LIFT_RATED_KG
from store.rules.readings import judge, limits_text
from store.trouble import Refused


def judged(
    doing: Acting, asked: Asked, readings: dict[str, float], *, needed: bool
) -> tuple[str, ...]:
    """Return what lies outside its limits, in words.

    Args:
        needed: whether it cannot be signed without readings.

    Raises:
        Refused: readings are missing, unknown or not taken here, or their limits are not typed.
    """
    specs = asked.step.spec.readings
    if not specs:
        if readings:
            raise Refused(f"{asked.name} takes no reading: sign it without one.")
        return ()
    if not needed and not readings:
        return ()
    limits = {
        row["reading"]: (row["low"], row["high"])
        for row in doing.db.execute(
            "select reading, low, high from step_limit where job = ? and phase = ? and step = ?",
            [asked.job, asked.phase.phase, asked.step.step],
        )
    }
    _refuse_unlimited(asked, limits)
    verdict = judge(specs, readings, limits=limits, lift_rated_kg=_rated(doing, asked))
    if verdict.unknown:
        raise Refused(
            f"{asked.name} has no reading {', '.join(verdict.unknown)}. It takes: {_wanted(asked)}."
        )
    if verdict.missing:
        raise Refused(f"{asked.name} takes a reading: {_wanted(asked)}.")
    return verdict.faults


def _wanted(asked: Asked) -> str:
    return "; ".join(
        f"{one.text} ({', '.join(one.positions) or one.code}, {limits_text(one)})"
        for one in asked.step.spec.readings
    )


def _refuse_unlimited(
    asked: Asked, limits: Mapping[str, tuple[float | None, float | None]]
) -> None:
    for one in asked.step.spec.readings:
        if one.typed and one.code not in limits:
            raise Refused(
                f"{asked.name}: the limits of {one.text} come from the maker's data for this "
                f"vehicle. Type them first: hoistbook limits {asked.job}.{asked.phase.phase}."
                f"{asked.step.step} --reading {one.code} --low X --high X --source TEXT."
            )


def _rated(doing: Acting, asked: Asked) -> float | None:
    if all(one.high_is != LIFT_RATED_KG for one in asked.step.spec.readings):
        return None
    row = doing.db.execute(
        "select rated_kg from job_place join place using (place) "
        "where job = ? and part = 'body' and kind = 'lift'",
        [asked.job],
    ).fetchone()
    if row is None:
        raise Refused(
            f"{asked.name} is signed when {asked.job} stands on a lift, and it stands on none. "
            f"Bring it in: hoistbook move {asked.job} --lift CODE."
        )
    rated: float = row[0]
    return rated


def keep_out(
    doing: Acting, asked: Asked, readings: dict[str, float], faults: tuple[str, ...]
) -> Done:
    """Keep the reading, and hold the phase until it is measured again or let stand."""
    record_signature(doing, asked, state="out", readings=readings, faults=faults)
    stopped = stop_all(doing, asked.job, asked.phase.phase, leave_forgotten=True)
    held = doing.db.execute(
        "select 1 from hold where job = ? and phase = ? and reason = 'reading' and until is null",
        [asked.job, asked.phase.phase],
    ).fetchone()
    if held is None:
        doing.record(
            Held(job=asked.job, phase=asked.phase.phase, reason="reading", text="; ".join(faults))
        )
    clocks = f" Stopped: the clock of {', '.join(stopped)}." if stopped else ""
    return doing.done(
        f"{asked.name}: {'; '.join(faults)}. The reading is kept and "
        f"{named(asked.job, asked.phase)} is held. Measure again, report a finding, or ask the "
        f"foreman.{clocks}",
        job=asked.job,
    )


def release_reading(doing: Acting, asked: Asked) -> None:
    """End a hold for a reading once no reading of the phase is outside its limits."""
    holds = doing.db.execute(
        "select seq from hold where job = ? and phase = ? and reason = 'reading' and until is null "
        "and not exists (select 1 from step where step.job = hold.job and "
        "step.phase = hold.phase and state = 'out')",
        [asked.job, asked.phase.phase],
    )
    for row in holds.fetchall():
        doing.record(Released(hold=row["seq"]))
