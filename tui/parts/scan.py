"""Codes of a scanner, caught among the keys before any screen sees them.

A scanner types: the mark, letters, Enter. From the mark on, keys are kept back until Enter, and
then they are one scan or nothing. No pause decides what belongs to a code, so it is whole in every
rhythm and however long the line stalls inside it; and since the mark is no key of any screen, no
key of a person is ever kept back to see whether it begins a code. Pauses are for words only: after
a second somebody is told that half a code came; after half a minute it is forgotten.
"""

from __future__ import annotations

from store.rules.codes import HEAD, KINDS, LETTERS, Code, read
from store.rules.codes import LONGEST as LONGEST_CODE
from tui.parts.pressed import ESC, Pressed, scan

MARKS = ("tab", "ctrl+i")
"""Names of the mark: a scanner sends the one or the other, and terminals may tell them apart."""
ENDS = ("Enter", "ctrl+j")
SAID_AFTER_S, FORGOTTEN_AFTER_S = 1.0, 30.0
SURE = 3
"""Mark, head and kind: from then on it is a scanner that types."""
LONGEST = 200
"""What a scanner gone mad types beyond is dropped."""
LEAST_TAIL = 7
"""Letters of a code without its mark that is told from the text before it."""
HALF, WRONG, FORGOTTEN = "half a code", "a code not read", "a code forgotten"
UNREAD = {
    HALF: "! Half a code read: scan again. Esc forgets it.",
    WRONG: "! That code was not read rightly: scan again.",
    FORGOTTEN: "The half code is forgotten. Scan again, or press a key.",
}
"""What a screen says of what was read by halves or wrongly."""


class Catcher:
    """Keeps a code back until it is whole."""

    def __init__(self) -> None:
        self._held: list[Pressed] = []
        self._said = False
        self._after = 0
        """How many keys were held when it was said that only half a code came."""

    @property
    def patience(self) -> float | None:
        """Seconds to wait for the next key before `silent`; None while nothing is kept back."""
        if not self._held:
            return None
        return FORGOTTEN_AFTER_S if self._said else SAID_AFTER_S

    def take(self, key: Pressed) -> list[Pressed]:
        """The keys that go on to the screens now: none, this one, those kept back, or a scan."""
        if key.key in MARKS:
            return self._begun(key)
        if not self._held:
            return [key]
        if self._sure and key.key in ENDS:
            return self._whole()
        if self._sure and key == ESC:
            told = self._said
            self._drop()
            return [Pressed(FORGOTTEN if told else HALF)]
        if self._fits(key):
            self._hold(key)
            return []
        return [*self._broken_off(), key]

    def silent(self) -> list[Pressed]:
        """Nothing came for as long as `patience` says."""
        if self._said:
            self._drop()
            return []
        self._said, self._after = True, len(self._held)
        return [self._held[0] if self._after == 1 else Pressed(HALF)]

    @property
    def _sure(self) -> bool:
        return len(self._held) >= SURE

    def _fits(self, key: Pressed) -> bool:
        letter = key.text.upper()
        if not self._sure:
            return letter == HEAD if len(self._held) == 1 else letter in KINDS
        if self._said:
            # a person whose digit, arrow or F-key this is need not wait for the rest of the code
            return letter in LETTERS and len(letter) == 1
        return len(key.text) == 1

    def _begun(self, mark: Pressed) -> list[Pressed]:
        """A mark: a code begins; one that is whole was ended by it, as some scanners do."""
        code = self._read()
        before = self._broken_off() if code is None else [scan(code)]
        self._held, self._said, self._after = [mark], code is not None, int(code is not None)
        return before

    def _hold(self, key: Pressed) -> None:
        if self._after == 1:  # only the mark had come, and nothing was said of it
            self._said = False
        if len(self._held) < LONGEST:
            self._held.append(key)

    def _whole(self) -> list[Pressed]:
        code = self._read()
        self._drop()
        return [Pressed(WRONG) if code is None else scan(code)]

    def _read(self) -> Code | None:
        return read("".join(key.text for key in self._held))

    def _broken_off(self) -> list[Pressed]:
        """What a person typed meanwhile goes on; what a scanner typed does not."""
        held, said, after, sure = self._held, self._said, self._after, self._sure
        self._drop()
        if not sure:
            return held[1:] if said and after == 1 else held
        return held[after:] if said else [Pressed(HALF)]

    def _drop(self) -> None:
        self._held, self._said, self._after = [], False, 0


def split_off(text: str) -> tuple[str, Code | None]:
    """A code at the end of a typed text, and what stands before it.

    A scanner that is not allowed to send the mark, and a person with the sheet in hand, type the
    letters alone; where a line of text ends with a code, it is one.
    """
    typed = text.strip()
    whole = read(typed)
    if whole is not None:
        return "", whole
    for at in range(max(1, len(typed) - LONGEST_CODE), len(typed) - LEAST_TAIL + 1):
        code = read(typed[at:]) if typed[at] in (HEAD, HEAD.lower()) else None
        if code is not None:
            return typed[:at], code
    return text, None


def pasted(line: str) -> tuple[str, Code | None]:
    """A code at the end of a line that came in one piece, and the text before its mark."""
    before, mark, letters = line.rpartition("\t")
    code = read(letters.strip()) if mark else read(line.strip())
    return (line, None) if code is None else (before, code)
