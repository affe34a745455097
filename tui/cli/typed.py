"""What was typed, read as what it means; anything else is wrong usage, said with what is right."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from zoneinfo import ZoneInfo

from store.edges.instants import BadDate, BadInstant, parse_date, parse_instant
from tui.cli.usage import Command, WrongUsage

_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,3})?", re.ASCII)
_JOB = re.compile(r"[1-9]\d{0,8}", re.ASCII)
_PHASE = re.compile(r"([1-9]\d{0,8})\.([1-9]\d{0,2}[a-z]{0,3})", re.ASCII)
_STEP = re.compile(r"([1-9]\d{0,8})\.([1-9]\d{0,2}[a-z]{0,3})\.([1-9]\d{0,2})", re.ASCII)
LARGEST = 10**15
"""Beyond it a whole number is a slip of the fingers, and no file can hold it."""


@dataclass(frozen=True, slots=True)
class Typed:
    """One command as it was typed: values by the name of their option or argument."""

    command: Command
    values: Mapping[str, list[str]] = field(default_factory=dict[str, list[str]])

    def has(self, name: str) -> bool:
        """Whether it was given."""
        return name in self.values

    def maybe(self, name: str) -> str | None:
        """The text, or None where it was not given."""
        found = self.values.get(name)
        return found[0] if found else None

    def text(self, name: str) -> str:
        """The text; wrong usage where it was not given."""
        found = self.maybe(name)
        if found is None:
            raise WrongUsage(f"{self.command.name} lacks {self._shown(name)}.")
        return found

    def all(self, name: str) -> list[str]:
        """All values of an option that may be repeated."""
        return list(self.values.get(name, ()))

    def path(self, name: str) -> Path:
        """A file."""
        return Path(self.text(name))

    def number(self, name: str) -> float | None:
        """A decimal number, None where it was not given."""
        found = self.maybe(name)
        return None if found is None else number(found, self._shown(name))

    def whole(self, name: str) -> int | None:
        """A whole number, None where it was not given."""
        found = self.maybe(name)
        return None if found is None else whole(found, self._shown(name))

    def date(self, name: str) -> date | None:
        """A day, None where it was not given."""
        found = self.maybe(name)
        if found is None:
            return None
        try:
            return parse_date(found)
        except BadDate as error:
            raise WrongUsage(f"{self._shown(name)}: {error}") from error

    def instant(self, name: str) -> str | None:
        """The text of an instant that may be one, None where it was not given."""
        found = self.maybe(name)
        if found is not None:
            refuse_no_instant(found, self._shown(name))
        return found

    def pairs(self, name: str) -> dict[str, str]:
        """`K=V` of an option that may be repeated."""
        pairs: dict[str, str] = {}
        for one in self.all(name):
            key, sign, value = one.partition("=")
            if not (key.strip() and sign and value.strip()):
                raise WrongUsage(f"--{name} is written K=V, like --{name} bearing=new.")
            if key in pairs:
                raise WrongUsage(f"--{name} {key} is there twice: give it once.")
            pairs[key.strip()] = value.strip()
        return pairs

    def job(self, name: str = "JOB") -> str:
        """The number of a job."""
        found = self.text(name).strip()
        if not _JOB.fullmatch(found):
            raise WrongUsage(f"{found!r} is no job: give its number, like 2417.")
        return found

    def phase(self, name: str = "JOB.PHASE") -> tuple[str, str]:
        """Job and phase."""
        return phase(self.text(name))

    def step(self, name: str = "JOB.PHASE.STEP") -> tuple[str, str, str]:
        """Job, phase and step."""
        found = _STEP.fullmatch(self.text(name).strip())
        if not found:
            raise WrongUsage(
                f"{self.text(name)!r} is no step: give job, phase and step, like 2417.4.3."
            )
        return found[1], found[2], found[3]

    def job_or_phase(self, name: str = "JOB[.PHASE]") -> tuple[str, str | None]:
        """A job, or one of its phases."""
        return job_or_phase(self.text(name))

    def _shown(self, name: str) -> str:
        option = self.command.option(name)
        return option.shown() if option else name


def job_or_phase(text: str) -> tuple[str, str | None]:
    """Job and phase of `2417.4`, or the job of `2417`."""
    found = text.strip()
    if _JOB.fullmatch(found):
        return found, None
    if not _PHASE.fullmatch(found):
        raise WrongUsage(f"{found!r} is no job or phase: write 2417 or 2417.4.")
    return phase(found)


def phase(text: str) -> tuple[str, str]:
    """Job and phase of `2417.4`."""
    found = _PHASE.fullmatch(text.strip())
    if not found:
        raise WrongUsage(f"{text!r} is no phase: give job and phase, like 2417.4.")
    return found[1], found[2]


def number(text: str, where: str) -> float:
    """A finite decimal number."""
    found = text.strip()
    value = float(found) if _NUMBER.fullmatch(found) else math.nan
    if not math.isfinite(value):
        hint = f", with a point: {found.replace(',', '.')}" if found.count(",") == 1 else ""
        raise WrongUsage(f"{where}: {text!r} is no number{hint}. Write one like 2.5.")
    return value


def whole(text: str, where: str) -> int:
    """A whole number of 0 or more."""
    found = text.strip()
    if not (found.isascii() and found.isdecimal()) or len(found) > 15 or int(found) > LARGEST:
        raise WrongUsage(f"{where}: {text!r} is no whole number. Write one like 12.")
    return int(found)


def refuse_no_instant(text: str, where: str) -> None:
    """Wrong usage where the text is an instant in no zone at all."""
    try:
        parse_instant(text, ZoneInfo("UTC"))
    except BadInstant as error:
        raise WrongUsage(f"{where}: {error}") from error


def readings(texts: list[str]) -> dict[str, float]:
    """`[POSITION=]X…`; one without a position is `value`."""
    found: dict[str, float] = {}
    for one in texts:
        position, sign, value = one.rpartition("=")
        name = position.strip() if sign else "value"
        if sign and not name:
            raise WrongUsage(f"--reading {one}: write it like --reading left=0.12.")
        if name in found:
            raise WrongUsage(f"--reading {name} is there twice: give each position once.")
        found[name] = number(value, f"--reading {one}")
    return found


__all__ = ["Typed", "number", "phase", "readings", "whole"]
