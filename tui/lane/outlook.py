"""What a job's promise looks like in words, with a learned chance or without one."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from store.views.values import Job
from tui.colours import Ink, Role
from tui.words import Chance, chance


@dataclass(frozen=True, slots=True)
class Outlook:
    """Word, short word and tenths of a promise; all "" where there is nothing to say of it."""

    word: str
    short: str
    tenths: str
    role: Role

    @property
    def bad(self) -> bool:
        """Whether it should move somebody."""
        return self.role in ("behind", "blocked")

    @property
    def ink(self) -> Ink:
        """How its word is painted: what should move somebody is bold."""
        return Ink(self.role, bold=self.bad)

    @property
    def said(self) -> str:
        """Short word and tenths: `leans good 7 in 10`."""
        return f"{self.short} {self.tenths}".strip()

    @property
    def said_long(self) -> str:
        """Word and tenths: `more likely than not 7 in 10`."""
        return f"{self.word} {self.tenths}".strip()


NOTHING = Outlook("", "", "", "text")
LATE = Outlook("will be late", "will be late", "", "blocked")
LATE_CAUTIOUS = Outlook("late at the cautious figure", "cautious: late", "", "behind")


def outlook(job: Job, shown: Chance | None = None) -> Outlook | None:
    """How the job's promise stands; None without a promise.

    Args:
        shown: the chance as a live screen settled it; else the job's own is put in words.
    """
    if job.promise is None:
        return None
    if shown is None and job.promise_chance is not None:
        shown = chance(job.promise_chance)
    if shown is not None:
        return Outlook(shown.word, shown.short, shown.tenths, shown.role)
    return _by_finish(job, job.promise)


def _by_finish(job: Job, promise: datetime) -> Outlook:
    if job.finish is None or job.finish.cautious <= promise:
        return NOTHING
    return LATE if job.finish.middle > promise else LATE_CAUTIOUS
