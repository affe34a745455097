"""Acts about people and firms outside, lists, paper and the end: none gets work past a gate."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

from store.actions import (
    adopting,
    advice,
    assigning,
    calls,
    ceilings,
    follow_ups,
    handing_over,
    month_costs,
    outwork,
    paper,
    supplements,
)
from store.actions.clock_where import Where
from store.actions.lining_up import put_in_line
from store.actions.paper import PaperDay, PaperRow
from store.rules.follow_ups import ToDo
from tests.store.actions.gate_desk import Scene

DAY = date(2026, 10, 12)


def _rows(s: Scene) -> list[PaperRow]:
    return [PaperRow(Where(s.job, s.shut), s.world.now - timedelta(minutes=1), s.world.now)]


PAST: dict[str, Callable[[Scene], object]] = {
    "handing_over.hand_over": lambda s: handing_over.hand_over(
        s.world.shop, s.world.by("FOR"), job=s.job, kits="all there"
    ),
    "paper.enter_day": lambda s: paper.enter_day(
        s.world.shop, s.world.by("FOR"), badge="T1", day=DAY, rows=_rows(s)
    ),
    "paper.enter_days": lambda s: paper.enter_days(
        s.world.shop, s.world.by("FOR"), days=[PaperDay("T1", DAY, _rows(s))]
    ),
}
"""What gets past if it works."""

ACTS: dict[str, Callable[[Scene], object]] = {
    "paper.check_days": lambda s: paper.check_days(
        s.world.shop, s.world.by("FOR"), days=[PaperDay("T1", DAY, _rows(s))]
    ),
    "lining_up.put_in_line": lambda s: put_in_line(
        s.world.shop, s.world.by("FOR"), job=s.job, before=None
    ),
    "calls.note_call": lambda s: calls.note_call(
        s.world.shop, s.world.by("T1"), job=s.job, means="telephone", reached=True, text="go on"
    ),
    "ceilings.set_ceiling": lambda s: ceilings.set_ceiling(
        s.world.shop, s.world.by("FOR"), job=s.job, ceiling=5000, told_by="customer", means="letter"
    ),
    "supplements.answer_supplement": lambda s: supplements.answer_supplement(
        s.world.shop, s.world.by("FOR"), job=s.job, approve=True
    ),
    "supplements.note_answer": lambda s: supplements.note_answer(
        s.world.shop, s.world.by("FOR"), job=s.job, means="in writing"
    ),
    "advice.answer_advice": lambda s: advice.answer_advice(
        s.world.shop, s.world.by("FOR"), job=s.job, finding=1, answer="agreed", hours=1,
        phase=s.shut,
    ),
    "outwork.send": lambda s: outwork.send(
        s.world.shop, s.world.by("T1"), job=s.job, phase=s.shut, what="the head", firm="a firm"
    ),
    "outwork.chase": lambda s: outwork.chase(
        s.world.shop, s.world.by("T1"), job=s.job, phase=s.shut, said="tomorrow"
    ),
    "outwork.receive": lambda s: outwork.receive(
        s.world.shop, s.world.by("T1"), job=s.job, phase=s.shut, report="flat"
    ),
    "adopting.adopt": lambda s: adopting.adopt(s.world.shop, s.world.by("OWN")),
    "month_costs.set_costs": lambda s: month_costs.set_costs(
        s.world.shop, s.world.by("OWN"), month=f"{s.world.now:%Y-%m}", wages=1.0, overheads=0.0
    ),
    "assigning.assign": lambda s: assigning.assign(
        s.world.shop, s.world.by("FOR"), job=s.job, phase=s.shut, badge="T1", all_the_same=True
    ),
    "assigning.unassign": lambda s: assigning.unassign(
        s.world.shop, s.world.by("FOR"), job=s.job, phase=s.shut
    ),
    "assigning.reorder": lambda s: assigning.reorder(
        s.world.shop, s.world.by("FOR"), badge="T1", works=[(s.job, s.shut)]
    ),
    "follow_ups.set_follow_ups": lambda s: follow_ups.set_follow_ups(
        s.world.shop, s.world.by("FOR"), job=s.job, lines=[ToDo("call", "foreman", DAY)]
    ),
    "follow_ups.move_follow_up": lambda s: follow_ups.move_follow_up(
        s.world.shop, s.world.by("FOR"), job=s.job, line=1, day=date(2026, 11, 12)
    ),
    "follow_ups.follow_up_done": lambda s: follow_ups.follow_up_done(
        s.world.shop, s.world.by("FOR"), job=s.job, line=1, outcome="all well"
    ),
}  # fmt: skip
"""What cannot get past by itself."""
