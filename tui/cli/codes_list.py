"""Which codes a sheet has: badges, lifts and kits of the shop, or a job with phases and steps."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from store.rules.codes import MARK, Code, written
from store.views.door import Door, PlaceLine
from store.views.tools.page import KitNow
from store.views.values import JobCard, PhaseLine

ROLES = {"technician": "", "foreman": "foreman", "owner": "owner"}


@dataclass(frozen=True, slots=True)
class Printed:
    """One code on a sheet, with what stands beside it.

    Attributes:
        says: what it is, in words.
        note: who signs, or how much.
    """

    code: Code
    says: str
    note: str = ""

    @property
    def letters(self) -> str:
        """As a person types it."""
        return written(self.code)

    @property
    def typed(self) -> str:
        """As a scanner types it, before its Enter; this is what the picture holds."""
        return MARK + self.letters


@dataclass(frozen=True, slots=True)
class Group:
    """Codes that stand together under a heading."""

    title: str
    codes: tuple[Printed, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """Everything on one sheet. `note` stands under the title."""

    title: str
    note: str
    groups: tuple[Group, ...]

    @property
    def codes(self) -> list[Printed]:
        """All of them, in their order."""
        return [one for group in self.groups for one in group.codes]


def shop_sheet(door: Door, places: Iterable[PlaceLine], kits: Iterable[KitNow] = ()) -> Sheet:
    """Badges of everybody on the roll today, the lifts, and the special tools."""
    badges = tuple(
        Printed(Code("badge", one.badge), f"{one.badge} {one.name}", ROLES.get(one.role, one.role))
        for one in door.people
    )
    lifts = tuple(
        Printed(Code("lift", one.code), f"lift {one.code}") for one in places if one.kind == "lift"
    )
    tools = tuple(
        Printed(Code("kit", one.code), one.name, "ours" if one.owned else "hired") for one in kits
    )
    groups = (Group("badges", badges), Group("lifts", lifts), Group("kits", tools))
    note = "A badge signs in, answers where one is asked for, and begins the next person's turn."
    return Sheet(door.shop, note, tuple(one for one in groups if one.codes))


def job_sheet(card: JobCard) -> Sheet:
    """The job, each phase that is part of the work, and its steps."""
    job = card.job
    first = Printed(Code("job", job.number), f"{job.number} {job.vehicle}", "its next phase")
    groups = [Group("the job", (first,))]
    groups += [_phase(job.number, one) for one in card.phases if one.state != "skipped"]
    note = (
        f"Work: {job.work}. A job or phase takes the clock, a step is signed or asks what it needs."
    )
    return Sheet(f"{job.number} {job.vehicle}", note, tuple(groups))


def _phase(job: str, phase: PhaseLine) -> Group:
    where = f"{job}.{phase.number}"
    name = f"{phase.number} {phase.name}"
    clock = () if phase.kind != "labour" else (Printed(Code("phase", where), name, "clock"),)
    steps = tuple(
        Printed(Code("step", f"{where}.{one.step}"), f"{phase.number}.{one.step} {one.text}",
                _kind(one.kind, one.signs))
        for one in phase.steps
    )  # fmt: skip
    return Group(name, (*clock, *steps))


def _kind(kind: str, signs: int) -> str:
    if kind == "step":
        return ""
    return f"{kind}, two names" if signs > 1 else kind
