"""`demo`, `init`, `open`: how one begins."""

from __future__ import annotations

import gc
import os
import sys
from pathlib import Path

from store.trouble import Refused
from tui.cli import where
from tui.cli.answer import Answer, of_words
from tui.cli.call import Call
from tui.cli.usage import JSON, PIN_STDIN, Command, Option, WrongUsage

VIEWS = ("floor", "bay", "desk", "tools", "month")
LARGEST_SEED = 10**9


def demo(call: Call) -> Answer:
    opens = not call.typed.has("no-open")
    if opens:
        refuse_no_terminal()
    path = call.terminal.given or where.demo_shop()
    says = _demo_there(call, path) if path.exists() else _make_demo(call, path)
    if not opens:
        return of_words(says, as_json=call.as_json)
    return _screens(call, path)


def _demo_there(call: Call, path: Path) -> str:
    from store.file.shop import Shop
    from store.views.about import about

    shop = Shop(path)
    try:
        made = about(shop).demo
    finally:
        shop.close()
    if made is None:
        raise Refused(f"{path} is a real shop and was left as it is. Name another: --shop FILE.")
    seed, months = call.typed.whole("seed"), call.typed.whole("months")
    if seed not in (None, made.seed) or months not in (None, made.months):
        raise Refused(
            f"{path} is a demo shop of seed {made.seed} and {made.months} months already. "
            "Make the other one beside it: --shop FILE."
        )
    return f"The demo shop is there: {path}"


def _make_demo(call: Call, path: Path) -> str:
    from demo.making import MOST_MONTHS, make_demo
    from tui.learner import begin

    seed, months = call.typed.whole("seed"), call.typed.whole("months")
    seed, months = 1 if seed is None else seed, 18 if months is None else months
    if seed > LARGEST_SEED or not 1 <= months <= MOST_MONTHS:
        raise WrongUsage(
            f"--seed is 0 to {LARGEST_SEED}, --months is 1 to {MOST_MONTHS}. "
            "Like: hoistbook demo --seed 1 --months 18"
        )
    make_demo(path, seed=seed, months=months).close()
    begin(path)
    return f"The demo shop is made: {path}. Every PIN in it is 2468."


def init(call: Call) -> Answer:
    from tui.cli.founding import found  # brings the event models, for which no screen waits

    path = call.terminal.given or where.real_shop()
    return of_words(found(call, path), as_json=call.as_json)


def open_screens(call: Call) -> Answer:
    refuse_no_terminal()
    if is_first_run(call):
        return _first_run(call)
    _ = call.terminal.shop
    call.terminal.close()
    return _screens(call, call.terminal.path)


def _screens(call: Call, path: Path) -> Answer:
    gc.disable()  # until the first screen stands: what is only being loaded is no garbage
    try:
        from tui.opening import run

        typed = call.typed
        status = run(
            path, view=typed.maybe("view"), lift=typed.maybe("lift"), badge=call.maybe_badge(),
            wall=typed.has("wall"), ascii_only=typed.has("ascii"),
        )  # fmt: skip
    finally:
        gc.enable()
    return Answer((), (), status)


def is_first_run(call: Call) -> bool:
    """Whether there is no shop file and somebody sits here who might begin one.

    A shop that was moved aside by a restore is to come back, not to be begun again.
    """
    from store.file.opening import moved_aside

    unattended = call.typed.has("wall") or os.environ.get("TEXTUAL_DRIVER")
    path = call.terminal.path
    if unattended or call.maybe_badge() is not None or path.exists():
        return False
    return moved_aside(path) is None


def _first_run(call: Call) -> Answer:
    """Lead through the set-up, or to the demo; then open what there is now."""
    from tui.opening import run
    from tui.setup.screen import begin

    begun = begin(call.terminal.path, lambda: _demo_made(call), ascii_only=call.typed.has("ascii"))
    if begun is None:
        return Answer((), (), 0)
    ascii_only = call.typed.has("ascii")
    status = run(begun.path, badge=begun.badge, ascii_only=ascii_only, said=begun.says)
    return Answer((), (), status)


def _demo_made(call: Call) -> Path:
    """The demo shop's file, made where it is not there."""
    path = where.demo_shop()
    _ = _demo_there(call, path) if path.exists() else _make_demo(call, path)
    return path


def refuse_no_terminal() -> None:
    """Refuse the screens where nobody could see or press anything.

    Raises:
        Refused: saying what to use instead.
    """
    if os.environ.get("TEXTUAL_DRIVER"):
        return
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise Refused("The screens need a terminal. For text: hoistbook floor, or demo --no-open.")
    if os.environ.get("TERM", "") in ("", "dumb"):
        raise Refused("This terminal cannot show screens. For text: hoistbook floor.")


COMMANDS = (
    Command(
        ("demo",), "Makes the invented shop where there is none, and opens it.", demo,
        "demo --no-open", (),
        (
            Option("seed", "N", "another seed, another past; 1 if not said"),
            Option("months", "N", "how long its past is; 18 if not said"),
            Option("no-open", "", "does not open the screens"), JSON,
        ),
        in_batch=False,
        more="Without --shop it has a file of its own. Every PIN in it is 2468.",
    ),
    Command(
        ("init",), "Makes your own shop: asks for what is not said.", init,
        'init --name "Marsh Lane" --zone Europe/Amsterdam --currency EUR '
        '--shift "mon-fri 07:30-16:30" --owner O1:Olga',
        (),
        (
            Option("name", "TEXT", "the shop's name"),
            Option("zone", "ZONE", "its time zone, like Europe/Berlin"),
            Option("currency", "CODE", "its currency, like EUR"),
            Option("shift", "TEXT", 'when it works, like "mon-fri 07:30-16:30"', many=True),
            Option("break", "TEXT", 'when it rests, like "mon-fri 12:00-12:45"', many=True),
            Option("lift", "CODE:KIND:KG", "a lift, like 1:two-post:4000", many=True),
            Option("owner", "BADGE:NAME", "the owner, like O1:Olga"),
            Option("rate", "MONEY", "the price of an hour of labour"),
            Option("starter", "CODES", "operations to begin with: all, none, or codes like CL,TC"),
            Option("from", "DATE", "since when all of this holds, to enter your past; else today"),
            PIN_STDIN, JSON,
        ),
        in_batch=False,
        more="The owner's PIN is asked for, or read with --pin-stdin. A starter is copied into the "
        "shop file as its first work book: its hours are nobody's but the demo's until you put "
        "them right.",
    ),
    Command(
        ("open",), "Opens the screens; `hoistbook` alone does the same.", open_screens,
        "open --view bay --as B12", (),
        (
            Option("view", "VIEW", f"one of {', '.join(VIEWS)}", choices=VIEWS),
            Option("lift", "CODE", "the lift that this terminal stands at"),
            Option("as", "BADGE", "signs in, where no PIN is needed"),
            Option("wall", "", "for a wall: large, nobody signs in"),
            Option("ascii", "", "draws with plain letters only"),
        ),
        in_batch=False,
    ),
)  # fmt: skip
