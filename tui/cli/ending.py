"""`handover` and `followups`: the end of a job, and the months after."""

from __future__ import annotations

from collections.abc import Iterator
from zoneinfo import ZoneInfo

from store.actions import follow_ups as acts
from store.actions import handing_over
from store.edges.instants import for_zone
from store.rules.follow_ups import ToDo
from store.views.follow_ups import FollowUp, FollowUps
from store.views.follow_ups import follow_ups as all_follow_ups
from store.views.handing_over import AtHandOver, at_hand_over
from tui.cli.answer import Answer, Document, encoded
from tui.cli.call import Call
from tui.cli.typed import whole
from tui.cli.usage import NOW, READING, WRITING, Argument, Command, Option, WrongUsage
from tui.words import distance, plain, wrapped

JOB = Argument("JOB", "its number")
WIDTH = 80
LINE = Option("line", "N", "its number, as `followups` lists it", needed=True)
DAY = Option("day", "DATE", "on which day at the latest, like 2026-11-12")


def hand_over(call: Call) -> Answer:
    typed, job = call.typed, call.typed.job()
    odometer, months = typed.number("odometer"), typed.whole("warranty-months")
    usual = at_hand_over(call.shop, job, call.terminal.clock.use())
    months, far = _warranty(call, usual, months, typed.number("warranty-distance"))
    return call.done(
        lambda shop, by: handing_over.hand_over(
            shop, by, job=job, odometer=odometer, unit=typed.maybe("unit"), to=typed.maybe("to"),
            old_parts=typed.maybe("old-parts"), fluids=typed.all("fluid"),
            faults_before=typed.maybe("faults-before") or usual.lamps,
            faults_after=typed.maybe("faults-after"), run_in=typed.maybe("run-in") or usual.run_in,
            warranty_months=months, warranty_distance=far, kits=_kits(call),
            missing=typed.maybe("missing"), photographs=typed.maybe("photographs"),
            follow_ups=() if typed.has("no-follow-ups") else None,
        )
    )  # fmt: skip


def _warranty(
    call: Call, usual: AtHandOver, months: int | None, far: float | None
) -> tuple[int | None, float | None]:
    """What was typed, else the shop's usual one, else none."""
    if call.typed.has("no-warranty"):
        if months is not None or far is not None:
            raise WrongUsage("--no-warranty stands without months and distance.")
        return None, None
    if months is None and far is None:
        return usual.warranty_months, usual.warranty_distance
    return months, far


def _kits(call: Call) -> handing_over.Counted:
    if call.typed.has("kits-complete"):
        if call.typed.has("kit"):
            raise WrongUsage("--kits-complete stands without --kit: every piece was counted.")
        return "all there"
    return {
        code: whole(count, f"--kit {code}=N") for code, count in call.typed.pairs("kit").items()
    }


def set_up(call: Call) -> Answer:
    typed, job = call.typed, call.typed.job()
    line = ToDo(
        typed.text("what"), typed.maybe("who") or "shop", typed.date("day"),
        typed.number("distance"),
    )  # fmt: skip
    return call.done(lambda shop, by: acts.set_follow_ups(shop, by, job=job, lines=[line]))


def move(call: Call) -> Answer:
    typed, job, line = call.typed, call.typed.job(), _line(call)
    day, odometer = typed.date("day"), typed.number("odometer")
    return call.done(
        lambda shop, by: acts.move_follow_up(
            shop, by, job=job, line=line, day=day, distance=odometer, why=typed.maybe("why")
        )
    )


def done(call: Call) -> Answer:
    job, line, said = call.typed.job(), _line(call), call.typed.text("outcome")
    return call.done(
        lambda shop, by: acts.follow_up_done(shop, by, job=job, line=line, outcome=said)
    )


def drop(call: Call) -> Answer:
    job, line, said = call.typed.job(), _line(call), call.typed.text("why")
    return call.done(
        lambda shop, by: acts.follow_up_done(
            shop, by, job=job, line=line, outcome=said, dropped=True
        )
    )


def _line(call: Call) -> int:
    return whole(call.typed.text("line"), "--line N")


def listed(call: Call) -> Answer:
    found = all_follow_ups(call.shop, call.reading_at(), names=call.sees_names())
    if call.as_json:
        return Answer((encoded(_document(found)),))
    return Answer(_lines(found))


def _lines(found: FollowUps) -> Iterator[str]:
    if not found.lines:
        yield "Nothing is to follow. A hand-over sets what is usual: hoistbook handover JOB."
        return
    for one in found.lines:
        due = f"{one.due}" if one.due else "no day"
        late = "  OVERDUE" if one.overdue else ""
        yield plain(f"{due}  {one.job}.{one.line}  {one.vehicle}{late}")
        rows = [f"{one.what} ({one.who})", when_words(one)]
        if one.customer:
            rows.append(f"{one.customer} {one.telephone or ''}".rstrip())
        for row in rows:
            yield from (f"            {part}" for part in wrapped(plain(row), WIDTH - 12))


def when_words(one: FollowUp) -> str:
    """How it was set: `by 2026-11-12 or at 128,450 km, from the hand-over of 2026-10-12`."""
    parts = [f"by {one.day}"] if one.day else []
    if one.distance is not None:
        parts.append(f"at {distance(one.distance, one.unit)}")
    return f"{' or '.join(parts)}, from the {one.counted_from} of {one.since}"


def _document(found: FollowUps) -> Document:
    return {"follow_ups": [_one(one, ZoneInfo(found.zone)) for one in found.lines]}


def _one(one: FollowUp, zone: ZoneInfo) -> Document:
    return {
        "job": one.job, "line": one.line, "vehicle": one.vehicle, "plate": one.plate,
        "work": one.work, "what": one.what, "who": one.who,
        "due": str(one.due) if one.due else None, "overdue": one.overdue,
        "day": str(one.day) if one.day else None, "distance": one.distance, "unit": one.unit,
        "odometer": one.driven, "since": str(one.since), "counted_from": one.counted_from,
        "state": one.state, "outcome": one.outcome,
        "done_at": for_zone(one.done_at, zone) if one.done_at else None,
        "customer": one.customer, "telephone": one.telephone,
    }  # fmt: skip


COMMANDS = (
    Command(
        ("handover",), "Hands a vehicle over and closes its job; the usual follow-ups are set.",
        hand_over, "handover 2417 --odometer 128450 --kits-complete --to Vos --as F1", (JOB,),
        (
            Option("odometer", "N", "as it is read now"),
            Option("unit", "UNIT", "of the odometer; else that of before", choices=("km", "miles")),
            Option("to", "TEXT", "who takes it; kept outside the ledger"),
            Option("old-parts", "TEXT", "returned, kept, or sent in for their surcharge"),
            Option("fluid", "TEXT", "kind and litres", many=True),
            Option("faults-before", "TEXT", "faults stored before; else as it arrived"),
            Option("faults-after", "TEXT", "faults stored after"),
            Option("run-in", "TEXT", "how it is driven at first; else the work book's words"),
            Option("warranty-months", "N", "else the shop's usual one"),
            Option("warranty-distance", "N", "in the unit of the odometer"),
            Option("no-warranty", "", "gives none"),
            Option("kit", "CODE=N", "pieces of a kit that were counted", many=True),
            Option("kits-complete", "", "every kit was counted, no piece is missing"),
            Option("missing", "TEXT", "why a piece is missing, and where it is"),
            Option("photographs", "TEXT", "where they are kept"),
            Option("no-follow-ups", "", "sets none"),
            *WRITING,
        ),
        more="Refused while anything of it is open; says all of it. It cannot be taken back.",
    ),
    Command(
        ("followups",), "Lists what is to be done in the months after, by date.", listed,
        "followups --as F1", (), (NOW, *READING),
        more="A distance becomes a day by 1,200 km a month until the odometer is seen again.",
    ),
    Command(
        ("followups", "set"), "Sets something to be done after a job.", set_up,
        'followups set 2417 --what "oil changed early" --day 2026-12-01 --distance 1500 --as F1',
        (JOB,),
        (
            Option("what", "TEXT", "what is to be done", needed=True),
            Option("who", "TEXT", "who does it; else the shop"), DAY,
            Option("distance", "KM", "after so many km from now; with a day, whichever is first"),
            *WRITING,
        ),
    ),
    Command(
        ("followups", "move"), "Does it on another day, or at another distance.", move,
        "followups move 2417 --line 2 --day 2026-12-01 --as F1", (JOB,),
        (
            LINE, DAY, Option("odometer", "N", "at which reading, in its unit"),
            Option("why", "TEXT", "why"), *WRITING,
        ),
    ),
    Command(
        ("followups", "done"), "Says what came of it.", done,
        'followups done 2417 --line 2 --outcome "all well" --as F1', (JOB,),
        (LINE, Option("outcome", "TEXT", "what came of it", needed=True), *WRITING),
    ),
    Command(
        ("followups", "drop"), "It is not to be done.", drop,
        'followups drop 2417 --line 2 --why "vehicle sold" --as F1', (JOB,),
        (LINE, Option("why", "TEXT", "why not", needed=True), *WRITING),
    ),
)  # fmt: skip
