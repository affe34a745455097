"""From TOML text to a form that can be looked through, with what is wrong in it so far.

A form comes back even when words or types are wrong: what cannot be used is put aside, so that all
the other faults of the book are found in the same run.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import cast, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from store.edges.toml_lines import Path, line_of, lines_of
from store.edges.workbook.fault import UNKNOWN, Fault, nearest
from store.edges.workbook.form import BookForm
from store.edges.workbook.values import put_right

_LOOKS = 8
"""A wrong thing inside a wrong thing is reached in a few looks; then the book is given up."""

_TYPES = {
    "string_type": "must be text in quotes",
    "int_type": "must be a whole number",
    "int_from_float": "must be a whole number",
    "float_type": "must be a number",
    "bool_type": "must be true or false",
    "list_type": "must be a list: [ ... ], or [[...]] where tables are repeated",
    "dict_type": "must be a table: { key = ... }",
    "model_type": "must be a table: { key = ... }",
}
_STAND_INS: dict[str, object] = {
    "hours": 1.0,
    "odds": 1.0,
    "owned": True,
    "values": [UNKNOWN],
    "route": [],
    "phases": [],
    "forbids": [],
    "operation": [],
}


@dataclass(frozen=True, slots=True)
class Source:
    """The form, where its parts stand, and what was wrong on the way to it."""

    form: BookForm
    lines: dict[Path, int]
    faults: tuple[Fault, ...]


class BadToml(Exception):
    """The text is no TOML at all; inside this package only."""

    def __init__(self, line: int, says: str) -> None:
        self.line = line
        self.says = says
        super().__init__(f"line {line}: {says}")


def read(text: str) -> Source:
    """Read what can be read.

    Raises:
        BadToml: the text is no TOML; nothing further can be said about it.
    """
    text = text.removeprefix("\ufeff")
    try:
        raw: dict[str, object] = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadToml(*_syntax(str(error), text)) from error
    except RecursionError:
        raise BadToml(1, "lists and tables lie in one another too deep. Write them flat.") from None
    except ValueError as error:  # a whole number of thousands of digits
        raise BadToml(1, "a number in the book is too long. Put it right.") from error
    wrong = put_right(raw)
    lines = lines_of(text)
    form, faults = _repaired(raw)
    return Source(form, lines, (*wrong, *faults))


def sentences(faults: Iterable[Fault], lines: dict[Path, int]) -> tuple[str, ...]:
    """`line N: ...` for each, from the top of the file down, none twice."""
    placed = ((line_of(lines, fault.path), fault.says) for fault in faults)
    return tuple(dict.fromkeys(f"line {line}: {says}" for line, says in sorted(placed)))


def _syntax(says: str, text: str) -> tuple[int, str]:
    what, _, place = says.rpartition(" (at ")
    numbers = [int(n) for n in place.replace(",", " ").split() if n.isdigit()]
    line = numbers[0] if numbers else text.count("\n") + 1
    return line, f"{what or says}. Put the brackets, quotes and equals signs of this line right."


def _repaired(raw: dict[str, object]) -> tuple[BookForm, tuple[Fault, ...]]:
    """Only the first look reports: what later ones find follows from what was put aside."""
    faults: tuple[Fault, ...] = ()
    for _ in range(_LOOKS):
        try:
            return BookForm.model_validate(raw), faults
        except ValidationError as error:
            details = error.errors(include_url=False, include_input=False)
            faults = faults or tuple(map(_fault, details))
            for each in details:
                _put_aside(raw, each["loc"], missing=each["type"] == "missing")
    return BookForm(name=UNKNOWN, operation=[]), faults


def _fault(detail: ErrorDetails) -> Fault:
    path = detail["loc"]
    word = next((part for part in reversed(path) if isinstance(part, str)), "")
    kind = detail["type"]
    if kind == "missing":
        return Fault(path[:-1], f"`{word}` is missing here: add it.")
    if kind == "extra_forbidden":
        return Fault(path, f"`{word}` is not a word of the work book here: {_known(path)}")
    if kind == "literal_error":
        return Fault(path, f"`{word}` must be {detail.get('ctx', {}).get('expected')}.")
    if kind == "value_error":
        return Fault(path, f"`{word}` {detail['msg'].removeprefix('Value error, ')}.")
    return Fault(path, f"`{word}` {_TYPES.get(kind, detail['msg'])}.")


def _known(path: Path) -> str:
    model = _model_at(path[:-1])
    names = [f.alias or name for name, f in model.model_fields.items()] if model else []
    return nearest(str(path[-1]), names)


def _model_at(path: Path) -> type[BaseModel] | None:
    model: type[BaseModel] | None = BookForm
    for part in path:
        if isinstance(part, str) and model is not None:
            field = next((f for n, f in model.model_fields.items() if part in (n, f.alias)), None)
            model = next(_models(field.annotation), None) if field else None
    return model


def _models(annotation: object) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in get_args(annotation):
        yield from _models(inner)


def _put_aside(raw: dict[str, object], path: Path, *, missing: bool) -> None:
    """Take the wrong thing out, or put a stand-in where something must stand.

    An element of a list is never taken out, because those after it would change their places.
    """
    *around, last = path
    holder = _reach(raw, around)
    if isinstance(holder, list) and isinstance(last, int):
        items = cast("list[object]", holder)
        items[last] = {} if items[last] == UNKNOWN else UNKNOWN
    elif isinstance(holder, dict) and (missing or last in holder):
        table = cast("dict[str | int, object]", holder)
        table.pop(last, None)
        if missing:
            table[last] = _STAND_INS.get(str(last), UNKNOWN + ".".join(map(str, around)))
    elif around:
        _put_aside(raw, tuple(around), missing=False)


def _reach(raw: object, path: Sequence[str | int]) -> object:
    for part in path:
        if isinstance(raw, dict):
            raw = cast("dict[str | int, object]", raw).get(part)
        elif isinstance(raw, list) and isinstance(part, int):
            raw = dict(enumerate(cast("list[object]", raw))).get(part)
        else:
            return None
    return raw
