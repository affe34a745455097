"""A work book with some of its operations only: what the others alone needed goes with them."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any, cast

from store.edges.toml_edit import Edit, Source, list_value
from store.edges.toml_lines import Path
from store.edges.workbook.places import operation_path
from store.rules.book import DEEDS, EVERYTHING, NEXT_PHASE
from store.trouble import Refused

Table = Mapping[str, Any]
OPEN_ENDED = {*DEEDS, EVERYTHING, NEXT_PHASE}
"""What `blocks` may name besides phases."""


def drop(text: str, operation: str) -> str:
    """Take an operation out, and the phases, options and tools that nothing else needs.

    Raises:
        Refused: there is none, or it is the last one.
    """
    source = Source(text)
    operation_path(source.raw, operation)
    left = [str(one["code"]) for one in source.raw["operation"] if one["code"] != operation]
    if not left:
        raise Refused(f"{operation} is the only operation: a work book has one at least.")
    return keep(text, left)


def keep(text: str, operations: Collection[str]) -> str:
    """Keep these operations, in the order of the book, with all that they need.

    Raises:
        Refused: one of them is not in the book, or none is named.
    """
    source = Source(text)
    if not operations:
        raise Refused("Name one operation at least.")
    for code in operations:
        operation_path(source.raw, code)
    kept = _Kept(source, operations)
    return source.made([*kept.taken_out(), *kept.named_no_more()])


class _Kept:
    """What stays of a book."""

    def __init__(self, source: Source, operations: Collection[str]) -> None:
        self.source, self.raw = source, source.raw
        self.operations = set(operations)
        self.phases = self._phases()
        self.options = {
            str(option["code"])
            for one in self.raw["operation"] if one["code"] in self.operations
            for option in one.get("option", ())
        }  # fmt: skip
        self.used = {*self._used()}
        self.opened = {
            code for path, value in self._staying() if path[-1] == "opens" for code in _many(value)
        }

    def _phases(self) -> set[str]:
        """Phases of the routes; both sides of an access; what a tool stays fixed to."""
        found = {
            code for one in self.raw["operation"] if one["code"] in self.operations
            for code in _codes(one.get("route", ()), "phase")
        }  # fmt: skip
        for access in self.raw.get("access", ()):
            both = {f"{access['code']}-off", f"{access['code']}-on"}
            if both & found:
                found |= both
        todo = list(found)
        by_code = {str(phase["code"]): phase for phase in self.raw.get("phase", ())}
        while todo:
            for kit in by_code.get(todo.pop(), {}).get("kit", ()):
                target = cast("Table", kit).get("captive_to") if isinstance(kit, dict) else None
                if target is not None and target not in found:
                    found.add(str(target))
                    todo.append(str(target))
        return found

    # -- tables that go

    def taken_out(self) -> Iterator[Edit]:
        """Operations, phases, accesses, reductions, tools and shared steps that nobody needs."""
        for name in ("operation", "phase", "access", "reduction"):
            for i, one in enumerate(self.raw.get(name, ())):
                if self._goes(name, one):
                    yield from self.source.without((name, i))
        for i, one in enumerate(self.raw.get("shared_step", ())):
            if self._shared_goes(one):
                yield from self.source.without(("shared_step", i))
        for i, kit in enumerate(self.raw.get("kit", ())):
            if ("kit", kit["code"]) not in self.used:
                yield from self.source.without(("kit", i))

    def _goes(self, name: str, one: Table) -> bool:
        """Whether a table of that name falls away."""
        if name == "reduction":
            named = _many(one.get("phases", ()))
            return one["beside"] not in self.phases or not self.phases & set(named)
        code = str(one["code"])
        if name == "access":
            return not {code, f"{code}-off", f"{code}-on"} & self.phases
        return code not in (self.operations if name == "operation" else self.phases)

    def _shared_goes(self, one: Table) -> bool:
        return "insert" not in one and ("use", one.get("code")) not in self.used

    def _used(self) -> Iterator[tuple[str, str]]:
        """Shared steps and tools that what stays names."""
        for path, table in self._routed():
            if path[-1] in ("use", "kit") and isinstance(table, str):
                yield str(path[-1]), table
            if len(path) > 1 and path[-2] == "kit" and isinstance(table, str):
                yield "kit", table

    def _staying(self) -> Iterator[tuple[Path, Any]]:
        """Every value of what stays, shared steps too."""
        yield from self._routed()
        for i, one in enumerate(self.raw.get("shared_step", ())):
            if not self._shared_goes(one):
                yield from _walk(("shared_step", i), one)

    def _routed(self) -> Iterator[tuple[Path, Any]]:
        """Every value of the operations, phases and accesses that stay."""
        for name in ("operation", "phase", "access"):
            for i, one in enumerate(self.raw.get(name, ())):
                if not self._goes(name, one):
                    yield from _walk((name, i), one)

    # -- names that go

    def named_no_more(self) -> Iterator[Edit]:
        """Phases out of lists, and lines that ask about an option that is gone."""
        for i, one in enumerate(self.raw.get("reduction", ())):
            if not self._goes("reduction", one):
                yield from self._shorter(("reduction", i, "phases"), one.get("phases"))
        for path, value in self._staying():
            word = path[-1]
            if word in ("contains", "phases", "blocks"):
                yield from self._shorter(path, value)
            elif word == "closes":
                yield from self._shorter(path, value, self.opened)
            elif word == "when" and not self._asked(value):
                yield from self._without_line(path)
            elif word == "sets":
                yield from self._sets(path, cast("Table", value))

    def _shorter(
        self, path: Path, value: object, known: Collection[str] | None = None
    ) -> Iterator[Edit]:
        named = _many(value)
        left = [
            one for one in named if one in (self.phases | OPEN_ENDED if known is None else known)
        ]
        if path[0] == "kit" or left == named:
            return
        if left:
            yield self.source.value(path, list_value(f'"{one}"' for one in left))
        elif self.source.has(path):
            yield self.source.line_out(path)

    def _asked(self, when: object) -> bool:
        option = cast("Table", when).get("option") if isinstance(when, dict) else None
        return set(cast("Table", option or {})) <= self.options

    def _without_line(self, when: Path) -> Iterator[Edit]:
        """What only applies where an option of other work was chosen never applies any more."""
        holder = when[:-1]
        if self.source.blocks(holder):
            yield from self.source.without(holder)
            return
        if not self.source.has(holder):
            raise Refused("This work book cannot be taken apart: its conditions are not in tables.")
        start, end = self.source.places.values[holder]
        text = self.source.text
        while end < len(text) and text[end] in " \t\n,":
            end += 1
            if text[end - 1] == ",":
                break
        yield start, end, ""

    def _sets(self, path: Path, value: Table) -> Iterator[Edit]:
        left = {code: to for code, to in value.items() if code in self.options}
        if left == dict(value) or not self.source.has(path):
            return
        if left:
            pairs = ", ".join(f'{code} = "{to}"' for code, to in left.items())
            yield self.source.value(path, f"{{ {pairs} }}")
        else:
            yield self.source.line_out(path)


def _many(value: object) -> list[str]:
    return [str(one) for one in cast("Sequence[object]", value)] if isinstance(value, list) else [
        str(value)
    ] if isinstance(value, str) else []  # fmt: skip


def _codes(items: Sequence[object], word: str) -> Iterator[str]:
    for one in items:
        yield one if isinstance(one, str) else str(cast("Table", one)[word])


def _walk(path: Path, value: object) -> Iterator[tuple[Path, Any]]:
    """Every value at or under a path, the tables themselves too."""
    yield path, value
    if isinstance(value, dict):
        for key, inner in cast("Table", value).items():
            yield from _walk((*path, key), inner)
    elif isinstance(value, list):
        for i, inner in enumerate(cast("Sequence[object]", value)):
            yield from _walk((*path, i), inner)
