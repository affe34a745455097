"""What is printed of a bug: its traceback, without the values of variables.

Textual's own prints them all; a PIN that is just being typed is among them.
"""

from __future__ import annotations

from rich.console import Console
from rich.segment import Segments
from rich.traceback import Traceback


def last_words(console: Console) -> Segments:
    """Return the traceback of the exception at hand, to be printed when the screens are gone."""
    shown = Traceback(show_locals=False, width=None)
    return Segments(console.render(shown, console.options))
