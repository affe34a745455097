"""An operation copied under a new code, with the phases that are its own: those differ from then
on, while access stays shared."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, cast

from store.edges.toml_edit import Edit, Source, text_value
from store.edges.toml_lines import Path
from store.edges.workbook.places import CODE, operation_path
from store.trouble import Refused

NAMING = ("code", "phase", "phases", "route", "contains", "blocks", "captive_to", "beside")
"""Words after which the code of a phase stands."""
OF_A_PHASE = 3
"""So long is the path of a phase's own code; the code of a step is no phase's."""
LISTS = ("blocks", "contains", "phases")
Table = Mapping[str, Any]


def copy(text: str, operation: str, code: str, name: str) -> str:
    """Copy an operation; it comes last in the book.

    Args:
        code: of the copy; its own phases are called after it: CL3 becomes VAN3, others VAN-code.

    Raises:
        Refused: no such operation, or the new code cannot be or is taken.
    """
    if not CODE.fullmatch(code):
        raise Refused(f"{code[:20]!r} is no code: letters, digits and hyphens, sixteen at most.")
    source = Source(text)
    path = operation_path(source.raw, operation)
    taken = {str(one.get("code")) for one in source.raw.get("operation", ())}
    own = dict(_own_phases(source.raw, path))
    new = {old: _called(old, operation, code) for old in own}
    phases = {str(one.get("code")) for one in source.raw.get("phase", ())}
    if code in taken or phases & set(new.values()):
        raise Refused(f"The code {code} is taken already. Give the copy another one.")
    edits = [*_renamed(source, path, new)]
    edits += [source.value((*path, "code"), text_value(code))]
    edits += [source.value((*path, "name"), text_value(name))]
    edits += _changed_extras(source, path, new, code)
    for phase in own.values():
        edits += _renamed(source, phase, new)
        edits += [source.value(one, "1.0") for one in source.places.values
                  if one[: len(phase)] == phase and one[-1] == "learned"]  # fmt: skip
    pieces = [source.copied(span, edits) for one in own.values() for span in source.blocks(one)]
    pieces += [source.copied(span, edits) for span in source.blocks(path)]
    elsewhere = [*_also_named(source, {path, *own.values()}, new)]
    return source.made(elsewhere) + "\n" + "\n".join(pieces) + _reduced(source, new)


def _own_phases(raw: Table, path: Path) -> Iterator[tuple[str, Path]]:
    """Phases that are no access and that no other operation's route has."""
    own = _route(raw["operation"][path[1]])
    others = {
        code for i, one in enumerate(raw["operation"]) if i != path[1] for code in _route(one)
    }
    for i, phase in enumerate(raw.get("phase", ())):
        if phase.get("code") in own - others:
            yield str(phase["code"]), ("phase", i)


def _route(operation: Table) -> set[str]:
    return {
        one if isinstance(one, str) else str(cast("Table", one).get("phase"))
        for one in operation.get("route", ())
    }


def _called(old: str, operation: str, code: str) -> str:
    return code + old.removeprefix(operation) if old.startswith(operation) else f"{code}-{old}"


def _word(path: Path) -> str:
    return next((part for part in reversed(path) if isinstance(part, str)), "")


def _strings(source: Source) -> Iterator[tuple[Path, str]]:
    """Every text of the book that may name a phase."""
    for path, (start, end) in source.places.values.items():
        found = source.text[start:end]
        names = _word(path) in NAMING and (path[-1] != "code" or len(path) == OF_A_PHASE)
        if names and found[:1] in "\"'" and len(found) > 2:
            yield path, found[1:-1]


def _renamed(source: Source, under: Path, new: Mapping[str, str]) -> Iterator[Edit]:
    for path, named in _strings(source):
        if path[: len(under)] == under and named in new:
            yield source.value(path, text_value(new[named]))


def _changed_extras(source: Source, path: Path, new: Mapping[str, str], code: str) -> list[Edit]:
    """A step that both add to a shared phase is one step as long as it says the same; one that
    blocks a phase of the copy says something else, and takes another code."""
    edits: list[Edit] = []
    for i, extra in enumerate(source.raw["operation"][path[1]].get("extra", ())):
        where = (*path, "extra", i)
        named = {
            text for place, text in _strings(source) if place[: len(where)] == where
        } & new.keys()
        if not named or extra.get("phase") in new:
            continue
        own = f"{code}-{extra.get('code') or extra.get('use')}"
        if source.has((*where, "code")):
            edits.append(source.value((*where, "code"), text_value(own)))
        else:
            start, end = source.places.values[*where, "phase"]
            value = text_value(new.get(extra["phase"], extra["phase"]))
            edits.append((start, end, f"{value}\ncode = {text_value(own)}"))
    return edits


def _also_named(source: Source, inside: set[Path], new: Mapping[str, str]) -> Iterator[Edit]:
    """Wherever else a list names a phase that was copied, it names the copy too: a hold point
    that stands in the way of one stands in the way of the other."""
    for path, named in _strings(source):
        if named not in new or any(path[: len(one)] == one for one in inside):
            continue
        if _word(path) in LISTS and isinstance(path[-1], int) and "neighbour" not in path:
            start, end = source.places.values[path]
            yield start, end, f"{source.text[start:end]}, {text_value(new[named])}"


def _reduced(source: Source, new: Mapping[str, str]) -> str:
    """What is quicker beside a phase is as much quicker beside its copy."""
    found = ""
    for i, one in enumerate(source.raw.get("reduction", ())):
        if one.get("beside") in new:
            beside = source.value(("reduction", i, "beside"), text_value(new[one["beside"]]))
            found += "".join("\n" + source.copied(span, [beside])
                             for span in source.blocks(("reduction", i)))  # fmt: skip
    return found
