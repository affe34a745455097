"""The screens in a browser, for a tablet on the floor: one process of its own for each page.

There is no login here: whoever reaches the page stands at a terminal of the shop, where badges and
PINs say who may do what. So it stays on this machine, and pages of other addresses are refused.
"""

from __future__ import annotations

import os
import shlex
import sys
from collections.abc import Awaitable, Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

from aiohttp import web
from textual_serve.server import Server

Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]
HERE = Path(__file__).parent
LOOPBACK = ("127.0.0.1", "localhost", "::1")
CHILD = {"COLORTERM": "truecolor", "TERM": "xterm-256color", "PYTHONUTF8": "1"}
"""What a page can show, whatever the terminal shows that began the server."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where pages are served.

    Attributes:
        address: what the tablet calls; "" for this machine's own.
    """

    host: str = "127.0.0.1"
    port: int = 8350
    address: str = ""

    def url(self) -> str:
        """What to type into the browser."""
        name = f"[{self.host}]" if ":" in self.host else self.host
        return self.address or f"http://{name}:{self.port}"

    def hosts(self) -> frozenset[str]:
        """Names by which pages may be asked for: no other site's page may reach the shop."""
        own = {f"{name}:{self.port}" for name in (*LOOPBACK, "[::1]")}
        return frozenset(own | {urlsplit(self.url()).netloc.lower()})


class Pages(Server):
    """Serves one command's screens, each page a process."""

    def __init__(self, command: Sequence[str], place: Place) -> None:
        """Take over the words of the command that opens the screens."""
        super().__init__(  # pyright: ignore[reportUnknownMemberType]  # a path of anything
            shlex.join(command), host=place.host, port=place.port, title="hoistbook",
            public_url=place.url(), templates_path=HERE,
        )  # fmt: skip
        self._hosts = place.hosts()

    def initialize_logging(self) -> None:
        """Keep quiet: what fails is told by the page."""

    async def on_startup(self, app: web.Application) -> None:
        """Keep quiet: the command has said where the pages are."""

    async def app(self) -> web.Application:
        """What answers."""
        return await self._make_app()

    async def _make_app(self) -> web.Application:
        made = await super()._make_app()
        made.middlewares.append(self._own_pages_only)
        return made

    @web.middleware
    async def _own_pages_only(self, request: web.Request, handler: Handler) -> web.StreamResponse:
        origin = request.headers.get("Origin")
        asked = [request.host.lower(), *([urlsplit(origin).netloc.lower()] if origin else [])]
        if not all(one in self._hosts for one in asked):
            raise web.HTTPForbidden(
                text="These pages are served under another address. Begin the server with "
                "--address and what the browser calls.\n"
            )
        return await handler(request)


def opens(shop: Path, words: Sequence[str]) -> list[str]:
    """The command whose screens are served."""
    return [sys.executable, "-m", "tui", "--shop", str(shop), "open", *words]


def serve(shop: Path, words: Sequence[str], place: Place) -> None:
    """Serve until the program is ended.

    Raises:
        OSError: the port is taken, or not ours.
    """
    os.environ.update(CHILD)
    os.environ.pop("NO_COLOR", None)
    Pages(opens(shop, words), place).serve()
