"""Days on which Marsh Lane Works is closed: the public holidays of its country.

Easter by the anonymous Gregorian rule (Meeus, Astronomical Algorithms, chapter 8); the list of
holidays is from memory, common practice, no source.
"""

from __future__ import annotations

from datetime import date, timedelta


def easter(year: int) -> date:
    """Return Easter Sunday."""
    a, b, c = year % 19, year // 100, year % 100
    d, e = b // 4, b % 4
    g = (8 * b + 13) // 25
    h = (19 * a + b - d - g + 15) % 30
    i, k = c // 4, c % 4
    ell = (32 + 2 * e + 2 * i - h - k) % 7
    m = (a + 11 * h + 22 * ell) // 451
    month, day = divmod(h + ell - 7 * m + 114, 31)
    return date(year, month, day + 1)


def holidays(year: int) -> list[tuple[date, str]]:
    """Return the public holidays of a year, in order."""
    sunday = easter(year)
    king = date(year, 4, 27)
    if king.isoweekday() == 7:
        king -= timedelta(days=1)
    found = [
        (date(year, 1, 1), "New Year"),
        (sunday + timedelta(days=1), "Easter Monday"),
        (king, "King's Day"),
        (sunday + timedelta(days=39), "Ascension"),
        (sunday + timedelta(days=50), "Whit Monday"),
        (date(year, 12, 25), "Christmas"),
        (date(year, 12, 26), "second day of Christmas"),
    ]
    if year % 5 == 0:
        found.append((date(year, 5, 5), "Liberation Day"))
    return sorted(found)
