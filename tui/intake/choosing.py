"""Questions of the intake that are answered by one key: options, lift, extras, hours."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from store.trouble import Refused
from store.views.counter import Counter
from tui.intake.head import options_of
from tui.intake.rest import why_not
from tui.intake.state import Form, IntakeState
from tui.keys import filled
from tui.parts.painted import Painted
from tui.parts.prompt import OPTION_KEYS, Option
from tui.parts.when import number
from tui.words import hours, tenth

if TYPE_CHECKING:
    from store.views.estimate import Estimate, Extra


async def ask_option(screen: Painted[Any], here: Counter, form: Form) -> Form:
    """Say what is known of the vehicle.

    Raises:
        Back: Esc.
        Refused: the work has no options.
    """
    found = options_of(here, form)
    if not found:
        raise Refused("This work asks nothing more of a vehicle.")
    option = found[0]
    if len(found) > 1:
        rows = [
            Option(OPTION_KEYS[n], f"{one.text}: {form.options.get(one.code, 'not known')}")
            for n, one in enumerate(found)
        ]
        option = found[OPTION_KEYS.index(await screen.talk.pick("what is known?", rows))]
    values = [
        Option(OPTION_KEYS[n], f"{one}, assumed until then" if one == option.assume else one)
        for n, one in enumerate(option.values)
    ]
    chosen = await screen.talk.pick(option.text, [*values, Option("0", "not known")])
    options = {code: value for code, value in form.options.items() if code != option.code}
    if chosen != "0":
        options[option.code] = option.values[OPTION_KEYS.index(chosen)]
    return replace(form, options=options)


async def ask_lift(screen: Painted[Any], here: Counter, state: IntakeState) -> Form:
    """Say on which lift it goes at once; or that it waits.

    Raises:
        Back: Esc.
        Refused: no lift is free.
    """
    free = [
        one for one in here.lifts if one.job is None and one.in_service and not why_not(one, state)
    ]
    if not free:
        raise Refused(
            filled(
                "No lift is free that carries it: it waits. {floor.call} on the floor calls it in."
            )
        )
    rows = [
        Option(OPTION_KEYS[n], f"lift {one.code}, {one.kind} {one.rated_kg / 1000:.1f} t")
        for n, one in enumerate(free)
    ]
    chosen = await screen.talk.pick(
        "on which lift at once?", [*rows, Option("0", "none yet: it waits")]
    )
    lift = None if chosen == "0" else free[OPTION_KEYS.index(chosen)].code
    return replace(state.form, lift=lift)


async def ask_extra(screen: Painted[Any], found: Estimate, form: Form) -> Form:
    """Take an operation along that is cheaper now; what is only done on the way is told.

    Raises:
        Back: Esc.
        Refused: there is nothing.
    """
    sold = [one for one in found.extras if one.operation is not None]
    small = [one for one in found.extras if one.operation is None]
    facts = ["On the way, agreed as a finding when it is open:"] if small else []
    facts += [_extra_words(one) for one in small]
    if not found.extras:
        raise Refused("Nothing is cheaper while this is open.")
    rows = [Option(OPTION_KEYS[n], _extra_words(one)) for n, one in enumerate(sold)]
    title = "take along while it is open" if rows else "while it is open"
    chosen = await screen.talk.pick(title, rows, facts=facts)
    return replace(form, work=(*form.work, sold[OPTION_KEYS.index(chosen)].operation or ""))


def _extra_words(one: Extra) -> str:
    return f"{one.text}   now +{tenth(one.adds_h)} h; later, alone, {hours(one.alone_h)}"


async def ask_hours(screen: Painted[Any], here: Counter, form: Form) -> Form:
    """Say the hours of a small job.

    Raises:
        Back: Esc.
        Refused: the work has hours of its own.
    """
    if not form.small:
        raise Refused("The hours of work from the book are worked out; only a small job has yours.")
    took = await screen.talk.type(
        f"small job: {form.small}", f"hours (Enter: the usual {tenth(here.small_h)})",
        lambda typed: number(typed, above=0.0) if typed else None,
    )  # fmt: skip
    return replace(form, small_h=took)
