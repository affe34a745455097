"""A shop's past read out of `ledger --json` alone: plain dictionaries.

Nothing of the program is used.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property
from typing import Any
from zoneinfo import ZoneInfo

Row = dict[str, Any]


def second(text: str) -> float:
    """POSIX seconds of an ISO 8601 instant."""
    return datetime.fromisoformat(text).timestamp()


@dataclass
class Again:
    """What the ledger says, by its own names; instants are POSIX seconds."""

    zone: ZoneInfo = field(default_factory=lambda: ZoneInfo("UTC"))
    plans: list[Row] = field(default_factory=list[Row])
    closed_days: set[str] = field(default_factory=set[str])
    rates: list[tuple[str, float]] = field(default_factory=list[tuple[str, float]])
    people: dict[str, Row] = field(default_factory=dict[str, Row])
    roles: dict[str, list[tuple[str, str]]] = field(default_factory=lambda: defaultdict(list))
    away: list[Row] = field(default_factory=list[Row])
    hours_right: dict[tuple[str, str], float] = field(default_factory=dict[tuple[str, str], float])
    clocks: dict[int, Row] = field(default_factory=dict[int, Row])
    jobs: dict[str, Row] = field(default_factory=dict[str, Row])
    phases: dict[tuple[str, str], Row] = field(default_factory=dict[tuple[str, str], Row])
    holds: dict[int, Row] = field(default_factory=dict[int, Row])
    stays: list[Row] = field(default_factory=list[Row])
    lifts: dict[str, Row] = field(default_factory=dict[str, Row])
    extras: dict[tuple[str, int], Row] = field(default_factory=dict[tuple[str, int], Row])
    quotes: list[Row] = field(default_factory=list[Row])
    outwork: list[Row] = field(default_factory=list[Row])
    hires: dict[str, Row] = field(default_factory=dict[str, Row])
    agreed: dict[str, list[Row]] = field(default_factory=lambda: defaultdict(list))
    changed: dict[str, list[Row]] = field(default_factory=lambda: defaultdict(list))
    surprises: dict[int, Row] = field(default_factory=dict[int, Row])
    captive: dict[tuple[int, str, str], str] = field(
        default_factory=dict[tuple[int, str, str], str]
    )
    parts: list[tuple[float, str, int, Row]] = field(
        default_factory=list[tuple[float, str, int, Row]]
    )
    acts: dict[tuple[str, float], set[str]] = field(default_factory=lambda: defaultdict(set))
    answers: dict[tuple[str, str, str], str] = field(
        default_factory=dict[tuple[str, str, str], str]
    )
    silent: set[str] = field(default_factory=set[str])
    """Jobs that never teach."""
    hire_seqs: set[int] = field(default_factory=set[int])
    put_right_later: int = 0
    """Clocks that ran until somebody stopped them on another day."""
    now: float = 0.0

    def parts_of(self, job: str, until: float = math.inf) -> list[Row]:
        """Parts of a job that were here or fitted at an instant, with a known price."""
        lines: dict[int, Row] = {}
        for at, number, line, moved in self.parts:
            if number == job and at < until:
                known = lines.setdefault(line, {"price": None})
                known["state"] = moved["state"]
                if moved.get("price") is not None:
                    known["price"] = moved["price"]
        here = [one for one in lines.values() if one["state"] in ("here", "fitted")]
        return [one for one in here if one["price"] is not None]

    @cached_property
    def by_kit(self) -> dict[str, list[tuple[tuple[str, str], Row]]]:
        """Phases by the kits they need."""
        found: dict[str, list[tuple[tuple[str, str], Row]]] = defaultdict(list)
        for key, one in self.phases.items():
            for kit in one["kits"]:
                found[kit].append((key, one))
        return found

    @cached_property
    def ends(self) -> dict[tuple[str, str], Row]:
        """Phases that were not skipped by job and code; of several the last."""
        return {
            (job, one["code"]): one for (job, _), one in self.phases.items() if not one["skipped"]
        }

    @cached_property
    def by_job(self) -> dict[str, list[Row]]:
        """Clocks of lead and helpers by job."""
        found: dict[str, list[Row]] = defaultdict(list)
        for one in self.clocks.values():
            if one["job"] is not None and one["part"] != "learner":
                found[one["job"]].append(one)
        return found

    @cached_property
    def by_phase(self) -> dict[tuple[str, str], list[Row]]:
        """Clocks by job and phase."""
        found: dict[tuple[str, str], list[Row]] = defaultdict(list)
        for one in self.clocks.values():
            if one["job"] is not None:
                found[one["job"], one["phase"]].append(one)
        return found
