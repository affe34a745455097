"""Names of people outside the shop: from options, or from standard input, which nobody else sees.

Whoever may list the processes of a machine reads their arguments too.
"""

from __future__ import annotations

import sys

from tui.cli.call import Call
from tui.cli.usage import Option, WrongUsage

LONGEST = 4096
CUSTOMER = (
    Option("name", "TEXT", "the customer's name; it is kept outside the ledger"),
    Option("telephone", "TEXT", "the customer's number; kept outside the ledger too"),
    Option(
        "customer-stdin", "",
        "reads name and number from standard input, a line each; after the PIN with --pin-stdin",
    ),
)  # fmt: skip


def customer_of(call: Call) -> tuple[str, str] | None:
    """Return name and telephone as they were given; None where neither was.

    Raises:
        WrongUsage: a number without a name, both ways at once, or nothing on standard input.
    """
    typed = call.typed
    name, telephone = typed.maybe("name"), typed.maybe("telephone")
    if typed.has("customer-stdin"):
        if name is not None or telephone is not None:
            raise WrongUsage("Give the customer by --customer-stdin, or by --name, not both.")
        return _piped(call)
    if name is None:
        if telephone is not None:
            raise WrongUsage("--telephone goes with --name TEXT.")
        return None
    return name, telephone or ""


def _piped(call: Call) -> tuple[str, str]:
    if call.terminal.in_batch:
        raise WrongUsage("--customer-stdin: in a batch standard input is the batch. Use --name.")
    text = sys.stdin.buffer.read(LONGEST).decode("utf-8", "replace")
    lines = [line.strip() for line in text.splitlines()]
    if call.typed.has("pin-stdin") and lines:
        call.terminal.pins[call.badge()] = lines.pop(0)
    if not lines or not lines[0]:
        raise WrongUsage(
            "--customer-stdin: standard input holds no name. Like: printf '%s\\n' NAME NUMBER | …"
        )
    return lines[0], lines[1] if len(lines) > 1 else ""
