"""What kits stop on a job: its turn held for tool by no entry, hold points of kits out of date."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from store.edges.instants import to_text
from store.file.route_now import PhaseRow
from store.rules.kit_at_hand import KitNeed, out_of_date, wait_words
from store.views.loading import HoldRow, JobHead, Loaded
from store.views.values import StepLine

BY_ITSELF = 0
"""Number of a hold that is no entry: it ends when the kit is at hand, or by the foreman's word."""


def for_kits(loaded: Loaded, head: JobHead) -> Iterator[HoldRow]:
    """Return the hold of the phase whose turn it is, where a kit lacks that it needs."""
    lacking = loaded.lacking.get(head.job)
    phases = loaded.phases[head.job]
    turn = next((one for one in phases if one.state in ("to come", "under way")), None)
    if not lacking or turn is None or turn.phase not in lacking:
        return
    needs = lacking[turn.phase]
    yield HoldRow(
        BY_ITSELF, head.job, turn.phase, "tool", _since(loaded, head, phases), None,
        _expected(needs), None, wait_words(needs, loaded.now, loaded.calendar.zone),
    )  # fmt: skip


def _since(loaded: Loaded, head: JobHead, phases: Sequence[PhaseRow]) -> str:
    """Since when it is that phase's turn."""
    ended = [one.finished_at for one in phases if one.finished_at is not None]
    return max(ended, default=head.in_at or to_text(loaded.now))


def _expected(needs: Sequence[KitNeed]) -> str | None:
    """When the last of them is said to come; None where one of them is not dated."""
    days = [one.expected for one in needs if one.at == "asked" and one.expected is not None]
    return to_text(max(days)) if len(days) == len(needs) else None


def with_dates(step: StepLine, dated: Sequence[KitNeed]) -> StepLine:
    """Return a step of a phase, a hold point with the kits that must not be used.

    Args:
        dated: kits of its phase whose date ran out.
    """
    if not dated or step.kind != "hold point" or step.state == "done":
        return step
    says = "; ".join(f"{one.name} {out_of_date(one)}" for one in dated)
    caution = f"{says}. {step.caution}" if step.caution else says
    return replace(step, caution=caution, waits_for=step.waits_for or says)
