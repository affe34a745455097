"""Invented needs: an answer, a second name, a kit to send back, what they help, what waits."""

from __future__ import annotations

from datetime import datetime

from store.rules.acts import MINUTES, Act, ActKind
from store.views.needs_values import (
    Chain,
    ChanceMoved,
    HelpLine,
    Helps,
    Link,
    Need,
    Needs,
    OutMoved,
    Why,
)
from tests.tui.made import CALENDAR, NOW, on


def act(
    kind: ActKind, job: str | None, says: str, *, phase: str | None = None, step: str | None = None,
    lift: str | None = None, by: datetime | None = None, since: datetime | None = None,
    who: str = "Ruth or Olga", stuck: bool = False,
) -> Act:  # fmt: skip
    """An act, by what it is about."""
    return Act(
        kind, job, phase, step, lift, None, "F01", who, by, since, MINUTES[kind], says,
        ("needs",), stuck=stuck,
    )  # fmt: skip


STUD = act(
    "answer", "2409", "the customer's word on the broken stud, +3.5 h", phase="3", lift="2",
    since=on("Tue 13:35"), stuck=True,
)  # fmt: skip
NAME = act(
    "sign", "2426", "gearbox supported; the second name", phase="3", step="2", lift="5",
    since=on("Wed 10:25"), who="Ines or Tomas", stuck=True,
)  # fmt: skip
PULLER = act(
    "kit back", "2420", "bearing puller goes back to Loan", by=on("Wed 16:00"), lift="3",
    who="Ines, Tomas or 4 more",
)  # fmt: skip
IN = act("bring in", "2436", "2436 can come in: lift 6 is free", lift="6", since=on("Tue 16:00"))
HOSE = act("parts", "2431", "to be ordered: hose, clip", since=on("Tue 09:00"))
NEEDS = Needs(
    NOW, CALENDAR,
    (
        Need(PULLER, "farm pick-up", 0.0, None, True),
        Need(STUD, "estate, six-cyl.", 1.4, 0.8, False),
        Need(NAME, "camper", 0.2, 0.1, False),
        Need(IN, "small van", 0.3, 0.0, False),
        Need(HOSE, "tipper", None, None, False),
    ),
    NOW,
)  # fmt: skip
LINES = (
    HelpLine(
        1, NEEDS.needs[1], 0.8, 5.0,
        (ChanceMoved("2409", "estate, six-cyl.", 0.05, 0.31),
         ChanceMoved("2431", "tipper", 0.3, 0.84)),
        (OutMoved("2409", "2", on("Fri 14:25"), on("Fri 08:40")),), -0.1,
    ),
    HelpLine(2, NEEDS.needs[2], 0.1, 0.3, (ChanceMoved("2426", "camper", 0.68, 0.78),)),
)  # fmt: skip
HELPS = Helps(NOW, CALENDAR, LINES, 400, NOW)
WHY = Why(
    NOW, CALENDAR,
    (
        Chain("2431", "tipper", on("Mon 16:00"), 0.3, (
            Link(1, "lift 2: only 2, 3 carry it", "2409", "2", None, on("Fri 14:25")),
            Link(2, "2409 estate, six-cyl.", "2409", "2"),
            Link(3, STUD.says, "2409", "2", None, None, NEEDS.needs[1], 0.8, 5.0),
        )),
        Chain("2426", "camper", on("Thu 14:00"), 0.68, (
            Link(1, NAME.says, "2426", "5", None, None, NEEDS.needs[2], 0.1, 0.3),
        )),
        Chain("2433", "old saloon", None, None, (
            Link(1, "kit centring kit, on 2417", "2417", None, "centring kit", on("Wed 13:25")),
            Link(2, "4 gearbox in goes on: Ines; nothing to do", "2417"),
        )),
    ),
    LINES,
)  # fmt: skip
