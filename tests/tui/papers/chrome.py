"""A real browser without a window, spoken to over its debugging protocol."""

from __future__ import annotations

import asyncio
import base64
import json
import shutil
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from aiohttp import ClientSession, ClientWebSocketResponse

BROWSER = next(
    (
        found
        for one in ("chromium", "chromium-browser", "google-chrome")
        if (found := shutil.which(one))
    ),
    None,
)
PATIENCE_S = 60.0
LISTENS = "DevTools listening on "
TROUBLE = ("Runtime.exceptionThrown", "Runtime.consoleAPICalled", "Log.entryAdded")
"""What a page that is well never says."""
ASKED = "Network.requestWillBeSent"
PAIRS = """
(() => {
  const found = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    if (!walk.currentNode.data.trim()) continue;
    let one = walk.currentNode.parentElement;
    const ink = getComputedStyle(one).color;
    let ground = 'rgba(0, 0, 0, 0)';
    for (; one && ground === 'rgba(0, 0, 0, 0)'; one = one.parentElement)
      ground = getComputedStyle(one).backgroundColor;
    found.push(ink + ' on ' + ground);
  }
  return [...new Set(found)].join('\\n');
})()
"""
"""Every colour of text with the ground that is really behind it."""


class Browser:
    """The browser, one page after another.

    Attributes:
        said: errors and messages of the page that is open, and addresses that it asked for.
    """

    def __init__(self, line: ClientWebSocketResponse) -> None:
        self._line, self._last, self._page = line, 0, ""
        self.said: list[str] = []
        self.asked: list[str] = []

    async def call(self, method: str, *, until: str = "", **more: object) -> dict[str, Any]:
        """Ask for something and wait for its answer, and for an event where one is named."""
        self._last += 1
        asked: dict[str, object] = {"id": self._last, "method": method, "params": more}
        if self._page:
            asked["sessionId"] = self._page
        await self._line.send_str(json.dumps(asked))
        answer: dict[str, Any] | None = None
        while answer is None or until:
            heard = json.loads(await self._line.receive_str(timeout=PATIENCE_S))
            if heard.get("id") == self._last:
                assert "error" not in heard, heard
                answer = heard.get("result", {})
            self._note(heard)
            until = "" if heard.get("method") == until else until
        return answer

    def _note(self, heard: dict[str, Any]) -> None:
        if heard.get("method") in TROUBLE:
            self.said.append(json.dumps(heard["params"])[:300])
        if heard.get("method") == ASKED:
            self.asked.append(heard["params"]["request"]["url"])

    async def open(self, page: Path) -> None:
        """Open a page of a file and wait until it stands."""
        self.said, self.asked = [], []
        await self.call("Page.navigate", until="Page.loadEventFired", url=page.as_uri())

    async def printed(self, width_in: float, height_in: float) -> bytes:
        """The page as PDF on paper of that size."""
        found = await self.call(
            "Page.printToPDF", paperWidth=width_in, paperHeight=height_in, printBackground=True
        )
        return base64.b64decode(found["data"])

    async def eval(self, script: str) -> Any:
        """What a script answers."""
        found = await self.call("Runtime.evaluate", expression=script, returnByValue=True)
        return found["result"].get("value")

    async def begin(self) -> None:
        """A page to work in."""
        target = await self.call("Target.createTarget", url="about:blank")
        found = await self.call("Target.attachToTarget", targetId=target["targetId"], flatten=True)
        self._page = found["sessionId"]
        for domain in ("Page", "Runtime", "Log", "Network"):
            await self.call(f"{domain}.enable")


@asynccontextmanager
async def browser(profile: Path) -> AsyncGenerator[Browser]:
    """A browser, ended at the end."""
    assert BROWSER is not None
    program = await asyncio.create_subprocess_exec(
        BROWSER, "--headless=new", "--no-sandbox", "--disable-gpu", f"--user-data-dir={profile}",
        "--remote-debugging-port=0", "about:blank", stderr=asyncio.subprocess.PIPE,
        stdout=asyncio.subprocess.DEVNULL,
    )  # fmt: skip
    assert program.stderr is not None
    try:
        async with ClientSession() as session:
            address = await asyncio.wait_for(_address(program.stderr), PATIENCE_S)
            async with session.ws_connect(address, max_msg_size=0) as line:
                found = Browser(line)
                await found.begin()
                yield found
    finally:
        program.terminate()
        await program.wait()


async def _address(says: asyncio.StreamReader) -> str:
    while line := (await says.readline()).decode(errors="replace"):
        if LISTENS in line:
            return line.split(LISTENS)[1].strip()
    raise AssertionError("the browser ended before it listened")
