"""The settings file of a terminal: how it looks, and which keys mean what.

TOML. It is read once at the start; a fault is one line that names the line of the file and says
what to do, and no screen opens.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

from store.edges.reading import opened_to_read
from store.trouble import Refused
from tui.colours import LOOKS, Look, Paint, choose_look, look_named, short_name
from tui.keys import TABLES, PlaceName
from tui.rekeying import Changes, Wrong, keys_of
from tui.signs import Signs, asks_width, choose_signs

VARIABLE = "HOISTBOOK_SETTINGS"
LOOK_VARIABLE = "HOISTBOOK_LOOK"
NAME = "settings.toml"
KNOWN = ("look", "ascii", "keys")
LARGEST = 200_000
"""Bytes; a larger file is no settings."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What a settings file says; all defaults: nothing.

    Attributes:
        look: by name, None for what fits the terminal.
        ascii: plain letters, signs, or None for what fits the terminal.
        keys: by place and id.
    """

    look: Look | None = None
    ascii: bool | None = None
    keys: Changes = field(default_factory=dict[PlaceName, Mapping[str, tuple[str, ...]]])


class BadSettings(Refused):
    """The settings file has a fault."""

    def __init__(self, path: Path, line: int, says: str) -> None:
        self.line = line
        super().__init__(f"{path}, line {line}: {says}")


def settings_path(environ: Mapping[str, str]) -> Path:
    """Where the settings are: named, else in the user's configuration folder."""
    named = environ.get(VARIABLE)
    if named:
        return Path(named).expanduser()
    if sys.platform.startswith("linux"):  # XDG base directories; spares a terminal the import
        folder = environ.get("XDG_CONFIG_HOME", "")
        base = Path(folder) if Path(folder).is_absolute() else Path("~/.config").expanduser()
        return base / "hoistbook" / NAME
    from platformdirs import user_config_path

    return user_config_path("hoistbook", appauthor=False) / NAME


def settings(environ: Mapping[str, str]) -> Settings:
    """Read the settings; a file that is not there says nothing.

    Raises:
        Refused: it cannot be read, or was named and is not there.
        BadSettings: it has a fault.
    """
    path = settings_path(environ)
    try:
        with opened_to_read(path) as file:
            raw = file.read(LARGEST + 1)
    except FileNotFoundError:
        if environ.get(VARIABLE):
            raise Refused(f"{VARIABLE} names {path}, which is not there. Unset it.") from None
        return Settings()
    except (OSError, ValueError) as error:
        raise _unreadable(path, str(getattr(error, "strerror", None) or error)) from None
    if len(raw) > LARGEST:
        raise _unreadable(path, "they are too large to be settings")
    try:
        return read_settings(raw.decode("utf-8-sig"), path)
    except UnicodeDecodeError:
        raise _unreadable(path, "they are no text in UTF-8. Save them as UTF-8") from None


def _unreadable(path: Path, why: str) -> Refused:
    return Refused(f"The settings {path} cannot be read: {why}.")


def read_settings(text: str, path: Path) -> Settings:
    """The settings in a text.

    Raises:
        BadSettings: the first fault.
    """
    import tomllib

    from store.edges.toml_lines import line_of, lines_of

    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _no_toml(path, str(error)) from None
    except (RecursionError, ValueError):
        raise BadSettings(path, 1, "what stands here is no settings. Write them anew.") from None
    lines = lines_of(text)

    def wrong(where: tuple[str | int, ...], says: str) -> BadSettings:
        return BadSettings(path, line_of(lines, where), says)

    for name in found:
        if name not in KNOWN:
            raise wrong((name,), f"no setting is called {name}. There are: {', '.join(KNOWN)}.")
    return Settings(_look(found, wrong), _ascii(found, wrong), keys_of(found.get("keys"), wrong))


def _no_toml(path: Path, says: str) -> BadSettings:
    """The reader's own complaint; it ends with the place where it stopped."""
    what, _, where = says.partition(" (at ")
    digits = "".join(one for one in where.partition(",")[0] if one.isdigit())
    return BadSettings(path, int(digits or 1), f"this is no TOML: {what}.")


def _look(found: Mapping[str, object], wrong: Wrong) -> Look | None:
    name = found.get("look")
    look = look_named(name) if isinstance(name, str) else None
    if name is not None and look is None:
        raise wrong(("look",), f"no look is called {name}. {_looks()}")
    return look


def _looks() -> str:
    return f"There are: {', '.join(short_name(look) for look in LOOKS.values())}."


def look_wanted(environ: Mapping[str, str]) -> str | None:
    """The look that the environment asks for by name.

    Raises:
        Refused: no look is called so.
    """
    name = environ.get(LOOK_VARIABLE) or None
    if name is not None and look_named(name) is None:
        raise Refused(f"{LOOK_VARIABLE}: no look is called {name[:30]}. {_looks()}")
    return name


def _ascii(found: Mapping[str, object], wrong: Wrong) -> bool | None:
    value = found.get("ascii")
    if value is not None and not isinstance(value, bool):
        raise wrong(("ascii",), "ascii is true or false.")
    return value


def use_keys(changes: Changes) -> None:
    """Let the tables of this process have these keys; places that are not named have their own."""
    for name, table in TABLES.items():
        table.change(changes.get(name, {}))


class Appearance(NamedTuple):
    """How a terminal paints; `asks_width`: it is to be asked how wide it draws signs."""

    paint: Paint
    signs: Signs
    asks_width: bool


def appearance(environ: Mapping[str, str], kept: Settings, ascii_only: bool) -> Appearance:
    """What the environment, the settings and `--ascii` make together.

    Raises:
        Refused: the environment names a look that is none.
    """
    look = choose_look(environ, look_wanted(environ), kept.look)
    encoding = sys.stdout.encoding or ""
    return Appearance(
        Paint(look, monochrome=bool(environ.get("NO_COLOR"))),
        choose_signs(environ, encoding, ascii_only, kept.ascii),
        asks_width(environ, ascii_only, kept.ascii),
    )
