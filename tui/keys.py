"""Every key of every screen: its id, what it is called, and what it does in words.

The one table for what a key does, the last row of each screen, its help, and the manual. Keys
are letters, digits, F-keys, arrows, Enter and Esc, and on the bay the pad's `.` and `-`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Literal, NamedTuple, overload

from tui.parts.lines import Key

PlaceName = Literal[
    "sign in", "bay", "floor", "desk", "job", "steps", "parts", "day", "intake", "book", "lists",
    "follow-ups", "needs", "why", "tools", "month",
]  # fmt: skip


class Meaning(NamedTuple):
    """One key.

    Attributes:
        id: of what it does; screens answer to it.
        keys: the key and others that do the same.
        words: for the help.
        short: for the last row; "" keeps it off.
    """

    id: str
    keys: tuple[str, ...]
    words: str
    short: str = ""
    brief: str = ""


def _line(id_: str, keys: str, words: str, short: str = "", brief: str = "") -> Meaning:
    return Meaning(id_, tuple(keys.split("|")), words, short, brief)


class Table(Sequence[Meaning]):
    """The keys of one place: as they are built in, or as the settings file has them.

    One process serves one terminal, so its tables are the process's.

    Attributes:
        name: of the place.
        built: the lines as they are built in.
    """

    def __init__(self, name: PlaceName, *lines: Meaning) -> None:
        self.name: PlaceName = name
        self.built = lines
        self._lines = lines

    def change(self, wanted: Mapping[str, tuple[str, ...]]) -> None:
        """Give meanings other keys, by id; Esc stays where it is built in: it goes back."""
        self._lines = tuple(changed(line, wanted.get(line.id)) for line in self.built)

    @overload
    def __getitem__(self, index: int) -> Meaning: ...
    @overload
    def __getitem__(self, index: slice) -> Sequence[Meaning]: ...
    def __getitem__(self, index: int | slice) -> Meaning | Sequence[Meaning]:
        return self._lines[index]

    def __len__(self) -> int:
        return len(self._lines)


def changed(line: Meaning, wanted: tuple[str, ...] | None) -> Meaning:
    """A meaning with other keys; None leaves it."""
    if wanted is None:
        return line
    kept = ("Esc",) if "Esc" in line.keys and "Esc" not in wanted else ()
    return line._replace(keys=(*wanted, *kept))


FIND = _line("find", "F4", "finds any job, vehicle or kit by typing")
NEW = _line("new", "F5", "takes a new job")
SMALL = _line("small", "F12", "a small job: what is to be done, on which vehicle")
NEED = _line("needs", "F8", "who must do what, what matters most first")
KITS = _line("tools", "F6", "special tools: back, longer, to order")
MONTHS = _line("month", "F7", "the owner's month: truer or not, what to change")
ALL = _line("all", "F9", "every action by its name")
GOING = (
    _line("bay", "F2", "your bay"), _line("floor", "F3", "the floor"), FIND, NEW, KITS, MONTHS,
    SMALL, NEED, ALL,
)  # fmt: skip
"""How one goes elsewhere from a page of one job or one person."""
COMMON = (
    "help",
    "bay",
    "floor",
    "desk",
    "follow-ups",
    "tools",
    "month",
    "find",
    "new",
    "small",
    "needs",
    "all",
)
"""Ids that mean the same in every place that has them."""

LINES = (
    _line("up", "up", "the line above"), _line("down", "down", "the line below"),
    _line("page-up", "page up", "a page up"), _line("page-down", "page down", "a page down"),
)  # fmt: skip
"""How one moves on a page of lines."""
HELP = _line("help", "F1|?", "this help", "help")

SIGN_IN = Table(
    "sign in",
    _line("sign-in", "Enter", "signs in with the badge that was typed or scanned", "sign in"),
    _line("floor", "F3", "the floor, to look at", "the floor"),
    FIND,
    MONTHS,
    ALL,
    _line("help", "F1", "this help", "help"),
    _line("leave", "Esc", "leaves the program; clocks go on", "leave"),
)
BAY = Table(
    "bay",
    _line("clock", "1", "clock on, or off"),
    _line("over", "2", "over to another phase, then one digit"),
    _line("sign", "3", "the step is done; sign; answer"),
    _line("hold", "4", "cannot go on, then one digit for the reason"),
    _line("finding", "5", "found something: surprise, end of the route, advice"),
    _line("indirect", "6", "other bay work, then one digit"),
    _line("steps", "7", "all steps of the phase"),
    _line("up", "8|up", "up the list of steps, from the top to its end"),
    _line("help", "9|F1|?", "this help"),
    _line("undo", "0", "takes back your last entry"),
    _line("away", ".|,", "called away, and back"),
    _line("day", "-", "your day sheet"),
    _line("finish", "Enter", "finishes the phase when nothing in it is open"),
    _line("down", "down", "down the list of steps"),
    _line("floor", "F3", "the floor"),
    FIND,
    NEW,
    KITS,
    MONTHS,
    SMALL,
    NEED,
    ALL,
    _line("sign-off", "Esc", "signs off; the clock goes on"),
)
FLOOR = Table(
    "floor",
    _line("open", "Enter", "opens the job on the lift", "open"),
    _line("try", "t", "what helps most, looked at as if it were done", "try it", "try"),
    _line("why", "y", "what waits for what, down to what can be done now", "why"),
    _line("next", "n", "to what next wants somebody", "next that wants somebody", "next"),
    _line("answer", "a", "the customer's word on extra work", "answer"),
    _line("move", "m", "moves the job to another lift or place", "move"),
    _line("call", "c", "calls a waiting job in", "call in"),
    _line("hold", "h", "holds the job, with a reason", "hold"),
    _line("release", "r", "lets what was held go on", "release"),
    _line("new", "F5|j", "takes a new job", "new job", "new"),
    _line("small", "s|F12", "a small job: what is to be done, on which vehicle", "small"),
    _line("promise", "p", "what the customer is told, by its chance", "promise"),
    _line("fix", "f", "puts a clock right that was left running"),
    _line("send", "w", "sends somebody over to another phase"),
    _line("give", "g", "gives work: who does the job, or a phase of it", "give work", "give"),
    _line("line", "i", "the line that waits: which job comes in before which", "line"),
    _line("lists", "k", "everybody's list: who does what next, put in order", "lists"),
    _line("service", "o", "takes the lift out of service, or back"),
    _line("list", "l", "opens any job: waiting, away or on a lift", "list"),
    _line("desk", "d", "the desk: calls, arrivals, quotes, who waits", "desk"),
    _line("work-book", "b", "the work book: hours, odds, operations"),
    _line("paper", "e", "enters a day from paper, a row for each clock"),
    _line("parts", "v", "parts and kits of a job: ordered, here, fitted, back"),
    _line("tools", "F6|x", "special tools: back, longer, to order", "kits"),
    _line("let", "q", "the foreman's word to begin a phase without its kit"),
    _line("zoom", "z", "a day, a week or two weeks on the lanes", "zoom"),
    _line("undo", "u", "takes back your last entry", "undo"),
    _line("bay", "F2", "your bay"),
    FIND,
    MONTHS,
    NEED,
    ALL,
    _line("sign-off", "Esc", "signs off; nobody is there any more"),
    _line("up", "up|left", "the lift above"),
    _line("down", "down|right", "the lift below"),
    _line("page-up", "page up", "lifts before these"),
    _line("page-down", "page down", "lifts after these"),
    HELP,
)
DESK = Table(
    "desk",
    _line("enquiry", "e", "takes a call down: which vehicle, what is wrong", "call"),
    _line("book", "b", "books the day on which it comes", "book"),
    _line("arrived", "a", "it is here: odometer, condition, lamps", "arrived", "here"),
    _line("judge", "k", "what the qualifying check came to", "check"),
    _line("quote", "q", "gives a quote, from its estimate", "quote"),
    _line("agree", "g", "the customer agreed, to all of it or to a part", "agree"),
    _line("decline", "x", "the customer declined, or we turn it away", "declined", "no"),
    _line("call", "c", "calls it in, onto a lift", "call in", "in"),
    _line("open", "Enter", "opens the job", "open"),
    _line("next", "n", "to what next wants somebody"),
    _line("work", "w", "its work and what that would take, on the intake"),
    _line("sheet", "s", "the estimate sheet, as the customer gets it"),
    _line("tried", "t", "a try to reach the customer, and when again"),
    _line("identify", "i", "VIN, number plate, engine and gearbox code"),
    _line("customer", "o", "the owner's name and telephone"),
    _line("vehicle", "v", "the vehicle: every visit that it made here"),
    _line("comeback", "m", "it comes back with the trouble of a job before"),
    _line("follow-ups", "f", "what is to be done in the months after jobs"),
    _line("undo", "u", "takes back your last entry"),
    *LINES,
    _line("before", "left", "the group before"),
    _line("after", "right", "the next group"),
    *GOING,
    HELP,
    _line("back", "Esc", "back to where you came from", "back"),
)
JOB = Table(
    "job",
    _line("answer", "a", "the customer's word on extra work", "answer", "word"),
    _line("release", "r", "lets what was held go on", "release"),
    _line("hold", "h", "holds the job or a phase, with a reason", "hold"),
    _line("steps", "s|t", "steps of the phases, to sign", "steps"),
    _line("finding", "g", "reports a finding", "finding", "found"),
    _line("parts", "b", "parts and kits: ordered, here, fitted, back", "parts"),
    _line("tried", "c", "a try to reach the customer, and when again"),
    _line("outwork", "o", "work of other firms: sent, asked after, back"),
    _line("advice", "v", "the customer's word on what was advised"),
    _line("note", "n", "writes down what is to be remembered of the job", "note"),
    _line("promise", "p", "what the customer is told", "promise", "date"),
    _line("phase", "k", "finishes a phase, leaves one out, or opens one again", "phases"),
    _line("close", "x", "hands it over and closes the job"),
    _line("record", "i", "its record to read, or its estimate sheet"),
    _line("follow-job", "w", "what is to be done in the months after it"),
    _line("at-desk", "d", "at the desk: arrived, checked, quoted, agreed"),
    _line("let", "l", "the foreman's word to begin a phase without its kit"),
    _line("undo", "u", "takes back your last entry"),
    _line("up", "up", "up the page"),
    _line("down", "down", "down the page"),
    _line("page-up", "page up", "a page up"),
    _line("page-down", "page down| ", "a page down"),
    _line("before", "left", "the section before"),
    _line("after", "right", "the next section"),
    _line("ledger", "e", "the ledger: every entry that made the job", "ledger"),
    *GOING,
    HELP,
    _line("back", "Esc", "back to where you came from", "back"),
)
STEPS = Table(
    "steps",
    _line("up", "8|up", "up", "up"),
    _line("down", "2|down", "down", "down"),
    _line("sign", "3|Enter", "done, signed or answered", "sign"),
    _line("before", "4|left", "the phase before", "phase before", "before"),
    _line("after", "6|right", "the phase after", "phase after", "after"),
    *GOING,
    _line("help", "9|F1|?", "this help", "help"),
    _line("back", "0|Esc|7", "back", "back"),
)
PARTS = Table(
    "parts",
    _line("choose", "Enter", "what became of the line: its answers", "what became", "became"),
    _line("ordered", "o", "ordered; a kit: asked for", "ordered"),
    _line("here", "h", "it is here; a kit: looked through", "here"),
    _line("fitted", "f", "fitted, with batch or serial number", "fitted"),
    _line("add", "a", "lists a part by typing", "add"),
    _line("wrong", "w", "the wrong one, or damaged", "wrong"),
    _line("returned", "r", "returned; a kit: its pieces counted", "returned"),
    _line("drop", "x", "not needed", "not needed", "no"),
    _line("mark", " ", "marks lines, so that one key does for all of them"),
    _line("line", "1|2|3|4|5|6|7|8|9|0", "to the line of that number"),
    _line("undo", "u", "takes back your last entry"),
    *LINES,
    *GOING,
    HELP,
    _line("back", "Esc|b", "back", "back"),
)
DAY = Table(
    "day",
    _line("confirm", "Enter", "confirms the day", "confirm the day", "confirm"),
    _line("right", "3", "takes what is proposed; asks what a clock was on", "put right"),
    _line("other", "5", "asks what a clock or a gap was instead", "it was ..."),
    _line("split", "7", "splits a clock: what came later was something else", "split"),
    _line("stop", "1", "stops your clock"),
    _line("undo", ".|,", "takes back your last entry"),
    _line("up", "8|up", "the row above"),
    _line("down", "2|down", "the row below"),
    _line("before", "4|left", "the day before", "day before", "before"),
    _line("after", "6|right", "the day after", "day after", "after"),
    *GOING,
    _line("help", "9|F1|?", "this help", "help"),
    _line("back", "0|Esc|-", "back", "back"),
)
INTAKE = Table(
    "intake",
    _line("agree", "Enter", "agreed: takes the job, its estimate frozen", "agree"),
    _line("quote", "q", "gives it as a quote: prices, basis, promise", "quote"),
    _line("keep", "k", "keeps it for later: an enquiry, nothing agreed", "keep"),
    _line("what-if", "w", "what if it is the other build: both side by side", "what if"),
    _line("extras", "x", "takes neighbouring work along", "extras"),
    _line("later", "right", "promises a later date, with a better chance"),
    _line("sooner", "left", "promises an earlier date, or nothing yet"),
    _line("promise", "p", "types a day, and gets its chance", "promise a day", "day"),
    _line("vehicle", "v", "which vehicle, and its mass"),
    _line("family", "f", "its family, by typing"),
    _line("add", "a", "adds work by typing, or takes it off", "add work", "work"),
    _line("options", "o", "says what is known of this vehicle", "known"),
    _line("grade", "g", "its condition: 1 clean to 4 been apart before", "grade"),
    _line("told", "t", "what the customer says"),
    _line("hours", "h", "hours of a small job"),
    _line("lift", "l", "on which lift, or waiting", "lift"),
    _line("book", "b", "keeps it, and books the day on which it comes"),
    _line("sheet", "s", "the estimate sheet, as the customer gets it"),
    _line("customer", "n", "the owner's name and telephone"),
    _line("comeback", "m", "the same trouble again: a comeback"),
    _line("clear", "c", "begins anew with an empty form"),
    _line("up", "up", "phases above"),
    _line("down", "down", "phases below"),
    _line("bay", "F2", "your bay"),
    _line("floor", "F3", "the floor"),
    FIND,
    KITS,
    MONTHS,
    NEED,
    ALL,
    HELP,
    _line("back", "Esc", "back; what was typed is there when you return", "back"),
)
BOOK = Table(
    "book",
    _line("open", "Enter|right", "an operation's phases, surprises and decisions", "open"),
    _line("hours", "h", "other hours for the line", "hours"),
    _line("odds", "o", "other odds for the line", "odds"),
    _line("copy", "c", "copies an operation under a new code", "copy"),
    _line("rename", "n", "calls an operation otherwise", "rename"),
    _line("part", "p", "adds a part that is always renewed", "part"),
    _line("add", "a", "a new operation from nothing", "new"),
    _line("drop", "x", "takes an operation out"),
    _line("write", "w", "writes the book as TOML into a file"),
    _line("load", "l", "loads a book from a file"),
    _line("take", "t", "the demo's operations, where there is no book yet"),
    *LINES,
    *GOING,
    HELP,
    _line("back", "Esc|left", "back", "back"),
)
LISTS = Table(
    "lists",
    _line("give", "Enter", "gives the line to somebody, or takes it on", "give"),
    _line("add", "a", "gives the person something that is nobody's", "more"),
    _line("earlier", "left", "moves the line up its list", "earlier"),
    _line("later", "right", "moves the line down its list", "later"),
    _line("first", "f", "moves the line to the front of its list", "first"),
    _line("off", "x", "takes the line off its list", "off"),
    _line("undo", "u", "takes back your last entry", "undo"),
    *LINES,
    *GOING,
    HELP,
    _line("back", "Esc", "back", "back"),
)
FOLLOW = Table(
    "follow-ups",
    _line("is-done", "d", "it is done, with what came of it", "done"),
    _line("shift", "m", "on another day, or at another distance", "another day", "move"),
    _line("not-done", "x", "it is not to be done, and why", "not to be done", "drop"),
    _line("open", "Enter", "opens the job", "open"),
    _line("undo", "u", "takes back your last entry"),
    *LINES,
    *GOING,
    HELP,
    _line("back", "Esc", "back to where you came from", "back"),
)
NEEDS = Table(
    "needs",
    _line("do", "Enter", "does what the line wants", "do it"),
    _line("line", "1|2|3|4|5|6|7|8|9", "does what that line wants", "that line"),
    _line("open", "o", "opens the job", "open the job", "open"),
    _line("undo", "u", "takes back your last entry", "undo"),
    *LINES,
    *GOING,
    HELP,
    _line("back", "Esc", "back", "back"),
)
WHY = Table(
    "why",
    _line("line", "1|2|3|4|5|6|7|8|9", "does that act", "do it"),
    _line("open", "Enter", "opens the job that waits", "open the job", "open"),
    _line("undo", "u", "takes back your last entry", "undo"),
    _line("up", "up", "the job above"),
    _line("down", "down", "the job below"),
    _line("page-up", "page up", "jobs before these"),
    _line("page-down", "page down", "jobs after these"),
    *GOING,
    HELP,
    _line("back", "Esc", "back", "back"),
)
TOOLS = Table(
    "tools",
    _line("send-back", "b", "sends a hire back: counted, clean, undamaged", "send back"),
    _line("extend", "x", "keeps a hire longer; the proposed day stands there", "extend"),
    _line("ask", "k", "asks a supplier for the kit", "ask for", "ask"),
    _line("received", "r", "it is here: looked through piece by piece", "received", "here"),
    _line("dates-file", "i", "writes dates of hires and promises as iCalendar"),
    _line("open", "Enter", "all about the kit: days, ways, who needs it", "all of it", "all"),
    _line("next", "n", "to what is next to be done", "next"),
    _line("give-kit", "g", "gives a hire to another job, or to any"),
    _line("mended", "m", "what lacked has come, or the right variant"),
    _line("cancel", "c", "is not wanted any more: the asking is called off"),
    _line("arrived-back", "a", "the supplier has it again"),
    _line("deposit", "d", "the deposit came back"),
    _line("invoice", "v", "what the hire came to"),
    _line("terms", "t", "how a supplier counts: cut-off, week-ends, late fee"),
    _line("rates", "p", "what the kit costs at a supplier's, or to buy"),
    _line("valid", "e", "until when it is calibrated or inspected"),
    _line("let", "l", "the foreman's word to begin a phase without its kit"),
    _line("find-kit", "f", "finds a kit by typing"),
    _line("job", "o", "opens the job that has it, or needs it"),
    _line("zoom", "z", "a day, a week or two weeks on the line"),
    _line("undo", "u", "takes back your last entry"),
    *LINES,
    *GOING,
    HELP,
    _line("back", "Esc", "back to where you came from", "back"),
)
MONTH = Table(
    "month",
    _line("adopt", "1|2|3|4|5|6|7|8|9", "the book says from now on what was learned", "adopt"),
    _line("open", "Enter", "what a figure is made of, down to entries and jobs", "follow"),
    _line("before", "left", "the month before", "month before", "month"),
    _line("after", "right", "the next month"),
    _line("another", "g", "any other month, by typing"),
    _line("report", "w", "writes the page to send and every table", "report"),
    _line("prices", "r", "last year's quotes at other hours or another rate", "prices"),
    _line("several", "a", "adopts several lines of the book at once", "several"),
    _line("costs", "c", "what the month cost: wages and overheads", "costs"),
    _line("people", "p", "people, each with their hours and jobs", "people"),
    _line("entries", "e", "the entries of the ledger that a line comes from"),
    _line("job", "o", "opens the job of a line"),
    _line("undo", "u", "takes back your last entry"),
    *LINES,
    *GOING,
    HELP,
    _line("back", "Esc", "back up, then to where you came from", "back"),
)
TABLES: Mapping[PlaceName, Table] = {
    table.name: table
    for table in (
        SIGN_IN, BAY, FLOOR, DESK, JOB, STEPS, PARTS, DAY, INTAKE, BOOK, LISTS, FOLLOW, NEEDS, WHY,
        TOOLS, MONTH,
    )
}  # fmt: skip
BY_NAME: Mapping[str, Table] = {name.replace(" ", "-"): table for name, table in TABLES.items()}
"""The same by the names that settings and sentences use."""
TITLES: Mapping[PlaceName, str] = {
    "sign in": "sign in", "bay": "bay", "floor": "floor", "desk": "desk", "job": "job card",
    "steps": "steps", "parts": "parts and kits", "day": "day sheet", "intake": "intake",
    "book": "work book", "lists": "lists of work", "follow-ups": "follow-ups",
    "needs": "list of needs", "why": "page of causes", "tools": "special tools",
    "month": "owner's month",
}  # fmt: skip
FORM = (
    _line("choose", "1-9|a-z", "the answer beside it"),
    _line("go-on", "Enter", "takes what was typed, or the filled answer"),
    _line("leave", "Esc|0", "leaves the form; what was typed is there when you return"),
    _line("move", "left|right|home|end", "moves in the text"),
    _line("mend", "backspace|delete", "takes letters away"),
)
"""What questions take; for their help."""


def meant(table: Sequence[Meaning], key: str) -> str | None:
    """The id of what a key does on a screen; letters mean the same in capitals."""
    wanted = key.lower() if len(key) == 1 else key
    return next((line.id for line in table if wanted in line.keys), None)


def key_of(table: Sequence[Meaning], id_: str) -> str:
    """The key that means this here, for sentences that name it; "" where nothing does."""
    return next((line.keys[0] for line in table if line.id == id_ and line.keys), "")


_NAMED = re.compile(r"\{([a-z-]+)\.([a-z-]+)\}")


def filled(sentence: str) -> str:
    """A sentence of ours with the keys as they are now: `{floor.undo} undoes it.`"""
    return _NAMED.sub(_key_in_words, sentence)


def _key_in_words(found: re.Match[str]) -> str:
    key = key_of(BY_NAME[found[1]], found[2])
    return {".": "the dot", " ": "Space"}.get(key, key)


def last_row(table: Sequence[Meaning]) -> tuple[Key, ...]:
    """Keys of the last row."""
    return tuple(Key(_shown(line), line.short, line.brief) for line in table if line.short)


def _shown(line: Meaning) -> str:
    """Its first key; of many digits `1-9`."""
    every = list(line.keys)
    digits = len(every) > 2 and all(key.isdecimal() for key in every)
    return f"{every[0]}-{every[-1]}" if digits else every[0]
