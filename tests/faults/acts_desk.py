"""What people do at the desk: jobs on their way in, the customer's word, hires, the end."""

from __future__ import annotations

from datetime import timedelta

from store.actions import advice, calls, ceilings, handing_over, jobs, lining_up, supplements
from store.actions.desk import acts as desk
from store.actions.hires import asked as hires
from store.actions.hires import back as hires_back
from tests.faults.doing import Do, Maker, listed
from tests.faults.held import Held

ACTS: dict[str, tuple[int, Maker]] = {}
KIM = ("Kim Invented", "0123 456789")
FAMILY = "B4-M-F"


@listed(ACTS, "take job", 2)
def _take(held: Held) -> Do | None:
    operation, vehicle = held.operation(), f"van {held.dice.randrange(1000)}"
    lift = held.dice.choice((None, None, held.lift()))
    return lambda shop, by: jobs.take(
        shop, by, operations=[operation], family=FAMILY, vehicle=vehicle, lift=lift, mass_kg=2000
    )


@listed(ACTS, "take small job", 2)
def _small(held: Held) -> Do | None:
    text = held.text()
    return lambda shop, by: jobs.take_small(shop, by, text=text, vehicle="blue estate", hours=0.3)


@listed(ACTS, "promise", 3)
def _promise(held: Held) -> Do | None:
    job, at = held.any_job(), held.now + timedelta(hours=held.dice.choice((-2, 8, 50, 1e5)))
    return lambda shop, by: jobs.promise(shop, by, job=job, at=at, chance=0.8)


@listed(ACTS, "enquiry", 2)
def _enquire(held: Held) -> Do | None:
    customer = held.dice.choice((KIM, None))
    operations, vehicle = [held.operation()], f"estate {held.dice.randrange(1000)}"
    return lambda shop, by: desk.enquire(
        shop, by, vehicle=vehicle, complaint="noise", customer=customer,
        operations=operations, family=FAMILY,
    )  # fmt: skip


@listed(ACTS, "booking", 2)
def _book(held: Held) -> Do | None:
    job = held.job("state in ('enquiry', 'booked')")
    if job is None:
        return None
    day = held.now.date() + timedelta(days=held.dice.randrange(-1, 9))
    return lambda shop, by: desk.book(shop, by, job=job, day=day, note="spare key")


@listed(ACTS, "vehicle here", 2)
def _arrive(held: Held) -> Do | None:
    job = held.job("state in ('enquiry', 'booked')")
    odometer = float(held.dice.randrange(200_000))
    return lambda shop, by: desk.arrive(
        shop, by, job=job, vehicle=None if job else "red van", odometer=odometer, unit="km",
        place="Y",
    )  # fmt: skip


@listed(ACTS, "quote", 2)
def _quote(held: Held) -> Do | None:
    job = held.job("state in ('arrived', 'quoted', 'booked', 'enquiry')")
    if job is None:
        return None
    return lambda shop, by: desk.quote(
        shop, by, job=job, basis="ceiling", ceiling=900, means="telephone"
    )


@listed(ACTS, "customer agrees", 2)
def _agree(held: Held) -> Do | None:
    job = held.job("state in ('arrived', 'quoted')")
    if job is None:
        return None
    return lambda shop, by: desk.agree(
        shop, by, job=job, basis="fixed price", said_by="the customer", means="telephone"
    )


@listed(ACTS, "customer declines", 1)
def _decline(held: Held) -> Do | None:
    job = held.job("state in ('enquiry', 'booked', 'quoted')")
    if job is None:
        return None
    why = held.text()
    return lambda shop, by: desk.decline(shop, by, job=job, why=why, said_by="the customer")


@listed(ACTS, "customer's word on extra work", 3)
def _supplement(held: Held) -> Do | None:
    job = held.one("select job from supplement where state = 'asked'")
    if job is None:
        return None
    approve = held.dice.random() < 0.7
    return lambda shop, by: supplements.answer_supplement(
        shop, by, job=job, approve=approve, told_by="the customer", means="telephone"
    )


@listed(ACTS, "customer's word on advice", 1)
def _advice(held: Held) -> Do | None:
    row = held.row("select seq, job from finding where kind = 'advice' and not withdrawn")
    if row is None:
        return None
    job, finding = str(row["job"]), int(row["seq"])
    answer: advice.Answer = "later" if held.dice.random() < 0.5 else "declined"
    return lambda shop, by: advice.answer_advice(shop, by, job=job, finding=finding, answer=answer)


@listed(ACTS, "call", 2)
def _call(held: Held) -> Do | None:
    job, reached = held.any_job(), held.dice.random() < 0.5
    return lambda shop, by: calls.note_call(shop, by, job=job, means="telephone", reached=reached)


@listed(ACTS, "ceiling", 1)
def _ceiling(held: Held) -> Do | None:
    job, ceiling = held.any_job(), held.dice.choice((100.0, 4000.0, float("inf")))
    return lambda shop, by: ceilings.set_ceiling(
        shop, by, job=job, ceiling=ceiling, told_by="the customer", means="letter"
    )


@listed(ACTS, "customer known", 1)
def _customer(held: Held) -> Do | None:
    job = held.any_job()
    return lambda shop, by: desk.know_customer(shop, by, job=job, name=KIM[0], telephone=KIM[1])


@listed(ACTS, "line ordered", 1)
def _line(held: Held) -> Do | None:
    job, before = held.job("state = 'waiting'"), held.job("state = 'waiting'")
    if job is None:
        return None
    return lambda shop, by: lining_up.put_in_line(shop, by, job=job, before=before)


@listed(ACTS, "hire asked for", 2)
def _hire(held: Held) -> Do | None:
    kit, job = held.kit(), held.dice.choice((None, held.job()))
    return lambda shop, by: hires.ask(shop, by, kit=kit, supplier="Loan", job=job, why="soon")


@listed(ACTS, "hire here", 2)
def _here(held: Held) -> Do | None:
    hire = held.hire("received_at is null and sent_at is null")
    if hire is None:
        return None
    due = held.now + timedelta(days=held.dice.choice((-3, 3, 9)))
    return lambda shop, by: hires.receive(shop, by, hire=hire, due=due)


@listed(ACTS, "hire sent back", 2)
def _sent(held: Held) -> Do | None:
    hire = held.hire("received_at is not null and sent_at is null")
    if hire is None:
        return None
    return lambda shop, by: hires_back.send_back(shop, by, hire=hire)


@listed(ACTS, "hand over", 1)
def _hand(held: Held) -> Do | None:
    job = held.job("state = 'finished'") or held.any_job()
    return lambda shop, by: handing_over.hand_over(shop, by, job=job)


@listed(ACTS, "close job", 2)
def _close(held: Held) -> Do | None:
    job = held.job("state = 'finished'") or held.any_job()
    return lambda shop, by: jobs.close(shop, by, job=job)
