"""`hindsight`: a history replayed, each forecast with what was known then and nothing later.

With a file its forecasts are written down; without one the shop's own past is told in words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from store.trouble import Refused
from tui import words
from tui.cli.answer import REFUSED, Answer, encoded
from tui.cli.call import Call
from tui.cli.progress import progress
from tui.cli.sentences import wrapped
from tui.cli.tables import MAP, SKIP, ZONE, Tables, left_out, renamed
from tui.cli.usage import READER, READING, Argument, Command, Option, WrongUsage

if TYPE_CHECKING:
    from store.learn.dates.spans import Span
    from store.learn.records import People, Record

HISTORY = Argument("HISTORY.csv", "finished phases; else the shop's own", needed=False, path=True)
OUT = Option("out", "SCORED.csv", "where the forecasts of hours go", path=True)
PEOPLE = Option("people", "PEOPLE.csv", "who was employed when", path=True)
SPANS = Option("spans", "SPANS.csv", "clocks, holds, standing and outwork of the jobs", path=True)
OPEN = Option("open", "OPEN.csv", "when the shop was open", path=True)
DATES = Option("dates", "DATES.csv", "where the forecasts of dates go", path=True)
TOGETHER = (SPANS, OPEN, DATES)
OF_FILE = (OUT, PEOPLE, *TOGETHER, SKIP, MAP, ZONE)


@dataclass(frozen=True, slots=True)
class _Given:
    """Everything that was read; `spans` and `open` are empty where no dates are asked."""

    records: Sequence[Record]
    people: People | None
    spans: Sequence[Span]
    open: Sequence[tuple[float, float]]


def hindsight(call: Call) -> Answer:
    if call.typed.has(HISTORY.name):
        return _of_file(call)
    for one in OF_FILE:
        if call.typed.has(one.name):
            raise WrongUsage(
                f"hindsight {one.shown()} goes with HISTORY.csv; alone hindsight tells of the "
                "shop's own past."
            )
    return _of_shop(call)


def _of_shop(call: Call) -> Answer:
    from store.views.hindsight import hindsight as looked_back
    from tui.cli import json_hindsight, text_hindsight

    now = call.reading_at()
    with progress("hindsight") as watched:
        found = looked_back(call.shop, now, watched)
    if call.as_json:
        says = [text_hindsight.NOTHING] if found is None else text_hindsight.says(found)
        told = json_hindsight.NOTHING if found is None else json_hindsight.document(found)
        return Answer((encoded({**told, "says": says}),))
    if found is None:
        return Answer(wrapped(text_hindsight.NOTHING))
    return Answer(text_hindsight.lines(found))


def _of_file(call: Call) -> Answer:
    if call.typed.has(READER.name):
        raise WrongUsage("hindsight of a file reads no shop: leave --as out.")
    out, dates = call.typed.path(OUT.name), _dates(call)
    tables = Tables(call.typed)
    given = _read(call, tables, dates is not None)
    if given is None:
        return Answer((), tuple(tables.faults), REFUSED)
    _refuse_own(call, [out] if dates is None else [out, dates])
    rows, date_rows = _replay(given, out, dates, tables)
    jobs = len({one.job for one in given.records})
    if call.as_json:
        return Answer((encoded({
            "phases": len(given.records), "jobs": jobs, "forecasts": rows, "dates": date_rows,
            "left_out": tables.faults,
        }),))  # fmt: skip
    says = (
        f"{words.counted(len(given.records), 'finished phase')} of {words.counted(jobs, 'job')} "
        f"replayed: {words.counted(rows, 'forecast')} in {out}"
    )
    says += f", {words.counted(date_rows, 'date')} in {dates}." if dates else "."
    return Answer([says, *left_out(tables.faults)])


def _dates(call: Call) -> Path | None:
    lacking = [one.shown() for one in TOGETHER if not call.typed.has(one.name)]
    if len(lacking) == len(TOGETHER):
        return None
    if lacking:
        raise WrongUsage(f"hindsight of dates lacks {', '.join(lacking)}: give all three.")
    return call.typed.path(DATES.name)


def _read(call: Call, tables: Tables, with_dates: bool) -> _Given | None:
    """Read all tables; None where one of them has faults that were not to be skipped."""
    from store.edges.tables import history, history_more

    typed, zone = call.typed, tables.zone
    names = renamed(typed, history.NAMES)
    records = tables.read(
        typed.path(HISTORY.name), partial(history.read_history, renamed=names, zone=zone)
    )
    people = spans = opened = None
    if typed.has(PEOPLE.name):
        people = tables.read(typed.path(PEOPLE.name), partial(history_more.read_people, zone=zone))
    if with_dates:
        spans = tables.read(typed.path(SPANS.name), partial(history_more.read_spans, zone=zone))
        opened = tables.read(typed.path(OPEN.name), partial(history_more.read_open, zone=zone))
    if tables.refused or records is None:
        return None
    if not records.rows:
        raise Refused(f"{typed.path(HISTORY.name)} holds no finished phase: give one that does.")
    if opened is not None and not any(end > start for start, end in opened.rows):
        raise Refused(f"{typed.path(OPEN.name)} holds no open hour: give one that does.")
    return _Given(
        records.rows, history_more.people_of(people.rows) if people else None,
        spans.rows if spans else (), opened.rows if opened else (),
    )  # fmt: skip


def _refuse_own(call: Call, targets: Sequence[Path]) -> None:
    """What is read is not written over."""
    read = [
        call.typed.path(name)
        for name in (HISTORY.name, PEOPLE.name, SPANS.name, OPEN.name)
        if call.typed.has(name)
    ]
    for target in targets:
        if target.resolve() in {one.resolve() for one in read}:
            raise Refused(f"{target} is read here and cannot be written too: give another name.")


def _replay(given: _Given, out: Path, dates: Path | None, tables: Tables) -> tuple[int, int]:
    """Write what was forecast; return how many lines of hours and of dates."""
    from store.edges.tables import cells
    from store.file.csv_out import csv_files
    from store.learn import hindsight as replaying

    wanted: list[tuple[Path, Sequence[str]]] = [(out, cells.SCORED)]
    if dates is not None:
        wanted.append((dates, cells.DATES))
    with csv_files(*wanted) as files:
        if dates is None:
            with progress("hours") as watched:
                hours = replaying.hours(given.records, given.people, watched)
                return files[0].rows(cells.of_hours(one, tables.zone) for one in hours), 0
        with progress("hours and dates") as watched:
            scored, dated = replaying.both(
                given.records, given.spans, given.open, given.people, watched
            )
        return (
            files[0].rows(cells.of_hours(one, tables.zone) for one in scored),
            files[1].rows(cells.of_dates(one, tables.zone) for one in dated),
        )


COMMANDS = (
    Command(
        ("hindsight",),
        "Replays the past: what would have been forecast then, and what it was.", hindsight,
        "hindsight history.csv --out scored.csv", (HISTORY,), (*OF_FILE, *READING),
        more="Alone it says in words and figures how right the shop's own estimates and dates "
        "would have been. With a table it writes every forecast down, and needs no shop file; "
        "--spans, --open and --dates go together: then dates are replayed too. What a forecast "
        "knows was closed before its moment. The formats: hoistbook history export writes them.",
    ),
)  # fmt: skip
