"""Colour roles: the only names for colour that paint and style sheets know.

Four looks give each role a value; `Paint` turns an ink (a role and how it is used) into a rich
style. Without colours a loud word is reversed, bold and already in capitals: nothing is lost.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal, NamedTuple

from rich.style import Style

if TYPE_CHECKING:
    from textual.theme import Theme

Ground = Literal["ground", "panel", "pick", "field"]
Role = Literal[
    "ground", "panel", "pick", "text", "dim", "line", "past", "next", "running", "ahead",
    "behind", "blocked", "waiting", "due", "promise", "field", "field-text",
]  # fmt: skip
TEXT_ROLES: tuple[Role, ...] = (
    "text", "dim", "running", "ahead", "behind", "blocked", "waiting", "due",
)  # fmt: skip
"""Roles that letters are painted in, on ground, panel and pick."""
MARK_ROLES: tuple[Role, ...] = ("line", "past", "next", "promise")
"""Roles of bars and rules, on ground only."""


class Ink(NamedTuple):
    """How one cell is painted. `loud` fills the cell with the role and writes in the ground."""

    role: Role = "text"
    bold: bool = False
    loud: bool = False
    ground: Ground = "ground"


@dataclass(frozen=True, slots=True)
class Look:
    """One set of values for the roles: `#rrggbb`, or a rich name of one of the 16 colours."""

    name: str
    dark: bool
    values: Mapping[Role, str]
    ansi: bool = False


def _look(name: str, dark: bool, values: str, ansi: bool = False) -> Look:
    """A look from a table of `role value` pairs."""
    words = values.split()
    pairs: dict[str, str] = dict(zip(words[::2], words[1::2], strict=True))
    return Look(name, dark, {role: pairs[role] for role in _ROLES}, ansi)


_ROLES: tuple[Role, ...] = (
    "ground", "panel", "pick", *TEXT_ROLES, *MARK_ROLES, "field", "field-text",
)  # fmt: skip

DARK = _look("hoistbook-dark", True, """
    ground #14181b  panel #1f262a  pick #22303a  text #dfe4de  dim #98a5a8  line #718188
    past #6f828b  next #93abb6  running #6fb7d8  ahead #79cfc0  behind #f2a93b  blocked #ff8573
    waiting #d2c6ac  due #f4d65e  promise #ffffff  field #1d4557  field-text #eaf6fb
""")  # fmt: skip
LIGHT = _look("hoistbook-light", False, """
    ground #f7f5ef  panel #eae7de  pick #dde6ea  text #1d2325  dim #4f5b60  line #737d81
    past #848a87  next #6f8a99  running #1a668d  ahead #0d6a60  behind #8a4f00  blocked #8c0a3a
    waiting #6a5a3c  due #46540a  promise #000000  field #cfe4ee  field-text #0d3448
""")  # fmt: skip
HIGH = _look("hoistbook-high-contrast", True, """
    ground #000000  panel #000000  pick #002c46  text #ffffff  dim #d6d6d6  line #b0b0b0
    past #8a969c  next #c3d0d6  running #93d5ff  ahead #8cffe6  behind #ffbd59  blocked #ffa197
    waiting #eadfc4  due #ffe866  promise #ffffff  field #00405c  field-text #ffffff
""")  # fmt: skip
ANSI = _look("hoistbook-16", True, """
    ground black  panel black  pick black  text bright_white  dim white  line white
    past white  next white  running bright_cyan  ahead bright_cyan  behind bright_yellow
    blocked bright_red  waiting white  due bright_yellow  promise bright_white
    field blue  field-text bright_white
""", ansi=True)  # fmt: skip

LOOKS: dict[str, Look] = {look.name: look for look in (DARK, LIGHT, HIGH, ANSI)}
OURS = "hoistbook-"
"""Before every name, so that no other theme is meant; people may leave it out."""


def short_name(look: Look) -> str:
    """What people call a look: `dark`."""
    return look.name.removeprefix(OURS)


def look_named(name: str) -> Look | None:
    """The look of a name, with or without what stands before it; None where there is none."""
    return LOOKS.get(name) or LOOKS.get(f"{OURS}{name}")


def few_colours(environ: Mapping[str, str]) -> bool:
    """Whether the terminal says that it has no more than 16 colours."""
    if environ.get("COLORTERM", "").lower() in ("truecolor", "24bit"):
        return False
    return "256" not in environ.get("TERM", "") and "direct" not in environ.get("TERM", "")


def choose_look(
    environ: Mapping[str, str], wanted: str | None = None, kept: Look | None = None
) -> Look:
    """The look asked for by name, else the one of the settings, else what the terminal can show:
    the 16 colours where there are no more, else dark."""
    named = look_named(wanted) if wanted else None
    return named or kept or (ANSI if few_colours(environ) else DARK)


@dataclass(frozen=True, slots=True)
class Paint:
    """Inks to rich styles in one look; `monochrome` (NO_COLOR) names no colour at all."""

    look: Look = DARK
    monochrome: bool = False
    _styles: dict[Ink, Style] = field(default_factory=dict[Ink, Style], repr=False, compare=False)

    def style(self, ink: Ink) -> Style:
        """The style of an ink; the same object for the same ink."""
        known = self._styles.get(ink)
        if known is None:
            known = self._styles[ink] = self._make(ink)
        return known

    def _make(self, ink: Ink) -> Style:
        if self.monochrome:
            filled = ink.loud or ink.ground == "field"
            return Style(bold=ink.bold or ink.loud or None, reverse=filled or None)
        values = self.look.values
        if ink.loud:
            return Style(color=values[ink.ground], bgcolor=values[ink.role], bold=True)
        bold = ink.bold or (self.look.ansi and ink.ground == "pick")
        return Style(color=values[ink.role], bgcolor=values[ink.ground], bold=bold or None)


_ANSI_VARIABLES = {
    "ansi-background": "ansi_black",
    "ansi-foreground": "ansi_bright_white",
    "border-blurred": "ansi_white",
    "block-cursor-foreground": "ansi_black",
    "block-cursor-background": "ansi_bright_white",
    "input-cursor-background": "ansi_bright_white",
    "input-cursor-foreground": "ansi_black",
    "input-selection-background": "ansi_white",
    "input-selection-foreground": "ansi_black",
    "screen-selection-background": "ansi_white",
    "screen-selection-foreground": "ansi_black",
}
"""What Textual's own style sheets want of a theme of 16 colours, and blend from the others else."""


def textual_theme(look: Look) -> Theme:
    """A Textual theme whose variables name the roles: `$role-text`, `$role-ground` and so on."""
    # the import costs a command line half its start, and only screens need it
    from textual.theme import Theme

    def value(role: Role) -> str:
        return f"ansi_{look.values[role]}" if look.ansi else look.values[role]

    return Theme(
        name=look.name, dark=look.dark, ansi=look.ansi,
        primary=value("running"), secondary=value("next"), accent=value("running"),
        warning=value("behind"), error=value("blocked"), success=value("ahead"),
        foreground=value("text"), background=value("ground"),
        surface=value("ground"), panel=value("panel"),
        variables={f"role-{role}": value(role) for role in look.values}
        | (_ANSI_VARIABLES if look.ansi else {}),
    )  # fmt: skip
