"""Lists of follow-ups without a shop."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

from store.views.follow_ups import FollowUp, FollowUps

AT = datetime(2026, 10, 14, 8, 40, tzinfo=UTC)
TODAY = date(2026, 10, 14)
LONG = "変速機 é́ 👩‍🔧 a name as long as nobody has one " * 6


def one(job: str, line: int, days: int, what: str, vehicle: str = "panel van") -> FollowUp:
    """A follow-up that falls due so many days from today on."""
    due = TODAY + timedelta(days=days)
    return FollowUp(
        job=job, line=line, vehicle=vehicle, plate="KFS 73-40", work="clutch and flywheel",
        what=what, who="foreman", due=due, day=due, distance=129_000, unit="km", driven=128_000,
        since=TODAY - timedelta(days=20), counted_from="hand-over", state="open",
        overdue=days < 0, customer="Kim Invented", telephone="0123 456",
    )  # fmt: skip


def shown(*lines: FollowUp) -> FollowUps:
    """A list of these."""
    return FollowUps(lines, TODAY, AT, "Europe/Amsterdam")


SOME = shown(
    one("2409", 2, -3, "Call: is all well?"), one("2417", 1, 0, "Wheels tightened again"),
    one("2398", 4, 5, "Re-check: leaks, levels, noise"),
    one("2301", 6, 200, "Warranty ends on 2027-06-01: look it over before"),
)  # fmt: skip
CALM = shown(*SOME.lines[1:])
MANY = shown(*(one(str(3000 + n), 1, n, "Re-check") for n in range(90)))
AWKWARD = shown(*(one("123456789", 300, n, LONG, LONG) for n in range(-2, 3)))
EMPTY = shown()
