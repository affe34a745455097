"""Type to search: what is offered, and what Enter takes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from store.trouble import Refused
from tests.tui.made_intake import FORM, here
from tui.intake.fields import begun, fitting_options, pressed, taken
from tui.intake.searching import codes_in, families, operations, rank, vehicles
from tui.intake.state import Form
from tui.parts.keyline import Pressed


@pytest.mark.parametrize(
    "typed, code, name, expected",
    [
        ("cl", "CL", "clutch and flywheel", 0),
        ("b4mf", "B4-M-F", "petrol four", 0),
        ("b4m", "B4-M-F", "petrol four", 1),
        ("b4-m", "B4-M-F", "petrol four", 1),
        ("fly", "CL", "clutch and flywheel", 2),
        ("fly clu", "CL", "clutch and flywheel", 2),
        ("seal", "CL", "clutch and flywheel", None),
        ("", "CL", "clutch and flywheel", 2),
    ],
)
def test_a_code_comes_before_words(typed: str, code: str, name: str, expected: int | None) -> None:
    assert rank(typed, code, name) == expected


def test_three_letters_find_a_family_the_commonest_first() -> None:
    assert [one.key for one in families(here(), "b4m")] == ["B4-M-F", "B4-M-R"]
    assert [one.key for one in families(here(), "diesel")] == ["D4-A-F"]
    assert [one.key for one in families(here(), "")] == ["B4-M-F", "B4-M-R", "D4-A-F"]
    new = families(here(), "x9-m-f")
    assert (new[0].key, new[0].kind) == ("X9-M-F", "new")


def test_operations_by_code_or_words_and_a_small_job_for_the_rest() -> None:
    assert [one.key for one in operations(here(), "rear", Form())] == ["RS", ""]
    assert [one.key for one in operations(here(), "", FORM)] == ["TC"]
    lamp = operations(here(), "rear lamp", Form())
    assert [(one.kind, one.words) for one in lamp] == [("small", "rear lamp")]
    assert operations(here(), "rear lamp", FORM) == ()


def test_several_codes_in_one_go() -> None:
    assert codes_in(here(), "cl rs") == ("CL", "RS")
    assert codes_in(here(), "cl, rs, cl") == ("CL", "RS")
    assert codes_in(here(), "cl and") == ()
    (together,) = operations(here(), "cl rs", Form())
    assert (together.key, together.note) == ("CL RS", "together")
    assert together.words == "clutch and flywheel + rear main seal"
    assert taken(here(), Form(), begun(here(), Form(), "work", "rs cl")).work == ("RS", "CL")


def test_a_vehicle_that_was_here_brings_family_and_mass() -> None:
    assert [one.key for one in vehicles(here(), "grey")] == ["AB-12-C"]
    typing = pressed(here(), Form(), begun(here(), Form(), "vehicle", "grey"), Pressed("down"))
    form = taken(here(), Form(), typing)
    assert (form.vehicle, form.family, form.mass) == ("AB-12-C", "D4-A-F", 1900.0)
    form = taken(here(), Form(), begun(here(), Form(), "vehicle", "ab-12-c"))
    assert form.family == "D4-A-F"
    form = taken(here(), FORM, begun(here(), FORM, "vehicle", "another one 2.5 t"))
    assert (form.family, form.label, form.mass) == ("B4-M-F", "another one", 2500.0)


def test_arrows_move_among_what_fits_and_stay_inside() -> None:
    typing = begun(here(), Form(), "family", "b4")
    for key, at in (("down", 1), ("down", 1), ("up", 0), ("up", -1), ("up", -1)):
        typing = pressed(here(), Form(), typing, Pressed(key))
        assert typing.at == at
    typing = pressed(here(), Form(), typing, Pressed("m", "m"))
    assert (typing.field.text, typing.at) == ("b4m", 0)


@pytest.mark.parametrize(
    "name, text, says",
    [("vehicle", " ", "Say which vehicle"), ("family", "b4", ""), ("family", "zz", "is no family")],
)
def test_what_cannot_be_is_said(name: str, text: str, says: str) -> None:
    typing = begun(here(), Form(), name, text)  # type: ignore[arg-type]  # parametrized
    if not says:
        assert taken(here(), Form(), typing).family == "B4-M-F"
        return
    with pytest.raises(Refused, match=says):
        taken(here(), Form(), typing)


def test_work_that_nothing_fits_is_refused_once_there_is_work() -> None:
    with pytest.raises(Refused, match="No work fits"):
        taken(here(), FORM, begun(here(), FORM, "work", "zzz"))
    assert taken(here(), FORM, begun(here(), FORM, "work", "")) == FORM


def test_what_was_said_of_options_goes_with_the_work_that_asked() -> None:
    form = replace(FORM, options={"flywheel": "two-piece", "seal": "large"})
    assert fitting_options(here(), form.without("RS")).options == {"flywheel": "two-piece"}
