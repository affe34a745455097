"""Who may put their name under a hold point or decision."""

from __future__ import annotations

from store.actions.acting import Acting
from store.actions.qualified import holds
from store.actions.step_asked import Asked
from store.file.facts import setting
from store.file.route_now import names_on
from store.rules.blocking import who_signs
from store.rules.gate_times import in_force
from store.trouble import Refused


def refuse_signer(doing: Acting, asked: Asked, *, second: bool) -> None:
    """Refuse a name that may not stand under a hold point.

    Raises:
        MayNot, PinNeeded, NoPin, WrongPin, PinWaits: as they say.
        Refused: they signed it already, are not qualified, or did the work themselves.
    """
    spec = asked.step.spec
    if second:
        _refuse_same_person(doing, asked)
        doing.may("sign second")
    elif spec.signs == 1 and spec.by != "foreman":
        doing.may("sign second" if spec.not_by_fitter else "sign hold point")
    if spec.by == "foreman" and (second or spec.signs == 1):
        doing.may("sign as foreman")
    refuse_unqualified(doing, asked)
    if spec.not_by_fitter and (second or spec.signs == 1):
        refuse_fitter(doing, asked)


def _refuse_same_person(doing: Acting, asked: Asked) -> None:
    names = names_on(doing.db, asked.job).get((asked.phase.phase, asked.step.step), [])
    if all(one.person != doing.person.person for one in in_force(names, doing.change.recorded_at)):
        return
    if asked.step.code in setting(doing.db, "signed alone"):
        return
    raise Refused(
        f"{asked.name} has {doing.person.name}'s name already and takes a second person's. "
        f"It waits until {who_signs(asked.step.spec).split(' and ')[-1]} signs it."
    )


def refuse_unqualified(doing: Acting, asked: Asked) -> None:
    """Refuse who is not qualified today for what the step needs.

    Raises:
        Refused: naming the qualification.
    """
    for what in asked.step.spec.needs:
        if not holds(doing, doing.person.person, what):
            raise Refused(
                f"{asked.name} is signed by somebody qualified for {what}, and "
                f"{doing.person.name} is not today."
            )


def refuse_fitter(doing: Acting, asked: Asked) -> None:
    """Refuse who did the work, where there is somebody who did not.

    Where nobody else may sign at all, in a shop of one, it is left to the owner's list of points
    that one person may sign alone.

    Raises:
        Refused: with the names of those to ask, or how the owner allows it.
    """
    if not _worked(doing, asked.job, doing.person.person):
        return
    roles = (
        ("foreman", "owner")
        if asked.step.spec.by == "foreman"
        else ("technician", "foreman", "owner")
    )
    day = doing.today.isoformat()
    others = doing.db.execute(
        "select person, name, role from person where person != ? and experience not like "
        "'apprentice%' and from_day <= ? and (until_day is null or until_day >= ?) order by name",
        [doing.person.person, day, day],
    ).fetchall()
    able = [row for row in others if row["role"] in roles]
    free = [row["name"] for row in able if not _worked(doing, asked.job, row["person"])]
    if free:
        raise Refused(
            f"{asked.name} is signed by somebody who did not work on {asked.job}, and "
            f"{doing.person.name} did. Ask {' or '.join(free)}."
        )
    if not able and asked.step.code not in setting(doing.db, "signed alone"):
        raise Refused(
            f"{asked.name} takes a second pair of eyes, and nobody else here may sign it. "
            "It waits, or the owner allows it: hoistbook people alone --hold-point "
            f"{asked.step.code}."
        )


def _worked(doing: Acting, job: str, person: str) -> bool:
    row = doing.db.execute(
        "select 1 from clock where job = ? and +person = ? and part != 'learner' limit 1",
        [job, person],  # the plus: a job has few clocks, a person has years of them
    ).fetchone()
    return row is not None
