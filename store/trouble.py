"""Everything that is raised on purpose: one line for a mechanic, what is wrong and what to do."""

from __future__ import annotations


class Trouble(Exception):
    """The root: caught by screens and the command line and shown as a sentence."""

    def __str__(self) -> str:
        """One line, whatever was typed and is quoted in it."""
        says = super().__str__()
        if says.isprintable():
            return says
        return "".join(sign if sign.isprintable() else ascii(sign)[1:-1] for sign in says)


class Refused(Trouble):
    """A rule of the shop stands against it; nothing was changed."""
