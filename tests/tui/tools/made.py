"""Kits without a shop: one week of an invented shop, seen on Wednesday at 10:40."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta

from store.sums.hires.terms import House, Rates, Terms
from store.views.parts_values import HireOut
from store.views.tools.hires_back import HireBack
from store.views.tools.values import Advice, Clash, DayCost, KitNow, KitWanted, Tools, Verb, Way
from tests.tui.made import CALENDAR, NOW, on
from tui.tools.state import Shown

LONG = "変速機 é́ 👩‍🔧 a name as long as nobody has one " * 6
NORTH = "Invented Hire North"


def terms(day: float, carriage: float = 15.0, deposit: float = 200.0) -> Terms:
    """Of an invented supplier."""
    return Terms(Rates(day, day * 4, day * 12, 3, carriage, deposit), House(time(15, 30)))


def hired(
    kit: str, name: str, day: float, due: str | None, *, job: str | None = None,
    since: str | None = "Mon 8:00", expected: str | None = None,
) -> HireOut:  # fmt: skip
    """A hire, here since a day or still to come."""
    return HireOut(
        f"h-{kit}", kit, name, NORTH, job, on("Fri- 9:00"), on(expected) if expected else None,
        on(due) if due else None, on(since) if since else None, True, None, terms(day),
    )  # fmt: skip


def ramp(since: str, first: str, last: str) -> tuple[tuple[datetime, float], ...]:
    """In need surely from one instant to another, hardly any more at a third."""
    begins, sure, gone = on(since), on(first), on(last)
    open_h = CALENDAR.working_h(sure, gone)
    falls = [(CALENDAR.after(sure, open_h * n / 30), (1 - n / 30) ** 2) for n in range(1, 31)]
    return ((begins, 1.0), (sure, 0.99), *falls)


def wanted(
    job: str, phase: str, since: str, middle: str, cautious: str, **more: object
) -> KitWanted:
    """A stretch of a job."""
    return replace(
        KitWanted(job, phase, on(since), on(middle), on(cautious), (phase,)),
        **more,  # type: ignore[arg-type]
    )


def days(first: date, totals: Sequence[float], needed: Sequence[float], rate: float) -> tuple[
    DayCost, ...
]:  # fmt: skip
    """Working days from one on; what is not hire or carriage is waiting and late fee."""
    found: list[DayCost] = []
    day = first
    for n, (total, chance) in enumerate(zip(totals, needed, strict=True)):
        while day.weekday() > 4:
            day += timedelta(days=1)
        hire = rate * (n + 1)
        rest = max(0.0, total - hire - 15)
        back = on("Wed 15:30") + timedelta(days=(day - date(2026, 10, 14)).days)
        late = rest * 0.4
        found.append(DayCost(day, back, chance, hire, 15.0, late, rest - late))
        day += timedelta(days=1)
    return tuple(found)


PULLER = KitNow(
    "BP", "bearing puller", False, "on hand",
    (wanted("2420", "3", "Wed 7:30", "Wed 11:30", "Wed 12:10", begun=True),),
    (hired("BP", "bearing puller", 24, "Wed 16:00", job="2420"),),
    had=((on("Mon 8:00"), NOW),), needed=ramp("Mon 8:00", "Wed 11:00", "Wed 13:30"),
    verb="SEND BACK", says="today before 15:30; done by 12:10", chance=0.97,
    contains=("puller", "two jaws", "spindle"),
)  # fmt: skip
LOCKING = KitNow(
    "LS", "engine locking set", False, "fixed on 2409.3",
    (wanted("2409", "3", "Mon 10:00", "Fri 11:00", "Mon+ 9:30", begun=True, captive=True,
            phases=("3", "4", "5")),),
    (hired("LS", "engine locking set", 31, "Fri 12:00", job="2409"),),
    had=((on("Mon 10:00"), NOW),), needed=ramp("Mon 10:00", "Thu 16:00", "Mon+ 14:00"),
    contains=("crank pin", "cam bar", "tensioner pin"), valid_until=date(2027, 3, 1),
    verb="EXTEND", says="to Mon: a day (31) beats the late fee (47 a day, 4 in 10)",
    advice=Advice(
        "LS", Way("extend", "keep it until Mon 15:30", 118, on("Mon+ 15:30")), 178,
        "it is fixed on 2409 until phase 5 has ended, likely on Fri",
        (Way("extend", "keep it until Mon 15:30", 118, on("Mon+ 15:30")),
         Way("keep", "leave it at Fri 12:00", 178, on("Fri 12:00"), kept=(("2409", 0.6),))),
        days(date(2026, 10, 15), (243, 178, 118, 140, 170, 201), (1, 0.44, 0.12, 0.03, 0, 0), 31),
        "h-LS", "2409",
    ),
)  # fmt: skip
CENTRING = KitNow(
    "CC", "centring kit", True, "in use on 2417.4",
    (wanted("2417", "4", "Tue 14:00", "Wed 13:25", "Wed 14:00", begun=True),
     wanted("2433", "3", "Wed 13:00", "Thu 9:00", "Thu 12:00")),
    had=((on("Tue 14:00"), NOW),), needed=ramp("Tue 14:00", "Wed 16:00", "Thu 13:00"),
    verb="CLASH", says="2433 wants it Wed 13:00, 2417 has it until 13:25, by 14:00",
    clashes=(
        Clash("CC", ("2417", "2433"), on("Wed 13:00"), on("Wed 14:00"), 0.7, (
            Way("wait", "2433 waits for it half an hour", 6,
                kept=(("2417", 0.97), ("2433", 0.84))),
            Way("swap order", "2433 first, 2417 after it", 48,
                kept=(("2417", 0.5), ("2433", 0.9))),
            Way("second kit", "hire a second one for 3 days", 96, on("Mon+ 15:30"),
                kept=(("2417", 0.97), ("2433", 0.91)),
                command=("hire", "ask", "CC", "--job", "2433")),
        )),
    ),
)  # fmt: skip
PILOT = KitNow(
    "PP", "pilot puller", False, "not hired",
    (wanted("2433", "2", "Thu 8:00", "Thu 15:00", "Fri 9:00"),),
    needed=ramp("Thu 8:00", "Thu 12:00", "Fri 15:00"),
    verb="ASK", says="from Thu 08:00 to Fri, 61 with carriage; ask before 15:30",
    advice=Advice(
        "PP", Way("ask", "ask for it from Thu to Fri", 61, on("Fri 15:30")), 250,
        "2433 needs it from Thu 08:00, by Fri 09:00 at the cautious figure", (),
        days(date(2026, 10, 15), (160, 61, 72, 91), (0.62, 0.04, 0, 0), 19), None, "2433",
    ),
)  # fmt: skip
SPRING = KitNow(
    "SP", "spring set", False, "on hand", (),
    (hired("SP", "spring set", 12, "Mon+ 8:00"),),
    had=((on("Mon 8:00"), on("Wed 9:00")),), says="three idle days, 36",
)  # fmt: skip
GAUGES = KitNow(
    "SG", "setting gauges", False, "asked for",
    (wanted("2436", "4", "Thu 14:00", "Fri 14:00", "Mon+ 9:00"),),
    (hired("SG", "setting gauges", 44, "Tue+ 12:00", job="2436", since=None,
           expected="Fri 8:00"),),
    needed=ramp("Thu 14:00", "Fri 11:00", "Mon+ 13:00"),
)  # fmt: skip
IDLE = tuple(
    KitNow(f"I{n:02d}", name, n % 3 > 0, "free" if n % 3 else "not hired")
    for n, name in enumerate(
        ("axle stand adapters", "ball joint press", "belt tension gauge", "brake bleeder",
         "cam seal driver", "clutch press", "cooling tester", "counter-hold", "diesel gauge set",
         "engine beam", "flange puller", "glow plug reamer", "hub press", "injector puller",
         "jack, low", "leak-down tester", "lift table", "manifold gauge", "oil seal drivers",
         "preload balance", "slide hammer", "sling, 1 t", "sump seal cutter", "valve lifter"))
)  # fmt: skip
WENT = (
    HireBack("h-old", "CH", "counter-hold", NORTH, "2398", on("Mon 14:00"), None, 150.0, None,
             None, terms(16)),
)  # fmt: skip


def _verb(kit: KitNow, verb: Verb, says: str) -> KitNow:
    return replace(kit, verb=verb, says=says)


OVERDUE = _verb(
    replace(GAUGES, code="IN", name="injector puller", state="on hand",
            hires=(hired("IN", "injector puller", 44, "Tue 12:00", job="2436", since="Fri- 8:00"),),
            had=((on("Fri- 8:00"), NOW),), needed=ramp("Fri- 8:00", "Wed 11:00", "Wed 15:00")),
    "OVERDUE", "was due Tue 12:00: 66 so far; send it today before 15:30",
)  # fmt: skip
OLD = _verb(
    replace(IDLE[20], code="TQ", name="torque wrench, large", valid_until=date(2026, 10, 1)),
    "OUT OF DATE", "since 1 Oct 2026: 2409.5 may not be signed with it",
)  # fmt: skip


def shown(*kits: KitNow, back: tuple[HireBack, ...] = ()) -> Shown:
    """A screen of these."""
    return Shown(Tools(NOW, CALENDAR, kits), "Marsh Lane Works", back)


SOME = shown(PULLER, LOCKING, PILOT, CENTRING, SPRING, *IDLE, back=WENT)
"""A usual day."""
ALL = shown(OVERDUE, OLD, PULLER, LOCKING, PILOT, CENTRING, SPRING, GAUGES, *IDLE, back=WENT)
CALM = shown(SPRING, *IDLE)
EMPTY = shown()
MANY = shown(*(replace(PULLER, code=f"K{n}", name=f"kit {n}") for n in range(40)), *IDLE)
AWKWARD = shown(
    *(
        replace(one, name=LONG, says=LONG, state=LONG, contains=(LONG,) * 9)
        for one in (PULLER, LOCKING, CENTRING, SPRING, OLD)
    ),
    back=(replace(WENT[0], name=LONG, supplier=LONG),),
)
