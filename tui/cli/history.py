"""`history import`, `history export`: finished phases in and out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from store.edges.instants import for_zone
from store.trouble import Refused
from tui import words
from tui.cli.answer import REFUSED, Answer, Document, encoded, hours, of_words
from tui.cli.call import Call
from tui.cli.tables import MAP, SKIP, ZONE, Tables, left_out, renamed
from tui.cli.usage import READING, WRITING, Argument, Command, Option

if TYPE_CHECKING:
    from store.edges.tables.history import Read
    from store.learn.records import Record
    from store.views.history import Past, Preview

FILE = Argument("FILE.csv", "finished phases", path=True)
PEOPLE = Option("people", "FILE", "also writes who was employed when", path=True)
SPANS = Option("spans", "FILE", "also writes clocks, holds, standing and outwork", path=True)
OPEN = Option("open", "FILE", "also writes when the shop was open", path=True)
TIMES = 2.0
"""From here on a share of the book is said in times, not in per cent."""
MANY = 20
"""Lines of one kind that a person reads; `--json` names them all."""


def import_(call: Call) -> Answer:
    from store.edges.tables import history as edge

    path = call.typed.path(FILE.name)
    _refuse_shop(call, path)
    tables = Tables(call.typed)
    names = renamed(call.typed, edge.NAMES)
    found = tables.read(path, partial(edge.read_history, renamed=names, zone=tables.zone))
    if found is not None:
        _leave_known(call, path, found, tables)
    if found is None or tables.refused:
        return Answer((), tuple(tables.faults), REFUSED)
    if call.typed.has("dry-run"):
        return _told(call, path, found, tables.faults)
    return _taken(call, path, found.rows, tables.faults)


def _refuse_shop(call: Call, *paths: Path) -> None:
    """The shop file is no table; opening it beside SQLite would let go of its locks."""
    shop = call.terminal.path.resolve()
    for path in paths:
        if path.resolve() == shop:
            raise Refused(f"{path} is the shop file: give the name of a table.")


def _leave_known(call: Call, path: Path, found: Read[Record], tables: Tables) -> None:
    """Rows that the shop has already are faults like others."""
    from store.views.history import clashes

    known = dict(clashes(call.shop, found.rows))
    tables.faults += [f"{path.name}, line {found.lines[at]}: {why}" for at, why in known.items()]
    kept = [at for at in range(len(found.rows)) if at not in known]
    found.rows = [found.rows[at] for at in kept]
    found.lines = [found.lines[at] for at in kept]


def _taken(call: Call, path: Path, records: Sequence[Record], faults: Sequence[str]) -> Answer:
    from store.actions.history import import_history

    done = call.act(
        lambda shop, by: import_history(shop, by, records=records, source=words.plain(path.name))
    )
    if call.as_json:
        return Answer((encoded({
            "recorded": list(done.recorded), "job": None, "says": done.says,
            "left_out": list(faults),
        }),))  # fmt: skip
    return Answer([done.says, *left_out(faults)])


def _told(call: Call, path: Path, found: Read[Record], faults: Sequence[str]) -> Answer:
    from store.views.history import preview

    call.check_reader()
    if not found.rows:
        raise Refused(f"{path.name} holds no finished phase: nothing would be imported.")
    seen = preview(call.shop, found.rows, call.terminal.clock.look())
    if call.as_json:
        return Answer((encoded(_document(call, seen, found, faults)),))
    return Answer([*_lines(call, path.name, seen, found), *left_out(faults)])


def _document(call: Call, seen: Preview, found: Read[Record], faults: Sequence[str]) -> Document:
    zone = call.terminal.zone
    return {
        "dry_run": True,
        "phases": seen.phases,
        "jobs": seen.jobs,
        "from": for_zone(seen.since, zone),
        "until": for_zone(seen.until, zone),
        "operations": [
            {
                "operation": one.operation, "jobs": one.jobs, "phases": one.phases,
                "hours": hours(one.hours), "ratio": hours(one.ratio), "known": one.known,
            }
            for one in seen.operations
        ],
        "families": [{"family": name, "jobs": count} for name, count in seen.families],
        "people": [
            {"badge": one.badge, "phases": one.phases, "known": one.known} for one in seen.people
        ],
        "unknown_phases": [{"phase": code, "rows": count} for code, count in seen.unknown],
        "doubtful": [_doubtful(found, at) for at in seen.doubtful],
        "ahead": seen.ahead,
        "left_out": list(faults),
    }  # fmt: skip


def _doubtful(found: Read[Record], at: int) -> Document:
    one = found.rows[at]
    return {
        "line": found.lines[at], "job": one.job, "seq": one.seq, "phase": one.phase,
        "book_hours": hours(one.book_h), "actual_hours": hours(one.actual_h),
    }  # fmt: skip


def _lines(call: Call, name: str, seen: Preview, found: Read[Record]) -> Iterator[str]:
    zone = call.terminal.zone
    yield (
        f"{words.plain(name)}: {words.counted(seen.phases, 'finished phase')} of "
        f"{words.counted(seen.jobs, 'job')}, {_day(seen.since, zone)} to "
        f"{_day(seen.until, zone)}."
    )
    yield "Dry run: nothing was written. Without --dry-run this is what would be learned from:"
    yield ""
    yield f"{'operation':<24}{'jobs':>7}{'phases':>8}{'hours':>10}   the middle phase took"
    for one in seen.operations:
        unknown = "" if one.known or not seen.book else ", not in the work book"
        yield words.cut(
            f"{words.cut(one.operation, 23):<24}{one.jobs:>7}{one.phases:>8}{one.hours:>10.1f}   "
            f"{against_book(one.ratio)}{unknown}",
            100,
        )
    yield ""
    yield from _names(seen)
    yield from _doubts(seen, found)


def _day(at: datetime, zone: ZoneInfo) -> str:
    """With its year: a history goes back far."""
    return at.astimezone(zone).date().isoformat()


def against_book(ratio: float) -> str:
    """How hours stand to the book's: `8 % over the book`."""
    percent = round(100 * (ratio - 1))
    if percent == 0:
        return "what the book says"
    if ratio >= TIMES:
        return f"{ratio:.1f} times the book"
    return f"{abs(percent)} % {'over' if percent > 0 else 'under'} the book"


def _names(seen: Preview) -> Iterator[str]:
    families = [f"{name} ({words.counted(count, 'job')})" for name, count in seen.families]
    yield from _listed("Families", families)
    people = [
        f"{one.badge} ({one.phases}{'' if one.known else ', no badge of this shop'})"
        for one in seen.people
    ]
    yield from _listed("People, and how many phases", people)
    if not seen.book:
        yield "There is no work book yet: whether it knows these phases cannot be told."
    yield from _listed("Not in the work book", [f"{one} ({n})" for one, n in seen.unknown])
    if seen.ahead:
        yield f"{words.counted(seen.ahead, 'phase')} ended after today: check the years."


def _listed(what: str, names: Sequence[str]) -> Iterator[str]:
    if names:
        more = f", and {len(names) - MANY} more" if len(names) > MANY else ""
        yield from words.wrapped(f"{what}: {', '.join(names[:MANY])}{more}.", 80)


def _doubts(seen: Preview, found: Read[Record]) -> Iterator[str]:
    if not seen.doubtful:
        return
    yield ""
    yield (
        f"Far from the book, and taken with doubt ({len(seen.doubtful)}): a forgotten clock, hours "
        "in another unit?"
    )
    for at in seen.doubtful[:MANY]:
        one = found.rows[at]
        yield words.cut(
            f"  line {found.lines[at]}: job {one.job}, {one.phase}: {one.actual_h:.3g} h, the book "
            f"says {one.book_h:.3g} h",
            100,
        )
    if len(seen.doubtful) > MANY:
        yield f"  and {len(seen.doubtful) - MANY} more; --json names them all"


def export(call: Call) -> Answer:
    from store.views.history import past

    call.check_reader()
    typed = call.typed
    named = [typed.path(name) for name in (PEOPLE.name, SPANS.name, OPEN.name) if typed.has(name)]
    _refuse_shop(call, typed.path(FILE.name), *named)
    found = past(call.shop)
    count = _written(call, found)
    jobs = len({one.job for one in found.records})
    files = words.listed([str(one) for one in (typed.path(FILE.name), *named)])
    what = f"{words.counted(count, 'finished phase')} of {words.counted(jobs, 'job')}"
    says = f"{what} written: {files}."
    return of_words(says, as_json=call.as_json)


def _written(call: Call, found: Past) -> int:
    """Write the files that were asked for, together; return how many phases."""
    from store.edges.tables import cells
    from store.file.csv_out import csv_files

    zone = found.zone
    others: dict[str, tuple[Sequence[str], Iterable[cells.Cells]]] = {
        PEOPLE.name: (cells.PEOPLE, cells.of_people(found.people, zone)),
        SPANS.name: (cells.SPANS, (cells.of_span(one, zone) for one in found.spans)),
        OPEN.name: (cells.OPEN, (cells.of_open(one, zone) for one in found.open)),
    }
    asked = [name for name in others if call.typed.has(name)]
    wanted = [(call.typed.path(name), others[name][0]) for name in asked]
    with csv_files((call.typed.path(FILE.name), cells.HISTORY), *wanted) as (first, *rest):
        for file, name in zip(rest, asked, strict=True):
            file.rows(others[name][1])
        return first.rows(cells.of_record(one, zone) for one in found.records)


COMMANDS = (
    Command(
        ("history", "import"), "Takes in finished phases from a table: they teach like one's own.",
        import_, "history import old.csv --dry-run", (FILE,),
        (
            Option("dry-run", "", "says what would be learned; writes nothing"),
            SKIP, MAP, ZONE, *WRITING,
        ),
        more="CSV with the columns job, template, variant, phase, seq, technician, started_at, "
        "closed_at, book_hours, actual_hours. A column with another heading is named with --map; "
        "semicolons and tabs part fields too, and beside them a comma may stand for the point.",
    ),
    Command(
        ("history", "export"), "Writes all finished phases that teach, imported ones included.",
        export, "history export history.csv --people people.csv", (FILE,),
        (PEOPLE, SPANS, OPEN, *READING),
    ),
)  # fmt: skip
