"""What may stand in the ledger: strict, in one form, and applied by exactly one function."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from store.edges.events.base import Event, Id, Moment, PhaseNumber, Piece
from store.edges.events.jobs import Placed
from store.edges.events.kinds import KINDS
from store.edges.events.route import Forecast
from store.edges.events.shop import RateSet, SettingChanged
from store.edges.instants import to_text
from store.file import tables
from store.file.ledger import payload_of, rows
from store.file.tables.applying import APPLY
from store.file.words_of import in_words
from tests.store.made import busy_shop


def all_models(base: type[Event] = Event) -> set[type[Event]]:
    """Every event model, however deep."""
    found = set(base.__subclasses__())
    return found.union(*(all_models(one) for one in found))


def test_every_kind_has_one_model_and_one_function_that_applies_it() -> None:
    assert "clocks" in {one.__name__.rpartition(".")[2] for one in tables.MODULES}
    models = all_models()
    assert len(models) == len(KINDS) > 50
    assert set(KINDS.values()) == models
    assert set(APPLY) == set(KINDS)


def test_a_kind_is_named_in_lower_case_words() -> None:
    for kind in KINDS:
        assert all(part.isalpha() and part.islower() for part in kind.split("-")), kind


def test_every_event_of_a_busy_shop_is_read_back_as_it_was_recorded(tmp_path: Path) -> None:
    world = busy_shop(tmp_path)
    with world.shop.reading() as db:
        found = list(rows(db))
    world.shop.close()
    for row in found:
        event = row.event()
        assert payload_of(event) == row.payload
        assert type(event).model_validate_json(payload_of(event)) == event
    assert len({row.kind for row in found}) > 40


def test_every_event_of_a_busy_shop_is_said_in_one_line(tmp_path: Path) -> None:
    world = busy_shop(tmp_path)
    with world.shop.reading() as db:
        for row in rows(db):
            says = in_words(db, row)
            assert says.isprintable(), says
            assert says
    world.shop.close()


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_a_field_that_is_not_there_is_refused(kind: str) -> None:
    with pytest.raises(ValidationError) as caught:
        KINDS[kind].model_validate({"no such field": 1})
    assert any(one["type"] == "extra_forbidden" for one in caught.value.errors())


def takes_numbers() -> list[tuple[str, TypeAdapter[object]]]:
    """Every field of an event, or of a piece of one, in which a number can stand."""
    found: list[tuple[str, TypeAdapter[object]]] = []
    for model in {*all_models(), *Piece.__subclasses__()}:
        for name, field in model.model_fields.items():
            if (model, name) == (
                SettingChanged,
                "value",
            ):  # refused when it is written down, by its form
                continue
            adapter: TypeAdapter[object] = TypeAdapter(field.rebuild_annotation())
            if '"number"' in json.dumps(adapter.json_schema()):
                found.append((f"{model.__name__}.{name}", adapter))
    return found


@pytest.mark.parametrize("number", [float("nan"), float("inf"), float("-inf")])
def test_no_number_in_any_event_may_be_infinite_or_none(number: float) -> None:
    fields = takes_numbers()
    assert len(fields) > 20
    for name, adapter in fields:
        for shape in (number, [number], [number] * 3, [number] * 19, {"1": number}):
            with pytest.raises(ValidationError):
                raise_unless(adapter, shape, name)


def raise_unless(adapter: TypeAdapter[object], value: object, name: str) -> None:
    """Validate; a value that is taken fails the test by its name."""
    taken = adapter.validate_python(value)
    pytest.fail(f"{name} takes {value}: {taken}")


def test_an_event_cannot_be_changed_once_it_is_made() -> None:
    event = RateSet(from_day="2026-10-12", per_hour=90)
    with pytest.raises(ValidationError, match="frozen"):
        setattr(event, "per_hour", 91)  # noqa: B010 - as a checker would not let one write it


@given(st.datetimes(timezones=st.timezones()))
def test_an_instant_is_in_the_files_form_and_no_other(at: datetime) -> None:
    adapter = TypeAdapter[str](Moment)
    try:
        written = to_text(at)
    except OverflowError:  # the first and last hours of the calendar
        return
    assert adapter.validate_python(written) == written
    for other in (written[:-6], written.replace("+00:00", "Z"), written.replace("T", " ")):
        with pytest.raises(ValidationError):
            adapter.validate_python(other)


@pytest.mark.parametrize("good", ["p-0123456789abcdef", "v-01234567", "l-" + "0" * 32])
def test_an_id_is_a_letter_and_hexadecimal_digits(good: str) -> None:
    assert TypeAdapter[str](Id).validate_python(good) == good


@pytest.mark.parametrize("bad", ["p-0123", "P-01234567", "01234567", "p-0123456g", "p-01234567\n"])
def test_anything_else_is_no_id(bad: str) -> None:
    with pytest.raises(ValidationError):
        TypeAdapter[str](Id).validate_python(bad)


@pytest.mark.parametrize("number, good", [("1", True), ("12b", True), ("0", False), ("b", False)])
def test_a_phase_has_a_number_and_perhaps_letters(number: str, good: bool) -> None:
    adapter = TypeAdapter[str](PhaseNumber)
    if good:
        assert adapter.validate_python(number) == number
    else:
        with pytest.raises(ValidationError):
            adapter.validate_python(number)


def test_an_agreed_estimate_has_room_for_nineteen_quantiles_and_no_other_number() -> None:
    for n in (18, 20):
        with pytest.raises(ValidationError):
            Forecast(mean=1.0, quantiles=[1.0] * n)
    assert len(Forecast(mean=1.0, quantiles=[1.0] * 19).quantiles) == 19


def test_a_job_may_hold_two_places() -> None:
    annotation = Placed.model_fields["part"].annotation
    assert set(get_args(annotation)) == {"body", "unit"}
