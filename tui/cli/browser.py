"""`browser`: the screens for a tablet."""

from __future__ import annotations

from store.trouble import Refused
from tui.cli.answer import Answer
from tui.cli.call import Call
from tui.cli.start import VIEWS
from tui.cli.usage import Command, Option, WrongUsage

HIGHEST_PORT = 65_535
EXTRA = 'This needs one more package: pip install "hoistbook[browser]"'


def browser(call: Call) -> Answer:
    try:
        from tui.browser.server import LOOPBACK, Place, serve
    except ModuleNotFoundError as missing:
        raise Refused(EXTRA) from missing
    typed = call.typed
    port = typed.whole("port")
    port = Place().port if port is None else port
    if not 0 < port <= HIGHEST_PORT:
        raise WrongUsage(f"--port is 1 to {HIGHEST_PORT}.")
    place = Place(
        typed.maybe("host") or Place().host, port, (typed.maybe("address") or "").rstrip("/")
    )
    if place.address and not place.address.startswith(("http://", "https://")):
        raise WrongUsage("--address is what the browser calls, like https://floor.example")
    if place.host not in LOOPBACK and not place.address:
        raise WrongUsage("Say also what the browser calls: --address https://floor.example")
    _ = call.terminal.shop
    call.terminal.close()
    print(f"The screens are at {place.url()} until Ctrl+C.", flush=True)
    try:
        serve(call.terminal.path, _words(call), place)
    except OSError as error:
        raise Refused(f"Port {port} cannot be had ({error.strerror}): try --port N.") from error
    return Answer((), ())


def _words(call: Call) -> list[str]:
    typed = call.typed
    words = ["--view", typed.maybe("view") or "floor"]
    if typed.has("wall"):
        words.append("--wall")
    return words


COMMANDS = (
    Command(
        ("browser",), "Serves the screens to a browser, for a tablet.", browser,
        "browser --port 8350", (),
        (
            Option("port", "N", "where it listens; 8350 if not said"),
            Option("host", "NAME", "on which address of this machine; 127.0.0.1 if not said"),
            Option("address", "URL", "what the browser calls, where that is another"),
            Option("view", "VIEW", f"one of {', '.join(VIEWS)}; the floor if not said",
                   choices=VIEWS),
            Option("wall", "", "for a wall: large, nobody signs in"),
        ),
        in_batch=False,
        more="The page has no login of its own: leave it on this machine, and let others in "
        "through a reverse proxy that asks for one and speaks TLS; tell it with --address.",
    ),
)  # fmt: skip
