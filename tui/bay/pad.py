"""What the pad's digits do just now."""

from __future__ import annotations

from collections.abc import Mapping

from store.views.values import Bay, StepLine
from tui import keys
from tui.bay.choosing import next_own
from tui.bay.state import PAD, PadKey
from tui.bay.steps import shown_phase


def pad_of(bay: Bay, step: StepLine | None) -> Mapping[str, PadKey]:
    """The pad: what the next key is likely to be is hot."""
    pad = dict(PAD)
    clock = bay.clock
    runs = clock is not None and not clock.left_running
    pad["1"] = _clock(bay)
    pad["2"] = _over(bay)
    pad["3"] = _sign(step, runs and clock is not None and clock.job is not None)
    phase = shown_phase(bay)
    if phase is not None and phase.hold is not None:
        pad["4"] = PadKey("held: can it go on?", hot=clock is None)
    if clock is not None and clock.reason == "away":
        pad["."] = PadKey(f"back to {bay.away_from or 'work'}", hot=True)
    if not bay.can_undo:
        pad["0"] = PadKey("nothing to undo")
    return _moved(pad)


def _moved(pad: Mapping[str, PadKey]) -> Mapping[str, PadKey]:
    """Each meaning on the key that it has now; one that left the pad leaves its place empty."""
    built = {line.id: line.keys[0] for line in keys.BAY.built}
    return {line.keys[0]: pad[built[line.id]] for line in keys.BAY if built[line.id] in pad}


def _clock(bay: Bay) -> PadKey:
    clock = bay.clock
    if clock is None:
        where = (
            f"clock on {bay.card.job.number}.{bay.phase}" if bay.card and bay.phase else "clock on"
        )
        return PadKey(where, hot=bay.phase is not None)
    if clock.left_running:
        return PadKey("say when you stopped", hot=True)
    return PadKey("clock off", hot=clock.reason != "away")


def _over(bay: Bay) -> PadKey:
    """Over to another phase; while a clock runs it says which is theirs next."""
    own = next_own(bay)
    if own is None or bay.clock is None:
        return PAD["2"]
    return PadKey(f"over: {own.job}.{own.phase} next")


def _sign(step: StepLine | None, works: bool) -> PadKey:
    if step is None:
        return PadKey("all steps done")
    hot = works and step.waits_for is None
    if step.state == "half":
        return PadKey("second name", hot)
    if step.state == "out":
        return PadKey("measure again", hot)
    if step.kind == "decision":
        return PadKey("answer", hot)
    return PadKey("sign" if step.kind == "hold point" else "step done", hot)
