"""Acts on a job's work: the customer's word, names, readings, what holds it, somebody for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from store.edges.instants import to_text
from store.file.open_acts.going import IN_WORK, Gathered, Going, HoldNow
from store.file.open_acts.people import Somebody, able, named
from store.file.owed_names import wants_another
from store.file.route_now import PhaseRow, StepRow
from store.rules.acts import MINUTES, Act, ActKind, ends_later
from store.rules.blocking import blocking_step
from store.rules.gate_times import in_force
from store.rules.roles import LEADS, Role
from store.rules.roles import Act as Deed

LEAD_WORDS = "foreman or owner"


@dataclass(frozen=True, slots=True)
class About:
    """What an act of a job is about."""

    kind: ActKind
    phase: str | None
    says: str
    since: datetime | None
    step: str | None = None
    by: datetime | None = None
    hours: float = 0.0
    line: str | None = None
    ends: tuple[tuple[str, float], ...] = ()


def acts_on(every: Gathered, going: Going) -> Iterator[Act]:
    """Yield what is open on one job's work."""
    yield from _answers(every, going)
    yield from _gates(every, going)
    yield from _holds(every, going)
    yield from _somebody(every, going)


def act(
    going: Going, about: About, people: Sequence[Somebody], otherwise: str, command: Sequence[str]
) -> Act:
    """Put an act together; `--as` names whoever comes first of those who may."""
    badge = people[0].badge if people else None
    return Act(
        about.kind, going.job, about.phase, about.step, going.lift, None, badge,
        named(people, otherwise), about.by, about.since, MINUTES[about.kind], about.says,
        (*command, "--as", badge or "-BADGE"), about.ends, about.hours, None, about.line,
        going.stuck,
    )  # fmt: skip


def _answers(every: Gathered, going: Going) -> Iterator[Act]:
    """Extra work asked: all lines of one phase, since only all of them let it go on."""
    leads = able(every.people, "answer supplement")
    for phase in dict.fromkeys(one.phase for one in going.asked):
        lines = [one for one in going.asked if one.phase == phase]
        numbers = [str(one.line) for one in lines]
        hours = sum(one.hours for one in lines)
        about = About(
            "answer", phase,
            f"the customer's word on {', '.join(one.text for one in lines)}, +{hours:.1f} h",
            min(one.since for one in lines), hours=hours, line=",".join(numbers),
            ends=_ends(going, phase, "approval"),
        )  # fmt: skip
        picked = [word for one in numbers for word in ("--line", one)]
        yield act(
            going, about, leads, LEAD_WORDS, ("supplement", "approve", going.job, *picked)
        )  # fmt: skip


def _ends(going: Going, phase: str | None, reason: str) -> tuple[tuple[str, float], ...]:
    return tuple(
        (one.reason, one.since.timestamp())
        for one in going.holds
        if one.reason == reason and one.phase == phase
    )


def _gates(every: Gathered, going: Going) -> Iterator[Act]:
    """Names that another person owes, decisions that nobody is there to take, readings out."""
    under_way = {one.phase for one in going.phases if one.state == "under way"}
    for step in going.gates:
        if step.phase not in under_way or step.state in ("done", "gone"):
            continue
        if step.state == "out":
            yield _reading(every, going, step)
        elif step.kind == "decision":
            if not going.clocked and _is_next(going, step) and not going.held(step.phase):
                yield _decision(every, going, step)
        elif wants_another(step, going.gates):
            yield _name(every, going, step)


def _is_next(going: Going, step: StepRow) -> bool:
    return blocking_step([one.gate() for one in going.gates], step.phase, step.position) is None


def _name(every: Gathered, going: Going, step: StepRow) -> Act:
    spec, second = step.spec, step.state == "half"
    roles: frozenset[Role] | None = LEADS if spec.by == "foreman" else None
    signed = _signers(every, going, step) if second else []
    barred = [*signed, *(going.worked if spec.not_by_fitter else ())]
    rule: Deed = "sign as foreman" if spec.by == "foreman" else "sign second"
    people = able(every.people, rule, needs=spec.needs, roles=roles, not_persons=barred)
    since = going.rested if second else None
    about = About(
        "sign", step.phase, f"{spec.text}; {'the second name' if second else 'another name'}",
        since, step.step,
    )  # fmt: skip
    asked = [] if second else _readings(step)
    where = f"{going.job}.{step.phase}.{step.step}"
    return act(going, about, people, "somebody else's name", ("sign", where, *asked))


def _readings(step: StepRow) -> list[str]:
    """What is measured, to be filled in."""
    found: list[str] = []
    for one in step.spec.readings:
        for position in one.positions or ("",):
            found += ["--reading", f"{position or one.code}=-VALUE"]
    return found


def _signers(every: Gathered, going: Going, step: StepRow) -> list[str]:
    names = every.names.get((going.job, step.phase, step.step), ())
    return [one.person for one in in_force(names, to_text(every.now))]


def _decision(every: Gathered, going: Going, step: StepRow) -> Act:
    people = able(every.people, "answer decision", needs=step.spec.needs)
    about = About("decide", step.phase, step.spec.text, going.rested, step.step)
    where = f"{going.job}.{step.phase}.{step.step}"
    answers = "/".join(one.code for one in step.spec.answers)
    return act(going, about, people, "a skilled person", ("sign", where, "--answer", f"-{answers}"))


def _reading(every: Gathered, going: Going, step: StepRow) -> Act:
    """A foreman lets it stand; else it is measured again, or becomes a finding."""
    leads = able(every.people, "let reading stand", needs=step.spec.needs)
    held = next((one for one in going.holds if one.phase == step.phase), None)
    about = About(
        "let stand", step.phase,
        f"{step.spec.text}: outside its limits. Measure again, report it, or let it stand",
        held.since if held else None, step.step,
        ends=_ends(going, step.phase, "reading"),
    )  # fmt: skip
    where = f"{going.job}.{step.phase}.{step.step}"
    made = act(going, about, leads, LEAD_WORDS, ("sign", where, "--as-is", "-REASON"))
    owes = held.since.timestamp() if held is not None and step.signs == 2 else None
    again = able(every.people, "sign hold point", needs=step.spec.needs)
    badge = again[0].badge if again else "-BADGE"
    other = ("sign", where, *_readings(step), "--as", badge)
    return replace(made, owed_since=owes, other=other)


WORDS = {
    "parts": "chase the part", "tool": "tool or kit wanted", "person": "a person wanted",
    "place": "a place wanted",
    "other": "", "approval": "the customer's word", "reading": "a reading",
}  # fmt: skip
"""What lacks, by reason of the hold."""


def _holds(every: Gathered, going: Going) -> Iterator[Act]:
    """What holds and has no act of its own: it is asked after, or somebody sees that it is over.

    What is said to end on a later day wants nobody before that day.
    """
    out = {one.phase for one in going.gates if one.state == "out"}
    asked = {one.phase for one in going.asked}
    for phase in dict.fromkeys(one.phase for one in going.holds):
        here = [one for one in going.holds if one.phase == phase]
        if phase in asked or any(one.reason == "reading" and phase in out for one in here):
            continue
        if not all(ends_later(one.expected, every.now, every.calendar) for one in here):
            yield _release(every, going, phase, here)


def _release(every: Gathered, going: Going, phase: str | None, here: Sequence[HoldNow]) -> Act:
    word = any(one.reason == "approval" for one in here)
    people = able(every.people, "release customer's word" if word else "release")
    ends = tuple((one.reason, one.since.timestamp()) for one in here)
    expected = [one.expected for one in here if one.expected is not None]
    about = About(
        "release", phase, "; ".join(_held_words(one) for one in here),
        min(one.since for one in here), by=max(expected, default=None), ends=ends,
    )  # fmt: skip
    where = going.job if phase is None else f"{going.job}.{phase}"
    moves = [one.next_move for one in here if one.next_move]
    made = act(going, about, people, LEAD_WORDS, ("release", where))
    made = replace(made, who=moves[0]) if moves else made
    return _asked_after(every, made, where, here[0]) if len(here) == 1 else made


def _asked_after(every: Gathered, made: Act, where: str, hold: HoldNow) -> Act:
    """The same with both its answers: it is over, or it ends later. A part is asked after first."""
    badge = next((one.badge for one in able(every.people, "hold")), "-BADGE")
    moves = ("--next", hold.next_move) if hold.next_move else ()
    later = ("hold", where, "--reason", hold.reason, "--until", "-INSTANT", *moves, "--as", badge)
    if hold.reason == "parts":
        return replace(made, command=later, other=made.command)
    return replace(made, other=later)


def _held_words(hold: HoldNow) -> str:
    what = WORDS[hold.reason]
    said = hold.text or ""
    return ": ".join(one for one in (what, said) if one) or "held"


def _somebody(every: Gathered, going: Going) -> Iterator[Act]:
    """A job that could go on and has nobody; who was on it last comes first."""
    phase = going.next_able
    if going.small or going.state not in IN_WORK or going.clocked or phase is None:
        return
    if not every.calendar.is_open(every.now):
        return
    free = _free(every, going, phase)
    if not free:
        yield from _given(every, going, phase)
        return
    about = About("person", phase.phase, f"{phase.name}: it could go on and has nobody",
                  going.rested)  # fmt: skip
    yield act(going, about, free, "a technician", ("clock", "on", f"{going.job}.{phase.phase}"))


def _given(every: Gathered, going: Going, phase: PhaseRow) -> Iterator[Act]:
    """Nobody is free for it now: it goes on somebody's list, unless it is on one."""
    if going.job in every.listed:
        return
    about = About("assign", phase.phase, f"{phase.name}: it could go on and is on nobody's list",
                  going.rested)  # fmt: skip
    where = f"{going.job}.{phase.phase}"
    yield act(going, about, able(every.people, "assign"), LEAD_WORDS, ("assign", where, "-WHO"))


def _free(every: Gathered, going: Going, phase: PhaseRow) -> list[Somebody]:
    """Who is here, on no job, and may lead it."""
    needs = every.needs.get((phase.version, phase.code), frozenset())
    idle = [one for one in every.people if not one.busy and one.role == "technician"]
    able_now = able(idle, "sign hold point", needs=needs)
    listed = every.listed.get(going.job, frozenset())
    return sorted(able_now, key=lambda one: (one.person not in listed, _last(going, one.person)))


def _last(going: Going, person: str) -> int:
    return going.worked.index(person) if person in going.worked else len(going.worked)
