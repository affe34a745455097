"""`line`: the line that waits to come in, and its order."""

from __future__ import annotations

from collections.abc import Iterator

from store.edges.instants import for_zone
from store.views.values import Job
from store.views.waiting_line import PutInLine, WaitingLine, waiting_line
from tui import words
from tui.cli.answer import Answer, Document, encoded
from tui.cli.call import Call
from tui.cli.json_floor import job as job_document
from tui.cli.usage import WRITING, Argument, Command, Option, WrongUsage

WIDTH = 80
NOBODY = "No job waits to come in."


def line(call: Call) -> Answer:
    typed = call.typed
    wanted = [one for one in ("before", "last") if typed.has(one)]
    if not typed.has("JOB") and not wanted:
        return _shown(call)
    if not typed.has("JOB") or len(wanted) != 1:
        raise WrongUsage(
            "line takes JOB and --before JOB or --last, one of them; alone it shows the line. "
            "Like: hoistbook line 2421 --before 2420 --as F1"
        )
    from store.actions.lining_up import put_in_line

    job, before = typed.job(), typed.job("before") if typed.has("before") else None
    return call.done(lambda shop, by: put_in_line(shop, by, job=job, before=before))


def _shown(call: Call) -> Answer:
    view = waiting_line(call.shop, call.reading_at())
    return Answer((encoded(document(view)),)) if call.as_json else Answer(text(view))


def document(view: WaitingLine) -> Document:
    """The line as its document."""
    zone = view.calendar.zone
    moved = view.moved
    return {
        "at": for_zone(view.at, zone),
        "line": [job_document(one, zone) for one in view.jobs],
        "moved": None if moved is None else {
            "job": moved.job, "before": moved.before, "by": moved.by,
            "at": for_zone(moved.at, zone),
        },
    }  # fmt: skip


def text(view: WaitingLine) -> Iterator[str]:
    """A job a line with what it lacks and what was promised; at most 80 columns."""
    yield words.moment(view.at, view.calendar.zone)
    if not view.jobs:
        yield NOBODY
    for nth, one in enumerate(view.jobs, 1):
        yield words.cut(f"{nth:>4}  {one.number:<6} {one.vehicle}", WIDTH)
        for row in words.wrapped("; ".join(_facts(view, one)), WIDTH - 13):
            yield f"{'':13}{row}"
    if view.moved is not None:
        yield words.cut(moved_words(view, view.moved), WIDTH)


def _facts(view: WaitingLine, job: Job) -> Iterator[str]:
    yield f"lacks {', '.join(job.lacks)}" if job.lacks else "can come in"
    zone = view.calendar.zone
    if job.finish is not None:
        yield words.out_by(job.finish.middle, job.finish.cautious, zone, view.at)
    if job.promise is not None:
        yield f"promised {words.day_time(job.promise, zone, view.at)}"


def moved_words(view: WaitingLine, moved: PutInLine) -> str:
    """`2421 was put before 2420 by Jo Vos, Wed 10:40.`"""
    where = "last" if moved.before is None else f"before {moved.before}"
    when = words.day_time(moved.at, view.calendar.zone, view.at)
    return f"{moved.job} was put {where} by {moved.by}, {when}."


COMMANDS = (
    Command(
        ("line",), "Shows the line that waits to come in, or puts a job elsewhere in it.", line,
        "line 2421 --before 2420 --as F1",
        (Argument("JOB", "the job that comes in earlier or later; else the line", needed=False),),
        (
            Option("before", "JOB", "it comes in before this one"),
            Option("last", "", "it comes in after all others"),
            *WRITING,
        ),
        more="Jobs wait in the order in which they came until a foreman puts one elsewhere.",
    ),
)  # fmt: skip
