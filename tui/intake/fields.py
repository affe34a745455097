"""Typing in a field of the intake: what fits is offered, Enter takes the marked one."""

from __future__ import annotations

from dataclasses import replace

from store.trouble import Refused
from store.views.counter import Counter
from tui.intake.searching import codes_in, families, is_family, operations, vehicles
from tui.intake.state import FieldName, Form, Match, Typing
from tui.parts.keyline import Pressed
from tui.parts.prompt import Field
from tui.parts.talk import edited

AND = "+"
"""Takes the marked operation and goes on typing the next."""


def begun(here: Counter, form: Form, name: FieldName, text: str = "") -> Typing:
    """A field with what was typed into it before."""
    return looked_up(here, form, Typing(name, Field(name, text, len(text))))


def looked_up(here: Counter, form: Form, typing: Typing) -> Typing:
    """The field with what fits what is typed."""
    text = typing.field.text
    match typing.name:
        case "family":
            found = families(here, text)
        case "work":
            found = operations(here, text, form)
        case "vehicle":
            found = vehicles(here, text)
        case "told":
            found = ()
    marked = 0 if found and text.strip() and typing.name in ("family", "work") else -1
    return replace(typing, matches=found, at=marked, facts=_facts(here, typing))


def _facts(here: Counter, typing: Typing) -> tuple[str, ...]:
    """What one must know, where lists cannot say it."""
    match typing.name:
        case "family" if not here.families:
            return ("No family was here yet. Type engine, gearbox and driven axles: B4-M-F.",)
        case "work" if not here.has_book:
            return (
                "No work book yet, so small jobs only: type what is to be done.",
                "A book: hoistbook workbook load FILE.toml.",
            )
        case "work" if not typing.field.text:
            return (f"{AND} takes one and goes on; Enter with nothing typed is done.",)
        case "vehicle" if not typing.field.text:
            return ("Any words will do. One that was here is offered, with its family.",)
        case _:
            return ()


def pressed(here: Counter, form: Form, typing: Typing, key: Pressed) -> Typing:
    """The field after a key that is neither Enter nor Esc."""
    if key.key in ("up", "down"):
        last = len(typing.matches) - 1
        step = 1 if key.key == "down" else -1
        return replace(typing, at=min(max(-1, typing.at + step), last))
    field = edited(typing.field, key)
    if field == typing.field:
        return typing
    return looked_up(here, form, replace(typing, field=field))


def taken(here: Counter, form: Form, typing: Typing) -> Form:
    """The form with what the field says.

    Raises:
        Refused: it says nothing that can be.
    """
    match typing.name:
        case "vehicle":
            return _vehicle(here, form, typing)
        case "family":
            return _family(form, typing)
        case "work":
            return _work(here, form, typing)
        case "told":
            return replace(form, told=typing.field.text.strip())


def _marked(typing: Typing) -> Match | None:
    return typing.matches[typing.at] if 0 <= typing.at < len(typing.matches) else None


def _vehicle(here: Counter, form: Form, typing: Typing) -> Form:
    """One that was here brings its family and its mass."""
    match = _marked(typing)
    text = match.key if match else typing.field.text.strip()
    if not text:
        raise Refused("Say which vehicle: a number plate, or how you call it.")
    known = next(
        (
            one
            for one in here.vehicles
            if text.lower() in (one.plate.lower(), one.label.lower()) and one.family
        ),
        None,
    )
    if known is None:
        return replace(form, vehicle=text, mass_kg=None)
    return replace(form, vehicle=text, mass_kg=known.mass_kg, family=form.family or known.family)


def _family(form: Form, typing: Typing) -> Form:
    match = _marked(typing)
    text = match.key if match else typing.field.text.strip().upper()
    if text and not is_family(text):
        raise Refused(
            f"{text[:20]} is no family: type engine, gearbox and driven axles, like B4-M-F."
        )
    return replace(form, family=text or form.family)


def _work(here: Counter, form: Form, typing: Typing) -> Form:
    text = typing.field.text.strip()
    codes = codes_in(here, text)
    if codes:
        return _with(here, form, codes)
    match = _marked(typing)
    if match is not None and match.kind == "small":
        return replace(form, small=match.words, work=(), options={})
    if match is not None:
        return _with(here, form, (match.key,))
    if text:
        raise Refused(f"No work fits {text[:20]!r}. Type less, or another word of it.")
    return form


def _with(here: Counter, form: Form, codes: tuple[str, ...]) -> Form:
    return replace(form, small="", work=tuple(dict.fromkeys((*form.work, *codes))))


def fitting_options(here: Counter, form: Form) -> Form:
    """The form without what was said of options that its work does not have."""
    own = {option.code for one in here.sold if one.code in form.work for option in one.options}
    return replace(form, options={k: v for k, v in form.options.items() if k in own})
