"""Two jobs that want one kit at one time: how likely, and the ways out in money and in chance."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from itertools import combinations

from store.sums.hires.clash import Ends, WayOut, overlap, ways_out
from store.views.parts_values import HireOut
from store.views.tools import kept as tools_kept
from store.views.tools.draws import Drawn
from store.views.tools.money import Reckoning
from store.views.tools.read import KitRow
from store.views.tools.values import Clash, Do, Way
from store.views.tools.words import tenths, whole

LIKELY = 0.2
"""A clash that is less likely is not called out."""
DO: dict[str, Do] = {"wait": "wait", "swap order": "swap order", "second kit": "second kit"}


def clashes(
    reckoning: Reckoning, kit: KitRow, hires: Sequence[HireOut], needs: Sequence[Drawn]
) -> Iterator[Clash]:
    """Yield the clashes over one kit, the first in time first.

    Args:
        needs: all its stretches, the first to need it first.
    """
    for sharing in _sharing(kit, hires, needs):
        for first, second in combinations(sharing, 2):
            if first.told.job == second.told.job:
                continue
            found = _clash(reckoning, kit, *_in_order(first, second))
            if found is not None:
                yield found


def _sharing(
    kit: KitRow, hires: Sequence[HireOut], needs: Sequence[Drawn]
) -> Iterator[Sequence[Drawn]]:
    """Stretches that one and the same kit is to serve: ours, or one that is hired for any job."""
    own = {one.job for one in hires if one.job is not None}
    rest = [one for one in needs if one.told.job not in own]
    shared = (1 if kit.owned else 0) + sum(one.job is None for one in hires)
    if shared == 1:
        yield rest


def _in_order(first: Drawn, second: Drawn) -> tuple[Drawn, Drawn]:
    """Whoever has it in use goes first, else whoever needs it first."""
    return (second, first) if second.need.begun and not first.need.begun else (first, second)


def _clash(reckoning: Reckoning, kit: KitRow, first: Drawn, second: Drawn) -> Clash | None:
    shop = reckoning.days
    if min(first.told.cautious, second.told.cautious) <= max(first.told.since, second.told.since):
        lies_over = min(max(first.need.end), max(second.need.end)) > max(
            min(first.need.start), min(second.need.start)
        )
        if not lies_over:
            return None
    over = overlap(shop, first.need, second.need)
    if over.chance < LIKELY or over.since is None or over.until is None:
        return None
    outs = ways_out(
        shop, (first.need, second.need), (_ends(first), _ends(second)),
        lift_day=reckoning.lift_day, second_kit=_second(reckoning, kit, second),
    )  # fmt: skip
    ways = tuple(_way(kit, one, first, second) for one in outs)
    return Clash(
        kit.code, (first.told.job, second.told.job), _at(over.since), _at(over.until), over.chance,
        ways,
    )  # fmt: skip


def _ends(one: Drawn) -> Ends:
    return Ends([at.timestamp() for at in one.finishes], one.promise)


def _at(seconds: float) -> datetime:
    return datetime.fromtimestamp(seconds, UTC)


def _second(reckoning: Reckoning, kit: KitRow, second: Drawn) -> float | None:
    """What a kit for the second job alone is expected to cost, where somebody hires it out."""
    costs = [
        tools_kept.windows(
            reckoning.asked(one.terms, one.supplier), [second.need],
            reckoning.days.after(reckoning.known.today, one.terms.house.lead_days),
            reckoning.known.now,
        ).best.cost.total
        for one in reckoning.offers(kit.code)
    ]  # fmt: skip
    return min(costs, default=None)


def _way(kit: KitRow, out: WayOut, first: Drawn, second: Drawn) -> Way:
    jobs = (first.told.job, second.told.job)
    kept = tuple(
        (job, chance) for job, chance in zip(jobs, out.kept, strict=True) if chance is not None
    )
    odds = f", promise kept {tenths(min(chance for _, chance in kept))}" if kept else ""
    if out.out == "second kit":
        command = ("hire", "ask", kit.code, "--job", jobs[1])
        says = f"a second kit for {jobs[1]}: {whole(out.cost)}{odds}"
        return Way("second kit", says, out.cost, kept=kept, command=command)
    order = f"{jobs[1]} first: " if out.out == "swap order" else ""
    costs = f", {whole(out.cost)}" if out.cost >= 1 else ""
    says = f"{order}{out.waits} waits {out.shift_h:.1f} h{costs}{odds}"
    return Way(DO[out.out], says, out.cost, kept=kept)
