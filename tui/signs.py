"""Every state as a sign, a word and a colour role, in a Unicode and an ASCII set.

A sign is one cell wide and never of ambiguous width; loud signs have an ASCII twin so that no
state depends on a font. Which set is used is decided once, by `wants_ascii`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal, NamedTuple

from tui.colours import Role

State = Literal[
    "running", "done", "to come", "sign", "held", "waiting", "standing", "outwork",
    "due", "free", "out", "ahead", "over", "act", "answer",
]  # fmt: skip


class Sign(NamedTuple):
    """One state: its glyphs, its word in lower case and its colour role."""

    unicode: str
    ascii: str
    word: str
    role: Role


STATES: dict[State, Sign] = {
    "running": Sign("▸", ">", "running", "running"),
    "done": Sign("▪", "x", "done", "dim"),
    "to come": Sign("▫", "-", "to come", "dim"),
    "sign": Sign("◊", "*", "sign", "blocked"),
    "held": Sign("◫", "#", "held", "blocked"),
    "waiting": Sign("◌", "o", "waiting", "waiting"),
    "standing": Sign("~", "~", "standing", "waiting"),
    "outwork": Sign("»", ")", "outwork", "waiting"),
    "due": Sign("◔", "@", "due", "due"),
    "free": Sign("◦", ".", "free", "dim"),
    "out": Sign("⊗", "X", "out of service", "waiting"),
    "ahead": Sign("−", "-", "ahead", "ahead"),
    "over": Sign("+", "+", "over", "behind"),
    "act": Sign("!", "!", "act", "behind"),
    "answer": Sign("?", "?", "answer", "due"),
}


class Loud(NamedTuple):
    """How something that wants somebody is shouted: by which sign and in which role."""

    state: State
    role: Role


LOUD: dict[str, Loud] = {
    "ANSWER": Loud("answer", "blocked"),
    "SIGN": Loud("sign", "blocked"),
    "HELD": Loud("held", "blocked"),
    "READING": Loud("act", "blocked"),
    "OVER": Loud("act", "behind"),
    "OUT": Loud("out", "behind"),
    "DUE": Loud("due", "due"),
    "CLOCK": Loud("answer", "due"),
}
"""By the word of a `Want`."""
KIT_LOUD: dict[str, Loud] = {
    "OVERDUE": Loud("act", "blocked"),
    "SEND BACK": Loud("due", "due"),
    "EXTEND": Loud("due", "due"),
    "ASK": Loud("due", "due"),
    "RECEIVE": Loud("due", "due"),
    "NOT WHOLE": Loud("act", "behind"),
    "CLASH": Loud("act", "behind"),
    "CALL OFF": Loud("due", "due"),
    "OUT OF DATE": Loud("act", "blocked"),
}
"""By what is to be done about a kit."""


@dataclass(frozen=True, slots=True)
class Signs:
    """One set of glyphs. Every field is one cell wide; `taper` runs from nearly sure to hardly."""

    ascii: bool
    promise: str
    now: str
    night: str
    weekend: str
    worked: str
    running: str
    last: str
    beyond: str
    won: str
    held: str
    quiet: str
    certain: str
    taper: tuple[str, ...]
    estimate: str
    book: str
    range: str
    low: str
    full: str
    rule: str
    more: str
    becomes: str
    before: str
    frame: str
    """Corners and edges of a frame: top left, top right, bottom left, bottom right, across, up."""

    def of(self, state: State) -> str:
        """The glyph of a state."""
        sign = STATES[state]
        return sign.ascii if self.ascii else sign.unicode

    def without_colour(self) -> Signs:
        """The same set where no colour tells past from running: what was worked is lighter."""
        return self if self.ascii else replace(self, worked="░", last="░")


UNICODE = Signs(
    ascii=False, promise="▴", now="┃", night="╎", weekend="╏", worked="█", running="█",
    last="▉", beyond="▒", won="░", held="╍", quiet="╌", certain="█", taper=tuple("█▇▆▅▄▃▂▁"),
    estimate="┃", book="╷", range="━", low="▂", full="█", rule="─", more="…", becomes="›",
    before="‹", frame="┌┐└┘─│",
)  # fmt: skip
ASCII = Signs(
    ascii=True, promise="^", now="|", night=":", weekend=";", worked="#", running="=",
    last="|", beyond="%", won="/", held="~", quiet=".", certain="-", taper=tuple("987654321"),
    estimate="|", book=",", range="=", low="_", full="#", rule="-", more=".", becomes=">",
    before="<", frame="++++-|",
)  # fmt: skip


def wants_ascii(environ: Mapping[str, str], encoding: str, asked: bool = False) -> bool:
    """Whether the ASCII set is needed.

    Args:
        environ: the environment; `TERM=linux` has a small font, `HOISTBOOK_ASCII` asks for it
            (any text but "" and "0").
        encoding: of the locale; anything but UTF-8 cannot carry the signs.
        asked: `--ascii` was given.
    """
    if asked or environ.get("HOISTBOOK_ASCII", "") not in ("", "0"):
        return True
    utf8 = encoding.lower().replace("-", "").replace("_", "") in ("utf8", "utf8sig")
    return not utf8 or environ.get("TERM", "") == "linux"


def choose_signs(
    environ: Mapping[str, str], encoding: str, asked: bool = False, kept: bool | None = None
) -> Signs:
    """The set for this terminal; see `wants_ascii`. `kept` is what the settings say, if anything.

    A terminal that cannot show the signs gets plain letters whatever the settings say.
    """
    return ASCII if kept or wants_ascii(environ, encoding, asked) else UNICODE


def asks_width(environ: Mapping[str, str], asked: bool = False, kept: bool | None = None) -> bool:
    """Whether the terminal is worth asking how wide it draws a box sign: nobody chose a set."""
    chosen = asked or kept is not None or environ.get("HOISTBOOK_ASCII", "") != ""
    return not chosen and not environ.get("TEXTUAL_DRIVER")
