"""The codes that the shop prints and a scanner reads: letters only, with two check digits.

A code is `H`, a letter for its kind, what it names, and two check digits, all written in sixteen
letters. They stand on the same key, with the same shift, on every Latin keyboard (the test reads
them off a dozen layouts): a scanner set to another country's keyboard sends them as they are,
while digits and signs come out as something else (the unshifted digits of some keyboards are
signs). A, M, Q, W, Y, Z change places between keyboards; I and O are left out since they look
like digits (and a small i is two letters in one of the layouts), R and U since these keys act at
once on a screen. A code holds no digit, so nothing of it can press a key of the bay's pad.
"""

from __future__ import annotations

from typing import Literal, NamedTuple, get_args

Kind = Literal["badge", "job", "phase", "step", "kit", "lift"]

MARK = "\t"
"""Stands before a printed code: Tab is the same key on every keyboard and no key of any screen."""
HEAD = "H"
KINDS: dict[str, Kind] = {kind[0].upper(): kind for kind in get_args(Kind)}
LETTERS = "BCDEFGHJKLNPSTVX"
DIGITS = LETTERS[:10]
"""Of 0 to 9."""
DOT = LETTERS[10]
PAIRED = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz-_/+ :"
"""Written in two letters: the first from `LETTERS[11:]`, the second from all of them."""
PARTS: dict[Kind, int] = {"job": 1, "phase": 2, "step": 3}
"""How many numbers, parted by dots, make a name."""
LONGEST = 64
"""Letters of the longest code; a badge has at most 12 signs, a step's name 19."""

_WRITTEN = {
    **{str(n): letter for n, letter in enumerate(DIGITS)}, ".": DOT,
    **{sign: LETTERS[11 + n // 16] + LETTERS[n % 16] for n, sign in enumerate(PAIRED)},
}  # fmt: skip
_READ = {letters: sign for sign, letters in _WRITTEN.items()}


class Code(NamedTuple):
    """What a code names: a badge, `2417`, `2417.4`, `2417.4.12`, a kit's or a lift's code."""

    kind: Kind
    name: str

    @property
    def parts(self) -> tuple[str, ...]:
        """Job, phase and step, as far as it names them."""
        return tuple(self.name.split("."))


def check_digits(text: str) -> str:
    """The two digits that ISO/IEC 7064 MOD 97-10 puts after a text of digits and capitals.

    Digits count as themselves, A as 10 up to Z as 35; the text and its check digits, read as one
    number, leave 1 when divided by 97. So any single wrong sign, and any two neighbours of the text
    in each other's place, are found; of other faults 1 in 97 slips through.

    Raises:
        ValueError: another sign is in it.

    Source:
        ISO/IEC 7064:2003, 8.4; letters as in ISO 13616-1 (IBAN) and ISO 17442-1 (LEI).
    """
    return f"{98 - _number(text + '00') % 97:02d}"


def checks(text: str) -> bool:
    """Whether the last two digits of a text are its check digits."""
    return _number(text) % 97 == 1


def _number(text: str) -> int:
    if not (text.isascii() and text.isalnum() and text == text.upper()):
        raise ValueError(f"{text!r} holds more than digits and capitals")
    return int("".join(str(int(sign, 36)) for sign in text))


def written(code: Code) -> str:
    """The letters of a code, without its mark.

    Raises:
        ValueError: its name holds a sign that has no letters, or is not complete.
    """
    if not _complete(code):
        raise ValueError(f"{code.name!r} names no {code.kind}")
    try:
        name = "".join(_WRITTEN[sign] for sign in code.name)
    except KeyError as error:
        raise ValueError(f"{code.name!r}: {error.args[0]!r} cannot stand in a code") from None
    letters = HEAD + code.kind[0].upper() + name
    return letters + "".join(DIGITS[int(digit)] for digit in check_digits(letters))


def read(letters: str) -> Code | None:
    """What was written; None where the letters are no code or the check digits do not hold.

    Small letters are taken as well as capitals, but all must be one or the other: a keyboard with
    its capitals locked turns them over.
    """
    if letters not in (letters.upper(), letters.lower()) or not letters.isascii():
        return None
    found = letters.upper()
    if len(found) > LONGEST or len(found) < 5 or found[0] != HEAD or found[1] not in KINDS:
        return None
    check = "".join(str(DIGITS.find(one)) for one in found[-2:])
    if set(found) - set(LETTERS) or not check.isdecimal() or not checks(found[:-2] + check):
        return None
    name = _name(found[2:-2])
    code = None if name is None else Code(KINDS[found[1]], name)
    return code if code is not None and _complete(code) else None


def _complete(code: Code) -> bool:
    """Whether a phase's name says of which job, and a step's of which phase."""
    wanted = PARTS.get(code.kind)
    return bool(code.name) and (wanted is None or len([*filter(None, code.parts)]) == wanted)


def _name(letters: str) -> str | None:
    signs: list[str] = []
    rest = letters
    while rest:
        size = 1 if rest[0] in DIGITS + DOT else 2
        sign = _READ.get(rest[:size])
        if sign is None:
            return None
        signs.append(sign)
        rest = rest[size:]
    return "".join(signs)
