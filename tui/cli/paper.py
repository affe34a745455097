"""`paper`: days from paper, every row or nothing."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from store.actions.clock import INDIRECT
from store.actions.clock_where import Where
from store.actions.paper import PaperDay, PaperRow, check_days, enter_days
from store.edges.tables.paper import PaperLine, read_paper
from store.edges.tables.paper_rows import PaperPage, read_rows
from store.file.shop import By
from store.trouble import Refused
from store.views.paper import paper_view
from tui.cli.answer import REFUSED, Answer, encoded, of_words
from tui.cli.call import Call
from tui.cli.usage import WRITING, Argument, Command, Option, WrongUsage
from tui.words import counted

WHOSE = Argument("BADGE|FILE.csv", "whose day; or a table: badge, date, what, from, to")
ROW = Argument("ROW", 'like "2417.3 07:30-10:00" or "tidying 10:15-10:45"', needed=False, many=True)


def paper(call: Call) -> Answer:
    typed = call.typed
    whose, rows, on = typed.text(WHOSE.name), typed.all(ROW.name), typed.date("date")
    if not rows and on is None:
        return _table(call, Path(whose))
    if not rows or on is None:
        raise WrongUsage(
            "paper takes BADGE --date DATE and rows, or a table. "
            f"Like: hoistbook {typed.command.example}"
        )
    lines = [PaperLine(n, whose.upper(), on, one) for n, one in enumerate(rows, 1)]
    return _enter(call, lines, "row", [])


def _table(call: Call, path: Path) -> Answer:
    if path.resolve() == call.terminal.path.resolve():
        raise Refused(f"{path} is the shop file: give the name of a table.")
    lines, faults = read_paper(path)
    if not lines and not faults:
        raise Refused(f"{path.name} holds no row: nothing was entered.")
    return _enter(call, lines, f"{path.name}, line", [f"{path.name}, {one}" for one in faults])


def _enter(call: Call, lines: Sequence[PaperLine], word: str, faults: list[str]) -> Answer:
    days, found = _days(call, lines)
    by = call.by()
    refused = {**found, **_checked(call, by, days)}
    faults += [f"{word} {n}: {refused[n]}" for n in sorted(refused)]
    if faults:
        return Answer((), tuple(faults), REFUSED)
    if call.typed.has("dry-run"):
        return _told(call, days)
    confirm = call.typed.has("confirm")
    return call.done(lambda shop, by: enter_days(shop, by, days=days, confirm=confirm))


def _days(call: Call, lines: Sequence[PaperLine]) -> tuple[list[PaperDay], dict[int, str]]:
    """Lines by person and day, in the order in which they come; and what cannot be read."""
    groups: dict[tuple[str, date], list[PaperLine]] = {}
    for one in lines:
        groups.setdefault((one.badge, one.day), []).append(one)
    days: list[PaperDay] = []
    faults: dict[int, str] = {}
    for (badge, on), group in groups.items():
        try:
            view = paper_view(call.shop, badge, on, call.terminal.clock.use())
        except Refused as refused:
            faults |= {one.line: str(refused) for one in group}
            continue
        page = PaperPage(on, view.calendar, INDIRECT)
        read, wrong = read_rows([one.typed for one in group], page)
        faults |= {group[n - 1].line: says for n, says in wrong.items()}
        good = [
            PaperRow(Where(row.job, row.phase, row.reason), row.since, row.until, one.line)
            for row, one in zip(read, group, strict=True) if row is not None
        ]  # fmt: skip
        days += [PaperDay(badge, on, good)] if good else []
    return days, faults


def _checked(call: Call, by: By, days: Sequence[PaperDay]) -> dict[int, str]:
    return {one.row: one.says for one in check_days(call.shop, by, days=days)} if days else {}


def _told(call: Call, days: Sequence[PaperDay]) -> Answer:
    rows = counted(sum(len(one.rows) for one in days), "row")
    says = f"Dry run: nothing was written. {rows} of {counted(len(days), 'day')} can be entered."
    if call.as_json:
        return Answer((encoded({"dry_run": True, "says": says}),))
    return of_words(says, as_json=False)


COMMANDS = (
    Command(
        ("paper",), "Enters a day from paper: every row of it, or nothing.", paper,
        'paper B12 --date 2026-10-14 "2417.3 07:30-10:00" "tidying 10:15-10:45" --as B12',
        (WHOSE, ROW),
        (
            Option("date", "DATE", "which day, like 2026-10-14"),
            Option("confirm", "", "confirms the day with it"),
            Option("dry-run", "", "says what would be refused; writes nothing"), *WRITING,
        ),
        more="A row is what, from, to. It may leave out the job of the row before (.4), what that "
        "was on, and the time at which it ended. Each row is checked like a clock that is entered "
        "alone; what cannot be is named with its number, and nothing is written.",
    ),
)  # fmt: skip
