"""Customers: known by an id in the ledger, by name beside it, and erased to the last byte."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.actions import holding, notes
from store.actions.desk import acts as desk
from store.actions.naming import NamesCustomer
from store.actions.trouble import MayNot
from store.file.backup import backup
from store.file.verify import verify
from store.views.job import job_card
from tests.store.actions.made import World
from tests.store.made_desk import agreed, arrived, enquiry, with_checks

NAME, NUMBER, AUNT = "Quirina Zweifelhaft", "0676 5554321", "Ottokar Niemand"
SECRETS = ("Quirina", "Zweifelhaft", "5554321", "Ottokar", "Niemand")


@pytest.fixture(autouse=True)
def _checked(world: World) -> None:
    with_checks(world)


def customer(world: World, job: str) -> object:
    return world.one("select customer from job where job = ?", job)


def known(world: World) -> list[tuple[object, ...]]:
    return world.all("select name, telephone from customer_private order by name")


def know(world: World, job: str, name: str = NAME, telephone: str = NUMBER) -> object:
    return desk.know_customer(world.shop, world.by("FOR"), job=job, name=name, telephone=telephone)


def test_the_ledger_knows_an_id_only(world: World) -> None:
    job = enquiry(world, customer=(NAME, NUMBER))
    assert known(world) == [(NAME, NUMBER)]
    assert str(customer(world, job)).startswith("c-")
    payloads = "".join(str(one[0]) for one in world.all("select payload from ledger"))
    assert not [one for one in SECRETS if one in payloads]


def test_the_same_person_again_is_the_same_customer(world: World) -> None:
    first, second = enquiry(world, customer=(NAME, NUMBER)), enquiry(world, vehicle="second car")
    know(world, second, NAME.upper(), NUMBER.replace(" ", "-"))
    assert customer(world, first) == customer(world, second)
    third = enquiry(world, vehicle="third car", customer=(NAME, "0123"))
    assert customer(world, third) != customer(world, first)


def test_a_name_is_put_right_under_its_id(world: World) -> None:
    job = enquiry(world, customer=("Quirina Zweifelhft", NUMBER))
    before = customer(world, job)
    know(world, job)
    assert (customer(world, job), known(world)) == (before, [(NAME, NUMBER)])
    world.refused(lambda: know(world, job), "already")


def test_another_person_is_another_customer(world: World) -> None:
    job = enquiry(world, customer=(NAME, NUMBER))
    before = customer(world, job)
    know(world, job, "Somebody Else", "0999 111222")
    assert customer(world, job) != before


def test_words_given_before_the_name_was_known_go_with_it(world: World) -> None:
    job = arrived(world)
    desk.agree(world.shop, world.by("FOR"), job=job, basis="time", said_by=AUNT, means="letter")
    know(world, job)
    assert world.all("select customer, text from private_word") == [(customer(world, job), AUNT)]
    agreement = job_card(world.shop, job, world.now).desk.agreement
    assert agreement is not None
    assert agreement.by == AUNT


def test_free_texts_do_not_name_the_customer(world: World) -> None:
    job = arrived(world, customer=(NAME, NUMBER))
    by = world.by
    for act in (
        lambda: notes.note(world.shop, by("T1"), job=job, text=f"{NAME} wants the old parts"),
        lambda: notes.note(world.shop, by("T1"), job=job, text="ring 06765554321 first"),
        lambda: holding.find(
            world.shop, by("T1"), job=job, phase="1", kind="advice", text="Zweifelhaft's tyres"
        ),
        lambda: holding.hold(
            world.shop, by("T1"), job=job, phase="1", reason="approval", next_move="Quirina"
        ),
        lambda: desk.judge_check(
            world.shop, by("FOR"), job=job, result="fail", text="Quirina said no"
        ),
        lambda: desk.turn_away(world.shop, by("FOR"), job=job, why="Zweifelhaft owes us"),
    ):
        world.refused(act, "'the customer'", kind=NamesCustomer)
    notes.note(world.shop, by("T1"), job=job, text="the customer wants the old parts")


def test_what_was_written_before_the_name_was_known_is_said(world: World) -> None:
    job = enquiry(world)
    notes.note(world.shop, world.by("T1"), job=job, text="Quirina rang twice")
    entry = world.events()
    done = know(world, job)
    assert f"entry {entry}" in str(done)


def test_a_technician_does_not_say_whose_vehicle_it_is(world: World) -> None:
    job = enquiry(world)
    world.refused(
        lambda: desk.know_customer(world.shop, world.by("T1"), job=job, name=NAME), kind=MayNot
    )


def test_a_customer_with_an_open_job_is_not_erased(world: World) -> None:
    job = enquiry(world, customer=(NAME, NUMBER))
    who = str(customer(world, job))
    world.refused(
        lambda: desk.erase_customer(world.shop, world.by("FOR"), customer=who), job, "open"
    )
    assert known(world) == [(NAME, NUMBER)]


def test_a_job_without_customer_has_nobody_to_erase(world: World) -> None:
    job = enquiry(world)
    world.refused(lambda: desk.customer_id(world.shop, job), "no customer")


def left(folder: Path) -> list[tuple[str, str]]:
    """Secrets found in the files of a folder, as UTF-8 or UTF-16."""
    return [
        (path.name, secret)
        for path in sorted(folder.iterdir())
        if path.is_file()
        for secret in SECRETS
        for coding in ("utf-8", "utf-16-le", "utf-16-be")
        if secret.encode(coding) in path.read_bytes()
    ]


def many_customers(world: World) -> None:
    """So many that pages of their table were split, filled and emptied around the one."""
    for n in range(90):
        enquiry(world, vehicle=f"car {n}", customer=(f"Person {n} {'of a long name ' * 8}", f"{n}"))


def test_after_an_erasure_no_byte_is_left_anywhere(world: World, tmp_path: Path) -> None:
    job = arrived(world, customer=("Quirina Zweifelhaftig", NUMBER))
    many_customers(world)
    know(world, job)
    desk.quote(world.shop, world.by("FOR"), job=job)
    desk.agree(world.shop, world.by("FOR"), job=job, basis="time", said_by=AUNT, means="letter")
    assert left(tmp_path), "the secrets are where they belong"
    desk.decline(world.shop, world.by("FOR"), job=job, why="sold the car", said_by=AUNT)
    desk.erase_customer(world.shop, world.by("FOR"), customer=str(customer(world, job)))
    backup(world.shop, tmp_path / "fresh.backup")
    assert sorted(one.name for one in tmp_path.iterdir())[:2] == ["fresh.backup", "made.shop"]
    assert left(tmp_path) == []
    world.shop.close()
    assert left(tmp_path) == []
    assert verify(world.shop.path).ok


def test_an_erasure_that_was_cut_short_is_finished_by_whoever_asks_again(
    world: World, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = arrived(world, customer=(NAME, NUMBER))
    desk.turn_away(world.shop, world.by("FOR"), job=job, why="no room")
    who = str(customer(world, job))
    with monkeypatch.context() as cut:
        cut.setattr(world.shop, "settle", bool)
        desk.erase_customer(world.shop, world.by("FOR"), customer=who)
    assert left(tmp_path)
    world.refused(
        lambda: desk.erase_customer(world.shop, world.by("FOR"), customer=who), "nothing kept"
    )
    assert left(tmp_path) == []


def test_whose_word_it_was_is_not_known_any_more(world: World) -> None:
    job = arrived(world, customer=(NAME, NUMBER))
    agreed(world, job)
    desk.decline(world.shop, world.by("FOR"), job=job, why="sold the car")
    desk.erase_customer(world.shop, world.by("FOR"), customer=str(customer(world, job)))
    card = job_card(world.shop, job, world.now)
    assert (card.desk.customer, card.desk.telephone) == (None, None)
    world.refused(
        lambda: desk.erase_customer(
            world.shop, world.by("FOR"), customer=str(customer(world, job))
        ),
        "nothing kept",
    )
