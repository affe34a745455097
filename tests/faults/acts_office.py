"""What people do in the office: days, people, lifts, settings, the work book."""

from __future__ import annotations

from datetime import timedelta

from store.actions import books, day_sheet, history, month_costs, people, places, settings
from store.actions.hires import kit_let, suppliers
from tests.faults.doing import Do, Maker, listed
from tests.faults.held import Held
from tests.store.actions.made import BOOK, PIN
from tests.store.made_past import finished

ACTS: dict[str, tuple[int, Maker]] = {}


@listed(ACTS, "clock entered", 2)
def _enter(held: Held) -> Do | None:
    since = held.now - timedelta(minutes=held.dice.randrange(5, 300))
    until = since + timedelta(minutes=held.dice.randrange(1, 60))
    where = day_sheet.Where(reason="tidying")
    at = held.phase("under way", "finished")
    if at is not None and held.dice.random() < 0.6:
        where = day_sheet.Where(at[0], at[1].phase)
    return lambda shop, by: day_sheet.enter_clock(shop, by, where=where, since=since, until=until)


@listed(ACTS, "clock put right", 2)
def _correct(held: Held) -> Do | None:
    seq, minutes = held.clock(), held.dice.randrange(-9, 9)
    if seq is None:
        return None
    since = held.now - timedelta(minutes=20 + minutes)
    return lambda shop, by: day_sheet.correct_clock(shop, by, clock=seq, since=since, why="slip")


@listed(ACTS, "clock removed", 1)
def _remove(held: Held) -> Do | None:
    seq = held.clock()
    if seq is None:
        return None
    return lambda shop, by: day_sheet.remove_clock(shop, by, clock=seq, why="never was")


@listed(ACTS, "day confirmed", 1)
def _confirm(held: Held) -> Do | None:
    day = held.now.date() - timedelta(days=held.dice.randrange(3))
    return lambda shop, by: day_sheet.confirm_day(shop, by, day=day)


@listed(ACTS, "clock left running stopped", 2)
def _stop(held: Held) -> Do | None:
    at = held.dice.choice((None, held.now - timedelta(minutes=30)))
    return lambda shop, by: day_sheet.stop_left_running(shop, by, stopped_at=at)


@listed(ACTS, "attendance", 1)
def _attendance(held: Held) -> Do | None:
    badge, day, hours = held.person(), held.now.date(), held.dice.choice((7.5, 0.0, 30.0))
    return lambda shop, by: people.set_attendance(shop, by, badge=badge, day=day, hours=hours)


@listed(ACTS, "absence", 1)
def _absence(held: Held) -> Do | None:
    badge, since = held.person(), held.now + timedelta(days=held.dice.randrange(1, 40))
    until = since + timedelta(days=1)
    return lambda shop, by: people.set_absence(
        shop, by, badge=badge, since=since, until=until, why="course"
    )


@listed(ACTS, "person added", 1)
def _person(held: Held) -> Do | None:
    badge = f"N{held.dice.randrange(30)}"
    return lambda shop, by: people.add_person(
        shop, by, badge=badge, name="Törst, Jürgen", role="technician"
    )


@listed(ACTS, "person changed", 1)
def _change(held: Held) -> Do | None:
    badge, name = held.person(), held.dice.choice(("Sam", "Gül Öz", ""))
    return lambda shop, by: people.change_person(shop, by, badge=badge, name=name)


@listed(ACTS, "qualification", 1)
def _qualify(held: Held) -> Do | None:
    badge, until = held.person(), held.now.date() + timedelta(days=200)
    return lambda shop, by: people.qualify(shop, by, badge=badge, what="refrigerant", until=until)


@listed(ACTS, "PIN", 1)
def _pin(held: Held) -> Do | None:
    badge = held.badge if held.dice.random() < 0.9 else held.person()
    return lambda shop, by: people.set_pin(shop, by, badge=badge, pin=PIN)


@listed(ACTS, "lift looked over", 2)
def _look(held: Held) -> Do | None:
    code, note = held.lift(), held.text() or None
    return lambda shop, by: places.look_over(shop, by, code=code, note=note)


@listed(ACTS, "lift withdrawn", 1)
def _withdraw(held: Held) -> Do | None:
    code, reason = held.lift(), held.text()
    return lambda shop, by: places.withdraw_lift(shop, by, code=code, reason=reason)


@listed(ACTS, "lift returned", 2)
def _return(held: Held) -> Do | None:
    code = held.one("select code from place where kind = 'lift' and not in_service")
    if code is None:
        return None
    return lambda shop, by: places.return_lift(shop, by, code=code)


@listed(ACTS, "setting", 1)
def _setting(held: Held) -> Do | None:
    value = held.dice.choice((0.7, 0.8, 0.9, 7.0))
    return lambda shop, by: settings.change_setting(shop, by, name="cautious", value=value)


@listed(ACTS, "rate", 1)
def _rate(held: Held) -> Do | None:
    rate = held.dice.choice((90.0, 95.5, -1.0))
    return lambda shop, by: settings.set_rate(shop, by, per_hour=rate)


@listed(ACTS, "holiday", 1)
def _holiday(held: Held) -> Do | None:
    day = held.now.date() + timedelta(days=held.dice.randrange(1, 300))
    return lambda shop, by: settings.set_holiday(shop, by, day=day, name="Stocktaking")


@listed(ACTS, "costs of a month", 1)
def _costs(held: Held) -> Do | None:
    wages = float(held.dice.randrange(20_000))
    month = f"{held.now:%Y-%m}"
    return lambda shop, by: month_costs.set_costs(
        shop, by, month=month, wages=wages, overheads=4000
    )


@listed(ACTS, "work book", 1)
def _book(held: Held) -> Do | None:
    name = f"Small shop, edition {held.dice.randrange(1000)}"
    source = BOOK.replace("Small shop", name)
    return lambda shop, by: books.load_workbook(shop, by, source=source)


@listed(ACTS, "history", 1)
def _history(held: Held) -> Do | None:
    job = str(held.dice.randrange(1, 99))
    records = [finished(job, 1), finished(job, 2)]
    return lambda shop, by: history.import_history(shop, by, records=records, source="old.csv")


@listed(ACTS, "supplier", 1)
def _supplier(held: Held) -> Do | None:
    kit, day = held.kit(), float(held.dice.randrange(10, 60))
    return lambda shop, by: suppliers.offer(shop, by, kit=kit, supplier="Loan", day=day)


@listed(ACTS, "begun without its kit", 1)
def _let(held: Held) -> Do | None:
    at = held.phase("to come")
    if at is None:
        return None
    job, phase, why = at[0], at[1].phase, held.text()
    return lambda shop, by: kit_let.let(shop, by, job=job, phase=phase, why=why)
