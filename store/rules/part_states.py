"""What may become of a part, and which parts a job still lacks."""

from __future__ import annotations

from typing import Literal

PartState = Literal["wanted", "ordered", "here", "wrong", "returned", "fitted", "not needed"]

MAY_BECOME: dict[PartState, frozenset[PartState]] = {
    "wanted": frozenset({"ordered", "here", "not needed"}),
    "ordered": frozenset({"here", "wrong", "not needed"}),
    "here": frozenset({"fitted", "wrong", "returned", "not needed"}),
    "wrong": frozenset({"returned", "ordered", "here", "not needed"}),
    "returned": frozenset({"ordered", "here", "not needed"}),
    "fitted": frozenset({"wrong"}),
    "not needed": frozenset({"wanted", "ordered", "here", "returned"}),
}
"""What may follow what; a line may always be told anew in the state it is in."""
NEVER_WAS_HERE = frozenset({"wanted", "ordered"})
NOT_LACKING = frozenset({"here", "fitted", "not needed"})
"""A part that was returned lacks until it is ordered again or not needed any more."""


def why_not(before: PartState, after: PartState) -> str | None:
    """Say why a part cannot become that, with what to do; None where it can."""
    if before == after or after in MAY_BECOME[before]:
        return None
    if before in NEVER_WAS_HERE and after in ("fitted", "returned"):
        return f"was never here and cannot be {after}. Say first that it is here."
    if before == "wrong" and after == "fitted":
        return "is the wrong one and is not fitted. Send it back, or order it again."
    if before == "returned":
        return f"went back and cannot be {after}. Order it again, or say that it is here."
    if before == "fitted":
        return f"is fitted already and cannot be {after}. If it is the wrong one, say so."
    if before == "not needed":
        return f"is not needed and cannot be {after}. Say first that it is here, or order it."
    return f"is {before} and cannot be {after}. It can be {_or(MAY_BECOME[before])}."


def _or(states: frozenset[PartState]) -> str:
    return " or ".join(sorted(states))
