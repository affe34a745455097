"""No phase is begun without the kits that it needs, and no hold point signed with one out of date.

One place for every way in which a phase begins: a clock, an entry made afterwards, a signature. It
stops only a shop that keeps its hires here, and for a date only where somebody wrote one down.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from store.actions.acting import Acting
from store.actions.jobs_now import running_hold
from store.actions.words import named
from store.edges.events.hires import KitLet
from store.file.kits.lacking import dated_out, lacking_for, lacking_kits, lets_of
from store.file.route_now import PhaseRow, gates_of, phases_of
from store.file.work_lists import lines_of
from store.rules.blocking import blocking_phase
from store.rules.kit_at_hand import KitNeed, all_words, out_of_date
from store.trouble import Refused


class KitLacks(Refused):
    """A phase may not be begun for a kit, without the foreman's word."""

    def __init__(self, job: str, phase: str, says: str) -> None:
        self.job, self.phase = job, phase
        super().__init__(says)


def refuse_lacking(
    doing: Acting,
    job: str,
    phase: PhaseRow,
    phases: Sequence[PhaseRow],
    *,
    at: str | None = None,
    why: str | None = None,
) -> None:
    """Refuse to begin a phase whose kits are not at hand; what has begun goes on.

    Args:
        at: when it was begun, for an entry made afterwards.
        why: the reason of a foreman who begins it all the same: written down as their word.

    Raises:
        KitLacks: which kit, where it is, and what can go on meanwhile.
        MayNot, PinNeeded, NoPin, WrongPin, PinWaits: a reason was given by who may not let it.
    """
    if phase.state != "to come" or phase.kits == "[]":
        return
    lacks = still_lacking(doing, job, phase, at=at)
    if not lacks:
        return
    if why is None:
        raise KitLacks(job, phase.phase, _refusal(doing, job, phase, phases, lacks))
    doing.may("let begin without kit")
    record_let(doing, job, phase, lacks, why)


def still_lacking(
    doing: Acting, job: str, phase: PhaseRow, *, at: str | None = None
) -> tuple[KitNeed, ...]:
    """Return the kits that stop a phase and that no foreman has let it begin without."""
    lacks = lacking_for(doing.db, job, phase, lambda: doing.today, at=at)
    if not lacks:
        return ()
    let = lets_of(doing.db, [job]).get((job, phase.phase), set())
    return tuple(one for one in lacks if one.code not in let)


def record_let(
    doing: Acting, job: str, phase: PhaseRow, lacks: Sequence[KitNeed], why: str
) -> None:
    """Write a foreman's word down.

    Raises:
        Refused: it has no reason.
    """
    if not why.strip():
        raise Refused("Say why it begins without the kit.")
    doing.record(
        KitLet(job=job, phase=phase.phase, kits=[one.code for one in lacks], why=why.strip())
    )


def _refusal(
    doing: Acting,
    job: str,
    phase: PhaseRow,
    phases: Sequence[PhaseRow],
    lacks: Sequence[KitNeed],
) -> str:
    kits = all_words(lacks, doing.at, doing.calendar.zone)
    other = next(_meanwhile(doing, job, phase, phases), None)
    goes = f" {other} can go on meanwhile." if other else ""
    return (
        f"{named(job, phase)} needs {kits}.{goes} To begin without, a foreman: "
        f"hoistbook hire let {job}.{phase.phase} --why TEXT."
    )


def _meanwhile(
    doing: Acting, job: str, phase: PhaseRow, phases: Sequence[PhaseRow]
) -> Iterator[str]:
    """Phases that could go on now: others of the job, then those of the person's list."""
    yield from (named(job, one) for one in _able(doing, job, phases) if one.phase != phase.phase)
    for line in lines_of(doing.db, doing.person.person):
        if line.job == job:
            continue
        able = _able(doing, line.job, phases_of(doing.db, line.job))
        yield from (named(line.job, one) for one in able if line.phase in (None, one.phase))


def _able(doing: Acting, job: str, phases: Sequence[PhaseRow]) -> list[PhaseRow]:
    """Phases of labour that nothing stands in the way of, those under way first."""
    lacking = lacking_kits(doing.db, {job: phases}, doing.today).get(job, {})
    gates, at = gates_of(doing.db, job, open_only=True), [one.at() for one in phases]
    able = [
        one
        for one in phases
        if one.kind == "labour" and one.state in ("to come", "under way")
        and one.phase not in lacking and running_hold(doing.db, job, one.phase) is None
        and blocking_phase(gates, at, one.phase) is None
    ]  # fmt: skip
    return sorted(able, key=lambda one: one.state != "under way")


def refuse_out_of_date(doing: Acting, job: str, phase: PhaseRow, name: str) -> None:
    """Refuse a hold point in a phase of which a kit must not be used.

    Args:
        name: of the hold point.

    Raises:
        Refused: naming the kit and its date.
    """
    if phase.kits == "[]":
        return
    for kit in dated_out(doing.db, job, phase, lambda: doing.today):
        raise Refused(
            f"{name} is not signed: {kit.name} {out_of_date(kit)}. Use one that is in date; when "
            f"it was seen to, write its date down: {_how(kit)}."
        )


def _how(kit: KitNeed) -> str:
    if kit.supplier is None:
        return f'hoistbook kit date {kit.code} --until DATE --source "…"'
    return f"send it back to {kit.supplier} and hire another"
