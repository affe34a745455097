"""Under the lanes: what wants somebody, what waits to come in, who is on what."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.cells import cell_len, set_cell_size

from store.views.values import AskedWork, Floor, Job, PersonNow, Want
from tui.colours import Ink
from tui.floor.state import FloorState
from tui.keys import filled
from tui.lane.state import reason
from tui.parts.canvas import ON_SCREEN, Canvas, Piece, width_of
from tui.parts.lines import put_pieces
from tui.parts.loud import put_loud
from tui.signs import LOUD, Signs
from tui.words import counted, cut, day_time, elapsed, hours, joined, listed, money

DIM, TEXT = Ink("dim"), Ink("text")
WHERE_CELL, SAYS_CELL = 13, 21
NAME_CELLS = 26
"""Cells of a vehicle in the list of what waits."""
READY = "can come in"
"""A waiting job that lacks nothing as far as is known."""
AT_THE_DESK = {"arrived": "to check and quote", "quoted": "quoted"}
"""What is not agreed yet and stands in the house."""
WANT = f"{ON_SCREEN}want "
"""What a press of a want presses; then its place."""


def paint_wants(
    canvas: Canvas, at: tuple[int, int], size: tuple[int, int], floor: Floor,
    context: tuple[FloorState, Signs],
) -> int:  # fmt: skip
    """One line a want; returns the lines used.

    Those that do not fit are counted; the one that somebody was led to is always among them.
    """
    (x, y), (width, rows) = at, size
    state, signs = context
    if not floor.wants:
        canvas.put(x + 1, y, "nobody just now", DIM)
        return 1
    here = floor.wants.index(state.want) if state.want in floor.wants else None
    first, fitting = _around(floor.wants, rows, here)
    for row, want in enumerate(fitting):
        _want_line(canvas, (x, y + row), width, want, signs)
        canvas.spot(x, y + row, (width, 1), f"{WANT}{first + row}")
        if first + row == here:
            canvas.ground(x - 1, y + row, width, 1, "pick")
            canvas.put(x - 1, y + row, signs.of("running"), Ink("text", True, ground="pick"))
    rest = len(floor.wants) - len(fitting)
    if rest:
        how = "" if state.wall else filled("; {floor.next} goes through them")
        canvas.put(x + 1, y + len(fitting), f"and {rest} more{how}", DIM)
    return len(fitting) + (1 if rest else 0)


def _around(wants: Sequence[Want], rows: int, here: int | None) -> tuple[int, Sequence[Want]]:
    """The place of the first want shown, and those shown."""
    if len(wants) <= rows:
        return 0, wants
    shown = max(1, rows - 1)
    first = 0 if here is None else max(0, here - shown + 1)
    return first, wants[first : first + shown]


def _want_line(canvas: Canvas, at: tuple[int, int], width: int, want: Want, signs: Signs) -> None:
    x, y = at
    ink = Ink(LOUD[want.word].role, loud=True)
    put_loud(canvas, (x, y), want.word, signs, ink)
    where = f"lift {want.lift}" if want.lift else "no lift" if want.job else "shop"
    canvas.put(x + WHERE_CELL - 1, y, cut(where, 7, signs.more), DIM)
    room = width - SAYS_CELL
    canvas.put(x + SAYS_CELL - 1, y, cut(want.says, room, signs.more), TEXT)


def coming_lines(floor: Floor) -> list[list[Piece]]:
    """Waiting jobs and what each lacks, jobs off the lifts, kits due, extra work asked."""
    jobs = [*floor.waiting, *floor.elsewhere]
    names = [cut(job.vehicle or job.work, NAME_CELLS, "") for job in jobs]
    widest = max(map(cell_len, names), default=0)
    lines = [
        [(f"{job.number} ", TEXT), (set_cell_size(name, widest + 3), DIM), _stands(job)]
        for job, name in zip(jobs, names, strict=True)
    ]
    zone, now = floor.calendar.zone, floor.at
    kits = [f"{kit.kit} {day_time(kit.due, zone, now)}" for kit in floor.tools_due]
    asked = _asked(floor)
    if kits:
        lines.append([(f"kits due: {', '.join(kits)}", DIM)])
    if asked:
        lines.append([(f"asked: {', '.join(asked)}", DIM)])
    return lines


def _asked(floor: Floor) -> list[str]:
    """`2409 stud +3.5 h` for all extra work that waits for the customer's word."""
    found: list[str] = []
    for job in _all_jobs(floor):
        found += [f"{job.number} {one.text} +{_extra(one)}" for one in job.asked]
        if not job.asked and "supplement-asked" in job.flags:
            found.append(job.number)
    return found


def _extra(asked: AskedWork) -> str:
    """Its hours; its money where it takes no labour."""
    by_money = not asked.hours and asked.money is not None
    return money(asked.money or 0.0) if by_money else hours(asked.hours)


def _stands(job: Job) -> Piece:
    """What a waiting job lacks, or where one that left its lift, or is at the desk, stands."""
    if job.state == "waiting":
        return (", ".join(job.lacks), TEXT) if job.lacks else (READY, Ink("ahead"))
    place = f"at {job.place}" if job.place else "outside"
    if job.state in AT_THE_DESK:
        return (f"{place}, {AT_THE_DESK[job.state]}", TEXT)
    return (f"{place}, held: {reason(job.held)}" if job.held else place, TEXT)


def _all_jobs(floor: Floor) -> list[Job]:
    on_lifts = (lane.job for lane in floor.lanes)
    return [job for job in (*on_lifts, *floor.elsewhere, *floor.waiting) if job is not None]


def paint_coming(
    canvas: Canvas, at: tuple[int, int], size: tuple[int, int], floor: Floor, signs: Signs
) -> None:
    """The list right of what wants somebody."""
    (x, y), (width, rows) = at, size
    lines = coming_lines(floor)
    if not lines:
        canvas.put(x, y, filled("nobody waits.  {floor.new} takes a job in."), DIM)
    fitting = lines if len(lines) <= rows else lines[: rows - 1]
    for row, pieces in enumerate(fitting):
        put_pieces(canvas, (x, y + row), pieces, width, signs)
    if len(lines) > len(fitting):
        canvas.put(x, y + len(fitting), f"and {len(lines) - len(fitting)} more", DIM)


def _waiting_words(jobs: Sequence[Job], room: int) -> str:
    """Who waits and what they lack: all of it where there is room, else the first thing of each."""
    found = ""
    for words in (_all_lacks, _first_lack, _briefest):
        found = "   ".join(f"{job.number} {words(job)}" for job in jobs)
        if cell_len(found) <= room:
            break
    return found


def _all_lacks(job: Job) -> str:
    return ", ".join(job.lacks) or READY


def _first_lack(job: Job) -> str:
    """`parts 2 of 5, Thu +1`"""
    return _with_more(job, job.lacks[0]) if job.lacks else READY


def _briefest(job: Job) -> str:
    """`parts 2 of 5 +1`: the day stands on the job's own card."""
    return _with_more(job, job.lacks[0].split(", ")[0]) if job.lacks else READY


def _with_more(job: Job, first: str) -> str:
    more = len(job.lacks) - 1
    return f"{first} +{more}" if more else first


def paint_brief_coming(canvas: Canvas, y: int, rows: int, floor: Floor, signs: Signs) -> None:
    """On narrow floors one line each: who waits and for what, and where extra work was asked."""
    waiting = _waiting_words(floor.waiting, canvas.width - 1 - SAYS_CELL)
    asked = _asked(floor)
    lines = [
        ("waiting", counted(len(floor.waiting), "job"), waiting, bool(floor.waiting)),
        (
            "answer",
            counted(len({text.split()[0] for text in asked}), "job"),
            "   ".join(asked),
            bool(asked),
        ),
    ]
    for row, (state, count, text, _) in enumerate([line for line in lines if line[3]][:rows]):
        word = "waiting" if state == "waiting" else "asked"
        sign = signs.of("waiting" if state == "waiting" else "answer")
        canvas.put(2, y + row, f"{sign} {word}", DIM)
        canvas.put(WHERE_CELL, y + row, count, DIM)
        room = canvas.width - 1 - SAYS_CELL
        canvas.put(SAYS_CELL, y + row, cut(text, room, signs.more), TEXT)


def paint_who(canvas: Canvas, y: int, floor: Floor) -> None:
    """Everybody with what their clock says, those on one phase together; who has nothing next."""
    x, end = 1, canvas.width - 1
    idle = idle_words(floor)
    if idle:
        end = canvas.right(end, y, idle, Ink("due")) - 3
    groups = list(_groups(floor))
    for nth, pieces in enumerate(groups):
        left = len(groups) - nth
        if x + width_of(pieces) > end - (0 if left == 1 else 15):
            canvas.put(x, y, f"and {left} more", DIM)
            return
        x = canvas.pieces(x, y, pieces) + 4
    if not groups:
        canvas.put(1, y, 'Nobody yet.  F9, "people", adds the first.', DIM)


def idle_words(floor: Floor) -> str:
    """`nothing next: PE+MI`, "" where nobody is without work, or no lists are kept."""
    return f"nothing next: {joined(floor.idle)}" if floor.idle else ""


def _groups(floor: Floor) -> Iterator[list[Piece]]:
    together: dict[tuple[str | None, str | None], list[PersonNow]] = {}
    alone: list[PersonNow] = []
    for person in floor.people:
        if person.job is not None and not person.left_running:
            together.setdefault((person.job, person.phase), []).append(person)
        else:
            alone.append(person)
    for (job, phase), people in together.items():
        since = min((p.since for p in people if p.since is not None), default=floor.at)
        names = listed([person.name for person in people], "and")
        clock = elapsed(since, floor.at)
        yield [(f"{names} ", DIM), (_phase(job, phase), TEXT), (f"  {clock}", TEXT)]
    for person in sorted(alone, key=lambda one: one.since is None):
        if person.since is not None or person.role == "technician":
            yield _alone(person, floor)


def _phase(job: str | None, phase: str | None) -> str:
    return f"{job}.{phase}" if phase else job or ""


def _alone(person: PersonNow, floor: Floor) -> list[Piece]:
    name = (f"{person.name} ", DIM)
    if person.left_running:
        return [name, (f"left running on {_phase(person.job, person.phase)}", Ink("due"))]
    if person.reason is not None:
        clock = f"  {elapsed(person.since, floor.at)}" if person.since else ""
        return [name, (f"{person.reason}{clock}", TEXT)]
    return [name, ("no clock", Ink("due"))]
