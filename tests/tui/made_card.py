"""An invented job card and bay to paint, of the same week as the floor of `made`."""

from __future__ import annotations

from dataclasses import replace

from store.views.values import (
    Bay,
    Choice,
    ClockNow,
    EstimateChange,
    JobCard,
    LedgerLine,
    PhaseLine,
    PhaseState,
    Signature,
    Span,
    StepLine,
    SupplementLine,
    Worker,
)
from tests.tui.made import CALENDAR, INES, NOW, ZONE, on
from tests.tui.made_jobs import estate, van


def phase(
    text: str, state: PhaseState, figures: str, people: tuple[str, ...] = (), **more: object
) -> PhaseLine:
    """`2 access` with book, middle, cautious and labour hours."""
    number, name = text.split(" ", 1)
    book, middle, cautious, labour = map(float, figures.split())
    left = max(0.0, middle - labour)
    made = PhaseLine(
        number,
        name.upper()[:4],
        name,
        "labour",
        state,
        book,
        Span(middle, cautious),
        labour,
        0.0,
        Span(left, left * 1.25),
        people,
        0.0,
        None,
        None,
        (),
        None,
        (),
    )
    return replace(made, **more)  # type: ignore[arg-type]  # checked by the dataclass itself


def step(text: str, **more: object) -> StepLine:
    """`4.3 Torque the bolts`."""
    number, words = text.split(" ", 1)
    made = StepLine(number, words, "", "", "step", "open", 0, None)
    return replace(made, **more)  # type: ignore[arg-type]  # checked by the dataclass itself


def signed(name: str, at: str, **readings: float) -> Signature:
    """A valid signature."""
    return Signature(f"B-{name}", name, on(at), tuple(readings.items()), None, False)


def card() -> JobCard:
    """The estate that waits for its owner's word."""
    locked = step(
        "2.4 engine locked",
        kind="hold point",
        state="done",
        signs=2,
        signed=(signed("Per", "Mon 15:18"), signed("Ines", "Mon 15:20")),
    )
    twice = step("4.6 timing read twice", kind="hold point", signs=2, limits=("within 1 degree",))
    phases = (
        phase("1 check", "finished", "0.5 0.5 0.6 0.5", ("B-Ines",)),
        phase("2 access", "finished", "4.0 4.0 4.9 4.5", ("B-Per",), steps=(locked,)),
        phase("3 covers off", "held", "2.5 3.0 4.2 6.1", ("B-Per",), held_h=5.8),
        phase("4 chain, guides", "to come", "4.5 5.0 6.4 0", steps=(twice,)),
        phase("5 cure", "to come", "6 6 8 0", kind="standing"),
        phase("6 refit", "to come", "4.0 4.5 5.5 0", blocked_by="after 5 cure"),
        phase("7 run-in", "to come", "1.0 1.0 1.3 0"),
    )
    ledger = (
        "Mon 15:18|Per|signed 2.4 engine locked",
        "Mon 15:20|Ines|second signature 2.4 engine locked",
        "Tue 08:02|Per|clocked on 2409.3",
        "Tue 13:30|Per|finding, surprise: stud broken off, lower cover",
        "Tue 13:31|Per|held 2409.3: customer's word",
        "Tue 13:35|Per|clocked off 2409.3, 6.1 h",
        "Tue 14:10|Ruth|asked the owner about the stud: +3.5 h, 210",
    )
    lines = [line.split("|") for line in ledger]
    return JobCard(
        replace(
            estate(),
            work="timing chain, flywheel end",
            place="2",
            in_since=on("Mon 10:00"),
            labour_h=11.1,
            estimate=Span(18.0, 20.6),
            remaining=Span(10.5, 12.9),
        ),
        NOW,
        CALENDAR,
        ZONE,
        3,
        "estimate with a ceiling",
        4,
        (("build", "separate sprocket"),),
        phases,
        (SupplementLine(1, "broken stud", 3.5, 210.0, "asked", "4", on("Tue 14:10"), "Ruth"),),
        ("engine locked: nobody turns it", "no oil in the engine"),
        (
            EstimateChange(on("Fri- 09:12"), 16.5, 18.9, "book"),
            EstimateChange(
                on("Mon 09:20"), 18.0, 20.6, "learned: 9 jobs, this family is slow at covers"
            ),
        ),
        (),
        tuple(LedgerLine(n, on(at), who, says) for n, (at, who, says) in enumerate(lines)),
        workers=(Worker("B-Ines", "Ines", "IN"), Worker("B-Per", "Per", "PE")),
    )


def van_card() -> JobCard:
    """The van whose gearbox goes in."""
    steps = (
        step("4.1 Dowels checked", state="done"),
        step("4.2 Clutch centred", state="done"),
        step(
            "4.3 Torque the bell-housing bolts crosswise, two stages",
            detail="45 Nm, then 80 Nm; bolts 3 and 6 are the long ones",
            caution="Gearbox stays on the jack until all six are in.",
        ),
        step(
            "4.4 reading of the second stage", kind="hold point", signs=1, limits=("76 to 84 Nm",)
        ),
        step("4.5 Connect selector cables, set the end stops"),
        step("4.6 Fill with oil: 2.1 l"),
        step("4.7 oil is in, plug torqued", kind="hold point", signs=2),
    )
    phases = (
        phase("2 gearbox out", "finished", "3.0 3.5 4.3 4.4", ("B-Tomas",)),
        phase("4 gearbox in", "under way", "3.5 3.8 4.6 2.6", ("B-Ines",), steps=steps),
        phase("5 road test", "to come", "0.8 0.8 0.9 0"),
    )
    job = replace(van(), labour_h=9.6, estimate=Span(10.6, 12.4), place="1")
    workers = (Worker("B-Ines", "Ines", "IN"), Worker("B-Tomas", "Tomas", "TO"))
    return JobCard(job, NOW, CALENDAR, ZONE, phases=phases, workers=workers)


def clock() -> ClockNow:
    """Ines on the gearbox since 9:28."""
    return ClockNow(
        17,
        "2417",
        "4",
        "gearbox in",
        "panel van, long",
        "clutch and flywheel",
        None,
        "lead",
        on("Wed 09:28"),
        1.2,
        2.6,
        Span(3.8, 4.6),
        Span(1.2, 2.0),
        False,
        None,
    )


CHOICES = (
    Choice(
        "2417",
        "5",
        "road test",
        "panel van, long",
        "lift 1",
        "to come",
        0.0,
        0.8,
        "after 4 gearbox in",
    ),
    Choice("2426", "3", "converter", "camper", "lift 5", "to come", 0.0, 2.1, None),
    Choice("2436", "1", "check", "small van", None, "to come", 0.0, 0.5, None),
)


def bay() -> Bay:
    """Ines at her bay, her clock running."""
    return Bay(
        INES,
        "1",
        "two-post 4.0 t",
        NOW,
        ZONE,
        clock(),
        None,
        None,
        van_card(),
        "4",
        ("clutch centring kit goes on to 2433 at 15:00",),
        CHOICES,
        "10:38  4.2 done: clutch centred.",
        True,
    )


def no_clock() -> Bay:
    """The same without a clock."""
    last = replace(clock(), since=on("Tue 14:10"), run_h=2.0, labour_h=1.4)
    return replace(bay(), clock=None, last=last)
