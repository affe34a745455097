"""`workbook set`, `copy`, `rename`, `drop`, `part`, `export`: the work book changed by a word."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING

from store.actions import books
from store.file.books import NoBook
from store.trouble import Refused
from store.views.book import BookNow, book_now
from tui import words
from tui.cli.answer import REFUSED, Answer, encoded, of_words
from tui.cli.call import Call
from tui.cli.usage import READING, WRITING, Argument, Command, Option, WrongUsage

if TYPE_CHECKING:
    from store.rules.book_changes import BookChange

DRY = Option("dry-run", "", "says what would change; writes nothing")
OPERATION = Argument("OPERATION", "its code, like CL")
WHAT = Argument("WHAT", "a phase like CL3, a surprise like CL.dowel, an answer like CL1.fit.fail")
ARROW = " -> "


def set_(call: Call) -> Answer:
    typed = call.typed
    what, hours, odds = typed.text(WHAT.name), typed.maybe("hours"), typed.maybe("odds")
    if (hours is None) == (odds is None):
        raise WrongUsage("workbook set takes --hours or --odds: say one of them.")
    if hours is not None:
        return _change(call, lambda found: _hours(found, what, hours, typed.maybe("family")))
    if typed.has("family"):
        raise WrongUsage("--family goes with --hours: odds are the same for every family.")
    return _change(call, lambda found: _odds(found, what, odds or ""))


def _hours(found: BookNow, what: str, text: str, family: str | None) -> str:
    from store.edges.workbook import edit

    if "." in what:
        if family is not None:
            raise Refused(f"{what} is no phase: only a phase has hours for a family.")
        once = edit.read_hours(text, edit.Hours(1.0, 1.0, 1.0))
        return edit.set_coming_hours(found.source, what, once.book)
    before = edit.written_hours(found.source, what, family)
    return edit.set_hours(found.source, what, edit.read_hours(text, before), family)


def _odds(found: BookNow, what: str, text: str) -> str:
    from store.edges.workbook import edit

    return edit.set_odds(found.source, what, edit.read_odds(text))


def copy(call: Call) -> Answer:
    from store.edges.workbook.copy import copy as copied

    code, new = call.typed.text(OPERATION.name), call.typed.text("NEWCODE")
    name = call.typed.maybe("name")

    def edited(found: BookNow) -> str:
        known = found.book.operations.get(code)
        return copied(found.source, code, new, name or (known.name if known else new))

    return _change(call, edited)


def new(call: Call) -> Answer:
    from store.edges.workbook.edit import new_operation, read_phases

    code, name, phases = (call.typed.text(one) for one in (OPERATION.name, "NAME", "phases"))
    read = read_phases(phases)
    try:
        book_now(call.shop, call.terminal.clock.use())
    except NoBook:
        source = new_operation("", code, name, read, book="Our work book")
        return call.done(lambda shop, by: books.load_workbook(shop, by, source=source))
    return _change(
        call, lambda found: new_operation(found.source, code, name, read, book=found.book.name)
    )


def rename(call: Call) -> Answer:
    from store.edges.workbook.edit import rename as renamed

    code, name = call.typed.text(OPERATION.name), call.typed.text("NAME")
    return _change(call, lambda found: renamed(found.source, code, name))


def drop(call: Call) -> Answer:
    from store.edges.workbook.keep import drop as dropped

    code = call.typed.text(OPERATION.name)
    return _change(call, lambda found: dropped(found.source, code))


def part(call: Call) -> Answer:
    from store.edges.workbook.edit import add_part

    code, what, phase = (call.typed.text(name) for name in (OPERATION.name, "TEXT", "phase"))
    return _change(call, lambda found: add_part(found.source, code, what, phase))


def _change(call: Call, edited: Callable[[BookNow], str]) -> Answer:
    """Change the book that holds, say what is otherwise, and load it as the next version."""
    from store.edges.workbook.model import BadWorkBook, load
    from store.rules.book_changes import changes

    found = book_now(call.shop, call.terminal.clock.use())
    source = edited(found)
    try:
        said = changes(found.book, load(source))
    except BadWorkBook as bad:
        return Answer((), bad.faults, REFUSED)
    if not said:
        raise Refused("The work book says so already: nothing would change.")
    if call.typed.has("dry-run"):
        call.check_reader()
        return _told(call, said, "Dry run: nothing was written. This would change:")
    done = call.act(
        lambda shop, by: books.load_workbook(shop, by, source=source, upon=found.version)
    )
    if call.as_json:
        return Answer((encoded({
            "recorded": list(done.recorded), "job": None, "says": done.says,
            "changes": _listed(said),
        }),))  # fmt: skip
    return Answer((*lines(said), done.says))


def _told(call: Call, said: Iterable[BookChange], title: str) -> Answer:
    if call.as_json:
        return Answer((encoded({"dry_run": True, "changes": _listed(said)}),))
    return Answer((title, *lines(said)))


def _listed(said: Iterable[BookChange]) -> list[dict[str, str]]:
    return [{"what": one.what, "before": one.before, "after": one.after} for one in said]


def lines(said: Iterable[BookChange], arrow: str = ARROW) -> Iterator[str]:
    """One line for each thing that is otherwise: `CL3 clutch   0.9 h -> 1.1 h`."""
    for one in said:
        if not one.before:
            yield words.plain(f"{one.what}   new: {one.after}")
        elif not one.after:
            yield words.plain(f"{one.what}   gone: {one.before}")
        else:
            yield words.plain(f"{one.what}   {one.before}{arrow}{one.after}")


def export(call: Call) -> Answer:
    from store.file.text_out import write_text

    found = book_now(call.shop, call.reading_at())
    target = call.typed.path("FILE.toml")
    if target.resolve() == call.terminal.path.resolve():
        raise Refused(f"{target} is the shop file: give the name of a text.")
    write_text(target, found.source)
    return of_words(f"Work book {found.version} written: {target}.", as_json=call.as_json)


COMMANDS = (
    Command(
        ("workbook", "set"), "Gives a phase other hours, or a surprise or an answer other odds.",
        set_, "workbook set CL3 --hours 0.7,1.1,1.6 --as F1", (WHAT,),
        (
            Option("hours", "L,B,H", "low, book and high, or the book's alone"),
            Option("family", "KEY", "those hours on this family only, like B4-M-F or B4-*-*"),
            Option("odds", "ODDS", "how often, like 1:8 for one in eight, or 0.125"), DRY, *WRITING,
        ),
        more="The other answers of a decision share what its new odds leave. Jobs that are taken "
        "keep the book they were taken with.",
    ),
    Command(
        ("workbook", "copy"), "Copies an operation under a new code, with its own phases.", copy,
        'workbook copy CL CLV --name "clutch, vans" --as F1',
        (OPERATION, Argument("NEWCODE", "code of the copy")),
        (Option("name", "TEXT", "name of the copy"), DRY, *WRITING),
        more="Phases that several operations share stay shared.",
    ),
    Command(
        ("workbook", "new"), "Writes an operation from nothing: its phases and hours.", new,
        'workbook new BR "brakes all round" --phases "strip 1, renew 1.5, bleed 0.5" --as F1',
        (Argument(OPERATION.name, "its code, like BR"), Argument("NAME", "its name")),
        (Option("phases", "TEXT", "each with its hours, like strip 2, refit 1.5", needed=True), DRY,
         *WRITING),
    ),
    Command(
        ("workbook", "rename"), "Calls an operation otherwise; its code stays.", rename,
        'workbook rename CL "clutch and flywheel, vans" --as F1',
        (OPERATION, Argument("NAME", "its name")), (DRY, *WRITING),
    ),
    Command(
        ("workbook", "drop"), "Takes an operation out, and what nothing else needs.", drop,
        "workbook drop CL --as F1", (OPERATION,), (DRY, *WRITING),
    ),
    Command(
        ("workbook", "part"), "Adds a part that is always renewed.", part,
        'workbook part CL "clutch set" --phase CL3 --as F1',
        (OPERATION, Argument("TEXT", "what it is")),
        (Option("phase", "CODE", "for which phase it must be here", needed=True), DRY, *WRITING),
    ),
    Command(
        ("workbook", "export"), "Writes the work book that holds as TOML.", export,
        "workbook export book.toml", (Argument("FILE.toml", "the file to write", path=True),),
        READING,
    ),
)  # fmt: skip
