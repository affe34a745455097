"""`day`, `undo`, `correct`: the day sheet, and one's own mistakes put right."""

from __future__ import annotations

from datetime import date

from store.actions import day_sheet, people
from store.actions.acting import Done
from store.actions.undo import taking_back as undoing
from store.file.shop import By, Shop
from store.views.day import day as day_view
from tui.cli import json_day, text_day
from tui.cli.answer import Answer, encoded
from tui.cli.call import Call
from tui.cli.labour import PART, PARTS, SINCE, UNTIL, WHY, part_of, where_of
from tui.cli.typed import whole
from tui.cli.usage import WRITING, Argument, Command, Option, WrongUsage


def day(call: Call) -> Answer:
    named, on = call.typed.maybe("BADGE"), call.typed.date("date")
    hours = call.typed.number("attended")
    if call.typed.has("confirm") and hours is not None:
        raise WrongUsage("day takes --confirm or --attended, one after the other.")
    if call.typed.has("confirm"):
        return call.done(
            lambda shop, by: day_sheet.confirm_day(
                shop, by, day=on or _today(call, by), badge=named
            )
        )
    if hours is not None:
        return call.done(lambda shop, by: _attended(call, shop, by, on, hours))
    return _show(call, named or call.maybe_badge(), on)


def _today(call: Call, by: By) -> date:
    return (by.at or by.now).astimezone(call.terminal.zone).date()


def _attended(call: Call, shop: Shop, by: By, on: date | None, hours: float) -> Done:
    return people.set_attendance(
        shop, by, badge=call.typed.maybe("BADGE") or by.badge, day=on or _today(call, by),
        hours=hours, why=call.typed.maybe("why"),
    )  # fmt: skip


def _show(call: Call, badge: str | None, on: date | None) -> Answer:
    if badge is None:
        raise WrongUsage("day lacks a badge: whose day? Like: hoistbook day B12")
    now = call.reading_at()
    day = on or now.astimezone(call.terminal.zone).date()
    found = day_view(call.shop, badge, day, now, by=call.maybe_badge())
    if call.as_json:
        return Answer((encoded(json_day.document(found)),))
    return Answer(text_day.lines(found))


def undo(call: Call) -> Answer:
    return call.done(undoing.undo)


def correct(call: Call) -> Answer:
    typed = call.typed
    seq = whole(typed.text("SEQ"), "SEQ")
    ways = [one for one in ("remove", "split") if typed.has(one)]
    if len(ways) == 2:
        raise WrongUsage("correct takes --remove or --split, not both.")
    if typed.has("remove"):
        return call.done(
            lambda shop, by: day_sheet.remove_clock(
                shop, by, clock=seq, why=typed.maybe("why")
            )
        )  # fmt: skip
    if typed.has("split"):
        return _split(call, seq)
    return _put_right(call, seq)


def _split(call: Call, seq: int) -> Answer:
    at, where = call.instant("split"), call.typed.maybe("on")
    if at is None or where is None:
        raise WrongUsage("correct --split INSTANT lacks --on JOB.PHASE|REASON: what followed it?")
    target = where_of(where)
    return call.done(
        lambda shop, by: day_sheet.split_clock(
            shop, by, clock=seq, at=at, where=target, why=call.typed.maybe("why")
        )
    )


def _put_right(call: Call, seq: int) -> Answer:
    typed = call.typed
    since, until, where = call.instant("from"), call.instant("until"), typed.maybe("on")
    breaks = True if typed.has("breaks-worked") else False if typed.has("breaks-taken") else None
    if typed.has("breaks-worked") and typed.has("breaks-taken"):
        raise WrongUsage("correct takes --breaks-worked or --breaks-taken, not both.")
    if since is until is None and where is None and breaks is None and not typed.has("part"):
        raise WrongUsage(
            "correct lacks what is right: --from, --until, --on, --part, --breaks-worked, "
            "--breaks-taken, --split or --remove."
        )
    target = None if where is None else where_of(where)
    return call.done(
        lambda shop, by: day_sheet.correct_clock(
            shop,
            by,
            clock=seq,
            since=since,
            until=until,
            where=target,
            part=part_of(call),
            breaks_worked=breaks,
            why=typed.maybe("why"),
        )
    )


COMMANDS = (
    Command(
        ("day",), "Shows a day sheet with its gaps and overlaps, or confirms it.", day,
        "day B12 --date 2026-10-14 --confirm --as B12",
        (Argument("BADGE", "whose day; else your own", needed=False),),
        (
            Option("date", "DATE", "which day, like 2026-10-14; else today"),
            Option("confirm", "", "the clocks are as they say: only then they teach"),
            Option("attended", "H", "how many hours the person was here, where it is otherwise"),
            WHY, *WRITING,
        ),
        more="Looking needs no --as. Numbers in the first column are what `correct` takes.",
    ),
    Command(
        ("undo",), "Takes your own last entry back.", undo, "undo --as B12", (), WRITING,
    ),
    Command(
        ("correct",), "Puts a clock right; what it said before stays in the ledger.", correct,
        "correct 512 --from 2026-10-14T12:55 --on 2420.2 --as B12",
        (Argument("SEQ", "number of the clock, from `hoistbook day`"),),
        (
            SINCE, UNTIL,
            Option("on", "JOB.PHASE|REASON", "what it was on"),
            Option(PART.name, PART.value, PART.says, choices=PARTS),
            Option("breaks-worked", "", "the shop's breaks inside it were worked through"),
            Option("breaks-taken", "", "the shop's breaks inside it were taken"),
            Option("split", "INSTANT", "from then on it was what --on says"),
            Option("remove", "", "it never was"), WHY, *WRITING,
        ),
    ),
)  # fmt: skip
