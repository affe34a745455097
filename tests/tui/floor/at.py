"""What tests of the floor ask of a shop and of a terminal."""

from __future__ import annotations

from tests.tui.driver import Terminal


async def click(at: Terminal, words: str) -> str:
    """Press the mouse in the middle of words on the lowest row that has them."""
    row = max(n for n, line in enumerate(at.lines) if words in line)
    await at.pilot.click(offset=(at.lines[row].index(words) + len(words) // 2, row))
    await at.settle()
    return at.text
