"""Pages of the screens: to their own address only, and with nothing asked from elsewhere."""

from __future__ import annotations

import re
import sys
from asyncio import create_subprocess_exec, sleep, wait_for
from asyncio.subprocess import PIPE
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager, suppress
from pathlib import Path
from signal import SIGINT

import pytest
from aiohttp import ClientConnectionError, ClientSession, ClientWebSocketResponse, WSMsgType
from aiohttp.test_utils import TestServer, unused_port

from tests.tui.shops import Pen, founded
from tui.browser.server import HERE, Pages, Place, opens

PATIENCE_S = 60.0


@asynccontextmanager
async def pages(shop: Path, address: str = "") -> AsyncGenerator[tuple[ClientSession, str]]:
    """A server in this process, and who calls it."""
    place = Place(port=unused_port(), address=address)
    made = Pages(opens(shop, ["--view", "floor"]), place)
    server = TestServer(await made.app(), port=place.port)
    await server.start_server()
    try:
        async with ClientSession() as session:
            yield session, f"http://127.0.0.1:{place.port}"
    finally:
        await server.close()


async def test_a_page_shows_the_floor(tmp_path: Path) -> None:
    founded(tmp_path / "a.shop", Pen()).close()
    url = f"http://127.0.0.1:{(port := unused_port())}"
    words = ["--shop", str(tmp_path / "a.shop"), "browser", "--port", str(port)]
    program = await create_subprocess_exec(sys.executable, "-m", "tui", *words, stdout=PIPE)
    assert program.stdout is not None
    try:
        assert url in (await wait_for(program.stdout.readline(), PATIENCE_S)).decode()
        async with ClientSession() as session, await opened(session, url) as line:
            seen = b""
            while b"Marsh Lane Works" not in seen:
                said = await line.receive(PATIENCE_S)
                assert said.type in (WSMsgType.BINARY, WSMsgType.TEXT), said
                seen += said.data if isinstance(said.data, bytes) else b""
    finally:
        program.send_signal(SIGINT)
        await wait_for(program.wait(), PATIENCE_S)


async def opened(session: ClientSession, url: str) -> ClientWebSocketResponse:
    """The line of one page, as soon as the server listens."""
    for _ in range(int(PATIENCE_S / 0.1)):
        with suppress(ClientConnectionError):
            return await session.ws_connect(f"{url}/ws?width=100&height=30", origin=url)
        await sleep(0.1)
    raise AssertionError("the server never listened")


@pytest.mark.parametrize("path", ["/", "/ws", "/static/js/textual.js", "/download/x"])
@pytest.mark.parametrize(
    "headers", [{"Host": "evil.example"}, {"Origin": "http://evil.example"}, {"Origin": "null"}]
)
async def test_pages_of_other_addresses_reach_nothing(
    tmp_path: Path, path: str, headers: dict[str, str]
) -> None:
    async with pages(tmp_path / "none.shop") as (session, url):
        answer = await session.get(url + path, headers=headers)
        assert answer.status == 403
        assert "--address" in await answer.text()


async def test_the_address_that_was_named_is_served_too(tmp_path: Path) -> None:
    async with pages(tmp_path / "none.shop", address="https://floor.example") as (session, url):
        named = {"Host": "floor.example", "Origin": "https://floor.example"}
        assert (await session.get(url, headers=named)).status == 200
        assert (await session.get(url)).status == 200


async def test_the_page_asks_nothing_from_anywhere_else(tmp_path: Path) -> None:
    async with pages(tmp_path / "none.shop") as (session, url):
        page = await (await session.get(url)).text()
    assert not re.findall(r"(?:https?:)?//\w[^\s\"']*", page.split("<script>")[0])
    assert "hoistbook" in page
    assert (HERE / "app_index.html").is_file()


@pytest.mark.parametrize(
    ("place", "url"),
    [
        (Place(), "http://127.0.0.1:8350"),
        (Place("::1", 9000), "http://[::1]:9000"),
        (Place("0.0.0.0", 80, "https://floor.example"), "https://floor.example"),
    ],
)
def test_what_to_type_into_the_browser(place: Place, url: str) -> None:
    assert place.url() == url


def test_a_shop_with_spaces_in_its_name_stays_one_word() -> None:
    made = Pages(opens(Path("/tmp/my shop; rm x.shop"), []), Place())
    assert "'/tmp/my shop; rm x.shop'" in made.command
