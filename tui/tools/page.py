"""All about one kit on a page: what each day costs, every way, who needs it, terms, hire or buy."""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from datetime import datetime, tzinfo
from functools import partial
from typing import Any

from store.views.tools.hires_back import HireBack, Supply, hires_back, supply
from store.views.tools.page import tools
from store.views.tools.values import HireOrBuy, KitNow
from tui import keys
from tui.parts.canvas import Canvas
from tui.parts.help import FOOT
from tui.parts.lines import Key, paint_keys, paint_rule, paint_said
from tui.parts.painted import Painted
from tui.parts.pressed import Pressed
from tui.parts.sheet import Sheet
from tui.signs import Signs
from tui.tools.days import paint_days, table_rows
from tui.tools.told import DIM, LABEL, LEFT, TEXT, Said, kit_lines
from tui.tools.words import back_words, date_words, rates_words
from tui.words import cut, money, wrapped, zone_of

STEPS = {"up": -1, "down": 1, "page up": -10, "page down": 10, " ": 10}
LEAVES = ("Esc", "Enter")
MANY = 99
"""Rows enough for every part of the table."""


class About:
    """One kit with everything that the page tells of it."""

    def __init__(
        self, kit: KitNow, buy: HireOrBuy | None, known: Supply, back: list[HireBack], at: datetime
    ) -> None:
        self.kit, self.buy, self.known, self.back, self.at = kit, buy, known, back, at


async def kit_page(screen: Painted[Any], code: str) -> None:
    """Show it until a key is pressed that does not move it; that key then does what it does."""
    about = await asyncio.to_thread(_read, screen, code)
    before, scroll = screen.page, 0
    try:
        while True:
            screen.cover(partial(_canvas, screen, about, scroll))
            key = (await screen.talk.key()).key
            if key in STEPS:
                rows = screen.board_size[1] - FOOT - 1
                last = max(0, _sheet(screen, about, screen.board_size[0]).height - rows)
                scroll = min(max(0, scroll + STEPS[key]), last)
                continue
            if key not in LEAVES and keys.meant(keys.TOOLS, key) is not None:
                screen.press(Pressed(key, key if len(key) == 1 else ""))
            return
    finally:
        screen.cover(before)


def _read(screen: Painted[Any], code: str) -> About:
    shop, now = screen.session.shop, screen.session.now()
    view = tools(shop, now)
    kit = next(one for one in view.kits if one.code == code)
    buy = next((one for one in view.buy if one.kit == code), None)
    back = [one for one in hires_back(shop) if one.kit == code]
    return About(kit, buy, supply(shop), back, now)


def _canvas(screen: Painted[Any], about: About, scroll: int, size: tuple[int, int]) -> Canvas:
    canvas = Canvas(*size)
    signs = screen.session.signs
    rows = size[1] - FOOT
    sheet = _sheet(screen, about, size[0])
    sheet.show(canvas, (0, 0), rows, scroll)
    more = sheet.height > rows
    paint_said(canvas, size[1] - 2, screen.saying or "", signs)
    row = [Key("up down", "rows")] if more else []
    paint_keys(canvas, size[1] - 1, (*row, *keys.last_row(keys.TOOLS)[:4], Key("Esc", "back")),
               signs)  # fmt: skip
    return canvas


def _sheet(screen: Painted[Any], about: About, width: int) -> Sheet:
    return about_sheet(about, width, zone_of(screen.zone), screen.session.signs)


def about_sheet(about: About, width: int, zone: tzinfo, signs: Signs) -> Sheet:
    """The whole page, however long."""
    sheet, kit = Sheet(width), about.kit
    _rule(sheet, f"{kit.name} ({kit.code})", signs)
    for line in kit_lines(kit, zone, about.at):
        _put(sheet, line)
    if kit.advice is not None and kit.advice.days:
        _rule(sheet, "back on which day", signs)
        parts = table_rows(kit.advice, MANY)
        paint_days(sheet.block(1 + len(parts)), (LEFT, 0), kit.advice, (zone, about.at), parts)
    lines = list(_money_lines(about))
    if lines:
        _rule(sheet, "what it costs where", signs)
    for line in lines:
        _put(sheet, line)
    if about.back:
        _rule(sheet, "went back, not settled", signs)
    for one in about.back:
        _put(sheet, Said(one.job or "any job", back_words(one, zone, about.at)))
    return sheet


def _money_lines(about: About) -> Iterator[Said]:
    """Offers, hire or buy, until when it is in date."""
    code = about.kit.code
    for one in about.known.offers.get(code, ()):
        yield Said("at a supplier's", f"{one.supplier}: {rates_words(one.terms.rates)}")
    price = about.known.prices.get(code)
    if price is not None and price.buy is not None:
        keeps = f", {money(price.upkeep)} a year to keep" if price.upkeep else ""
        yield Said("to buy", f"{money(price.buy)}{keeps}, lasts {price.life_years:g} years")
    if about.buy is not None:
        yield Said("hire or buy", about.buy.says)
    until = about.known.dates.get(code)
    if until is not None:
        yield Said("in date until", date_words(until))


def _rule(sheet: Sheet, title: str, signs: Signs) -> None:
    sheet.gap()
    paint_rule(sheet.block(), 0, (0, sheet.width), title, signs)


def _put(sheet: Sheet, line: Said) -> None:
    label = LABEL if line.label else 0
    room = max(8, sheet.width - LEFT - label - 1)
    for nth, text in enumerate(wrapped(line.text, room) or [""]):
        row = sheet.block()
        if nth == 0 and line.label:
            row.put(LEFT, 0, cut(line.label, LABEL - 1), DIM)
        row.put(LEFT + label, 0, text, TEXT)
