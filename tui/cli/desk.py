"""`enquiry`, `work`, `book`, `arrive`, `vehicle`, `customer`, `desk`: until a vehicle is here."""

from __future__ import annotations

from store.actions.desk import acts
from store.trouble import Refused
from tui.cli.answer import Answer, encoded, of_done
from tui.cli.call import Call
from tui.cli.outsiders import CUSTOMER, customer_of
from tui.cli.taking import grade_of
from tui.cli.usage import NOW, READING, WRITING, Argument, Command, Option, WrongUsage

JOB = Argument("JOB", "its number")
CHOOSING = (
    Option("operation", "CODE", "operation of the work book", many=True),
    Option("family", "KEY", "engine, gearbox, driven axles, like B4-M-F"),
    Option("option", "K=V", "what is known of this vehicle", many=True),
    Option("grade", "N", "1 clean, 2 usual, 3 rusty or neglected, 4 been apart before"),
    Option("complaint", "TEXT", "what the customer said"),
)
VEHICLE = Option("vehicle", "TEXT", "number plate, VIN, or how you call it")
IDENTITY = (
    Option("vin", "TEXT", "the vehicle identification number, 17 signs"),
    Option("plate", "TEXT", "the number plate"),
    Option("engine", "TEXT", "the engine code"),
    Option("gearbox", "TEXT", "the gearbox code"),
    Option("mass", "KG", "gross mass: the lift's capacity is checked against it"),
    Option("label", "TEXT", "how people call it"),
)


def enquiry(call: Call) -> Answer:
    typed, customer, grade = call.typed, customer_of(call), grade_of(call)
    done = call.act(
        lambda shop, by: acts.enquire(
            shop, by, vehicle=typed.text("vehicle"), complaint=typed.maybe("complaint"),
            customer=customer, operations=typed.all("operation"),
            family=typed.maybe("family") or "", options=typed.pairs("option"), grade=grade,
        )
    )  # fmt: skip
    return of_done(done, as_json=call.as_json, text=done.job)


def work(call: Call) -> Answer:
    typed, job = call.typed, call.typed.job()
    grade = grade_of(call) if typed.has("grade") else None
    options = typed.pairs("option") if typed.has("option") else None
    return call.done(
        lambda shop, by: acts.choose_work(
            shop, by, job=job, operations=typed.all("operation"),
            family=typed.maybe("family") or "", options=options, vehicle=typed.maybe("vehicle"),
            complaint=typed.maybe("complaint"), grade=grade,
        )
    )  # fmt: skip


def book(call: Call) -> Answer:
    typed, job = call.typed, call.typed.job()
    day, deposit = typed.date("DAY"), typed.number("deposit")
    if day is None:
        raise WrongUsage("book lacks DAY, like 2026-10-19.")
    return call.done(
        lambda shop, by: acts.book(
            shop, by, job=job, day=day, note=typed.maybe("note"), deposit=deposit
        )
    )


def identity_of(call: Call) -> acts.Identity:
    """What was typed of a vehicle."""
    typed = call.typed
    return acts.Identity(
        typed.maybe("vin"), typed.maybe("plate"), typed.maybe("engine"), typed.maybe("gearbox"),
        typed.number("mass"), typed.maybe("label"),
    )  # fmt: skip


def arrive(call: Call) -> Answer:
    typed, customer = call.typed, customer_of(call)
    job = typed.job() if typed.has("JOB") else None
    _refuse_mixed(call, job)
    grade = grade_of(call) if typed.has("grade") else None
    odometer, identity = typed.number("odometer"), identity_of(call)
    done = call.act(
        lambda shop, by: acts.arrive(
            shop, by, job=job, vehicle=typed.maybe("vehicle"), complaint=typed.maybe("complaint"),
            customer=customer, operations=typed.all("operation"),
            family=typed.maybe("family") or "", options=typed.pairs("option"), odometer=odometer,
            unit=typed.maybe("unit"), grade=grade, lamps=typed.maybe("lamps"),
            photographs=typed.maybe("photographs"), place=typed.maybe("place"), identity=identity,
        )
    )  # fmt: skip
    return of_done(done, as_json=call.as_json)


def _refuse_mixed(call: Call, job: str | None) -> None:
    """Either a job that the desk knows, or a vehicle at the door."""
    typed = call.typed
    if job is None:
        if not typed.has("vehicle"):
            raise WrongUsage("arrive takes a job, or --vehicle TEXT for one that nobody announced.")
        return
    opening = ("vehicle", "complaint", "operation", "family", "option", "name", "customer-stdin")
    for name in opening:
        if typed.has(name):
            raise WrongUsage(
                f"--{name} opens a job of its own: leave it out, or change {job} with `work` or "
                "`customer`."
            )


def vehicle(call: Call) -> Answer:
    said = identity_of(call)
    if said != acts.Identity():
        job = call.typed.job("JOB|TEXT")
        return call.done(
            lambda shop, by: acts.identify(
                shop, by, job=job, vin=said.vin, plate=said.plate, engine=said.engine,
                gearbox=said.gearbox, mass_kg=said.mass_kg, label=said.label,
            )
        )  # fmt: skip
    from store.views.vehicle import vehicle as look
    from tui.cli import json_desk, text_vehicle

    call.check_reader()
    found = look(call.shop, call.typed.text("JOB|TEXT"), call.terminal.clock.look())
    if call.as_json:
        return Answer((encoded(json_desk.vehicle(found, call.terminal.zone)),))
    return Answer(text_vehicle.lines(found, call.terminal.zone))


def customer(call: Call) -> Answer:
    job, who = call.typed.job(), customer_of(call)
    if who is None:
        return _whose(call, job)
    return call.done(
        lambda shop, by: acts.know_customer(shop, by, job=job, name=who[0], telephone=who[1])
    )


def _whose(call: Call, job: str) -> Answer:
    from store.views.job import job_card

    if not call.sees_names():
        raise Refused("Names of customers are shown to a foreman or owner. Ask one of them.")
    found = job_card(call.shop, job, call.terminal.clock.look()).desk
    if call.as_json:
        return Answer(
            (encoded({"job": job, "name": found.customer, "telephone": found.telephone}),)
        )
    if found.customer is None:
        return Answer((f"{job} has no customer on record.",))
    return Answer((", ".join(filter(None, (found.customer, found.telephone))),))


def desk(call: Call) -> Answer:
    from store.views.desk.page import desk as look
    from tui.cli import json_desk, text_desk

    found = look(call.shop, call.reading_at(), names=call.sees_names())
    if call.as_json:
        return Answer((encoded(json_desk.desk(found)),))
    return Answer(text_desk.lines(found))


COMMANDS = (
    Command(
        ("desk",), "Shows what is asked, booked, here, quoted and waiting, with what comes next.",
        desk, "desk --json", (), (NOW, *READING),
        more="Names of customers are shown to a foreman or owner.",
    ),
    Command(
        ("enquiry",), "Takes an enquiry: a job with as much as the caller knows; prints its "
        "number.", enquiry,
        'enquiry --vehicle "grey estate" --complaint "oil under it" --as T1', (),
        (
            Option(
                "vehicle", "TEXT", "number plate, VIN, or how you call it", needed=True
            ), *CHOOSING, *CUSTOMER, *WRITING,
        ),
    ),
    Command(
        ("work",), "Says what a job is to be about, before it is agreed.", work,
        "work 2417 --operation CL --operation RS --family B4-M-F --as T1", (JOB,),
        (*CHOOSING, VEHICLE, *WRITING),
        more="Of a vehicle that is here the qualifying check is laid, as the job's first phases.",
    ),
    Command(
        ("customer",), "Says whose vehicle a job is about, or shows it.", customer,
        'customer 2417 --name "A. Sample" --telephone "0123 456789" --as F1', (JOB,),
        (*CUSTOMER, *WRITING),
        more="Name and number are kept outside the ledger and can be erased.",
    ),
    Command(
        ("book",), "Books the day on which a vehicle is to come.", book,
        'book 2417 2026-10-19 --note "brings the spare key" --as F1',
        (JOB, Argument("DAY", "a date, like 2026-10-19")),
        (
            Option("note", "TEXT", "what is to be remembered"),
            Option("deposit", "MONEY", "left in advance"), *WRITING,
        ),
    ),
    Command(
        ("arrive",), "Receives a vehicle, booked or at the door; its check is laid.", arrive,
        "arrive 2417 --odometer 123456 --grade 3 --place Y --as F1",
        (Argument("JOB", "its number; none for --vehicle", needed=False),),
        (
            VEHICLE, *CHOOSING, *CUSTOMER,
            Option("odometer", "N", "what it reads"),
            Option("unit", "UNIT", "of the odometer; else as last time", choices=("km", "miles")),
            Option("lamps", "TEXT", "warning lamps and stored faults"),
            Option("photographs", "TEXT", "where those round the vehicle are kept"),
            Option("place", "CODE", "where it stands now"), *IDENTITY, *WRITING,
        ),
    ),
    Command(
        ("vehicle",), "Shows a vehicle over its visits; with an option, says what it is.", vehicle,
        "vehicle 2417 --vin 11111111111111111 --engine B4E --as F1",
        (Argument("JOB|TEXT", "a job of it, its plate, VIN, or how it is called"),),
        (*IDENTITY, *WRITING),
    ),
)  # fmt: skip
