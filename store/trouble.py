"""Everything that is raised on purpose: one line for a mechanic, what is wrong and what to do."""

from __future__ import annotations


class Trouble(Exception):
    """The root: caught by screens and the command line and shown as a sentence."""


class Refused(Trouble):
    """A rule of the shop stands against it; nothing was changed."""
