"""Other keys for what screens do, as somebody asks for them in the settings file."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import cast

from store.trouble import Refused
from tui.keys import BY_NAME, PlaceName, Table, changed

NAMED = ("Enter", "up", "down", "left", "right", "page up", "page down", "Space")
F_KEYS = ("F1", "F2", "F3", "F4", "F5", "F6", "F7", "F8", "F9", "F12")
KEPT = {
    "esc": "goes back everywhere",
    "tab": "begins a code that is scanned",
    "f10": "is kept by many terminals for their menu",
    "f11": "is kept by many terminals for the full screen",
}
"""Keys that nobody can have, and why."""
KEPT_BY: Mapping[PlaceName, str] = {
    "sign in": "letters and digits are badges there",
    "bay": "letters are badges there",
    "floor": "digits are lifts there",
}
Wrong = Callable[[tuple[str | int, ...], str], Refused]
"""Makes the error at a path of the file."""
Changes = Mapping[PlaceName, Mapping[str, tuple[str, ...]]]


def keys_of(found: object, wrong: Wrong) -> Changes:
    """The keys that a settings file asks for.

    Raises:
        Refused: made by `wrong`, for an unknown place or id, and a key that cannot be had.
    """
    if found is None:
        return {}
    if not isinstance(found, dict):
        raise wrong(("keys",), "keys go into tables like [keys.floor].")
    changes: dict[PlaceName, Mapping[str, tuple[str, ...]]] = {}
    for place, wanted in cast("dict[str, object]", found).items():
        table = BY_NAME.get(place)
        if table is None or not isinstance(wanted, dict):
            raise wrong(
                ("keys", place), f"no place is called {place}. There are: {', '.join(BY_NAME)}."
            )
        changes[table.name] = _of_place(table, place, cast("dict[str, object]", wanted), wrong)
    return changes


def _of_place(
    table: Table, place: str, wanted: Mapping[str, object], wrong: Wrong
) -> Mapping[str, tuple[str, ...]]:
    ids = [line.id for line in table.built]
    found: dict[str, tuple[str, ...]] = {}
    for id_, value in wanted.items():
        where = ("keys", place, id_)
        if id_ not in ids:
            raise wrong(where, f"{place} knows no {id_}. There are: {', '.join(ids)}.")
        listed = cast("list[object]", value) if isinstance(value, list) else [value]
        keys = [key for key in listed if isinstance(key, str)]
        if not keys or len(keys) < len(listed):
            raise wrong(where, 'a key is a text like "h" or "F5", or a list of them.')
        for key in keys:
            says = refused(key, table.name)
            if says:
                raise wrong(where, says)
        found[id_] = tuple(_spelt(key) for key in keys)
    for id_, says in clashes(table, found):
        raise wrong(("keys", place, id_), says)
    return found


def _spelt(key: str) -> str:
    """The key as the tables write it."""
    for known in (*NAMED, *F_KEYS):
        if key.lower() == known.lower():
            return " " if known == "Space" else known
    return key.lower()


def refused(key: str, place: PlaceName) -> str | None:
    """Why a key cannot be had in a place; None where it can."""
    if key.lower() in KEPT:
        return f"{key} {KEPT[key.lower()]}. Take another key."
    spelt = _spelt(key)
    if spelt in F_KEYS or spelt in NAMED or spelt == " ":
        return None
    if not (len(spelt) == 1 and spelt.isascii() and (spelt.isalnum() or spelt in ".,-?")):
        return (
            f"{key} does not arrive on every terminal. Take a letter, a digit, one of . , - ?, "
            f"{', '.join(NAMED)}, F1 to F9, or F12."
        )
    taken = {
        "sign in": True, "bay": spelt.isalpha(),
        "floor": spelt.isdigit(),
    }  # fmt: skip
    if taken.get(place):
        return f"{key} cannot be had: {KEPT_BY[place]}. Take another key."
    return None


def clashes(table: Table, wanted: Mapping[str, tuple[str, ...]]) -> Iterator[tuple[str, str]]:
    """Keys that would mean two things: the id that asks for one, and what to do."""
    owner: dict[str, str] = {}
    lines = [changed(line, wanted.get(line.id)) for line in table.built]
    for line in sorted(lines, key=lambda line: line.id in wanted):
        for key in line.keys:
            if owner.setdefault(key, line.id) != line.id:
                yield (
                    line.id,
                    f"{'Space' if key == ' ' else key} is {owner[key]} there already. "
                    f"Give {owner[key]} another key, or take another one here.",
                )
