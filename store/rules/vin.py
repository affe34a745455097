"""Vehicle identification numbers: characters, length, and the check digit where one is carried."""

from __future__ import annotations

from dataclasses import dataclass

from store.trouble import Refused

LENGTH = 17
CHARACTERS = "ABCDEFGHJKLMNPRSTUVWXYZ0123456789"
"""I, O and Q never occur (ISO 3779): they look like 1 and 0."""
VALUES = {
    **{digit: int(digit) for digit in "0123456789"},
    **dict(zip("ABCDEFGH", range(1, 9), strict=True)),
    **dict(zip("JKLMN", range(1, 6), strict=True)), "P": 7, "R": 9,
    **dict(zip("STUVWXYZ", range(2, 10), strict=True)),
}  # fmt: skip
"""Assigned values (49 CFR 565.15(c), table III)."""
WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
"""Weight factors of the positions (49 CFR 565.15(c), table IV)."""
AT = 8
"""Place of the check digit: the ninth."""
MUST_CARRY = "12345"
"""First signs of numbers from North America, where the ninth must be a check digit."""


@dataclass(frozen=True, slots=True)
class Vin:
    """A number that can be one.

    Attributes:
        text: as it is kept: capitals, no spaces.
        hint: what to look at again; None where nothing is odd.
    """

    text: str
    hint: str | None = None


def check_digit(vin: str) -> str:
    """Return the check digit that belongs to a number: a digit, or X for ten.

    Sum of value times weight over the positions, modulo 11 (49 CFR 565.15(c)(4)).

    Args:
        vin: 17 signs of `CHARACTERS`; what stands at the ninth place does not count.
    """
    rest = sum(VALUES[sign] * weight for sign, weight in zip(vin, WEIGHTS, strict=True)) % 11
    return "X" if rest == 10 else str(rest)


def judge(typed: str) -> Vin:
    """Return a number as it is kept, with a hint where its check digit does not fit.

    Raises:
        Refused: it has another length, or signs that no number has; or it comes from where the
            check digit must fit, and does not.
    """
    text = "".join(typed.upper().replace("-", "").split())
    if len(text) != LENGTH:
        raise Refused(
            f"A VIN has 17 signs, and {text or 'this'} has {len(text)}. Read it again from the "
            "plate."
        )
    wrong = sorted({sign for sign in text if sign not in CHARACTERS})
    if wrong:
        raise Refused(
            f"A VIN has no {', '.join(wrong)}: I, O and Q are never used, they are read as 1 and "
            "0. Read it again."
        )
    if text[AT] == check_digit(text):
        return Vin(text)
    says = f"check digit of {text} does not fit: {text[AT]} where {check_digit(text)} belongs"
    if text[0] in MUST_CARRY:
        raise Refused(f"The {says}. Read the number again.")
    return Vin(text, f"The {says}. Not every maker keeps one: read it once more.")
