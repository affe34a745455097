"""Open a page of `hoistbook browser` in a real browser without a window. Run by hand:

    python tests/looks/in_browser.py SHOP OUT.png [KEYS …]

Begins the server on a free port, opens its page in Chromium, types the keys (names as the browser
calls them: F1, Enter, or letters), and takes a picture. Says which other hosts the page asked for.
"""

from __future__ import annotations

import asyncio
import base64
import json
import shutil
import socket
import subprocess
import sys
import tempfile
from collections.abc import Generator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from aiohttp import ClientError, ClientSession, ClientWebSocketResponse

SIZE = (1280, 800)
BROWSERS = ("chromium", "chromium-browser", "google-chrome")
PATIENCE_S = 30.0


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        port: int = one.getsockname()[1]
    return port


@contextmanager
def running(words: list[str]) -> Generator[None]:
    """A program in the background, ended at the end."""
    program = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        yield
    finally:
        program.terminate()
        program.wait(10)


class Page:
    """One page, spoken to over the browser's debugging protocol."""

    def __init__(self, line: ClientWebSocketResponse) -> None:
        self._line, self._last = line, 0
        self.asked: list[str] = []

    async def call(self, method: str, **more: object) -> dict[str, Any]:
        """Ask for something and wait for its answer."""
        self._last += 1
        await self._line.send_str(json.dumps({"id": self._last, "method": method, "params": more}))
        while True:
            said = json.loads(await self._line.receive_str())
            if said.get("method") == "Network.requestWillBeSent":
                self.asked.append(said["params"]["request"]["url"])
            if said.get("id") == self._last:
                found: dict[str, Any] = said.get("result", {})
                return found

    async def key(self, name: str) -> None:
        """Press one key."""
        text = {"text": "\r"} if name == "Enter" else {"text": name} if len(name) == 1 else {}
        code = {"Enter": 13, "Escape": 27}.get(name) or (
            111 + int(name[1:]) if name[0] == "F" and name[1:].isdigit() else ord(name[0].upper())
        )
        for kind in ("keyDown", "keyUp"):
            await self.call(
                "Input.dispatchKeyEvent", type=kind, key=name, windowsVirtualKeyCode=code,
                **(text if kind == "keyDown" else {}),
            )  # fmt: skip
        await asyncio.sleep(1.0)


async def until(session: ClientSession, url: str) -> Any:
    """What an address answers, once it answers."""
    for _ in range(int(PATIENCE_S / 0.2)):
        try:
            async with session.get(url) as answer:
                return await answer.text()
        except ClientError:
            await asyncio.sleep(0.2)
    raise SystemExit(f"{url} never answered")


async def picture(port: int, debug: int, keys: list[str], out: Path) -> None:
    """Open, type, look."""
    async with ClientSession() as session:
        await until(session, f"http://127.0.0.1:{port}/")
        listed = json.loads(await until(session, f"http://127.0.0.1:{debug}/json"))
        line = next(one for one in listed if one["type"] == "page")["webSocketDebuggerUrl"]
        async with session.ws_connect(line, max_msg_size=0) as talk:
            page = Page(talk)
            await page.call("Network.enable")
            await page.call("Page.navigate", url=f"http://127.0.0.1:{port}/")
            await asyncio.sleep(6)
            for key in keys:
                await page.key(key)
            shot = await page.call("Page.captureScreenshot", format="png")
            out.write_bytes(base64.b64decode(shot["data"]))
            others = {one for one in page.asked if f":{port}/" not in one and "data:" not in one}
            print("asked elsewhere:", ", ".join(sorted(others)) or "nothing")


def main(words: list[str]) -> None:
    """Take one picture."""
    shop, out, *keys = words
    browser = next((found for one in BROWSERS if (found := shutil.which(one))), None)
    if browser is None:
        raise SystemExit("No browser is here: install chromium.")
    port, debug = free_port(), free_port()
    serve = [sys.executable, "-m", "tui", "--shop", shop, "browser", "--port", str(port)]
    with tempfile.TemporaryDirectory() as profile:
        look = [
            browser, "--headless", "--no-sandbox", "--disable-gpu", "--enable-unsafe-swiftshader",
            f"--window-size={SIZE[0]},{SIZE[1]}", f"--user-data-dir={profile}",
            f"--remote-debugging-port={debug}", "about:blank",
        ]  # fmt: skip
        with running(serve), running(look):
            asyncio.run(picture(port, debug, keys, Path(out)))


if __name__ == "__main__":
    main(sys.argv[1:])
