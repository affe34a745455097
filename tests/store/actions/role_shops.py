"""What must be so before each act of the table of roles can be tried: world, job, who will act."""

from __future__ import annotations

from datetime import date, timedelta

from store.actions import books, day_sheet, holding, jobs, people, places
from store.actions.hires import asked as hires
from store.edges.events.jobs import CustomerKnown
from tests.store.actions.made import BOOK, World
from tests.store.actions.undone_outside import away, within
from tests.store.made_desk import arrived, enquiry, with_checks


def clock_of(w: World, badge: str) -> int:
    done = day_sheet.enter_clock(
        w.shop, w.by(badge), where=day_sheet.Where(reason="tidying"),
        since=w.now - timedelta(minutes=40), until=w.now - timedelta(minutes=20),
    )  # fmt: skip
    return done.recorded[0]


def half(w: World, job: str, _badge: str) -> None:
    """LK bears one name, by somebody who acts in no cell."""
    w.on("T2", job, "2")
    w.sign("T2", job, "HL", readings={"gross": 2000})
    w.sign("T2", job, "GB-off:1")
    w.sign("T2", job, "LK", readings={"a": 0.1, "b": 0.1})


def to_phase_6(w: World, job: str, _badge: str) -> None:
    half(w, job, _badge)
    w.sign("FOR", job, "LK")
    w.sign("T2", job, "GB-off:3")
    w.finish("T2", job, "2")
    w.on("T2", job, "3")
    w.sign("T2", job, "B1:1")
    w.sign("T2", job, "BU", answer="A")
    w.finish("T2", job, "3")
    w.do("T2", job, "4")
    w.on("T2", job, "5")
    w.sign("T2", job, "GR", readings={"grams": 300})
    w.finish("T2", job, "5")
    w.on("T2", job, "6")


def raised(w: World, job: str, _badge: str) -> None:
    w.on("T2", job, "2")


def out_of_limits(w: World, job: str, _badge: str) -> None:
    w.on("T2", job, "2")
    w.sign("T2", job, "HL", readings={"gross": 2000})
    w.sign("T2", job, "GB-off:1")
    w.sign("T2", job, "LK", readings={"a": 0.1, "b": 0.9})


def decides(w: World, job: str, _badge: str) -> None:
    w.on("T2", job, "2")
    w.sign("T2", job, "HL", readings={"gross": 2000})
    w.off("T2")
    w.on("T2", job, "3")


def asked(w: World, job: str, _badge: str) -> None:
    holding.find(
        w.shop, w.by("T2"), job=job, phase="1", kind="surprise", text="stud", hours=1, code=None
    )


def held(w: World, job: str, _badge: str) -> None:
    holding.hold(w.shop, w.by("T2"), job=job, phase="1", reason="parts")


def first_finished(w: World, job: str, _badge: str) -> None:
    w.do("T2", job, "1")


def small(w: World, _job: str, _badge: str) -> None:
    done = jobs.take_small(w.shop, w.by("T2"), text="a lamp", vehicle="car")
    w.do("T2", done.job or "", "1")


def rang(w: World, _job: str, _badge: str) -> None:
    enquiry(w, vehicle="van")


def here(w: World, _job: str, _badge: str) -> None:
    with_checks(w)
    arrived(w)


def came_back(w: World, job: str, _badge: str) -> None:
    """A small job, closed; its vehicle came again."""
    small(w, job, _badge)
    jobs.close(w.shop, w.by("FOR"), job=str(int(job) + 1))
    enquiry(w, vehicle="car")


def all_done(w: World, job: str, _badge: str) -> None:
    done = jobs.take(w.shop, w.by("FOR"), operations=["WP"], family="B4-M-F", vehicle="w", lift="2")
    number = done.job or ""
    w.do("T2", number, "1")
    w.on("T2", number, "2")
    w.sign("T2", number, "HL", readings={"gross": 2000})
    w.sign("T2", number, "W1:1")
    w.sign("T2", number, "W1:2")
    w.finish("T2", number, "2")
    w.do("T2", number, "3")
    w.finish("T2", number, "4")
    w.on("T2", number, "5")
    w.sign("T2", number, "HF", readings={"litres": 0})
    w.sign("FOR", number, "HF")
    w.sign("T2", number, "fire")
    w.finish("T2", number, "5")
    w.on("T2", number, "6")
    w.sign("T2", number, "Z2:1")
    w.sign("OWN", number, "HX", readings={"open": 0})
    w.finish("T2", number, "6")


def own_clock(w: World, _job: str, badge: str) -> None:
    clock_of(w, badge)


def anothers_clock(w: World, _job: str, _badge: str) -> None:
    clock_of(w, "T2")


def out_of_service(w: World, _job: str, _badge: str) -> None:
    places.withdraw_lift(w.shop, w.by("T2"), code="3", reason="lock")


def known(w: World, _job: str, _badge: str) -> None:
    with w.shop.changing(w.by("OWN")) as change:
        change.record(CustomerKnown(customer="c-00000001"))


def word_wanted(w: World, _job: str, _badge: str) -> None:
    within(w)


def at_a_firm(w: World, _job: str, _badge: str) -> None:
    away(w)


def advised(w: World) -> int:
    found = w.one("select seq from finding where kind = 'advice'")
    assert isinstance(found, int)
    return found


def newest(w: World, who: str) -> int:
    """The newest clock of somebody; of whoever never had one, anybody's."""
    theirs = "select max(seq) from clock join person using (person) where badge = ?"
    found = w.one(theirs, who) or w.one("select max(seq) from clock")
    assert isinstance(found, int)
    return found


def owns_link(w: World, _job: str, _badge: str) -> None:
    owned = BOOK.replace('"chain link tool"\nowned = false', '"chain link tool"\nowned = true')
    books.load_workbook(w.shop, w.by("FOR"), source=owned)


def asked_kit(w: World, job: str, badge: str) -> None:
    hires.ask(w.shop, w.by("FOR"), kit="link", supplier="Loan", job=job)


def two_wait(w: World, j: str, b: str) -> None:
    """Two more jobs, that wait."""
    w.take("WP", None)
    w.take("WP", None)


def with_strangers(w: World) -> None:
    """Somebody who was an owner here until a week ago."""
    people.add_person(
        w.shop, w.by("OWN"), badge="GON", name="Gone", role="owner",
        from_day=date(2020, 1, 1), until_day=date(2026, 10, 1),
    )  # fmt: skip
