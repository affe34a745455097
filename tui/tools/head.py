"""The first rows: whose, when, who looks; then what a foreman asks of kits, answered."""

from __future__ import annotations

from datetime import tzinfo
from typing import NamedTuple

from rich.cells import cell_len

from store.views.tools.values import KitNow, Verb
from tui.colours import Ink, Role
from tui.parts.canvas import Canvas, Piece
from tui.parts.lines import put_pieces
from tui.signs import KIT_LOUD, Signs
from tui.tools.state import GROUPS, Shown, ToolsState, asked_of, here_of, next_need
from tui.tools.words import on_day, when
from tui.words import counted, cut, moment

DIM = Ink("dim", ground="panel")
LABEL = 12
LAST = "look at"
"""The question that is only asked where there is an answer."""
CALM = {
    "send back": "nothing today", "extend": "nothing", "order": "nothing for the week to come",
}  # fmt: skip
BEFORE: dict[Verb, str] = {
    "OVERDUE": "overdue: ", "CLASH": "two want ", "OUT OF DATE": "out of date: ",
    "RECEIVE": "comes: ", "NOT WHOLE": "not whole: ", "CALL OFF": "call off ",
}  # fmt: skip


class Answer(NamedTuple):
    """One kit that answers a question, and how much it matters."""

    words: str
    role: Role
    loud: bool = True


def answers(shown: Shown) -> list[tuple[str, list[Answer]]]:
    """Each question with the kits that answer it; the last only where there are such."""
    kits = shown.tools.kits
    found = [
        (name, [_answer(kit, shown) for kit in kits if kit.verb in verbs]) for name, verbs in GROUPS
    ]
    later = [_later(kit, shown) for kit in kits if is_to_order(kit)]
    clashing = [_clashing(kit) for kit in kits if kit.clashes and kit.verb != "CLASH"]
    more = {"order": later, LAST: clashing}
    found = [(name, [*some, *more.get(name, [])]) for name, some in found]
    return [one for one in found if one[1] or one[0] != LAST]


def is_to_order(kit: KitNow) -> bool:
    """Whether it will have to be asked for, but not today."""
    need = next_need(kit)
    waits = need is not None and not need.begun
    return kit.verb is None and not kit.owned and not kit.hires and waits


def _clashing(kit: KitNow) -> Answer:
    """Two jobs want it, and something else about it is louder."""
    return Answer(f"{BEFORE['CLASH']}{kit.name}", KIT_LOUD["CLASH"].role)


def _later(kit: KitNow, shown: Shown) -> Answer:
    """`setting gauges for 22 Oct`; by when it is to be asked for, where that is known."""
    zone, now = shown.tools.calendar.zone, shown.tools.at
    by = f", ask by {on_day(kit.by, zone, now)}" if kit.by is not None else ""
    return Answer(f"{kit.name}{_after(kit, 'ASK', shown)}{by}", "text", loud=False)


def _answer(kit: KitNow, shown: Shown) -> Answer:
    assert kit.verb is not None
    role = KIT_LOUD[kit.verb].role
    after = _after(kit, kit.verb, shown)
    return Answer(f"{BEFORE.get(kit.verb, '')}{kit.name}{after}", role)


def _after(kit: KitNow, verb: Verb, shown: Shown) -> str:
    """Until when, or from when on."""
    zone, now = shown.tools.calendar.zone, shown.tools.at
    here = here_of(kit)
    best = kit.advice.best if kit.advice is not None else None
    until = best.until if best is not None else None
    if verb in ("SEND BACK", "OVERDUE") and here is not None and here.due is not None:
        early = best is not None and best.do == "send back" and verb == "SEND BACK"
        return f" {when(until if early and until else here.due, zone, now)}"
    if verb == "EXTEND" and until is not None:
        return f" to {on_day(until, zone, now)}"
    asked, need = asked_of(kit), next_need(kit)
    if verb == "ASK" and need is not None:
        return f" for {on_day(need.since, zone, now)}"
    if verb == "RECEIVE" and asked is not None and asked.expected is not None:
        return f" {when(asked.expected, zone, now)}"
    return ""


def head_rows(shown: Shown) -> int:
    """Rows of the header and the answers."""
    return 1 + len(answers(shown))


def paint_header(canvas: Canvas, shown: Shown, state: ToolsState, signs: Signs) -> None:
    """Kits of which shop, date and clock, reader; an old look says so where the clock was."""
    zone: tzinfo = shown.tools.calendar.zone
    now = moment(shown.tools.at, zone)
    middle = f" ! AS OF {state.stale} " if state.stale else now
    ink = Ink("due", loud=True) if state.stale else Ink("text", bold=True)
    start = max(2, (canvas.width - len(now)) // 2)
    canvas.put(start, 0, middle, ink)
    x = canvas.put(1, 0, "kits", Ink("text", bold=True)) + 2
    canvas.put(x, 0, cut(shown.shop, start - 2 - x, signs.more), Ink("dim"))
    room = canvas.width - 1 - start - len(middle) - 2
    canvas.right(canvas.width - 1, 0, cut(state.who, room, signs.more), Ink("dim"))


def paint_answers(canvas: Canvas, y: int, shown: Shown, signs: Signs) -> None:
    """What goes back, what is kept longer, what is to be ordered: a row each, at its place."""
    every = answers(shown)
    canvas.ground(0, y, canvas.width, len(every), "panel")
    for row, (name, found) in enumerate(every, y):
        canvas.put(1, row, name, DIM)
        if not found:
            canvas.put(LABEL, row, cut(CALM[name], canvas.width - LABEL - 1, signs.more), DIM)
            continue
        put_pieces(canvas, (LABEL, row), _fitting(found, canvas.width - LABEL - 1),
                   canvas.width - LABEL - 1, signs)  # fmt: skip


def _fitting(found: list[Answer], room: int) -> list[Piece]:
    """As many as fit whole, at least one; how many more there are is said."""
    pieces: list[Piece] = []
    used = 0
    for n, one in enumerate(found):
        left = len(found) - n - 1
        more = f"   and {left} more" if left else ""
        gap = "   " if n else ""
        if n and used + len(gap) + cell_len(one.words) + cell_len(more) > room:
            return [*pieces, (f"   and {counted(left + 1, 'more', 'more')}", DIM)]
        pieces.append((f"{gap}{one.words}", Ink(one.role, bold=one.loud, ground="panel")))
        used += len(gap) + cell_len(one.words)
    return pieces
