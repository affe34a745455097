"""The card of the estate with all that can be told of a job: found, asked, noted, read, void."""

from __future__ import annotations

from dataclasses import replace

from store.views.values import (
    FindingLine,
    JobCard,
    KitLine,
    NoteLine,
    PromiseLine,
    Signature,
    StepLine,
    SupplementLine,
    Worker,
)
from tests.tui.made import on
from tests.tui.made_card import card, phase, signed, step

WORKERS = (
    Worker("B-Ines", "Ines", "IN"), Worker("B-Per", "Per", "PE"), Worker("B-Tomas", "Tomas", "TO"),
)  # fmt: skip
END_FLOAT = "crank end float 0.05 to 0.3 mm"


def read(name: str, at: str, good: bool, **readings: float) -> Signature:
    """A name under values inside or outside their limits."""
    return replace(signed(name, at, **readings), in_limits=good)


def remeasured() -> StepLine:
    """Read outside its limits, read anew, and one name that died when the cover was opened."""
    dead = replace(
        read("Per", "Mon 16:10", True, front=0.2, rear=0.2), void=True,
        void_at=on("Tue 08:02"), void_why="3 opened again: seal was not seated",
    )  # fmt: skip
    outside = read("Per", "Tue 09:40", False, front=0.42, rear=0.12)
    good = read("Per", "Tue 10:05", True, front=0.21, rear=0.12)
    return step(
        "3.1 end float", kind="hold point", state="done", signs=1, limits=(END_FLOAT,),
        signed=(dead, outside, good),
    )  # fmt: skip


def stood() -> StepLine:
    """A reading that a foreman let stand."""
    one = replace(
        read("Ines", "Tue 11:20", False, value=2.3), as_is="within the maker's used limit"
    )
    return step("3.2 belt mark", kind="hold point", state="done", signs=1, signed=(one,))


def built() -> StepLine:
    """A decision that was answered."""
    answer = replace(signed("Per", "Tue 11:30"), answer="S")
    return step(
        "3.3 which sprocket?", kind="decision", state="done", signed=(answer,),
        answers=(("S", "separate"), ("O", "one piece")),
    )  # fmt: skip


FINDINGS = (
    FindingLine("advice", "2", "hose is hard", None, on("Mon 11:00"), "Ines", None,
                "told as advice"),
    FindingLine("wrong assumption", "3", "Which sprocket? separate", None, on("Tue 11:30"), "Per",
                None, "in: 4b; out: 6"),
    FindingLine("surprise", "3", "guide rail cracked", 0.8, on("Tue 12:10"), "Per", 1,
                "approved by the owner, telephone", on("Tue 12:40")),
    FindingLine("surprise", "4", "broken stud", 3.5, on("Tue 13:30"), "Per", 3,
                "waits for the customer's word"),
)  # fmt: skip
SUPPLEMENTS = (
    SupplementLine(1, "guide rail cracked", 0.8, 72.0, "approved", "3", on("Tue 12:10"), "Per",
                   on("Tue 12:40"), "the owner", "telephone"),
    SupplementLine(2, "water pump while open", 1.1, 240.0, "refused", "4", on("Tue 12:20"), "Ruth",
                   on("Tue 12:40"), "the owner", "telephone"),
    SupplementLine(3, "broken stud", 3.5, 210.0, "asked", "4", on("Tue 14:10"), "Ruth"),
)  # fmt: skip
NOTES = (
    NoteLine(on("Mon 08:10"), "Ruth", "note", None, "wants the old parts back"),
    NoteLine(on("Mon 16:20"), "Per", "took longer", "2", "rust on every bolt"),
)
KITS = (
    KitLine("locks", "locking set for the engine code", False, "in use", ("2", "3", "6")),
    KitLine("gauge", "straight edge and depth gauge", True, "to come", ("4",)),
    KitLine("puller", "sprocket puller", False, "not needed", ()),
)
PROMISES = (
    PromiseLine(on("Fri- 09:20"), "Ruth", on("Wed 16:00"), 0.8),
    PromiseLine(on("Mon 17:00"), "Ruth", on("Thu 16:00"), None),
)


def told_card() -> JobCard:
    """All of it on one card."""
    made = card()
    covers = phase(
        "3 covers off", "held", "2.5 3.0 4.2 6.1", ("B-Per", "B-Ines", "B-Tomas"), held_h=5.8,
        steps=(remeasured(), stood(), built()),
    )  # fmt: skip
    access = replace(made.phases[1], note="rust on every bolt")
    return replace(
        made, phases=(made.phases[0], access, covers, *made.phases[3:]), workers=WORKERS,
        findings=FINDINGS, supplements=SUPPLEMENTS, notes=NOTES, kits=KITS, promises=PROMISES,
    )  # fmt: skip
