"""What another firm's report says, put under the steps that ask for it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from store.actions.acting import Acting
from store.actions.steps import signed
from store.file.route_now import StepRow, steps_of
from store.rules.readings import names_of
from store.trouble import Refused


def sign_report(
    doing: Acting,
    job: str,
    phase: str,
    readings: Mapping[str, float],
    answers: Mapping[str, str],
) -> list[str]:
    """Sign the steps of a phase that readings or answers belong to, in their order.

    Args:
        readings: by name, or `STEP:NAME`; those that no step asks for are passed over.
        answers: code of an answer by step; "" for the only decision.

    Returns:
        What was signed, in sentences.

    Raises:
        Refused: a name could belong to two steps, or it cannot be signed.
    """
    steps = [
        one
        for one in steps_of(doing.db, job, gates_only=True)
        if one.phase == phase and one.state != "done"
    ]
    measured = _by_step(steps, readings)
    answered = _by_decision(steps, answers, f"{job}.{phase}")
    return [
        signed(doing, (job, phase, one.step), measured.get(one.step), answered.get(one.step)).says
        for one in steps
        if one.step in measured or one.step in answered
    ]


def _by_step(
    steps: Sequence[StepRow], readings: Mapping[str, float]
) -> dict[str, dict[str, float]]:
    found: dict[str, dict[str, float]] = {}
    for name, value in readings.items():
        step, sign, bare = name.partition(":")
        asking = [
            one
            for one in steps
            if one.kind == "hold point"
            and (bare if sign else name) in names_of(one.spec.readings)
            and (not sign or one.step == step)
        ]
        if len(asking) > 1:
            ways = " or ".join(f"{one.step}:{name}" for one in asking)
            raise Refused(f"Two steps ask for {name}: say which, {ways}.")
        if asking:
            found.setdefault(asking[0].step, {})[bare if sign else name] = value
    return found


def _by_decision(steps: Sequence[StepRow], answers: Mapping[str, str], at: str) -> dict[str, str]:
    decisions = [one.step for one in steps if one.kind == "decision"]
    found: dict[str, str] = {}
    for step, answer in answers.items():
        known = step in decisions
        if not known and (step or len(decisions) != 1):
            which = ", ".join(f"{at}.{one}" for one in decisions) or "none"
            raise Refused(f"Say which decision the answer {answer} is to. Open in {at}: {which}.")
        found[step if known else decisions[0]] = answer
    return found
