"""What `take` and `estimate` both ask of a vehicle and its work."""

from __future__ import annotations

from tui.cli.call import Call
from tui.cli.usage import Option, WrongUsage

TAKING = (
    Option("operation", "CODE", "operation of the work book", many=True, needed=True),
    Option("family", "KEY", "engine, gearbox, driven axles, like B4-M-F", needed=True),
    Option("option", "K=V", "what is known of this vehicle", many=True),
    Option("grade", "N", "1 clean, 2 usual, 3 rusty or neglected, 4 been apart before"),
)


def grade_of(call: Call) -> int:
    """Condition at arrival, 1 to 4; 2 where nothing was typed."""
    found = call.typed.whole("grade")
    if found is not None and not 1 <= found <= 4:
        raise WrongUsage("--grade is 1 clean, 2 usual, 3 rusty or neglected, 4 been apart before.")
    return found or 2
