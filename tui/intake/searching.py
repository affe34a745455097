"""Type to search: families, operations and vehicles that fit what is typed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import TypeVar

from store.views.counter import Counter
from tui.intake.state import Form, Match
from tui.parts.typed_search import folded, words_of
from tui.words import counted

MOST = 8
"""Matches that are offered."""
T = TypeVar("T")


def rank(text: str, code: str, name: str) -> int | None:
    """How well something fits, 0 best; None where it does not.

    Its code, the beginning of its code (hyphens need not be typed), beginnings of its words.
    """
    return _rank(_bare(text), _wanted(text), code, name)


def _rank(bare: str, wanted: Sequence[str], code: str, name: str) -> int | None:
    own = _bare(code)
    if bare and own.startswith(bare):
        return 0 if own == bare else 1
    there = _words(f"{code} {name}")
    return 2 if all(f" {one}" in there for one in wanted) else None


@lru_cache(maxsize=20_000)
def _words(text: str) -> str:
    """The words of a text, each after a blank."""
    return "".join(f" {word}" for word in words_of(text))


def _bare(text: str) -> str:
    return text.strip().lower().replace("-", "")


def _wanted(text: str) -> tuple[str, ...]:
    """The words typed, without their signs."""
    return tuple(one for one in ("".join(filter(str.isalnum, w)) for w in folded(text).split())
                 if one)  # fmt: skip


def _best(text: str, found: Iterable[tuple[T, str, str]]) -> list[T]:
    """What fits, the best first; what fits equally well stays in its order."""
    bare, wanted = _bare(text), _wanted(text)
    ranked = [(_rank(bare, wanted, code, name), one) for one, code, name in found]
    fits = [(place, one) for place, one in ranked if place is not None]
    return [one for _, one in sorted(fits, key=lambda pair: pair[0])]


def families(here: Counter, text: str) -> tuple[Match, ...]:
    """Families that were here, then what was typed where it is a family that was not."""
    found = [
        Match(one.key, one.words, counted(one.jobs, "job"))
        for one in _best(text, ((one, one.key, one.words) for one in here.families))
    ][:MOST]
    typed = text.strip().upper().replace(" ", "")
    if is_family(typed) and typed not in {one.key for one in here.families}:
        return Match(typed, "a family never seen here", "wide range", "new"), *found
    return tuple(found)


def is_family(text: str) -> bool:
    """Whether it is engine, gearbox and driven axles joined by hyphens."""
    parts = text.split("-")
    return len(parts) == 3 and all(parts)


def operations(here: Counter, text: str, form: Form) -> tuple[Match, ...]:
    """Operations that were not chosen yet; the text itself as a small job where nothing was."""
    found = [
        Match(one.code, one.name)
        for one in _best(text, ((one, one.code, one.name) for one in here.sold))
        if one.code not in form.work
    ][:MOST]
    together = [one for code in codes_in(here, text) for one in here.sold if one.code == code]
    if len(together) > 1:
        names = " + ".join(one.name for one in together)
        return (Match(" ".join(one.code for one in together), names, "together"),)
    if text.strip() and not form.work:
        found.append(Match("", text.strip(), "a small job: one phase, free text", "small"))
    return tuple(found)


def vehicles(here: Counter, text: str) -> tuple[Match, ...]:
    """Vehicles that were here and fit; nothing for an empty text."""
    if not text.strip():
        return ()
    found = _best(text, ((one, one.plate, one.label) for one in here.vehicles))
    return tuple(
        Match(one.plate or one.label, one.label if one.plate else "", _about(one.family,
              one.mass_kg))
        for one in found[: MOST - 2]
    )  # fmt: skip


def _about(family: str, mass_kg: float | None) -> str:
    mass = f"{mass_kg / 1000:.1f} t" if mass_kg else ""
    return ", ".join(one for one in (family, mass, "was here") if one)


def get_ready(here: Counter) -> None:
    """Cut what can be searched into words, so that the first letter waits for nothing."""
    for one in here.vehicles:
        _words(f"{one.plate} {one.label}")


def codes_in(here: Counter, text: str) -> tuple[str, ...]:
    """Codes of operations, where every word that is typed is one: `cl rs`."""
    known = {one.code for one in here.sold}
    words = text.upper().replace(",", " ").replace("+", " ").split()
    return tuple(dict.fromkeys(words)) if words and all(one in known for one in words) else ()
