"""`tools`, `hire advise`: where special tools are, and what is best done about hires."""

from __future__ import annotations

from typing import TYPE_CHECKING

from store.trouble import Refused
from tui.cli.answer import Answer, encoded
from tui.cli.call import Call
from tui.cli.usage import NOW, READING, Argument, Command

if TYPE_CHECKING:
    from store.views.tools.values import KitNow, Tools


def show(call: Call) -> Answer:
    from store.views.tools.page import tools
    from tui.cli import json_tools, text_tools

    found = tools(call.shop, call.reading_at())
    if call.as_json:
        return Answer((encoded(json_tools.tools(found)),))
    return Answer(text_tools.tool_lines(found))


def advise(call: Call) -> Answer:
    from store.views.tools.page import tools
    from tui.cli import json_tools, text_tools

    found = tools(call.shop, call.reading_at())
    kit = _kit(found, call.typed.text("KIT")) if call.typed.has("KIT") else None
    if call.as_json:
        return Answer((encoded(json_tools.advised(found, kit)),))
    return Answer(text_tools.advice_lines(found, kit))


def _kit(found: Tools, code: str) -> KitNow:
    kit = next((one for one in found.kits if one.code == code), None)
    if kit is None:
        there = ", ".join(sorted(one.code for one in found.kits)) or "none"
        raise Refused(f"There is no kit {code}. The work book has: {there}.")
    return kit


ADVISE = Command(
    ("hire", "advise"), "Says what is best done about hires, and what each way costs.", advise,
    "hire advise LS", (Argument("KIT", "its code: this one alone, day by day", needed=False),),
    (NOW, *READING),
    more="Money is expected money: days by the supplier's rules, carriage, lateness, and a lift "
    "that waits for the kit, out of the forecast of the jobs that need it.",
)  # fmt: skip
COMMANDS = (
    Command(
        ("tools",), "Shows special tools: where each is, who needs it, what is to be done.", show,
        "tools", (), (NOW, *READING),
    ),
)  # fmt: skip
